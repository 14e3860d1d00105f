package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// 1 inch = 25.4 mm exactly.
func TestParseLength(t *testing.T) {
	for text, mm := range map[string]float64{
		"1-1/2 in": 38.1, `1 1/2"`: 38.1, "1½ in": 38.1, "1.5 in": 38.1, "1-1/2": 38.1, "1½″": 38.1, "3/32": 2.38125, "1/4''": 6.35, "5/64 in": 1.984375,
		"35 thou": 0.889, ".035 in": 0.889, "5 ft 6 in": 1676.4, `5' 6"`: 1676.4, "4 ft bar": 1219.2, "0.5 mm": 0.5, "0,5 mm": 0.5, "150 mm": 150, "2 m bar": 2000,
		"quarter inch": 6.35, "three-eighths": 9.525, "three quarters of an inch": 19.05, "an inch and a half": 38.1, "inch and a half": 38.1,
		"half an inch": 12.7, "two and a half inches": 63.5, "120 µm": 0.12, "7 cm": 70, "2 and 1/4 inches": 57.15,
	} {
		got, err := ParseLength(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		near(t, text, got.MM(), mm, 1e-9)
	}
	for _, text := range []string{"38", "-3 mm", "1/0 in", "3 mm thick enough", "1/4/2 in", "5 kg", "1,250 mm", "mm", "200 m", "1/3"} {
		if got, err := ParseLength(text); err == nil && text != "mm" {
			t.Errorf("%q was read as %v mm", text, got.MM())
		}
	}
}

func TestParseSection(t *testing.T) {
	flat := func(w, th float64) Section { return Section{Flat, MM(w), MM(th)} }
	one := func(f SectionForm, d float64) Section { return Section{f, MM(d), MM(d)} }
	for text, want := range map[string]Section{
		"1/4 x 1-1/2 in": flat(38.1, 6.35), `1/4" × 1 1/2"`: flat(38.1, 6.35), ".25×1.5": flat(38.1, 6.35), "1/4 x 1-1/2": flat(38.1, 6.35),
		"quarter by inch-and-a-half": flat(38.1, 6.35), "1½ x ¼": flat(38.1, 6.35), "1/4 x 2": flat(50.8, 6.35), "1/4x1-1/2in": flat(38.1, 6.35),
		"40×6": flat(40, 6), "6 mm × 40": flat(40, 6), "6mmx40mm": flat(40, 6), "flat 25 × 5 mm": flat(25, 5), "40 x 6 mm flat bar": flat(40, 6),
		"Ø16": one(Round, 16), "ø 16 mm": one(Round, 16), "5/8 round": one(Round, 15.875), "16 mm rd": one(Round, 16), "half inch round": one(Round, 12.7),
		"1/2 sq": one(Square, 12.7), "☐12": one(Square, 12), "20 x 20 mm": one(Square, 20),
		"20 AF hex": one(Hex, 20), "3/4 hex": one(Hex, 19.05), "SW19": one(Hex, 19), "AF 19": one(Hex, 19), "3/4 in hex across flats": one(Hex, 19.05),
		"7/8 octagon": one(Octagon, 22.225),
	} {
		got, err := ParseSection(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if got.Form != want.Form {
			t.Errorf("%q: form %v, want %v", text, got.Form, want.Form)
		}
		near(t, text+" width", got.Width.MM(), want.Width.MM(), 1e-9)
		near(t, text+" thickness", got.Thickness.MM(), want.Thickness.MM(), 1e-9)
	}
	for _, text := range []string{"", "6x1", "40", "40 mm", "1 x 2 x 3 in", "5/8 round square", "-5 x 10 mm", "0 x 10 mm", "x", "round", "400 x 10 mm", "10 x 20 mm round", "4 round"} {
		if got, err := ParseSection(text); err == nil {
			t.Errorf("%q was read as %v", text, got.Text(Metric))
		}
	}
	if got, err := ParseSection("6x1", "in"); err != nil || math.Abs(got.Width.Inches()-6) > 1e-9 {
		t.Errorf("6x1 in inches by default: %v, %v", got, err)
	}
}

func TestLengthReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := System(rapid.IntRange(0, 1).Draw(t, "system"))
		l := Length(math.Exp(rapid.Float64Range(math.Log(1e-6), math.Log(90)).Draw(t, "ln l")))
		back, err := ParseLength(l.Exact(s))
		if err != nil || math.Abs(float64(back-l)) > 1e-9*float64(l)+1e-14 {
			t.Fatalf("%v printed %q read %v, %v", float64(l), l.Exact(s), float64(back), err)
		}
		shown, err := ParseLength(l.Text(s))
		off := 0.065*float64(l) + 0.6e-6 // half a 64th at 1/8 in
		if l > MM(0.79) {
			off += 0.002 * inch
		}
		if err != nil || math.Abs(float64(shown-l)) > off {
			t.Fatalf("%v shown %q read %v, %v", float64(l), l.Text(s), float64(shown), err)
		}
		if l < 2e-3 || l > 0.25 {
			return
		}
		f := SectionForm(rapid.IntRange(0, 4).Draw(t, "form"))
		sec := Section{f, l, l}
		if f == Flat {
			sec.Thickness = l / Length(rapid.Float64Range(1.01, 9).Draw(t, "ratio"))
		}
		got, err := ParseSection(sec.Exact(s))
		if err != nil || got.Form != f || math.Abs(float64(got.Width-sec.Width)) > 1e-12 || math.Abs(float64(got.Thickness-sec.Thickness)) > 1e-12 {
			t.Fatalf("%v printed %q read %v, %v", sec, sec.Exact(s), got, err)
		}
	})
}

func TestLengthText(t *testing.T) {
	for _, c := range []struct {
		mm               float64
		metric, imperial string
	}{
		{38.1, "38 mm", "1-1/2 in"}, {6.35, "6.3 mm", "1/4 in"}, {0.4, "0.40 mm", "0.016 in"}, {0.012, "12 µm", "0.00047 in"},
		{2.381, "2.4 mm", "3/32 in"}, {150, "150 mm", "5-7/8 in"}, {1676.4, "1676 mm", "5 ft 6 in"}, {4200, "4.20 m", "13 ft 9 in"}, {0, "0.00 mm", "0 in"},
	} {
		if got := MM(c.mm).Text(Metric); got != c.metric {
			t.Errorf("%g mm: %q, want %q", c.mm, got, c.metric)
		}
		if got := MM(c.mm).Text(Imperial); got != c.imperial {
			t.Errorf("%g mm: %q, want %q", c.mm, got, c.imperial)
		}
	}
}

func TestParseBelt(t *testing.T) {
	for text, want := range map[string][2]float64{"2x72 in": {50.8, 1828.8}, "2×72": {50.8, 1828.8}, "50 × 2000 mm": {50, 2000}, "50x2000": {50, 2000}, "2 x 72 in belt": {50.8, 1828.8}} {
		got, err := ParseBelt(text)
		if err != nil || math.Abs(got.Width.MM()-want[0]) > 1e-9 || math.Abs(got.Length.MM()-want[1]) > 1e-9 {
			t.Errorf("%q: %v, %v", text, got, err)
			continue
		}
		for _, s := range []System{Metric, Imperial} {
			if back, err := ParseBelt(got.Text(s)); err != nil || math.Abs(back.Length.MM()-got.Length.MM()) > 3 || math.Abs(back.Width.MM()-got.Width.MM()) > 0.5 {
				t.Errorf("%q prints %q and reads %v, %v", text, got.Text(s), back, err)
			}
		}
	}
	for _, text := range []string{"", "72", "2x72x1", "2 kg x 3", "-2x72", "2x7200 in"} {
		if got, err := ParseBelt(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}
