package color

import "testing"

func TestReadWords(t *testing.T) {
	for text, want := range map[string]Heat{
		"cherry": Cherry, "Medium red": DarkRed, "full cherry red": Cherry, "cherry-red": Cherry, "Salmon": Orange, "bright cherry": BrightCherry, "black red": FaintRed, "dazzling white": White, "no glow": NoGlow,
	} {
		if got, ok := ReadHeat(text); !ok || got != want {
			t.Errorf("%q reads as %v (%v), want %v", text, got, ok, want)
		}
	}
	for text, want := range map[string]Temper{"full blue": Blue, "light straw": Straw, "grey-blue": GreyFilm, "brown purple": BrownPurple, "Straw": Straw, "faint yellow": FaintStraw} {
		if got, ok := ReadTemper(text); !ok || got != want {
			t.Errorf("%q reads as %v (%v), want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "mauve", "red heat visible in the dark", ","} {
		if h, ok := ReadHeat(text); ok {
			t.Errorf("%q reads as %v", text, h)
		}
		if w, ok := ReadTemper(text); ok {
			t.Errorf("%q reads as %v", text, w)
		}
	}
}

func FuzzReadWords(f *testing.F) {
	f.Add("cherry")
	f.Add("light, salmon -")
	f.Fuzz(func(_ *testing.T, s string) {
		ReadHeat(s)
		ReadTemper(s)
		_, _ = ParseLight(s)
		_, _ = ParseGlasses(s)
	})
}
