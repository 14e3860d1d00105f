package sim

import (
	"context"
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// Every grade goes through a route without a fault of ours, whatever comes of
// it: the books close and every number is a number.
func TestEveryGradeMarches(t *testing.T) {
	for _, g := range steel.Grades() {
		t.Run(g.Name, func(t *testing.T) {
			t.Parallel()
			for _, route := range []string{
				heat("850 C", "5 min") + carry("2 s") + quench("fast oil") + temper("204 C", "1 h", 2),
				heat("980 C", "10 min") + bury("vermiculite"),
			} {
				job := parse(t, flat(g.Name, "4 mm", "unknown"), route)
				h, err := Run(context.Background(), job, Options{Section: true, Quick: true, NoSeries: true, Across: 8, Through: 5}, nil)
				if err != nil {
					t.Fatal(err)
				}
				for _, z := range h.Zones {
					sum := 0.0
					for k := steel.Constituent(0); k < steel.NumConstituents; k++ {
						sum += z.Constituents.Of(k)
					}
					if math.Abs(sum-1) > 1e-9 {
						t.Errorf("%s: fractions sum to %g", z.Name, sum)
					}
					if hv := z.HardnessHV.Value; !(hv > 80 && hv < 1000) {
						t.Errorf("%s: %g HV", z.Name, hv)
					}
				}
			}
		})
	}
}

// Awkward sizes: a needle, a foil and a block.
func TestAwkwardSizes(t *testing.T) {
	for _, c := range []struct{ piece, hold string }{
		{round("O1", "0.8 mm", "spheroidized"), "1 min"}, {flat("1084", "0.3 mm", "hot-rolled"), "1 min"}, {round("1045", "90 mm", "hot-rolled"), "60 min"},
		{bladeOf("1095", "6 mm", "0.1 mm", "spheroidized"), "5 min"},
	} {
		job := parse(t, c.piece, heat("820 C", c.hold)+carry("2 s")+quench("brine")+temper("200 C", "1 h", 1))
		h, err := Run(context.Background(), job, Options{Section: true}, nil)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d steps, %d again: %+v", h.Mesh.Steps, h.Mesh.Again, h.Zones[0].HardnessHV)
	}
}
