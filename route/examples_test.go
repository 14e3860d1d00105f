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
