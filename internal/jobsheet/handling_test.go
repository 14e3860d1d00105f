package jobsheet

import (
	"os"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// The sheet says how the piece is held, dipped and covered, on the line of its step.
func TestSheetSaysTheHandling(t *testing.T) {
	text, err := os.ReadFile("testdata/drawn.toml")
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	h, err := sim.Run(t.Context(), job, sim.Options{Section: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := Compose(job, h, words.Style{Units: unit.Metric, Language: words.American}).Terminal(&b, false); err != nil {
		t.Fatal(err)
	}
	page := strings.Join(strings.Fields(strings.NewReplacer("│", "", "\u00a0", " ").Replace(b.String())), " ")
	for _, want := range []string{
		"Lay on clay wash", "2 together.", "edge first, 12 mm under; the rest after 2 s. In flat tongs.",
		"Torch along the spine", "Meanwhile the edge stands 8 mm deep in pail.", "the edge was kept cold",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the sheet lacks %q\n%s", want, b.String())
		}
	}
	if strings.Contains(page, "-273") || strings.Contains(page, "all under") {
		t.Error(b.String())
	}
}

// A quench in two baths is one line, both stand ready, and a piece wanted soft in
// part is judged by its edge.
func TestTwoBathsAreOneQuench(t *testing.T) {
	job, h := worked(t, "clay_blade.toml")
	var b strings.Builder
	if err := Compose(job, h, words.Style{Units: unit.Metric, Language: words.American}).Terminal(&b, false); err != nil {
		t.Fatal(err)
	}
	page := strings.Join(strings.Fields(strings.NewReplacer("│", "", "\u00a0", " ").Replace(b.String())), " ")
	for _, want := range []string{"Brine 20 °C, deep enough", "Fast oil 40 °C; lid", "To brine in 2 s: edge first. There for 3 s; out and into fast oil.", "Lay on clay, 3 mm thick; the edge bare, 10 mm wide"} {
		if !strings.Contains(page, want) {
			t.Errorf("the sheet lacks %q\n%s", want, b.String())
		}
	}
}

// Foil comes off on the way to a bath, and once it is cold in air: the box says so, and a
// layer of less than a tenth of a millimeter is said in millimeters like any other.
func TestFoilComesOff(t *testing.T) {
	text := `format = 1
name = "wrapped"
[piece]
form = "blade"
length = "150 mm"
width = "30 mm"
spine = "3 mm"
edge = "0.8 mm"
[steel]
grade = "A2"
[[shop.oven]]
name = "kiln"
kind = "kiln"
[[shop.bath]]
name = "oil"
kind = "fast oil"
volume = "40 L"
[aim]
hardness = { edge = "58-60 HRC" }
[[step]]
do = "coat"
with = "foil"
[[step]]
do = "heat"
in = "kiln"
at = "970 C"
until = "at heat"
hold = "30 min"
`
	temper := "[[step]]\ndo = \"temper\"\nin = \"kiln\"\nat = \"205 C\"\nhold = \"2 h\"\n"
	strip := "[[step]]\ndo = \"strip\"\n"
	for name, x := range map[string]struct {
		steps string
		want  []string
	}{
		"bath": {strip + "[[step]]\ndo = \"carry\"\nuntil = \"10 s\"\n[[step]]\ndo = \"quench\"\nin = \"oil\"\n", []string{"Take the foil off on the way.", "To oil in 10 s"}},
		"air":  {"[[step]]\ndo = \"cool\"\nuntil = \"hand-warm\"\n" + strip, []string{"temper at once. Take the foil off.", "hang in still air"}},
	} {
		job, problems := route.Parse([]byte(text+x.steps+temper), nil)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		h, err := sim.Run(t.Context(), job, sim.Options{Section: true}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range h.Zones {
			h.Zones[i].Decarb = unit.Exactly(0.03)
		}
		var b strings.Builder
		if err := Compose(job, h, words.Style{Units: unit.Metric, Language: words.American}).Terminal(&b, false); err != nil {
			t.Fatal(err)
		}
		page := strings.Join(strings.Fields(strings.NewReplacer("│", "", "\u00a0", " ").Replace(b.String())), " ")
		for _, want := range append(x.want, "Skin to grind off: 0.05 mm a face.", "HARDEN") {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the sheet lacks %q\n%s", name, want, b.String())
			}
		}
		if strings.Contains(page, "Take the coat off") {
			t.Errorf("%s: told twice\n%s", name, b.String())
		}
	}
}
