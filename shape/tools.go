package shape

import (
	"fmt"
	"math"
)

// Chisel is a cutting tool struck on its end: stock that tapers to an edge as
// wide as EdgeWidth at the end of its length [m].
type Chisel struct {
	Stock                Bar     // form, size and whole length
	Taper                float64 // length of the taper
	EdgeWidth, EdgeThick float64
}

// Solid returns the body, with the zones edge, taper, shank and struck end.
func (c Chisel) Solid() (*Solid, error) {
	s, bad := stock(c.Stock, c.Taper)
	bad.within("edge_width", c.EdgeWidth, 0.5e-3, thickest, "give the width of the edge")
	bad.within("edge", c.EdgeThick, thinnest, 0.5*min(c.Stock.Width, thickness(c.Stock)), "give the thickness of the edge before it is ground sharp")
	if err := bad.err(); err != nil {
		return nil, err
	}
	s.Form = ChiselForm
	s.pointed(c.Stock.Length, c.Taper, rectangle(c.EdgeWidth, c.EdgeThick), "edge")
	return s, nil
}

// Punch is a tool struck on its end that tapers to a point of its own form [m].
type Punch struct {
	Stock Bar
	Taper float64 // length of the taper
	Point float64 // size across the point
}

// Solid returns the body, with the zones point, taper, shank and struck end.
func (p Punch) Solid() (*Solid, error) {
	s, bad := stock(p.Stock, p.Taper)
	bad.within("point", p.Point, 0.3e-3, p.Stock.Width, "give the size of the point before it is ground")
	if err := bad.err(); err != nil {
		return nil, err
	}
	s.Form = PunchForm
	tip := s.Section(1)
	tip.scale(p.Point/p.Stock.Width, p.Point/thickness(p.Stock))
	s.pointed(p.Stock.Length, p.Taper, tip, "point")
	return s, nil
}

func thickness(b Bar) float64 {
	if b.Form == Flat {
		return b.Thickness
	}
	return b.Width
}

// stock returns the bar that a struck tool is made of, and what is wrong with it.
func stock(b Bar, taper float64) (*Solid, problems) {
	var bad problems
	s, err := b.Solid()
	if err != nil {
		return nil, append(bad, err)
	}
	bad.within("taper", taper, 1e-3, 0.98*b.Length, "give the length of the taper, shorter than the tool")
	return s, bad
}

// pointed makes the last section tip, with a section where the taper starts.
func (s *Solid) pointed(length, taper float64, tip Section, name string) {
	start := s.Section(1 - taper/length)
	tip.U, tip.Frame = 1, Frame{X: length}
	s.Sections = []Section{s.Sections[0], start, tip}
	s.EndOn, s.Cut = true, 0.5
	s.Fine.Start, s.Fine.End = 2, 8
	struck := min(0.25, 15e-3/length)
	t := taper / length
	s.Zones = []Zone{
		{name, []Box{{1 - min(0.25*t, 3e-3/length), 1, 0, 1, -1, 1}}},
		{"taper", []Box{{1 - t, 1 - min(0.25*t, 3e-3/length), 0, 1, -1, 1}}},
		{"shank", []Box{{struck, 1 - t, 0, 1, -1, 1}}},
		{"struck end", []Box{{0, struck, 0, 1, -1, 1}}},
	}
}

// Drawknife is a straight blade beveled on one face, with a tang at either end [m].
type Drawknife struct {
	Length, Width, Spine, Edge float64 // of the blade
	Bevel                      float64 // share of the width that is beveled; 0 is a third
	TangLength, TangWidth      float64 // of each tang, drawn straight; bend them afterwards
}

// Solid returns the body, with the zones edge, spine, core, left tang and right tang.
func (d Drawknife) Solid() (*Solid, error) {
	if d.Bevel == 0 {
		d.Bevel = 1. / 3
	}
	b := Blade{
		Stations: []Station{{0, d.Width, d.Spine, d.Edge}, {d.Length, d.Width, d.Spine, d.Edge}},
		Height:   d.Bevel, OneSided: true, Tang: Tang{Length: d.TangLength, Width: d.TangWidth},
	}
	s, err := b.Solid()
	if err != nil {
		return nil, err
	}
	if d.TangLength <= 0 || d.TangWidth <= 0 {
		return nil, &Problem{Key: "tang_length", Value: d.TangLength, Limits: "over 0 mm, and so the tang's width", Remedy: "give the tangs that the handles go on"}
	}
	// The second tang mirrors the first.
	total := d.Length + 2*d.TangLength
	n := len(s.Sections)
	for i := n - 3; i >= 0; i-- {
		k := s.Sections[i]
		k.Frame.X = total - k.Frame.X
		s.Sections = append(s.Sections, k)
	}
	for i := range s.Sections {
		s.Sections[i].U = s.Sections[i].Frame.X / total
	}
	t := d.TangLength / total
	e := math.Max(0.05, math.Min(0.5, 1e-3/d.Width))
	s.Form, s.Cut = DrawknifeForm, 0.5
	u0, u1 := t+0.05, 1-t-0.05
	s.Zones = []Zone{
		{"edge", []Box{{u0, u1, 1 - e, 1, -1, 1}}},
		{"spine", []Box{{u0, u1, 0, 0.12, -1, 1}}},
		{"core", []Box{{u0, u1, 0.2, 0.5, -0.3, 0.3}}},
		{"left tang", []Box{{0, 0.9 * t, 0, 1, -1, 1}}},
		{"right tang", []Box{{1 - 0.9*t, 1, 0, 1, -1, 1}}},
	}
	return s, nil
}

// Spring is a flat spring that tapers from its middle to both ends, or with Wire
// the straightened wire of a coil [m].
type Spring struct {
	Length, Width, Middle, End float64 // a leaf: thickness in the middle and at the ends
	Wire                       float64 // a coil: diameter of its wire; the other measures but Length are then none
}

// Solid returns the body, with the zones surface, core and, for a leaf, end.
func (p Spring) Solid() (*Solid, error) {
	form := Bar{Form: Flat, Width: p.Width, Thickness: p.Middle, Length: p.Length}
	if p.Wire > 0 {
		form = Bar{Form: Round, Width: p.Wire, Length: p.Length}
	}
	s, err := form.Solid()
	if err != nil {
		return nil, err
	}
	s.Form = SpringForm
	if p.Wire > 0 {
		return s, nil
	}
	var bad problems
	bad.within("end", p.End, thinnest, p.Middle, "give the thickness at the ends, at most that of the middle")
	if err := bad.err(); err != nil {
		return nil, err
	}
	if p.Middle > p.Width {
		return nil, &Problem{Key: "middle", Value: p.Middle, Limits: fmt.Sprintf("at most the width, %.4g mm", p.Width*1000), Remedy: "exchange width and thickness"}
	}
	a, m, z := rectangle(p.Width, p.End), rectangle(p.Width, p.Middle), rectangle(p.Width, p.End)
	m.U, m.Frame.X, z.U, z.Frame.X = 0.5, p.Length/2, 1, p.Length
	s.Sections = []Section{a, m, z}
	return s, nil
}
