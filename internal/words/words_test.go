package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/unit"
)

var codeForm = regexp.MustCompile(`^[a-z]+\.[a-z0-9]+(-[a-z0-9]+)*$`)

// Packages whose codes become sentences.
var packages = map[string]bool{
	"steel": true, "shape": true, "medium": true, "shop": true, "route": true, "calphad": true, "conduction": true, "micro": true, "skin": true,
	"forging": true, "color": true, "observe": true, "sim": true, "study": true, "safety": true, "diagnose": true, "plan": true, "jobsheet": true,
}

// Every code that a package emits has words. The codes are found in the source:
// the Code of a note, and any text of the form package.code that is handed to
// a function which tells of a problem, a note or a caution.
func TestEveryCodeHasWords(t *testing.T) {
	found := emitted(t, filepath.Join("..", ".."))
	if len(found) < 40 {
		t.Fatalf("only %d codes were found: the search is broken", len(found))
	}
	for code, where := range found {
		if !Has(code) {
			t.Errorf("%s emits %s, which has no words", where, code)
		}
	}
	for _, what := range micro.Indicators() {
		if !Has("sim.crack-" + what) {
			t.Errorf("the sign %s of a crack has no words", what)
		}
	}
}

func emitted(t *testing.T, root string) map[string]string {
	t.Helper()
	all, models := map[string]string{}, map[string]bool{}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && len(d.Name()) > 2 || d.Name() == "testdata" || d.Name() == "words") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			return nil //nolint:nilerr // the compiler tells of that better
		}
		for _, m := range modelNames(file) {
			models[m] = true
		}
		if strings.Contains(filepath.ToSlash(name), "/evidence/") {
			return nil
		}
		ast.Inspect(file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			s, err := strconv.Unquote(lit.Value)
			if err == nil && codeForm.MatchString(s) && packages[s[:strings.IndexByte(s, '.')]] {
				all[s] = name
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for m := range models {
		delete(all, m) // the id of a model is a row of the evidence, not a sentence
	}
	return all
}

// modelNames returns the texts that name a model: Model: "micro.ms".
func modelNames(file *ast.File) []string {
	var names []string
	add := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil {
				names = append(names, s)
			}
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.KeyValueExpr:
			if id, ok := n.Key.(*ast.Ident); ok && id.Name == "Model" {
				add(n.Value)
			}
		case *ast.CompositeLit:
			if sel, ok := n.Type.(*ast.SelectorExpr); ok && sel.Sel.Name == "Accuracy" && len(n.Elts) > 0 {
				add(n.Elts[0])
			}
		}
		return true
	})
	return names
}

// What the program may not say, in any sentence of the catalog.
var forbidden = []string{"safe", "always", "never", "recipe"}

func TestCatalogKeepsToTheWordsOfTheTrade(t *testing.T) {
	for _, code := range Codes() {
		e := entries()[code]
		for _, text := range []string{e.Say, e.Short, e.Limits, e.Remedy, e.Why, e.Term} {
			for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
				for _, bad := range forbidden {
					if w == bad {
						t.Errorf("%s says %q: %s", code, bad, text)
					}
				}
			}
			if strings.Count(text, "{") != strings.Count(text, "}") || strings.Count(text, "[") != strings.Count(text, "]") {
				t.Errorf("%s has an unclosed place: %s", code, text)
			}
		}
		if e.Say == "" {
			t.Errorf("%s says nothing", code)
		}
	}
}

func TestSentencesInBothUnitsAndBothEnglishes(t *testing.T) {
	us := Style{American, unit.Imperial}
	gb := Style{British, unit.Metric}
	args := []cite.Quantity{cite.Txt("name", "the pipe"), cite.Num("top", 1088.15, "K")}
	for _, c := range []struct {
		style Style
		want  string
	}{
		{us, "the pipe holds 1500 °F (815 °C) and would not bring the piece to this"},
		{gb, "the pipe holds 815 °C (1500 °F) and would not bring the piece to this"},
	} {
		if got := c.style.Of("route.never-reached", args...).Say; got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
	if got := gb.spell("Normalize; its color in the vise"); got != "Normalise; its colour in the vice" {
		t.Error(got)
	}
	if got := gb.Of("route.unknown-key", cite.Txt("key", "holt"), cite.Txt("near", "")).Remedy; got != "" {
		t.Errorf("a part without its quantity is dropped, got %q", got)
	}
}

func TestLikelihoodsAreSaidAsBets(t *testing.T) {
	for p, want := range map[float64]string{0.9: "9 in 10", 0.5: "5 in 10", 0.999: "19 in 20", 0.97: "19 in 20", 0.02: "less than 1 in 20"} {
		if got := Likelihood(p); got != want {
			t.Errorf("%.3f: got %s, want %s", p, got, want)
		}
	}
}

// Nobody waits for a minute of an hour: such times are rounded up to what is looked at
// on a clock.
func TestRoundly(t *testing.T) {
	for sec, want := range map[float64]string{90: "90 s", 435: "8 min", 1500: "25 min", 3540: "60 min", 12720: "4 h", 9100: "3 h", 8000: "2½ h"} {
		if got := (Style{}).Quantity(cite.Num("", sec, "s"), "roundly"); got != want {
			t.Errorf("%g s is said %q, wanted %q", sec, got, want)
		}
	}
}
