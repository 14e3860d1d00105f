package study

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/unit"
)

// claims are the half widths that the models state of themselves.
var claims = func() map[string]float64 {
	half := map[string]float64{}
	for _, list := range [][]cite.Accuracy{micro.Accuracy(), skin.Accuracy()} {
		for _, a := range list {
			half[a.Model] = a.Half
		}
	}
	return half
}()

// claim returns the half width that a model states: a factor, or in its unit.
func claim(model string) float64 {
	half, ok := claims[model]
	if !ok {
		panic("study: no model " + model + " states an accuracy")
	}
	return half
}

// modelHV returns the half width of what the hardness models claim for a zone
// [HV], as a root of sum of squares by what is there: martensite as quenched, or
// tempered, and structures of ferrite with carbide.
func modelHV(z *sim.Zone, tempered bool) float64 {
	hard := z.Constituents.Hardened()
	martensite := claim("micro.hardness")
	if tempered {
		// Stated on the Rockwell scale, which is steep in HV where it is hard.
		half := claim("micro.tempering")
		rock := 20.0
		if z.HardnessHRC != nil {
			rock = z.HardnessHRC.Value
		}
		martensite = (unit.HVofHRC(math.Min(68, rock+half)) - unit.HVofHRC(math.Max(20, rock-half))) / 2
	}
	return math.Hypot(hard*martensite, (1-hard)*claim("micro.soft")/100*z.HardnessHV.Value)
}

// temperedBy tells for each step of a history whether what was hardened has been
// tempered by its end.
func temperedBy(h *sim.History) []bool {
	list := make([]bool, len(h.Steps)+1) // the last is the end of the route
	yes := false
	for i := range h.Steps {
		switch h.Steps[i].Role {
		case sim.Tempering, sim.Holding:
			yes = true
		case sim.Heating:
			yes = false
		}
		list[i] = yes
	}
	list[len(h.Steps)] = yes
	return list
}
