package cite

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A key in code or in a data file that leads nowhere is a claim without a
// source: every Source: "…" and source = "…" of the project is looked up.
func TestEveryKeyIsInTheBibliography(t *testing.T) {
	root := ".."
	inGo := regexp.MustCompile(`\bSource:\s+"([^"]*)"`)
	inData := regexp.MustCompile(`(?m)^\s*source\s*=\s*"([^"]*)"`)
	n := 0
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := d.Name(); name != root && (strings.HasPrefix(base, ".") || base == "testdata" || base == "reference" || base == "bin" || base == "out" || base == "examples") {
				return filepath.SkipDir
			}
			return nil
		}
		pattern := inGo
		switch {
		case strings.HasSuffix(name, "_test.go"):
			return nil
		case strings.HasSuffix(name, ".toml"):
			pattern = inData
		case !strings.HasSuffix(name, ".go"):
			return nil
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		for _, m := range pattern.FindAllStringSubmatch(string(text), -1) {
			n++
			if _, ok := Find(Key(m[1])); !ok && m[1] != "" {
				t.Errorf("%s: source %q is not in the bibliography", name, m[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 50 {
		t.Errorf("only %d keys were found: the search is broken", n)
	}
}
