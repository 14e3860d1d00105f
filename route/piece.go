package route

import (
	"fmt"

	"github.com/heatwright/heatwright/unit"
)

// Ground returns the piece after a grinding step: Off is taken off each face,
// and the edge is brought to Edge. A blade keeps its width and its outline.
func (p Piece) Ground(s Step) (Piece, error) {
	if s.Do != Grind {
		return p, fmt.Errorf("route: %q does not change the shape", s.Do)
	}
	p.Stations = append([]Station(nil), p.Stations...)
	if s.Off.Is() {
		for _, l := range p.thicknesses() {
			if err := thinner(l, 2*s.Off.Value); err != nil {
				return p, err
			}
		}
	}
	if !s.Edge.Is() || !p.Edge.Is() {
		return p, nil
	}
	for _, l := range p.edges() {
		if s.Edge.Value > l.Value {
			return p, fmt.Errorf("the edge is %s there and cannot be left at %s", l.Text, s.Edge.Text)
		}
		*l = s.Edge
	}
	return p, nil
}

// thicknesses points to what grinding on the faces makes smaller.
func (p *Piece) thicknesses() []*Length {
	var all []*Length
	add := func(l *Length) {
		if l.Is() {
			all = append(all, l)
		}
	}
	for _, l := range []*Length{
		&p.Thickness, &p.Diameter, &p.Across, &p.Spine, &p.SpineTip, &p.Edge, &p.Tang.Thickness,
		&p.Point, &p.Middle, &p.Ends, &p.Wire, &p.PollThick, &p.Cheek, &p.Body, &p.PeenWidth, &p.PeenThick,
	} {
		add(l)
	}
	if p.Form == Flat || p.Stock == string(Flat) {
		add(&p.Width)
	}
	for i := range p.Stations {
		add(&p.Stations[i].Spine)
		add(&p.Stations[i].Edge)
	}
	return all
}

func (p *Piece) edges() []*Length {
	all := []*Length{&p.Edge}
	for i := range p.Stations {
		all = append(all, &p.Stations[i].Edge)
	}
	return all
}

// thinnest that grinding may leave [m].
const thinnest = 0.05e-3

func thinner(l *Length, by unit.Length) error {
	left := l.Value - by
	if left < thinnest {
		return fmt.Errorf("%s is there, and %s would come off", l.Text, by.Text(unit.Metric))
	}
	l.Value, l.Text = left, left.Exact(unit.Metric)
	return nil
}
