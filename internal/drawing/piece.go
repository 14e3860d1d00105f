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
	Href   string  // where it leads: who says it; empty: nowhere
}

// Caliper says how a measure of the section is written [m], and where its number
// leads to; Href may be empty.
type Caliper struct {
	Text func(m float64) string
	Href string
}

// Piece returns a drawing of the piece to scale: its side, and below it the
// cross-section in larger scale, lying, with the thickness at both ends; or, where
// it has an eye or works with its end, the view from above. Marks are written where
// they belong, none over another. label says the whole in one sentence, for readers
// who hear the page.
func Piece(s *shape.Solid, marks []Mark, caliper Caliper, label string) string {
	const wide, margin = 460.0, 10.0
	length, width, thick := s.Extent()
	above := FromAbove(s)
	scale := (wide - 2*margin) / length
	if width*scale > 170 {
		scale = 170 / width
	}
	p := &piece{solid: s, marks: known(s, marks), scale: scale, left: margin, top: 0, wide: wide}
	p.place()
	p.left = (wide - length*scale) / 2
	p.side()
	low, high := p.labels()
	bottom := math.Max(p.high, high)
	if above {
		bottom = p.fromAbove(bottom+22, thick)
	} else {
		bottom = p.section(bottom+20, thick, caliper)
	}
	low -= 6
	role := "img"
	if caliper.Href != "" || len(marks) > 0 && marks[0].Href != "" {
		role = "group" // a picture has nothing in it that can be pressed
	}
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 %.0f %.0f %.0f" role="%s" aria-label="%s" font-family="inherit" fill="currentColor">%s%s</svg>`,
		low, wide, bottom-low+8, role, html.EscapeString(label), hatch, p.b.String())
}

// FromAbove reports whether a piece is drawn from above beside its side, not in section.
func FromAbove(s *shape.Solid) bool { return s.EndOn || len(s.Voids) > 0 }

// leads wraps a part of a drawing in a link, where it has one.
func leads(href, part string) string {
	if href == "" {
		return part
	}
	return fmt.Sprintf(`<a href="%s" class="n">%s</a>`, html.EscapeString(href), part)
}

const hatch = `<defs><pattern id="notknown" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0v8" stroke="currentColor" stroke-width="1.5" opacity=".45"/></pattern></defs>`

type piece struct {
	b         strings.Builder
	solid     *shape.Solid
	marks     []mark
	scale     float64
	left, top float64
	wide      float64 // of the whole drawing
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
		k := mark{m, (b.U0 + b.U1) / 2, (b.V0 + b.V1) / 2}
		if m.Zone == "surface" { // it is all around the core: shown at the rim
			k.v = 0.98
		}
		all = append(all, k)
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

// box is where a label stands, by its middle.
type box struct{ x, y, wide float64 }

const labelHigh = 30.0

func (b box) hits(o box) bool {
	return math.Abs(b.x-o.x) < (b.wide+o.wide)/2+6 && math.Abs(b.y-o.y) < labelHigh+4
}

// labels writes the marks on a light ground with a line to their places: spine
// marks above the piece, edge marks below, others where they are, and each where
// none stands yet. It returns how far up and down they reach.
func (p *piece) labels() (low, high float64) {
	var placed []box
	low, high = p.top, p.top+p.high
	for _, m := range p.marks {
		x, y := p.at(m.u, m.v)
		b := box{x, y, 10.5*float64(len([]rune(m.Text))+1+len(m.Zone)) + 16}
		b.x = math.Max(b.wide/2+1, math.Min(p.wide-b.wide/2-1, b.x))
		up, down := p.top-20, p.top+p.high+26
		tries := []float64{y, up, down, up - 36, down + 36, up - 72, down + 72}
		switch {
		case m.v < 0.25:
			tries = []float64{up, up - 36, up - 72}
		case m.v > 0.75:
			tries = []float64{down, down + 36, down + 72}
		case !p.holds(b):
			tries = tries[1:]
		}
	next:
		for i, to := range tries {
			b.y = to
			for _, o := range placed {
				if b.hits(o) && i+1 < len(tries) {
					continue next
				}
			}
			break
		}
		placed = append(placed, b)
		if math.Abs(b.y-y) > 1 {
			fmt.Fprintf(&p.b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="currentColor" stroke-width="1.5"/><circle cx="%.1f" cy="%.1f" r="3.5"/>`, x, y, math.Max(b.x-b.wide/2, math.Min(b.x+b.wide/2, x)), b.y, x, y)
		}
		low, high = math.Min(low, b.y-labelHigh/2), math.Max(high, b.y+labelHigh/2)
	}
	for i, m := range p.marks {
		p.label(placed[i], m)
	}
	return low, high
}

// holds reports whether a label lies on the piece as a whole.
func (p *piece) holds(b box) bool {
	x0, _ := p.at(0, 0.5)
	x1, _ := p.at(1, 0.5)
	for _, x := range []float64{b.x - b.wide/2, b.x + b.wide/2} {
		u := (x - x0) / (x1 - x0)
		if u < 0 || u > 1 {
			return false
		}
		_, top := p.at(u, 0)
		_, foot := p.at(u, 1)
		if b.y-labelHigh/2 < top || b.y+labelHigh/2 > foot {
			return false
		}
	}
	return true
}

func (p *piece) label(b box, m mark) {
	ground := fmt.Sprintf(`<rect x="%.1f" y="%.1f" width="%.1f" height="30" class="paper" fill="#fffdf9" stroke="currentColor" stroke-width="1"/>`, b.x-b.wide/2, b.y-15, b.wide)
	p.b.WriteString(leads(m.Href, ground+fmt.Sprintf(`<text x="%.1f" y="%.1f" text-anchor="middle" font-size="20"><tspan font-weight="800">%s</tspan> <tspan font-size="17">%s</tspan></text>`, b.x, b.y+7, html.EscapeString(m.Text), html.EscapeString(m.Zone))))
}

// fromAbove draws the outline of the piece as seen on its spine, eye and all, with
// its top at y, and returns where it ends.
func (p *piece) fromAbove(y, thick float64) float64 {
	middle := y + thick*p.scale/2
	put := func(u, w float64) (float64, float64) {
		x, _, z := p.solid.At(u, 0.5, w)
		return p.left + (x-p.x0)*p.scale, middle + z*p.scale
	}
	var d strings.Builder
	for i := range 122 {
		u, w := float64(i)/60, -1.0
		if i > 60 {
			u, w = float64(121-i)/60, 1
		}
		px, pz := put(u, w)
		fmt.Fprintf(&d, "%c%.1f %.1f", "ML"[min(i, 1)], px, pz)
	}
	fmt.Fprintf(&p.b, `<path d="%sz" fill-opacity=".12" stroke="currentColor" stroke-width="2.5" stroke-linejoin="round"/>`, d.String())
	for _, v := range p.solid.Voids {
		x0, _ := put(v.Box.U0, 0)
		x1, _ := put(v.Box.U1, 0)
		_, z0 := put((v.Box.U0+v.Box.U1)/2, v.Box.W0)
		_, z1 := put((v.Box.U0+v.Box.U1)/2, v.Box.W1)
		fmt.Fprintf(&p.b, `<ellipse cx="%.1f" cy="%.1f" rx="%.1f" ry="%.1f" class="paper" fill="#fffdf9" stroke="currentColor" stroke-width="2"/>`, (x0+x1)/2, (z0+z1)/2, math.Abs(x1-x0)/2, math.Abs(z1-z0)/2)
	}
	return y + thick*p.scale + 4
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

// section draws the cross-section that stands for the whole, lying, its back to the
// left, from y down, and returns where it ends. A bar is measured once.
func (p *piece) section(y, thick float64, c Caliper) float64 {
	const beside, tallest = 96.0, 92.0
	s := p.solid.Section(p.solid.Cut)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, pt := range append(append([]shape.Point(nil), s.Back...), s.Front...) {
		lo, hi = math.Min(lo, pt.Y), math.Max(hi, pt.Y)
	}
	width := hi - lo
	scale := math.Min((p.wide-2*beside)/width, tallest/thick)
	left, middle := (p.wide-width*scale)/2, y+thick*scale/2
	put := func(v, w float64) (float64, float64) {
		pt := s.At(v, w)
		return left + (pt.Y-lo)*scale, middle + pt.Z*scale
	}
	const rows = 24
	for j := range rows {
		v0, v1 := float64(j)/rows, float64(j+1)/rows
		ink, hidden := p.ink(p.solid.Cut, (v0+v1)/2)
		var path strings.Builder
		to := func(v, w float64) {
			px, py := put(v, w)
			fmt.Fprintf(&path, "%c%.1f %.1f", "ML"[min(path.Len(), 1)], px, py)
		}
		for i := range 9 { // the ends of a round or a hexagon are no straight lines
			if j == 0 || i == 0 || i == 8 {
				to(v0, float64(i)/4-1)
			}
		}
		for i := 8; i >= 0; i-- {
			if j == rows-1 || i == 0 || i == 8 {
				to(v1, float64(i)/4-1)
			}
		}
		if hidden {
			fmt.Fprintf(&p.b, `<path d="%sz" fill="url(#notknown)"/>`, path.String())
		} else {
			fmt.Fprintf(&p.b, `<path d="%sz" fill-opacity="%.2f" shape-rendering="crispEdges"/>`, path.String(), ink)
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
	if c.Text == nil {
		return y + thick*scale + 6
	}
	across := func(v float64) float64 { return math.Abs(s.At(v, 1).Z - s.At(v, -1).Z) }
	switch p.solid.Form {
	case shape.Flat, shape.Round, shape.Square, shape.Hex, shape.Octagon:
		p.caliper(left, middle, thick*scale/2, -1, c, thick)
	default:
		p.caliper(left, middle, across(0)*scale/2, -1, c, across(0))
		if math.Abs(across(1)-across(0)) > 0.01*thick {
			p.caliper(left+width*scale, middle, across(1)*scale/2, 1, c, across(1))
		}
	}
	return y + thick*scale + 6
}

// caliper writes a thickness beside one end of the section, between two jaws.
func (p *piece) caliper(x, y, half, side float64, c Caliper, measure float64) {
	anchor := "end"
	if side > 0 {
		anchor = "start"
	}
	fmt.Fprintf(&p.b, `<path d="M%.1f %.1fh%.1fM%.1f %.1fh%.1f" stroke="currentColor" stroke-width="1.5"/>`, x+side*5, y-half, side*9, x+side*5, y+half, side*9)
	p.b.WriteString(leads(c.Href, fmt.Sprintf(`<text x="%.1f" y="%.1f" text-anchor="%s" font-size="17">%s</text>`, x+side*18, y+6, anchor, html.EscapeString(c.Text(measure)))))
}
