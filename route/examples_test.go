package route

import (
	"os"
	"path/filepath"
	"testing"
)

// Every example is a job without a problem, and says that it is invented.
func TestExamplesAreReadable(t *testing.T) {
	folder := filepath.Join("..", "examples")
	names, err := filepath.Glob(filepath.Join(folder, "*.toml"))
	if err != nil || len(names) < 7 {
		t.Fatalf("only %d examples: %v", len(names), err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Base(name) == "shop.toml" {
			if _, problems := ParseShop(text); len(problems) > 0 {
				t.Errorf("%s: %v", name, problems)
			}
			continue
		}
		job, problems := Parse(text, beside(folder))
		if len(problems) > 0 {
			t.Errorf("%s: %v", name, problems)
		}
		if !job.Demo {
			t.Errorf("%s does not say that it is demo data", name)
		}
	}
}

func beside(folder string) func(string) ([]byte, error) {
	return func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, name)) }
}

// A certificate is trusted to its digits; what it leaves out has the band of residuals.
func TestKnownSteelHasABand(t *testing.T) {
	for _, m := range []Metal{{Grade: "1084"}, {Certificate: "C 0.84, Mn 0.73"}, {Composition: "C 0.95 Mn 1.2 Cr 0.5 W 0.5"}, {Unknown: true}} {
		mid, low, high, err := m.Known()
		if err != nil {
			t.Fatal(err)
		}
		for e := range mid {
			if !(low[e] <= mid[e]+1e-12 && mid[e] <= high[e]+1e-12) {
				t.Errorf("%s: element %d: %g, %g, %g", m.Called(), e, low[e], mid[e], high[e])
			}
		}
		if !(low[0] < high[0]) {
			t.Errorf("%s: carbon has no band", m.Called())
		}
	}
}
