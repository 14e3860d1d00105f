package plan

import (
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// Use is something that smiths make: the shape that it usually has before the
// quench, and the hardness that it is usually given. The bands are common
// practice: where a talk with the customer starts, not where it ends.
type Use struct {
	Name string // stable id and trade name, "belt knife"
	Form route.Form
	Zone string // the zone that does the work
	HRC  [2]float64

	// Usual measures before the quench [mm]; a bar has no Width for rounds.
	Length, Width, Back, Edge float64
}

// uses are the pieces that the first screen offers. Source of the bands: common practice.
var uses = []Use{
	{"kitchen knife", route.Blade, "edge", [2]float64{60, 62}, 180, 45, 2.5, 0.8},
	{"belt knife", route.Blade, "edge", [2]float64{58, 60}, 110, 28, 3.2, 0.8},
	{"carving knife", route.Blade, "edge", [2]float64{58, 61}, 60, 15, 2.5, 0.6},
	{"big chopper", route.Blade, "edge", [2]float64{55, 58}, 260, 55, 5, 1.2},
	{"wood chisel", route.Flat, "core", [2]float64{58, 61}, 140, 25, 5, 0},
	{"cold chisel", route.Octagon, "core", [2]float64{54, 58}, 180, 0, 20, 0},
	{"punch", route.Round, "core", [2]float64{54, 58}, 125, 0, 12, 0},
	{"scraper or pry tool", route.Flat, "core", [2]float64{50, 54}, 200, 25, 5, 0},
	{"flat spring", route.Flat, "core", [2]float64{42, 48}, 160, 18, 2, 0},
}

// Uses returns what the first screen offers, in its order.
func Uses() []Use { return append([]Use(nil), uses...) }

// FindUse returns the use of this name.
func FindUse(name string) (Use, bool) {
	for _, u := range uses {
		if u.Name == name {
			return u, true
		}
	}
	return Use{}, false
}

// Piece returns the shape of the use with this thickness at the back and, for a
// blade, at the edge [m], told in the units of s.
func (u Use) Piece(back, edge unit.Length, s unit.System) route.Piece {
	p := route.Piece{Form: u.Form, Length: length(unit.MM(u.Length), s)}
	switch u.Form {
	case route.Blade:
		p.Width, p.Spine, p.Edge = length(unit.MM(u.Width), s), length(back, s), length(edge, s)
		p.WidthTip, p.SpineTip = length(unit.MM(u.Width/5), s), length(max(back/2, edge), s)
	case route.Flat:
		p.Width, p.Thickness = length(unit.MM(u.Width), s), length(back, s)
	case route.Round:
		p.Diameter = length(back, s)
	default:
		p.Across = length(back, s)
	}
	return p
}

// Aim returns the usual hardness of the use.
func (u Use) Aim() route.Aim {
	band, err := unit.ParseHardness(hrcText(u.HRC[0], u.HRC[1]))
	if err != nil {
		panic("plan: " + err.Error()) // the table above is ours
	}
	return route.Aim{Use: u.Name, Hardness: []route.Wish{{Zone: u.Zone, Band: route.Hardness{Text: hrcText(u.HRC[0], u.HRC[1]), Value: band}}}}
}
