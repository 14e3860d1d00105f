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
