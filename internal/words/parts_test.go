package words

import (
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/unit"
)

// A sentence is cut at its numbers, each with who says it, and put together again
// it is what it was, in either English and either system of units.
func TestPartsCutAtNumbers(t *testing.T) {
	for _, s := range []Style{{Language: American, Units: unit.Imperial}, {Language: British, Units: unit.Metric}} {
		args := []cite.Quantity{cite.Num("off", 1000, "K"), cite.Num("hot", 1083.15, "K"), cite.Num("more", 120, "s")}
		said := strings.ToUpper(s.Of("bench.rule-magnet", args...).Say) + "."
		whole, from := "", []string{}
		for _, p := range s.Parts(said, "bench.rule-magnet", args...) {
			whole += p.Text
			if p.From != "" {
				from = append(from, p.From)
				if !strings.ContainsAny(p.Text, "0123456789") || len(p.Text) > 20 {
					t.Errorf("%q is no number", p.Text)
				}
			}
		}
		if whole != said {
			t.Errorf("cut and joined it is %q, not %q", whole, said)
		}
		if got := strings.Join(from, " "); got != "calphad.ae plan plan" {
			t.Errorf("said by %s", got)
		}
	}
}

func TestNumbersInATextOfTheirOwn(t *testing.T) {
	for text, want := range map[string]string{
		"core to 840 °C, 5 min":          "840 °C, 5 min",
		"met 9 in 10":                    "9 in 10",
		"61 (59–63) HRC at the edge":     "61 (59–63) HRC",
		"about 28 HRC":                   "28 HRC",
		"steel 1084 from forge 2":        "",
		"815 °C (1500 °F) over the hill": "815 °C (1500 °F)",
	} {
		got := ""
		for _, p := range Numbers(text, "plan") {
			if p.From != "" {
				got += p.Text
			}
		}
		if got != want {
			t.Errorf("%q has the numbers %q, want %q", text, got, want)
		}
	}
}
