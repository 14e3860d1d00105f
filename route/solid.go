package route

import (
	"fmt"

	"github.com/heatwright/heatwright/shape"
)

var barForms = map[Form]shape.Form{Flat: shape.Flat, Round: shape.Round, Square: shape.Square, Hex: shape.Hex, Octagon: shape.Octagon}

// Solid returns the body of the piece.
func (p Piece) Solid() (*shape.Solid, error) {
	if p.Form == Blade {
		return p.blade().Solid()
	}
	if tool := p.tool(); tool != nil {
		return tool.Solid()
	}
	form, ok := barForms[p.Form]
	if !ok {
		return nil, fmt.Errorf("route: %q is no form", p.Form)
	}
	b := shape.Bar{Form: form, Length: float64(p.Length.Value)}
	switch p.Form {
	case Flat:
		b.Width, b.Thickness = float64(p.Width.Value), float64(p.Thickness.Value)
	case Round:
		b.Width = float64(p.Diameter.Value)
	default:
		b.Width = float64(p.Across.Value)
	}
	return b.Solid()
}

// Share of the length from which a blade runs to its tip, and share of the
// width that is left there, when the job gives no stations.
const (
	bellyAt  = 0.72
	tipWidth = 0.4
)

// blade lays out the stations: those of the job, or heel, belly and tip with a
// straight distal taper.
func (p Piece) blade() shape.Blade {
	b := shape.Blade{OneSided: p.Sides == 1, Tang: shape.Tang{
		Length: float64(p.Tang.Length.Value), Width: float64(p.Tang.Width.Value), Thickness: float64(p.Tang.Thickness.Value),
	}}
	if p.Bevel.Is() {
		b.Height = float64(p.Bevel.Value / p.Width.Value)
	}
	length, width := float64(p.Length.Value), float64(p.Width.Value)
	spine, edge := float64(p.Spine.Value), float64(p.Edge.Value)
	tip := float64(p.SpineTip.Or(p.Spine.Value))
	heel := shape.Station{Width: width, Spine: spine, Edge: edge}
	b.Stations = append(b.Stations, heel)
	if len(p.Stations) > 0 {
		for _, s := range p.Stations {
			if s.At.Value > 0 {
				b.Stations = append(b.Stations, shape.Station{X: float64(s.At.Value), Width: float64(s.Width.Value), Spine: float64(s.Spine.Value), Edge: float64(s.Edge.Value)})
			} else {
				b.Stations[0] = shape.Station{Width: float64(s.Width.Value), Spine: float64(s.Spine.Value), Edge: float64(s.Edge.Value)}
			}
		}
		if last := b.Stations[len(b.Stations)-1]; last.X >= length {
			return b
		}
	} else {
		// From the belly the edge comes up to the tip in an arc.
		last := float64(p.WidthTip.Value)
		if last == 0 {
			last = tipWidth * width
		}
		for _, t := range []float64{0, 0.4, 0.7, 0.9} {
			at := bellyAt + t*(1-bellyAt)
			b.Stations = append(b.Stations, shape.Station{X: at * length, Width: width - (width-last)*t*t, Spine: spine + at*(tip-spine), Edge: min(edge, spine+at*(tip-spine))})
		}
	}
	end := shape.Station{X: length, Width: float64(p.WidthTip.Value), Spine: tip, Edge: min(edge, tip)}
	if end.Width == 0 {
		end.Width = tipWidth * width
	}
	b.Stations = append(b.Stations, end)
	return b
}

// tool returns the body of a form that is neither blade nor bar, nil for those.
func (p Piece) tool() interface {
	Solid() (*shape.Solid, error)
} {
	m := func(l Length) float64 { return float64(l.Value) }
	eye := shape.Eye{At: m(p.EyeAt), Long: m(p.Eye), Wide: m(p.EyeWide)}
	switch p.Form {
	case Chisel:
		return shape.Chisel{Stock: p.stock(), Taper: m(p.Taper), EdgeWidth: m(p.EdgeWidth), EdgeThick: m(p.Edge)}
	case Punch:
		return shape.Punch{Stock: p.stock(), Taper: m(p.Taper), Point: m(p.Point)}
	case Drawknife:
		return shape.Drawknife{
			Length: m(p.Length), Width: m(p.Width), Spine: m(p.Spine), Edge: m(p.Edge), Bevel: m(p.Bevel) / m(p.Width),
			TangLength: m(p.TangLength), TangWidth: m(p.TangWidth),
		}
	case Spring:
		return shape.Spring{Length: m(p.Length), Width: m(p.Width), Middle: m(p.Middle), End: float64(p.Ends.Or(p.Middle.Value)), Wire: m(p.Wire)}
	case Froe:
		return shape.Froe{Length: m(p.Length), Width: m(p.Width), Spine: m(p.Spine), Edge: m(p.Edge), Eye: m(p.Eye), Wall: m(p.Wall)}
	case Hatchet:
		return shape.Hatchet{
			Length: m(p.Length), Poll: m(p.Poll), PollThick: m(p.PollThick), Eye: eye, Cheek: m(p.Cheek),
			EdgeHeight: m(p.EdgeHeight), EdgeThick: m(p.Edge),
		}
	case Hammer:
		return shape.Hammer{Length: m(p.Length), Face: p.stock(), Body: m(p.Body), Eye: eye, PeenWidth: m(p.PeenWidth), PeenThick: m(p.PeenThick)}
	}
	return nil
}

// stock is the bar that a struck tool is made of.
func (p Piece) stock() shape.Bar {
	form, ok := barForms[Form(p.Stock)]
	if !ok {
		form = shape.Square // the face of a hammer, when nothing is said
	}
	b := shape.Bar{Form: form, Width: float64(p.Across.Value), Length: float64(p.Length.Value)}
	if form == shape.Flat {
		b.Width, b.Thickness = float64(p.Width.Value), float64(p.Thickness.Value)
	}
	return b
}
