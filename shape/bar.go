package shape

import "math"

// Limits of what is meshed. Below, a body is a foil and the laws of its surface
// do not hold; above, it is no longer a smith's piece.
const (
	thinnest = 0.05e-3
	thickest = 0.5
	longest  = 3.0
)

// Bar is a straight piece of stock. Flats take Width and Thickness; the other
// forms take Width alone: the diameter of a round, the side of a square, the
// size across flats of a hex or an octagon [m].
type Bar struct {
	Form             Form
	Width, Thickness float64
	Length           float64
}

// Solid returns the body of the bar, with the zones surface, core and end.
func (b Bar) Solid() (*Solid, error) {
	var bad problems
	bad.within("width", b.Width, thinnest, thickest, "give the bar's width, diameter or size across flats")
	bad.within("length", b.Length, thinnest, longest, "give the length of the piece")
	if b.Form == Flat {
		bad.within("thickness", b.Thickness, thinnest, thickest, "give the bar's thickness")
		if b.Thickness > b.Width && b.Width > 0 {
			b.Width, b.Thickness = b.Thickness, b.Width // a flat lies on its flat side
		}
	}
	var k Section
	switch b.Form {
	case Flat:
		k = rectangle(b.Width, b.Thickness)
	case Square:
		k = rectangle(b.Width, b.Width)
	case Round:
		k = disk(b.Width / 2)
	case Hex:
		k = polygon(6, b.Width)
	case Octagon:
		k = polygon(8, b.Width)
	default:
		return nil, &Problem{Key: "form", Limits: "flat, round, square, hex or octagon", Remedy: "“" + string(b.Form) + "” is not a form of bar"}
	}
	if err := bad.err(); err != nil {
		return nil, err
	}
	end := k
	end.U, end.Frame.X = 1, b.Length
	s := &Solid{
		Form: b.Form, Sections: []Section{k, end}, Cut: 0.5,
		Fine: Fineness{Spine: 2, Edge: 2, Face: 2, Start: 3, End: 3},
	}
	switch b.Form {
	case Flat:
		s.Fine.Spine, s.Fine.Edge = 4, 4
	case Round:
		s.Fine.Spine, s.Fine.Edge = 1, 1
	case Hex:
		s.Ridges = []float64{0}
	case Octagon:
		s.Creases, s.Ridges = []float64{0.5}, []float64{0}
	}
	e := math.Min(0.5, 1.5*b.Width/b.Length/2)
	s.Zones = []Zone{
		{"surface", rim(0, 1, 0.08)},
		{"core", []Box{{0, 1, 0.42, 0.58, -0.16, 0.16}}},
		{"end", []Box{{1 - e/3, 1, 0, 1, -1, 1}}},
	}
	return s, nil
}

// rim returns the boxes of the outer share t of the section from u0 to u1.
func rim(u0, u1, t float64) []Box {
	return []Box{
		{u0, u1, 0, 1, 1 - 2*t, 1},
		{u0, u1, 0, 1, -1, -1 + 2*t},
		{u0, u1, 0, t, -1 + 2*t, 1 - 2*t},
		{u0, u1, 1 - t, 1, -1 + 2*t, 1 - 2*t},
	}
}

// rectangle returns the section of a flat, centered on the origin.
func rectangle(width, thickness float64) Section {
	y, z := width/2, thickness/2
	return Section{
		Top: []Point{{-y, z}, {y, z}}, Bottom: []Point{{-y, -z}, {y, -z}},
		Back: []Point{{-y, -z}, {-y, z}}, Front: []Point{{y, -z}, {y, z}},
	}
}

// disk returns the section of a round as four quarter arcs.
func disk(r float64) Section {
	const n = 48
	arc := func(from, to float64) []Point {
		c := make([]Point, n+1)
		for i := range c {
			a := (from + (to-from)*float64(i)/n) * math.Pi / 180
			c[i] = Point{r * math.Cos(a), r * math.Sin(a)}
		}
		return c
	}
	return Section{Top: arc(135, 45), Bottom: arc(225, 315), Back: arc(225, 135), Front: arc(-45, 45)}
}

// polygon returns the section of a regular hex or octagon with the size across
// flats. A hex lies on a flat and has a corner at V = 0 and 1; its top and
// bottom run over one flat. An octagon has its flats up, down and at both sides, too.
func polygon(sides int, flats float64) Section {
	r := flats / 2 / math.Cos(math.Pi/float64(sides))
	at := func(deg float64) Point {
		return Point{r * math.Cos(deg*math.Pi/180), r * math.Sin(deg*math.Pi/180)}
	}
	if sides == 6 {
		return Section{
			Top: []Point{at(120), at(60)}, Bottom: []Point{at(240), at(300)},
			Back: []Point{at(240), at(180), at(120)}, Front: []Point{at(-60), at(0), at(60)},
		}
	}
	// Four of the corners bound the patch; each of its sides runs over a flat and a slant.
	return Section{
		Top: []Point{at(112.5), at(67.5), at(22.5)}, Bottom: []Point{at(202.5), at(247.5), at(292.5)},
		Back: []Point{at(202.5), at(157.5), at(112.5)}, Front: []Point{at(292.5), at(337.5), at(22.5)},
	}
}
