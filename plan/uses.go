package plan

import (
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// Use is something that smiths make: the shape that it usually has before the
// quench, and the hardness that it is usually given. The bands are common
// practice: where a talk with the customer starts, not where it ends.
type Use struct {
	Name  string // stable id and trade name, "belt knife"
	Form  route.Form
	Stock route.Form // of a struck tool: the bar it is made of
	Zone  string     // the zone that does the work
	HRC   [2]float64

	// Usual measures before the quench [mm]: Back is the thickness at the back, of
	// the bar, over the eye or across the face; Edge is 0 where there is none.
	Length, Width, Back, Edge float64
}

// uses are the pieces that the first screen offers. Source of the bands: common practice.
var uses = []Use{
	{"kitchen knife", route.Blade, "", "edge", [2]float64{60, 62}, 180, 45, 2.5, 0.8},
	{"belt knife", route.Blade, "", "edge", [2]float64{58, 60}, 110, 28, 3.2, 0.8},
	{"carving knife", route.Blade, "", "edge", [2]float64{58, 61}, 60, 15, 2.5, 0.6},
	{"big chopper", route.Blade, "", "edge", [2]float64{55, 58}, 260, 55, 5, 1.2},
	{"drawknife", route.Drawknife, "", "edge", [2]float64{58, 61}, 250, 35, 5, 0.8},
	{"wood chisel", route.Chisel, route.Flat, "edge", [2]float64{58, 61}, 140, 25, 5, 1},
	{"cold chisel", route.Chisel, route.Octagon, "edge", [2]float64{54, 58}, 180, 22, 20, 2},
	{"punch", route.Punch, route.Round, "point", [2]float64{54, 58}, 125, 0, 12, 0},
	{"hatchet", route.Hatchet, "", "edge", [2]float64{54, 58}, 150, 85, 28, 1.5},
	{"froe", route.Froe, "", "edge", [2]float64{40, 50}, 250, 50, 8, 2},
	{"hammer", route.Hammer, route.Octagon, "face", [2]float64{50, 56}, 100, 30, 30, 0},
	{"scraper or pry tool", route.Flat, "", "core", [2]float64{50, 54}, 200, 25, 5, 0},
	{"flat spring", route.Spring, "", "core", [2]float64{42, 48}, 160, 18, 2, 0},
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

// Piece returns the shape of the use with this thickness at the back and, where
// it has an edge, at the edge [m], told in the units of s. What else it measures
// is in the proportions that are usual.
func (u Use) Piece(back, edge unit.Length, s unit.System) route.Piece {
	mm := func(x float64) route.Length { return length(unit.MM(x), s) }
	of := func(share float64) route.Length { return length(back*unit.Length(share), s) }
	p := route.Piece{Form: u.Form, Length: mm(u.Length), Stock: string(u.Stock)}
	if u.Edge > 0 {
		p.Edge = length(edge, s)
	}
	switch u.Form {
	case route.Blade:
		p.Width, p.Spine = mm(u.Width), length(back, s)
		p.WidthTip, p.SpineTip = mm(u.Width/7), length(max(back/2, edge), s)
	case route.Drawknife:
		p.Width, p.Spine, p.TangLength, p.TangWidth = mm(u.Width), length(back, s), mm(100), mm(12)
	case route.Froe:
		p.Width, p.Spine, p.Eye, p.Wall = mm(u.Width), length(back, s), mm(35), mm(6)
	case route.Chisel:
		p.Taper, p.EdgeWidth = mm(0.4*u.Length), mm(u.Width)
		if u.Stock == route.Flat {
			p.Width, p.Thickness = mm(u.Width), length(back, s)
		} else {
			p.Across = length(back, s)
		}
	case route.Punch:
		p.Across, p.Taper, p.Point = length(back, s), mm(0.33*u.Length), of(0.3)
	case route.Hatchet:
		p.Poll, p.PollThick, p.Cheek = mm(45), of(0.8), length(back, s)
		p.Eye, p.EyeWide, p.EyeAt, p.EdgeHeight = mm(38), of(0.6), mm(36), mm(u.Width)
	case route.Hammer:
		p.Across, p.Body = length(back, s), length(back, s)
		p.Eye, p.EyeWide, p.EyeAt = mm(25), of(0.53), mm(u.Length/2)
		p.PeenWidth, p.PeenThick = length(back, s), of(0.25)
	case route.Spring:
		p.Width, p.Middle = mm(u.Width), length(back, s)
	case route.Flat:
		p.Width, p.Thickness = mm(u.Width), length(back, s)
	case route.Round:
		p.Diameter = length(back, s)
	default:
		p.Across = length(back, s)
	}
	return p
}

// UsualPiece returns a piece of a form in usual measures, for whoever changes the form.
func UsualPiece(form route.Form, s unit.System) route.Piece {
	u := Use{Form: form, Length: 150, Width: 25, Back: 12}
	if form == route.Flat {
		u.Back = 5
	}
	for _, x := range uses {
		if x.Form == form {
			u = x
			break
		}
	}
	return u.Piece(unit.MM(u.Back), unit.MM(u.Edge), s)
}

// Aim returns the usual hardness of the use.
func (u Use) Aim() route.Aim {
	band, err := unit.ParseHardness(hrcText(u.HRC[0], u.HRC[1]))
	if err != nil {
		panic("plan: " + err.Error()) // the table above is ours
	}
	return route.Aim{Use: u.Name, Hardness: []route.Wish{{Zone: u.Zone, Band: route.Hardness{Text: hrcText(u.HRC[0], u.HRC[1]), Value: band}}}}
}
