package drawing

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// curve draws a line through marks; a gap in temperature wider than step breaks it.
func (p *itPanel) curve(b *strings.Builder, marks []moment, step, width float64, dash string) {
	var d strings.Builder
	for i, m := range marks {
		pen := "L"
		if i == 0 || step > 0 && math.Abs(m.T-marks[i-1].T) > 1.6*step {
			pen = "M"
		}
		x, y := p.x(m.t), p.y(m.T)
		fmt.Fprintf(&d, "%s%.1f %.1f", pen, x, y)
		if width < 1 {
			continue
		}
		if pen == "L" {
			x0, y0 := p.x(marks[i-1].t), p.y(marks[i-1].T)
			for n := math.Ceil(math.Hypot(x-x0, y-y0) / 3); n > 0; n-- {
				f := 1 / (n + 1)
				p.ink = append(p.ink, [2]float64{x0 + f*(x-x0), y0 + f*(y-y0)})
				x0, y0 = x0+f*(x-x0), y0+f*(y-y0)
			}
		}
		p.ink = append(p.ink, [2]float64{x, y})
	}
	if dash != "" {
		dash = ` stroke-dasharray="` + dash + `"`
	}
	if d.Len() > 0 {
		fmt.Fprintf(b, `<path d="%s" fill="none" stroke="currentColor" stroke-width="%.1f" stroke-linejoin="round" stroke-linecap="round"%s/>`+"\n", d.String(), width, dash)
	}
}

// word writes what a curve is beside it: at the first of the places, left or
// right of them, where nothing has been drawn yet and it stays inside.
func (p *itPanel) word(b *strings.Builder, code string, left bool, places []moment) {
	const size = 15.0
	plain, term := p.Say(code)
	if term != "" {
		term = " " + term
	}
	wide := 0.56 * size * (float64(len([]rune(plain))) + 0.8*float64(len([]rune(term))))
	for _, side := range []bool{left, !left} {
		for _, m := range places {
			x, y := p.x(m.t)+9, p.y(m.T)+size/3
			if side {
				x = p.x(m.t) - 9 - wide
			}
			if !p.room(x, y-size, x+wide, y+3) {
				continue
			}
			for at := x; at <= x+wide; at += 4 {
				p.ink = append(p.ink, [2]float64{at, y - 2}, [2]float64{at, y - size + 3})
			}
			fmt.Fprintf(b, `<text x="%.1f" y="%.1f">%s<tspan font-size="12">%s</tspan></text>`+"\n", x, y, html.EscapeString(plain), html.EscapeString(term))
			return
		}
	}
}

// room reports whether a box lies inside the axes with no ink in it.
func (p *itPanel) room(x0, y0, x1, y1 float64) bool {
	if x0 < itLeft+4 || x1 > itWide-itRight-2 || y0 < itTop || y1 > itHigh-itFoot-2 {
		return false
	}
	return !slices.ContainsFunc(p.ink, func(o [2]float64) bool { return x0 < o[0] && o[0] < x1 && y0 < o[1] && o[1] < y1 })
}

func productCode(c steel.Constituent) string { return "transformation.product-" + c.String() }

// holding draws what begins, is half done and done at each temperature.
func (p *itPanel) holding(b *strings.Builder) {
	begins := map[steel.Constituent][]moment{}
	var half, done []moment
	step := math.Inf(1)
	last := math.NaN()
	for _, row := range rows(p.Diagram.Marks) {
		T := row[0].T
		if d := T - last; d > 0 {
			step = min(step, d)
		}
		last = T
		for _, m := range leading(row) {
			begins[m.Product] = append(begins[m.Product], moment{m.Time, T})
		}
		for _, m := range row {
			switch {
			case m.Product != micro.Whole || T > p.Diagram.Ae1-step:
			case m.Share < 0.9:
				half = append(half, moment{m.Time, T})
			default:
				done = append(done, moment{m.Time, T})
			}
		}
	}
	for c := range steel.NumConstituents {
		begins[c] = long(begins[c], step)
		p.curve(b, begins[c], step, 2.8, "")
	}
	p.curve(b, half, step, 1.8, "8 5")
	p.curve(b, done, step, 1.4, "")
	for c := range steel.NumConstituents {
		var places []moment
		for _, m := range fastestFirst(begins[c]) {
			if !free(c) { // to the right of where it is done
				for _, e := range done {
					if e.T == m.T {
						m.t = e.t
					}
				}
			}
			places = append(places, m)
		}
		p.word(b, productCode(c), free(c), places)
	}
	p.nothing(b, len(p.Diagram.Marks) == 0)
	p.entry(`stroke-width="2.8"`, "transformation.begins")
	p.entry(`stroke-width="1.8" stroke-dasharray="8 5"`, "transformation.half")
	p.entry(`stroke-width="1.4"`, "transformation.done")
}

// nothing says so where nothing forms.
func (p *itPanel) nothing(b *strings.Builder, none bool) {
	if none {
		fmt.Fprintf(b, `<text x="%.0f" y="%.1f" text-anchor="middle">%s</text>`+"\n", (itLeft+itWide-itRight)/2, p.y((p.Diagram.Ae1+max(p.Diagram.Ms, itCold))/2), html.EscapeString(p.plain("transformation.nothing")))
	}
}

// free tells what forms before pearlite and leaves austenite for it.
func free(c steel.Constituent) bool { return c == steel.Ferrite || c == steel.Carbide }

// leading returns the beginnings of a hold that a diagram shows: the first
// product, and the pearlite or bainite that follows free ferrite or carbide. What
// else the last austenite turns to would not be seen under a microscope.
func leading(row []micro.Mark) []micro.Mark {
	var list []micro.Mark
	for _, m := range row {
		if m.Product == micro.Whole || len(list) > 0 && free(m.Product) {
			continue
		}
		list = append(list, m)
		if !free(m.Product) {
			break
		}
	}
	return list
}

// long leaves out the runs of fewer than four neighboring temperatures.
func long(line []moment, step float64) []moment {
	var list []moment
	from := 0
	for i := range line {
		if i+1 < len(line) && line[i+1].T-line[i].T < 1.6*step {
			continue
		}
		if i+1-from >= 4 {
			list = append(list, line[from:i+1]...)
		}
		from = i + 1
	}
	return list
}

// rows splits marks by temperature, each row in the order of time.
func rows(marks []micro.Mark) [][]micro.Mark {
	var all [][]micro.Mark
	for _, m := range marks {
		if n := len(all); n == 0 || all[n-1][0].T != m.T {
			all = append(all, nil)
		}
		all[len(all)-1] = append(all[len(all)-1], m)
	}
	for _, row := range all {
		slices.SortStableFunc(row, func(a, b micro.Mark) int {
			switch {
			case a.Time < b.Time || a.Time == b.Time && a.Product < b.Product:
				return -1
			case a == b:
				return 0
			}
			return 1
		})
	}
	return all
}

// fastestFirst returns the marks by time.
func fastestFirst(marks []moment) []moment {
	list := slices.Clone(marks)
	slices.SortStableFunc(list, func(a, b moment) int {
		switch {
		case a.t < b.t:
			return -1
		case a.t > b.t:
			return 1
		}
		return 0
	})
	return list
}

// coolings draws where each product begins on the way down, and some of the ways
// with the hardness they end in.
func (p *itPanel) coolings(b *strings.Builder) {
	begins := map[steel.Constituent][]moment{}
	end := math.Inf(-1)
	for _, c := range p.Diagram.Coolings {
		alone := true
		for _, m := range c.Marks {
			if alone = alone && free(m.Product); alone || !free(m.Product) {
				begins[m.Product] = append(begins[m.Product], moment{max(m.Time, itFirst), m.T})
			}
		}
		if len(p.Paths) > 0 {
			continue // the ways of the piece are the ways to look at
		}
		low := p.x((p.Diagram.Upper - 293) / c.Rate)
		if low < end+46 {
			continue
		}
		end = low
		var way []moment
		for T := p.Diagram.Upper - 1; T >= 293; T -= 4 {
			way = append(way, moment{(p.Diagram.Upper - T) / c.Rate, T})
		}
		p.curve(b, way, 0, .8, "")
		text := unit.HRCText(c.HV)
		number, scale, _ := strings.Cut(text, " ")
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-size="12" text-anchor="end">%s</text><text x="%.1f" y="%.1f" font-size="10" text-anchor="end">%s</text>`+"\n", low-3, p.y(315), number, low-3, p.y(297), scale)
	}
	for c := range steel.NumConstituents {
		p.curve(b, begins[c], 0, 2.8, "") // from the fastest way to the slowest
	}
	p.nothing(b, len(begins) == 0)
	for c := range steel.NumConstituents {
		line := fastestFirst(begins[c])
		if len(line) < 2 {
			continue
		}
		places := line
		if c == steel.Martensite { // under its line, where the ways are few
			places = []moment{{line[0].t, line[0].T - 22}}
		}
		p.word(b, productCode(c), c != steel.Martensite, places)
	}
	p.entry(`stroke-width="2.8"`, "transformation.begins")
	if len(p.Paths) == 0 {
		p.entry(`stroke-width=".8"`, "transformation.way")
	}
}
