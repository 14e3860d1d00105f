package web

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// glowGroup is the words for glow in one light, each with what people mean by it.
type glowGroup struct {
	Light string
	Words []choice // the value is the middle of the word, as a temperature
}

// byEye offers the heats by their colors for a step that heats to a glow: a color
// is a temperature only together with its light, and a band at that.
func (who reader) byEye(s route.Step, _ int) []glowGroup {
	switch s.Do {
	case route.Heat, route.Normalize, route.Forge, route.Anneal:
	default:
		return nil
	}
	var all []glowGroup
	for _, l := range color.Lights() {
		g := glowGroup{Light: who.choice("light " + l.Name)}
		for _, row := range observe.HeatChart(color.NewEye(l, color.NoGlasses), jobsheet.MagnetOff, 0) {
			if math.IsInf(row.T.High, 0) || row.T.Value > 1350+273.15 {
				continue
			}
			t := unit.Temp(row.T.Value)
			value := fmt.Sprintf("%.0f C", 5*math.Round(t.C()/5))
			if who.Units == unit.Imperial {
				value = fmt.Sprintf("%.0f F", 10*math.Round(t.F()/10))
			}
			g.Words = append(g.Words, choice{value, fmt.Sprintf("%s (%s)", row.Word, who.Range(row.T.Low, row.T.High, "K")), false})
		}
		all = append(all, g)
	}
	return all
}
