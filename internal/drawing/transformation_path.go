package drawing

import (
	"fmt"
	"math"
	"strings"
)

// signs are put along a path so that each can be told from the others.
var signs = []string{
	`<circle cx="%.1f" cy="%.1f" r="4.5"/>`,
	`<path d="M%.1f %.1fm-4.5-4.5h9v9h-9z"/>`,
	`<path d="M%.1f %.1fm0-6l5.5 10h-11z"/>`,
	`<path d="M%.1f %.1fm0-6.5l5 6.5-5 6.5-5-6.5z"/>`,
}

// path lays one path over the diagram and returns what the list says of it; false
// where the path never left austenite.
func (p *itPanel) path(b *strings.Builder, i int) (entry, bool) {
	way := p.since(p.Paths[i])
	if len(way) < 2 {
		return entry{}, false
	}
	p.curve(b, way, 0, 1.6, "1 4")
	sign := signs[i%len(signs)]
	lastX, lastY := p.x(way[0].t), p.y(way[0].T)-float64(18*i)
	for _, m := range way {
		x, y := p.x(m.t), p.y(m.T)
		if math.Hypot(x-lastX, y-lastY) > 62 {
			fmt.Fprintf(b, sign+"\n", x, y)
			lastX, lastY = x, y
		}
	}
	return entry{sign, p.Paths[i].Name, ""}, true
}

// since returns the part of a path from where its place last falls past the
// temperature over which all is austenite, with time from there, until it is
// heated again or leaves the drawing.
func (p *itPanel) since(way Path) []moment {
	from := -1
	for k := 1; k < min(len(way.T), len(way.Time)); k++ {
		if way.T[k-1] >= p.Diagram.Upper && way.T[k] < p.Diagram.Upper {
			from = k
		}
	}
	if from < 0 {
		return nil // it was never all austenite, or never left it
	}
	a, z := way.T[from-1], way.T[from]
	zero := way.Time[from-1] + (way.Time[from]-way.Time[from-1])*(a-p.Diagram.Upper)/(a-z)
	list := []moment{{itFirst, p.Diagram.Upper}}
	const again = 5 // K of rise, more than heat given off by what forms below Ms
	lowest := p.Diagram.Upper
	for k := from; k < min(len(way.T), len(way.Time)); k++ {
		t, T := way.Time[k]-zero, way.T[k]
		lowest = min(lowest, T)
		if t > p.last || T < itCold || T > p.Diagram.Upper || lowest < p.Diagram.Ms && T > lowest+again {
			break
		}
		list = append(list, moment{max(t, itFirst), T})
	}
	return list
}
