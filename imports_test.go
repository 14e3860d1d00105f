// Package heatwright has no code at its root: this file holds the test that
// compares the imports of every package with the table of ARCHITECTURE.md.
package heatwright

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "github.com/heatwright/heatwright"

// A package may import any project package of a lower floor. The rooms named
// in only are held to less: conduction knows no metal, micro knows no space,
// skin knows no inside.
var floors = map[string]int{
	"unit": 0, "cite": 0, "internal/opendata": 0,
	"steel": 1, "shape": 1, "medium": 1,
	"shop": 2, "route": 3, "calphad": 2, "conduction": 2, "micro": 3, "skin": 3, "forging": 2, "color": 2,
	"observe": 4,
	"sim":     5,
	"study":   6, "safety": 6, "diagnose": 6,
	"plan":     7,
	"evidence": 7, "verification": 7,
	"internal/words": 8, "internal/jobsheet": 9, "internal/logbook": 8, "internal/fire": 9, "internal/web": 10, "internal/drawing": 8,
	"cmd/heatwright": 11,
}

var only = map[string][]string{
	"unit":       {},
	"cite":       {},
	"steel":      {"unit", "cite"},
	"shape":      {"unit", "cite"},
	"medium":     {"unit", "cite"},
	"shop":       {"unit", "cite", "steel", "shape", "medium"},
	"route":      {"unit", "cite", "steel", "shape", "shop"},
	"calphad":    {"unit", "cite", "steel"},
	"conduction": {"unit", "shape"},
	"micro":      {"unit", "cite", "steel", "calphad"},
	"skin":       {"unit", "cite", "steel", "shape", "medium", "calphad"},
	"forging":    {"unit", "cite", "steel", "shape", "medium"},
	"color":      {"unit", "cite", "steel"},
}

// Packages of floors 0 to 6 are pure: they open no file, socket, clock or
// database, and CI builds them for js/wasm.
var worldly = []string{"net", "net/http", "os", "os/exec", "database/sql", "syscall", "time"}

// The shops that follow read files or the clock for a living.
var atTheDoor = []string{"internal/", "cmd/", "evidence", "verification"}

func TestImportsOnlyClimbTheTable(t *testing.T) {
	for dir, imports := range packages(t) {
		floor, known := floors[dir]
		if !known {
			t.Errorf("package %s stands in no floor of the table", dir)
			continue
		}
		for _, imp := range imports {
			inner, ours := strings.CutPrefix(imp, module+"/")
			switch {
			case ours && floors[inner] >= floor:
				t.Errorf("%s (floor %d) imports %s (floor %d)", dir, floor, inner, floors[inner])
			case ours && only[dir] != nil && !slices.Contains(only[dir], inner):
				t.Errorf("%s may import %v only, and imports %s", dir, only[dir], inner)
			case !ours && pure(dir) && slices.Contains(worldly, imp):
				t.Errorf("%s is a science package and imports %s", dir, imp)
			}
		}
	}
}

func pure(dir string) bool {
	return !slices.ContainsFunc(atTheDoor, func(prefix string) bool { return strings.HasPrefix(dir, prefix) })
}

// packages returns the non-test imports of every package below the root.
func packages(t *testing.T) map[string][]string {
	t.Helper()
	found := map[string][]string{}
	err := filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() {
			if base := d.Name(); name != "." && (strings.HasPrefix(base, ".") || base == "testdata" || base == "reference" || base == "fit") {
				return filepath.SkipDir
			}
			return nil
		}
		dir := path.Dir(filepath.ToSlash(name))
		if dir == "." || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		text, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		if _, seen := found[dir]; !seen {
			found[dir] = nil
		}
		for _, spec := range file.Imports {
			imp, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			found[dir] = append(found[dir], imp)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
