package sim

import (
	"context"
	"math"
	"testing"

	"github.com/heatwright/heatwright/shop"
)

// What the limits of a step cost: against 2 % in every cell and 10 K also while
// the metal rests, no zone ends more than 0.2 HRC and no sign comes more than
// 2 % of its time or 0.2 s apart. The kiln does not swing here: a blade that comes to it
// 16 s later meets another part of the swing, and its colors tell that and not the steps.
func TestLimitsCostLittle(t *testing.T) {
	run := func(l limits) *History {
		s := knife(t)
		for i := range s.Shop.Ovens {
			s.Shop.Ovens[i].Swing = shop.Exactly(0)
		}
		m, err := s.March(Options{Section: true, Quick: true})
		if err != nil {
			t.Fatal(err)
		}
		m.most = l
		if err := m.Finish(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		h, err := m.History()
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	a, b := run(usual), run(strict)
	t.Logf("%d steps for %d", a.Mesh.Steps, b.Mesh.Steps)
	for i := range a.Zones {
		x, y := a.Zones[i].HardnessHRC, b.Zones[i].HardnessHRC
		if d := math.Abs(x.Value - y.Value); d > 0.2 {
			t.Errorf("%s: %.2f and %.2f HRC", a.Zones[i].Name, x.Value, y.Value)
		}
		t.Logf("%s %.2f %.2f HRC", a.Zones[i].Name, x.Value, y.Value)
	}
	for i := range a.Steps {
		for k := range a.Steps[i].Zones {
			x, y := &a.Steps[i].Zones[k], &b.Steps[i].Zones[k]
			if d := math.Abs(x.HardnessHV.Value - y.HardnessHV.Value); d > 8 {
				t.Errorf("step %d %s: %.1f and %.1f HV", i, x.Name, x.HardnessHV.Value, y.HardnessHV.Value)
			}
		}
	}
	worst, at := 0.0, ""
	for i := range a.Signs {
		x := &a.Signs[i]
		for k := range b.Signs {
			y := &b.Signs[k]
			if x.Name == y.Name && x.Zone == y.Zone && x.Step == y.Step {
				d := math.Abs(x.Since.Value-y.Since.Value) / (0.2 + 0.02*y.Since.Value)
				if d > worst {
					worst, at = d, string(x.Name)+" "+x.Zone
				}
				if d > 1 {
					t.Errorf("%s %s in step %d: %.2f and %.2f s", x.Name, x.Zone, x.Step, x.Since.Value, y.Since.Value)
				}
			}
		}
	}
	t.Logf("worst sign %.2f of what is allowed: %s", worst, at)
}
