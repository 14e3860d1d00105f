package safety

import (
	"os"
	"testing"

	"github.com/heatwright/heatwright/route"
)

// Clay, a torch with the edge in water, and a part that stays above the oil are
// told of on their steps: common practice.
func TestHandlingIsTold(t *testing.T) {
	text, err := os.ReadFile("../internal/jobsheet/testdata/drawn.toml")
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	codes, h := reviewOf(t, job)
	for _, want := range []string{"safety.damp-clay-bursts", "safety.torch-in-hand", "safety.steam-at-the-edge", "safety.part-out-of-oil"} {
		n, ok := codes[want]
		if !ok {
			t.Errorf("no word of %s", want)
		} else if !names(h, n.Where) {
			t.Errorf("%s is told at %q, which is no step", want, n.Where)
		}
	}
	for _, wrong := range []string{"safety.foil-cuts", "safety.hot-block"} {
		if _, ok := codes[wrong]; ok {
			t.Errorf("told of %s without reason", wrong)
		}
	}
	if codes, _ := reviewOf(t, load(t, "knife.toml")); codes["safety.part-out-of-oil"].Code != "" || codes["safety.damp-clay-bursts"].Code != "" {
		t.Error("a plain quench is told of what it has not")
	}
}
