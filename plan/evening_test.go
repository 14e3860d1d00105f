package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/shop"
)

func argOf(t *testing.T, n cite.Note, name string) float64 {
	t.Helper()
	for _, a := range n.Args {
		if a.Name == name {
			return a.Value
		}
	}
	t.Fatalf("%s has no %q", n.Code, name)
	return 0
}

// A lean flame scales most, a rich one fills the room; a longer evening burns more.
func TestEveningOfTheDemonstration(t *testing.T) {
	s := shop.Demonstration()
	short, err := Evening(s, 3600)
	if err != nil {
		t.Fatal(err)
	}
	long, err := Evening(s, 4*3600)
	if err != nil {
		t.Fatal(err)
	}
	find := func(notes []cite.Note, code, where string) cite.Note {
		for _, n := range notes {
			if n.Code == code && n.Where == where {
				return n
			}
		}
		t.Fatalf("nothing is told of %s %s", where, code)
		return cite.Note{}
	}
	lean, rich := find(long, "evening.lean", "A"), find(long, "evening.rich", "A")
	if a, b := argOf(t, lean, "scale"), argOf(t, rich, "scale"); a < 2*b {
		t.Errorf("scale %.3g m lean, %.3g rich", a, b)
	}
	if a, b := argOf(t, lean, "high"), argOf(t, rich, "high"); b < 10*a {
		t.Errorf("carbon monoxide up to %.3g ppm lean, %.3g rich", a, b)
	}
	if a, b := argOf(t, find(short, "evening.fire", "A"), "high"), argOf(t, find(long, "evening.fire", "A"), "high"); b < 2.5*a {
		t.Errorf("an hour takes up to %.2f kg, four %.2f", a, b)
	}
	// 0.25 kg × 550 kJ/kg into 38 L of oil: 880 kg/m³, 2 kJ/kgK (en-1993-1-2 for the steel).
	if r, want := argOf(t, find(long, "evening.bath-count", "oil 1"), "rise"), 0.25*550/(0.038*880*2); math.Abs(r/want-1) > 0.03 {
		t.Errorf("a piece warms oil 1 by %.2f K, by hand %.2f", r, want)
	}
	for _, n := range long {
		if !strings.HasPrefix(n.Code, "evening.") && n.Code != "shop.hood-or-open-air" {
			t.Errorf("code %s", n.Code)
		}
		for _, a := range n.Args {
			if math.IsNaN(a.Value) || math.IsInf(a.Value, 0) {
				t.Errorf("%s %s: %s is %g", n.Where, n.Code, a.Name, a.Value)
			}
		}
	}
}
