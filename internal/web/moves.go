package web

import (
	"fmt"
	"math"
	"sort"

	"github.com/heatwright/heatwright/unit"
)

// moves ranks what moves the hardness of the working zone most: each thing that
// may be other than taken, at its 10th and 90th percentile.
func (who reader) moves(a *worked, by *sayer) table {
	t := table{Caption: who.w("moves-caption"), Head: []string{who.w("moves-what"), who.w("moves-from-to"), who.w("moves-by")}}
	if a.spread == nil {
		return t
	}
	z := zoneOf(a.spread.Base.Zones, "edge", "point", "face", "surface", "core")
	if z == nil {
		return t
	}
	type moved struct {
		name      string
		low, high float64 // HV
	}
	var all []moved
	for _, m := range a.spread.Moves {
		x := moved{m.Name, z.HardnessHV.Value, z.HardnessHV.Value}
		for _, run := range m.Runs {
			if len(run.Steps) < len(a.history.Steps) {
				continue // it stops before the end
			}
			if v := zoneOf(run.Zones, z.Name); v != nil {
				x.low, x.high = math.Min(x.low, v.HardnessHV.Value), math.Max(x.high, v.HardnessHV.Value)
			}
		}
		all = append(all, x)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].high-all[i].low > all[j].high-all[j].low })
	for _, x := range all {
		span := rockwell(x.high) - rockwell(x.low)
		if x.high-x.low < 2 || len(t.Rows) == 7 {
			break
		}
		is := who.w("moves-little")
		if span >= 0.5 {
			is = fmt.Sprintf("%.0f HRC", span)
		}
		t.Rows = append(t.Rows, row{plain(who.w("move-" + x.name)), by.number(spanOf(x.low, x.high), "odds"), by.number(is, "odds")})
	}
	if len(t.Rows) > 0 {
		t.Caption += " " + z.Name + "."
	}
	return t
}

// spanOf says from where to where a hardness goes [HV].
func spanOf(low, high float64) string {
	a, b := tens(low), tens(high)
	if a == b {
		return a + " HRC"
	}
	return a + "–" + b + " HRC"
}

// rockwell reads a hardness in HRC, by its straight line below 20, for differences.
func rockwell(hv float64) float64 {
	if v, ok := unit.HRCofHV(hv); ok {
		return v
	}
	return 20 - (238-hv)/4.7
}

func tens(hv float64) string {
	if v := rockwell(hv); v >= 20 {
		return fmt.Sprintf("%.0f", v)
	}
	return "<20"
}
