package steel

import (
	"math"
	"strings"
	"testing"
)

func TestParseAnalysis(t *testing.T) {
	for text, want := range map[string]map[Element]float64{
		"C 0.95, Mn 1.2, Cr 0.5, W .5":      {C: 0.95, Mn: 1.2, Cr: 0.5, W: 0.5},
		"0.95C 1.2Mn 0.5Cr":                 {C: 0.95, Mn: 1.2, Cr: 0.5},
		"C: 0.95 %; Mn=1.2 %":               {C: 0.95, Mn: 1.2},
		"carbon .84, manganese .75":         {C: 0.84, Mn: 0.75},
		"95 points carbon, 0.4 % manganese": {C: 0.95, Mn: 0.4},
		"C 0,95; Mn 1,2":                    {C: 0.95, Mn: 1.2},
		"C0.6 Si2.0 Mn0.85":                 {C: 0.6, Si: 2.0, Mn: 0.85},
		"CHEMICAL ANALYSIS %\nC Si Mn P S Cr Ni Mo Cu Al\n0.61 0.24 0.86 0.012 0.008 0.81 0.06 0.02 0.15 0.021": {C: 0.61, Si: 0.24, Mn: 0.86, P: 0.012, S: 0.008, Cr: 0.81, Ni: 0.06, Mo: 0.02, Cu: 0.15},
		"C\tSi\tMn\tP\tS\nx100\tx100\tx100\tx1000\tx1000\n95\t25\t40\t12\t8":                                    {C: 0.95, Si: 0.25, Mn: 0.40, P: 0.012, S: 0.008},
		"| C % | Mn % | Si % |\n| 0.95 | 0.40 | 0.25 |":                                                         {C: 0.95, Mn: 0.40, Si: 0.25},
		"C 0.95\nMn 0.40\nSi 0.25": {C: 0.95, Mn: 0.40, Si: 0.25},
	} {
		a, err := ParseAnalysis(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		for e := range NumElements {
			x, given := want[e]
			if given != a.Given[e] {
				t.Errorf("%q: %v given %v", text, e, a.Given[e])
			}
			if !given {
				x = residuals[e].typical
			}
			if math.Abs(a.Composition[e]-x) > 1e-12 {
				t.Errorf("%q: %v is %g, want %g", text, e, a.Composition[e], x)
			}
		}
	}
	a, err := ParseAnalysis("C Si Mn Al\n0.9 0.2 0.4 0.03")
	if err != nil || len(a.Ignored) != 1 || a.Ignored[0] != "Al 0.03" {
		t.Errorf("aluminum: %v, %v", a.Ignored, err)
	}
	if f := a.Filled(); len(f) == 0 || f[0] != Cr {
		t.Errorf("filled %v, want chromium first", f)
	}
}

func TestParseAnalysisRefuses(t *testing.T) {
	for _, text := range []string{
		"", "Mn 1.2", "C 4.0", "C 0.95 C 0.85", "C", "0.95", "C 0.95, Xx 1", "C 0.95 Mn", "hello", "C 0.9 Cr 18", "C -0.5", "C 1e0", "C NaN", "C 0.9, Mn 0x1p3",
		strings.Repeat("C 0.9 ", 5000), "\xff", "C 95, Mn 40",
	} {
		if a, err := ParseAnalysis(text); err == nil {
			t.Errorf("%.30q was read as %v", text, a.Composition)
		} else if len(err.Error()) > 400 {
			t.Errorf("%.30q: the error is %d bytes long", text, len(err.Error()))
		}
	}
}

func FuzzParseAnalysis(f *testing.F) {
	for _, s := range []string{"C 0.95, Mn 1.2", "0.95C 1.2Mn", "C Si Mn\n0.9 0.2 0.4", "C\nx100\n95", "95 points carbon", "C:.9%", "||", "C,9", "1,2,3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := ParseAnalysis(text)
		if err != nil {
			return
		}
		if err := a.Composition.Check(); err != nil || !a.Given[C] {
			t.Fatalf("%q was read as %v, %v", text, a, err)
		}
	})
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"O1", "drill rod", "1.2842", "", "AISI", "steel", "unknown", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, name string) {
		g, err := Find(name)
		if (g.Name == "") == (err == nil) {
			t.Fatalf("%q finds %q, %v", name, g.Name, err)
		}
	})
}
