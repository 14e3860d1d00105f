package sim

import (
	"context"
	"math"
	"testing"
)

// The whole piece (3-D) and the cross-section (2-D) are one code and agree at
// the cut, within 3 K and 0.5 HRC, where the piece is long and even: a bar of
// which a section stands for the middle.
func TestWholeAgreesWithSection(t *testing.T) {
	ctx := context.Background()
	const long = "[[step]]\ndo = \"heat\"\nin = \"kiln\"\nat = \"815 C\"\nuntil = \"40 min\"\n"
	for name, job := range map[string]string{
		"flat": flat("1084", "3 mm", "hot-rolled"), "round": round("O1", "12.7 mm", "spheroidized"),
	} {
		t.Run(name, func(t *testing.T) {
			s, err := Prepare(parse(t, job, long+carry("2 s")+quench("fast oil")+temper("204 C", "1 h", 1)))
			if err != nil {
				t.Fatal(err)
			}
			whole, err := s.March(Options{Quick: true, Along: 15})
			if err != nil {
				t.Fatal(err)
			}
			// The layer of cells that the cut goes through, and the cut through its middle.
			layer := 0
			for i := range whole.mesh.NI {
				if whole.mesh.U[i] <= whole.mesh.Solid.Cut {
					layer = i
				}
			}
			sec, err := s.March(Options{Section: true, Quick: true, Station: 0.5 * (whole.mesh.U[layer] + whole.mesh.U[layer+1])})
			if err != nil {
				t.Fatal(err)
			}
			n := sec.mesh.Len()
			compare := func(what string) {
				worst, hard := 0.0, 0.0
				for c := range n {
					worst = math.Max(worst, math.Abs(sec.now.field.T[c]-whole.now.field.T[layer*n+c]))
					hard = math.Max(hard, math.Abs(sec.metal.HV(sec.now.cells, c)-whole.metal.HV(whole.now.cells, layer*n+c)))
				}
				t.Logf("%s: %.2f K, %.1f HV", what, worst, hard)
				if worst > 3 {
					t.Errorf("%s: %.1f K between section and whole", what, worst)
				}
				if hard > 12 { // 0.5 HRC at 60 HRC
					t.Errorf("%s: %.0f HV between section and whole", what, hard)
				}
			}
			// By temperature the ends of stages differ in time; compare at the same moments of the quench.
			for k := 1; k < len(s.Stages); k++ {
				for _, m := range []*March{sec, whole} {
					if err := m.Until(ctx, func(m *March) bool { return m.Stage() >= k }); err != nil {
						t.Fatal(err)
					}
				}
				if k == 1 {
					compare("out of the kiln")
					// A kelvin there is several where the oil boils most: from here on both start alike.
					for c := range whole.mesh.Len() {
						whole.now.field.T[c], whole.now.field.H[c] = sec.now.field.T[c%n], sec.now.field.H[c%n]
						whole.now.cells.CopyCell(c, sec.now.cells, c%n)
					}
					whole.books.open(whole)
					whole.books.out = 0
				}
				if k == 2 {
					a, b := sec.clock, whole.clock
					for _, at := range []float64{1, 3, 10} {
						if err := sec.UntilTime(ctx, a+at); err != nil {
							t.Fatal(err)
						}
						if err := whole.UntilTime(ctx, b+at); err != nil {
							t.Fatal(err)
						}
						compare("in the oil")
					}
				}
			}
			for _, m := range []*March{sec, whole} {
				if err := m.Finish(ctx, nil); err != nil {
					t.Fatal(err)
				}
			}
			compare("at the end")
			t.Logf("%d and %d steps", sec.steps, whole.steps)
		})
	}
}
