package evidence

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// Worked values of the formulas as printed, reckoned apart from this code (own
// arithmetic on the published constants): they prove the transcription.
func TestPublishedFormulas(t *testing.T) {
	fe := func(c float64) steel.Composition { return steel.Composition{steel.C: c} }
	at := func(list []formula, name string, c steel.Composition) float64 {
		for _, f := range list {
			if f.name == name {
				return f.at(c, extra{})
			}
		}
		t.Fatalf("no formula %q", name)
		return 0
	}
	bearing := steel.Composition{steel.C: 1.0, steel.Mn: 0.35, steel.Si: 0.25, steel.Cr: 1.5}
	medium := steel.Composition{steel.C: 0.45, steel.Mn: 0.75, steel.Si: 0.25}
	o1 := steel.Composition{steel.C: 0.75, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.45}
	for _, x := range []struct {
		what      string
		got, want float64
	}{
		{"van Bohemen 0.6C", at(msFormulas, "van Bohemen", fe(0.6)), 302}, {"Barbier 0.8C", at(msFormulas, "Barbier", fe(0.8)), 244},
		{"Capdevila 1.0C", at(msFormulas, "Capdevila", fe(1.0)), 188}, {"Andrews 1.0C", at(msFormulas, "Andrews", fe(1.0)), 116},
		{"Steven Haynes 0.8C", at(msFormulas, "Steven and Haynes", fe(0.8)), 182}, {"Payson Savage 0.8C", at(msFormulas, "Payson and Savage", fe(0.8)), 245},
		{"van Bohemen O1", at(msFormulas, "van Bohemen", o1), 211}, {"Bs van Bohemen O1", at(bsFormulas, "van Bohemen", o1), 528},
		{"Bs Steven Haynes O1", at(bsFormulas, "Steven and Haynes", o1), 488}, {"Bs Kirkaldy O1", at(bsFormulas, "Kirkaldy", o1), 533},
		{"Ac1 Andrews 0.45C", at(ac1Formulas, "Andrews", medium), 722.3}, {"Ac3 Andrews 0.45C", at(ac3Formulas, "Andrews", medium), 762.5},
		{"Ac1 Andrews 52100", at(ac1Formulas, "Andrews", bearing), 751.9}, {"Ac1 Grange 52100", at(ac1Formulas, "Grange", bearing), 758.5},
		{"Ac1 Trzaska 52100", at(ac1Formulas, "Trzaska and Dobrzański", bearing), 735.9},
	} {
		if math.Abs(x.got-x.want) > 0.8 {
			t.Errorf("%s: %.1f °C, want %.1f", x.what, x.got, x.want)
		}
	}
	// Base of Grange's figure at its own corners, and halfway between two (from memory).
	if got := grange(fe(0.6), 316, 1); math.Abs(got-500) > 1e-9 {
		t.Errorf("grange 0.6C 316 °C: %g HV", got)
	}
	if got := grange(fe(0.5), 427, 1); math.Abs(got-357.5) > 1e-9 {
		t.Errorf("grange 0.5C 427 °C: %g HV", got)
	}
	for _, list := range [][]formula{msFormulas, bsFormulas, ac1Formulas, ac3Formulas} {
		for _, f := range list {
			if _, ok := cite.Find(f.source); !ok {
				t.Errorf("%s: source %q is not in the bibliography", f.name, f.source)
			}
		}
	}
}

// The equivalent round of Grossmann: at infinite severity it is the ideal diameter
// itself. At H 0.35 a round of 17.4 mm has Biot number 0.24, λ² = 0.453, and takes
// Fo = ln(2·1.06)/0.453 = 1.66 to half its temperature; one of 50 mm at infinite
// severity takes 0.2013: 1.66·8.7² = 0.2013·25² (reckoned by hand).
func TestGrossmann(t *testing.T) {
	for _, x := range []struct{ ideal, severity, want, tol float64 }{{0.05, 1e6, 0.05, 1e-4}, {0.05, 0.35, 0.0174, 0.0002}} {
		if got := grossmann(x.ideal, x.severity); math.Abs(got-x.want) > x.tol {
			t.Errorf("ideal %g m at H %g: %.4f m, want %g ± %g", x.ideal, x.severity, got, x.want, x.tol)
		}
	}
	last := 0.0
	for _, h := range []float64{0.2, 0.35, 0.5, 1, 2, 5} {
		d := grossmann(0.05, h)
		if d <= last {
			t.Errorf("a harder quench hardens less: %.4f m at H %g", d, h)
		}
		last = d
	}
}
