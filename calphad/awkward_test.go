package calphad

import (
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// A trace changes nothing that its absence would not: from 0 % over a millionth to
// a tenth of a percent the answer is continuous.
func TestTraceOfAnElement(t *testing.T) {
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for e := range steel.NumElements {
		if e == steel.C || !db.Covers(e) {
			continue
		}
		base := steel.Composition{steel.C: 0.9, steel.Mn: 0.5}
		base[e] = 0
		for _, T := range []float64{700, 760, 900} {
			without, err := db.Equilibrium(base, T+273.15)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range []float64{1e-12, 1e-7, 1e-5} {
				c := base
				c[e] = x
				with, err := db.Equilibrium(c, T+273.15)
				if err != nil {
					t.Fatalf("%s %g %% at %g °C: %v", e, x, T, err)
				}
				for _, p := range without.Phases {
					if q, _ := with.Find(p.Name); math.Abs(q.MassFraction-p.MassFraction) > 1e-3*x+2e-5*math.Sqrt(x/1e-5) {
						t.Errorf("%s %g %% at %g °C: %s %.8f, without it %.8f", e, x, T, p.Name, q.MassFraction, p.MassFraction)
					}
				}
			}
		}
	}
}

// Austenite and the cubic carbide are one phase of the database and stay apart as
// two composition sets; M2C and the hexagonal carbides too.
func TestTwoSetsOfOnePhase(t *testing.T) {
	db, _ := Open()
	q, err := db.Equilibrium(steel.Composition{steel.C: 0.8, steel.Cr: 0.6, steel.V: 0.5, steel.Mn: 0.4, steel.Si: 0.3}, 1173.15)
	if err != nil {
		t.Fatal(err)
	}
	a, okA := q.Find(Austenite)
	m, okM := q.Find(MC)
	if !okA || !okM || a.Model != m.Model || m.Composition[steel.V] < 50 || a.Composition[steel.C] > 1 {
		t.Errorf("0.5 %% V at 900 °C: %v", q.Phases)
	}
}

// The corners of what is asked: each is solved, and shows what it should.
func TestAwkwardStates(t *testing.T) {
	db, _ := Open()
	for _, row := range []struct {
		what string
		c    steel.Composition
		T    float64 // [°C]
		want string  // phases, the largest first
	}{
		{"pure iron below its transformation", steel.Composition{}, 911.5, Ferrite},
		{"pure iron above it", steel.Composition{}, 911.8, Austenite},
		{"the eutectoid from below", steel.Composition{steel.C: 0.762}, 726.5, Ferrite + " " + Cementite},
		{"the eutectoid from above", steel.Composition{steel.C: 0.7615}, 726.6, Austenite},
		{"2.1 % C", steel.Composition{steel.C: 2.1}, 1000, Austenite + " " + Cementite},
		{"plain steel at 200 °C", steel.Composition{steel.C: 0.8}, 200, Ferrite + " " + Cementite},
		{"12 % Cr at 820 °C", steel.Composition{steel.C: 1.55, steel.Cr: 11.8, steel.Mo: 0.8, steel.V: 0.8, steel.Mn: 0.3, steel.Si: 0.3}, 820, Austenite + " " + M7C3 + " " + MC},
		{"only carbon missing", steel.Composition{steel.Mn: 1, steel.Cr: 1}, 900, Austenite},
		{"all of it molten", steel.Composition{steel.C: 1}, 1590, Liquid},
	} {
		q, err := db.Equilibrium(row.c, row.T+273.15)
		if err != nil {
			t.Errorf("%s: %v", row.what, err)
			continue
		}
		var names []string
		for _, p := range q.Phases {
			if p.MassFraction > 1e-6 {
				names = append(names, p.Name)
			}
		}
		if got := strings.Join(names, " "); got != row.want {
			t.Errorf("%s: %s, want %s", row.what, got, row.want)
		}
	}
}

// Nickel keeps a little austenite at low temperature, which goes and comes back:
// Ae1 is where it comes to stay.
func TestAustenitePresentFromTheColdest(t *testing.T) {
	db, _ := Open()
	for _, row := range []struct{ ni, low, high float64 }{{3, 595, 615}, {4, 490, 505}, {9, 399, 401}} {
		tr, err := db.Transitions(steel.Composition{steel.C: 0.4, steel.Mn: 0.7, steel.Ni: row.ni})
		if err != nil {
			t.Fatal(err)
		}
		if at := tr.Ae1Start - 273.15; at < row.low || at > row.high || tr.Ae1End < tr.Ae1Start || tr.Ae3 < tr.Ae1End {
			t.Errorf("%g %% Ni: Ae1 %.0f to %.0f °C, Ae3 %.0f °C, %v at the coldest", row.ni, at, tr.Ae1End-273.15, tr.Ae3-273.15, tr.Coldest)
		}
	}
}

// Wrong questions are refused with what is wrong, the limit and, for elements,
// the name; a trace that nobody's parameters hold is noted and left out.
func TestWrongQuestions(t *testing.T) {
	db, _ := Open()
	for _, row := range []struct {
		c    steel.Composition
		T    float64
		want string
	}{
		{steel.Composition{steel.C: 0.8, steel.Cr: 101}, 1000, "Cr 101 % is no content"},
		{steel.Composition{steel.C: -0.1}, 1000, "C -0.1 % is no content"},
		{steel.Composition{steel.C: math.NaN()}, 1000, "NaN"},
		{steel.Composition{steel.C: 1, steel.Cr: 60, steel.Ni: 60}, 1000, "add up to 121 %"},
		{steel.Composition{steel.C: 1, steel.Cr: 60}, 1000, "39 % iron"},
		{steel.Composition{steel.C: 1}, 400, "outside 150 to 1600 °C"},
		{steel.Composition{steel.C: 1}, 2000, "outside 150 to 1600 °C"},
		{steel.Composition{steel.C: 1}, math.NaN(), "outside 150 to 1600 °C"},
	} {
		_, err := db.Equilibrium(row.c, row.T)
		if err == nil || !strings.Contains(err.Error(), row.want) || !strings.HasPrefix(err.Error(), "calphad: ") {
			t.Errorf("%v at %g K: %v, want %q", row.c, row.T, err, row.want)
		}
	}
	for _, row := range []steel.Composition{{steel.C: -1}, {steel.C: 1, steel.Cr: 60}} {
		if _, err := db.Transitions(row); err == nil {
			t.Errorf("transitions of %v were answered", row)
		}
		if _, err := db.Table(row); err == nil {
			t.Errorf("a table of %v was made", row)
		}
		if _, err := db.Walk(row); err == nil {
			t.Errorf("a walk of %v began", row)
		}
	}
	q, err := db.Equilibrium(steel.Composition{steel.C: 0.8, steel.P: 0.02, steel.S: 0.01, steel.W: 5}, 1000)
	if err != nil {
		t.Fatal(err)
	}
	var notes []string
	for _, n := range q.Notes {
		notes = append(notes, n.Code+" "+n.Args[0].Text)
	}
	if got := strings.Join(notes, ", "); got != "calphad.not-covered P, calphad.not-covered S, calphad.above-range W" {
		t.Errorf("notes: %s", got)
	}
}
