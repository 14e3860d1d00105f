package sim

import (
	"math"
	"testing"

	"context"

	"github.com/heatwright/heatwright/shape"
)

// Half of an even piece gives the same answer as the whole thickness.
func TestHalfIsEnough(t *testing.T) {
	for _, name := range []string{"knife.toml", "1095_flat.toml", "o1_round.toml", "o1_soft.toml"} {
		t.Run(name, func(t *testing.T) {
			s, err := Prepare(load(t, name))
			if err != nil {
				t.Fatal(err)
			}
			run := func(full bool) *History {
				h, err := s.Run(context.Background(), Options{Section: true, Quick: true, NoSeries: true, Full: full}, nil)
				if err != nil {
					t.Fatal(err)
				}
				return h
			}
			half, full := run(false), run(true)
			if !half.Mesh.Mirrored || full.Mesh.Mirrored || half.Mesh.Cells != full.Mesh.Cells {
				t.Errorf("half %+v, full %+v", half.Mesh, full.Mesh)
			}
			worst := 0.0
			for i := range half.Steps {
				for k := range half.Steps[i].Zones {
					a, b := &half.Steps[i].Zones[k], &full.Steps[i].Zones[k]
					worst = math.Max(worst, math.Abs(a.HardnessHV.Value-b.HardnessHV.Value))
				}
			}
			t.Logf("%d steps for %d, worst %.1f HV", half.Mesh.Steps, full.Mesh.Steps, worst)
			if worst > 12 { // 0.5 HRC at 60
				t.Errorf("half and full differ by %.0f HV", worst)
			}
		})
	}
}

// A blade with one bevel has no middle plane.
func TestOneSidedIsMarchedWhole(t *testing.T) {
	solid, err := shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 0.003, Edge: 0.0006}, {X: 0.1, Width: 0.03, Spine: 0.003, Edge: 0.0006}}, OneSided: true}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := mirrored(solid); ok {
		t.Error("a one-sided blade is taken for even")
	}
}
