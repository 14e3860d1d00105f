// Package drawing draws for pages and paper: the piece with its hardness
// written on it, and curves over time. Everything is SVG in one ink, the color
// of the text around it, so that it prints, and reads on a dark page, and tells
// nothing by color alone.
package drawing

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/heatwright/heatwright/shape"
)

// Mark is a value written at a zone of the piece.
type Mark struct {
	Zone   string  // name of the zone, as the solid calls it
	Text   string  // what is written: "61"
	Ink    float64 // how dark the zone is drawn, 0 to 1
	Hidden bool    // nothing is known: the zone is hatched
}

// Piece returns a drawing of the piece to scale: its side, and beside it the
// cross-section in larger scale, with marks written where they belong. label
// says the whole in one sentence, for readers who hear the page.
func Piece(s *shape.Solid, marks []Mark, label string) string {
	const wide, margin = 640.0, 14.0
	length, width, thick := s.Extent()
	sectionWide := 110.0
	scale := (wide - sectionWide - 3*margin) / length
	if width*scale > 220 {
		scale = 220 / width
	}
	p := &piece{solid: s, marks: known(s, marks), scale: scale, left: margin, top: margin + 28}
	p.place()
	high := math.Max(p.high, 120)
	p.section(wide-sectionWide-margin, margin+36, sectionWide, high-20, width, thick)
	p.side()
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" role="img" aria-label="%s" font-family="inherit" fill="currentColor">%s%s</svg>`,
		wide, high+2*margin+74, html.EscapeString(label), hatch, p.b.String())
}

const hatch = `<defs><pattern id="notknown" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v8" stroke="currentColor" stroke-width="1.5" opacity=".45"/></pattern></defs>`

type piece struct {
	b         strings.Builder
	solid     *shape.Solid
	marks     []mark
	scale     float64
	left, top float64
	x0, y0    float64 // smallest coordinates of the solid
	high      float64 // of the side view
}

// mark is a Mark with the middle of its zone.
type mark struct {
	Mark
	u, v float64
}

// known keeps the marks whose zone the solid has, with its middle.
func known(s *shape.Solid, marks []Mark) []mark {
	var all []mark
	for _, m := range marks {
		z, ok := s.Zone(m.Zone)
		if !ok || len(z.Boxes) == 0 {
			continue
		}
		b := z.Boxes[0]
		all = append(all, mark{m, (b.U0 + b.U1) / 2, (b.V0 + b.V1) / 2})
	}
	return all
}

func (p *piece) place() {
	p.x0, p.y0 = math.Inf(1), math.Inf(1)
	y1 := math.Inf(-1)
	for i := range 61 {
		for _, v := range []float64{0, 1} {
			x, y, _ := p.solid.At(float64(i)/60, v, 0)
			p.x0, p.y0, y1 = math.Min(p.x0, x), math.Min(p.y0, y), math.Max(y1, y)
		}
	}
	p.high = (y1-p.y0)*p.scale + 4
}

func (p *piece) at(u, v float64) (x, y float64) {
	x, y, _ = p.solid.At(u, v, 0)
	return p.left + (x-p.x0)*p.scale, p.top + (y-p.y0)*p.scale
}

// side draws the piece from the side in patches, each as dark as the zones near it say.
func (p *piece) side() {
	const along, across = 48, 8
	for i := range along {
		for j := range across {
			u0, u1 := float64(i)/along, float64(i+1)/along
			v0, v1 := float64(j)/across, float64(j+1)/across
			ink, hidden := p.ink((u0+u1)/2, (v0+v1)/2)
			ax, ay := p.at(u0, v0)
			bx, by := p.at(u1, v0)
			cx, cy := p.at(u1, v1)
			dx, dy := p.at(u0, v1)
			path := fmt.Sprintf("M%.1f %.1fL%.1f %.1fL%.1f %.1fL%.1f %.1fz", ax, ay, bx, by, cx, cy, dx, dy)
			if hidden {
				fmt.Fprintf(&p.b, `<path d="%s" fill="url(#notknown)"/>`, path)
			} else {
				fmt.Fprintf(&p.b, `<path d="%s" fill-opacity="%.2f" shape-rendering="crispEdges"/>`, path, ink)
			}
		}
	}
	p.outline()
	for _, m := range p.marks {
		x, y := p.at(m.u, m.v)
		p.number(x, y, m)
	}
}

func (p *piece) outline() {
	var d strings.Builder
	for i := range 61 {
		x, y := p.at(float64(i)/60, 0)
		fmt.Fprintf(&d, "%c%.1f %.1f", "ML"[min(i, 1)], x, y)
	}
	for i := 60; i >= 0; i-- {
		x, y := p.at(float64(i)/60, 1)
		fmt.Fprintf(&d, "L%.1f %.1f", x, y)
	}
	fmt.Fprintf(&p.b, `<path d="%sz" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"/>`, d.String())
}

// number writes a mark on a light ground with a line to its place: spine marks
// above the piece, edge marks below, others where they are.
func (p *piece) number(x, y float64, m mark) {
	to := y
	switch {
	case m.v < 0.25:
		to = p.top - 18
	case m.v > 0.75:
		to = p.top + p.high + 28
	}
	if to != y {
		fmt.Fprintf(&p.b, `<path d="M%.1f %.1fV%.1f" stroke="currentColor" stroke-width="1.5"/><circle cx="%.1f" cy="%.1f" r="3"/>`, x, y, to, x, y)
	}
	p.label(x, to, m)
}

func (p *piece) label(x, y float64, m mark) {
	text := html.EscapeString(m.Text)
	wide := 10.5*float64(len([]rune(m.Text))+1+len(m.Zone)) + 16
	fmt.Fprintf(&p.b, `<rect x="%.1f" y="%.1f" width="%.1f" height="30" class="paper" fill="#fffdf9" stroke="currentColor" stroke-width="1"/>`, x-wide/2, y-15, wide)
	fmt.Fprintf(&p.b, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="20"><tspan font-weight="800">%s</tspan> <tspan font-size="17">%s</tspan></text>`, x, y+7, text, html.EscapeString(m.Zone))
}

// ink blends the marks by how near their zones are.
func (p *piece) ink(u, v float64) (ink float64, hidden bool) {
	var sum, weight, none float64
	for _, m := range p.marks {
		d := 9*(u-m.u)*(u-m.u) + 2*(v-m.v)*(v-m.v)
		w := 1 / (d*d + 1e-4)
		if m.Hidden {
			none += w
			continue
		}
		sum += w * m.Ink
		weight += w
	}
	if weight+none == 0 {
		return 0, true
	}
	return 0.06 + 0.5*sum/math.Max(weight, 1e-12), none > weight
}

// section draws the cross-section that stands for the whole, with its width upright.
func (p *piece) section(x, y, wide, high, width, thick float64) {
	s := p.solid.Section(p.solid.Cut)
	scale := math.Min(high/width, wide/(2*thick))
	lo := math.Inf(1)
	for _, pt := range append(append([]shape.Point(nil), s.Back...), s.Front...) {
		lo = math.Min(lo, pt.Y)
	}
	put := func(v, w float64) (float64, float64) {
		pt := s.At(v, w)
		return x + wide/2 + pt.Z*scale, y + (pt.Y-lo)*scale
	}
	const rows = 16
	for j := range rows {
		v0, v1 := float64(j)/rows, float64(j+1)/rows
		ink, hidden := p.ink(p.solid.Cut, (v0+v1)/2)
		ax, ay := put(v0, -1)
		bx, by := put(v0, 1)
		cx, cy := put(v1, 1)
		dx, dy := put(v1, -1)
		path := fmt.Sprintf("M%.1f %.1fL%.1f %.1fL%.1f %.1fL%.1f %.1fz", ax, ay, bx, by, cx, cy, dx, dy)
		if hidden {
			fmt.Fprintf(&p.b, `<path d="%s" fill="url(#notknown)"/>`, path)
		} else {
			fmt.Fprintf(&p.b, `<path d="%s" fill-opacity="%.2f" shape-rendering="crispEdges"/>`, path, ink)
		}
	}
	var d strings.Builder
	first := true
	edge := func(f func(t float64) (float64, float64)) {
		for i := range 17 {
			v, w := f(float64(i) / 16)
			px, py := put(v, w)
			c := "L"
			if first {
				c, first = "M", false
			}
			fmt.Fprintf(&d, "%s%.1f %.1f", c, px, py)
		}
	}
	edge(func(t float64) (float64, float64) { return t, -1 })
	edge(func(t float64) (float64, float64) { return 1, 2*t - 1 })
	edge(func(t float64) (float64, float64) { return 1 - t, 1 })
	edge(func(t float64) (float64, float64) { return 0, 1 - 2*t })
	fmt.Fprintf(&p.b, `<path d="%sz" fill="none" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"/>`, d.String())
}
