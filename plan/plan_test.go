package plan

import (
	"context"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

func wish(use, grade string, s unit.System) Wish {
	u, ok := FindUse(use)
	if !ok {
		panic(use)
	}
	shop := route.Shop{
		Forges: []route.Fire{{Name: "forge", Kind: "gas"}},
		Baths:  []route.Bath{{Name: "cooking oil", Kind: "vegetable oil"}},
		Ovens:  []route.Oven{{Name: "oven", Kind: "kitchen"}},
	}
	return Wish{
		Name: use, Piece: u.Piece(unit.MM(u.Back), unit.MM(u.Edge), s), Steel: route.Metal{Grade: grade},
		Shop: shop, Aim: u.Aim(), Fire: "forge", Bath: "cooking oil", Oven: "oven", Units: s,
	}
}

// A plan is a job: written out and read back it is the same one, without a problem.
func TestPlanIsAJobFile(t *testing.T) {
	for _, u := range Uses() {
		for _, grade := range []string{"1084", "O1", "5160", "52100"} {
			for _, s := range []unit.System{unit.Metric, unit.Imperial} {
				job, _, err := Draft(wish(u.Name, grade, s))
				if err != nil {
					t.Fatalf("%s in %s: %v", u.Name, grade, err)
				}
				if _, problems := route.Parse(route.Write(job), nil); len(problems) > 0 {
					t.Errorf("%s in %s, %v: %v", u.Name, grade, s, problems)
				}
			}
		}
	}
}

// The temper of a plan brings the edge into the band that was wished for: the
// march with it ends there.
func TestTemperMeetsTheWish(t *testing.T) {
	for _, use := range []string{"belt knife", "big chopper"} {
		w := wish(use, "1084", unit.Metric)
		found, err := Find(context.Background(), w)
		if err != nil {
			t.Fatal(err)
		}
		job, notes := found.Job, found.Notes
		h, err := sim.Run(context.Background(), job, sim.Options{Section: true, Quick: true, NoSeries: true}, nil)
		if err != nil {
			t.Fatal(err)
		}
		band := w.Aim.Hardness[0].Band.Value.HV()
		if hv := hardnessAt(h, "edge"); hv < band.Low || hv > band.High {
			t.Errorf("%s: edge ends at %.0f HV, wished %.0f to %.0f; notes %v", use, hv, band.Low, band.High, notes)
		}
	}
}

// A steel that cannot reach the wish is told so, not tempered into nonsense.
func TestWishOutOfReach(t *testing.T) {
	found, err := Find(context.Background(), wish("belt knife", "1018", unit.Metric))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range found.Notes {
		if n.Code == "plan.softer-than-wished" {
			return
		}
	}
	t.Errorf("1018 for a knife brought no word: %v", found.Notes)
}

func BenchmarkPlanBeltKnife(b *testing.B) {
	w := wish("belt knife", "1084", unit.Metric)
	for b.Loop() {
		if _, err := Find(context.Background(), w); err != nil {
			b.Fatal(err)
		}
	}
}
