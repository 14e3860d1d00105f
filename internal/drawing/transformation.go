package drawing

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Path is how a place of a piece cooled, to be laid over a diagram.
type Path struct {
	Name string    // "edge"
	Time []float64 // s, from any moment
	T    []float64 // K
}

// Transformation is a transformation diagram on paper: holding at temperature,
// or cooling at constant rates where the diagram has Coolings.
type Transformation struct {
	Steel   string // as the reader calls it
	Diagram micro.Diagram
	Made    micro.Austenitizing
	Paths   []Path
	Units   unit.System
	// Say returns the plain words for a code and the engineer's word, "" for none.
	Say func(code string, args ...cite.Quantity) (plain, term string)
}

const (
	itWide, itHigh  = 1000.0, 680.0
	itLeft, itRight = 74.0, 226.0
	itTop, itFoot   = 78.0, 92.0

	itCold  = 273.15 // K, the foot of the diagram
	itFirst = 0.1    // s, the left edge
)

// SVG returns the drawing, in one ink and readable without color. A path begins
// where its place last falls past Ae3 or Acm, and so does its clock.
func (d *Transformation) SVG() string {
	p := d.panel()
	var b strings.Builder
	code := "transformation.label-it"
	if p.cooling {
		code = "transformation.label-cc"
	}
	label, term := d.Say(code, cite.Txt("steel", d.Steel))
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" role="img" aria-label="%s" fill="currentColor" font-family="Liberation Sans, Arial, sans-serif" font-size="15">`+"\n<title>%s</title>\n", itWide, itHigh, html.EscapeString(label), html.EscapeString(label))
	fmt.Fprintf(&b, `<text x="%.0f" y="28" font-size="19" font-weight="bold">%s</text><text x="%.0f" y="28" font-size="12" text-anchor="end">%s</text><text x="%.0f" y="52" font-size="14">%s</text>`+"\n", itLeft, html.EscapeString(label), itWide-12, html.EscapeString(term), itLeft, html.EscapeString(d.made()))
	p.axes(&b)
	p.levels(&b)
	var ways []entry
	for i := range d.Paths { // first, so that words keep clear of them
		if e, ok := p.path(&b, i); ok {
			ways = append(ways, e)
		}
	}
	if p.cooling {
		p.coolings(&b)
	} else {
		p.holding(&b)
	}
	p.entries = append(p.entries, ways...)
	p.list(&b)
	if len(ways) > 0 && !p.cooling {
		fmt.Fprintf(&b, `<text x="%.0f" y="%.0f" font-size="13">%s</text>`+"\n", itLeft, itHigh-30, html.EscapeString(d.plain("transformation.guide")))
	}
	foot := d.plain("transformation.how-sure", cite.Num("factor", timeFactor(), "1"))
	fmt.Fprintf(&b, `<text x="%.0f" y="%.0f" font-size="13">%s</text>`+"\n</svg>\n", itLeft, itHigh-12, html.EscapeString(foot))
	return b.String()
}

func (d *Transformation) plain(code string, args ...cite.Quantity) string {
	s, _ := d.Say(code, args...)
	return s
}

// made says what the austenite is that the diagram holds for.
func (d *Transformation) made() string {
	return d.plain("transformation.made",
		cite.Num("temperature", d.Made.T, "K"), cite.Num("hold", d.Made.Hold, "s"),
		cite.Txt("bar", d.plain("transformation.bar-"+d.Made.From.Condition.String())),
		cite.Num("carbon", d.Diagram.Carbon, "%"), cite.Txt("grain", fmt.Sprintf("%.0f µm", d.Diagram.Grain*1e6)))
}

// timeFactor is how far the times may be off, as the models say of themselves [–].
func timeFactor() float64 {
	worst := 1.0
	for _, a := range micro.Accuracy() {
		if a.Quantity == "time of pearlite" || a.Quantity == "time of bainite" {
			worst = max(worst, a.Half)
		}
	}
	return worst
}

// moment is one point of a curve.
type moment struct{ t, T float64 }

// entry is a line of the list beside the drawing.
type entry struct{ sign, plain, term string }

// itPanel is the drawing under way.
type itPanel struct {
	*Transformation
	cooling bool
	last    float64      // s, the right edge
	hot     float64      // K, the top
	ink     [][2]float64 // where strong lines and words are
	entries []entry
}

func (d *Transformation) panel() *itPanel {
	p := &itPanel{Transformation: d, cooling: len(d.Diagram.Coolings) > 0}
	p.hot = max(d.Made.T, d.Diagram.Upper) + 40
	latest := 100.0
	for _, m := range d.Diagram.Marks {
		latest = max(latest, m.Time)
	}
	for _, c := range d.Diagram.Coolings {
		latest = max(latest, (d.Diagram.Upper-itCold)/c.Rate)
	}
	p.last = min(max(1e3, latest*1.5), 3e6)
	return p
}

func (p *itPanel) x(t float64) float64 {
	share := math.Log(max(t, itFirst)/itFirst) / math.Log(p.last/itFirst)
	return itLeft + (itWide-itLeft-itRight)*min(share, 1)
}

func (p *itPanel) y(T float64) float64 {
	return itHigh - itFoot - (itHigh-itTop-itFoot)*(T-itCold)/(p.hot-itCold)
}

func (p *itPanel) reading(T float64) float64 {
	if p.Units == unit.Imperial {
		return unit.Temp(T).F()
	}
	return unit.Temp(T).C()
}

func (p *itPanel) kelvin(reading float64) float64 {
	if p.Units == unit.Imperial {
		return unit.Fahrenheit(reading).K()
	}
	return unit.Celsius(reading).K()
}

func (p *itPanel) degrees() string {
	if p.Units == unit.Imperial {
		return "°F"
	}
	return "°C"
}

func (p *itPanel) axes(b *strings.Builder) {
	const right, foot = itWide - itRight, itHigh - itFoot
	for _, v := range ticks(p.reading(itCold), p.reading(p.hot), 10) {
		y := p.y(p.kelvin(v))
		fmt.Fprintf(b, `<path d="M%.0f %.1fH%.0f" stroke="currentColor" stroke-width=".5" opacity=".35"/><text x="%.0f" y="%.1f" text-anchor="end">%s</text>`+"\n", itLeft, y, right, itLeft-8, y+5, short(v))
	}
	for decade := itFirst; decade < p.last; decade *= 10 {
		for n := 1.0; n < 10 && n*decade < p.last; n++ {
			fmt.Fprintf(b, `<path d="M%.1f %.0fv%.0f" stroke="currentColor" stroke-width=".8"/>`, p.x(n*decade), foot, map[bool]float64{true: 8, false: 4}[n == 1])
		}
	}
	b.WriteString("\n")
	for _, t := range []float64{0.1, 1, 10, 60, 600, 3600, 36000, 86400 * 7} {
		if t <= p.last {
			fmt.Fprintf(b, `<path d="M%.1f %.0fV%.0f" stroke="currentColor" stroke-width=".5" opacity=".35"/><text x="%.1f" y="%.0f" text-anchor="middle">%s</text>`+"\n", p.x(t), itTop, foot, p.x(t), foot+24, longClock(t))
		}
	}
	fmt.Fprintf(b, `<path d="M%.0f %.0fV%.0fH%.0f" fill="none" stroke="currentColor" stroke-width="2"/>`+"\n", itLeft, itTop, foot, right)
	code := "transformation.time-it"
	if p.cooling {
		code = "transformation.time-cc"
	}
	fmt.Fprintf(b, `<text x="%.0f" y="%.0f" text-anchor="end">%s</text><text x="%.0f" y="%.0f" text-anchor="end">%s</text>`+"\n", right, foot+46, html.EscapeString(p.plain(code)), itLeft-8, itTop-8, p.degrees())
}

// longClock says a time on an axis that runs to weeks.
func longClock(s float64) string {
	if s >= 86400 {
		return short(s/86400) + " d"
	}
	switch s {
	case 60:
		return "1 min"
	case 3600:
		return "1 h"
	}
	return clock(s)
}

// levels draws the temperatures that no time moves.
func (p *itPanel) levels(b *strings.Builder) {
	const right = itWide - itRight
	type level struct {
		T    float64
		code string
	}
	all := []level{{p.Diagram.Upper, "upper"}, {p.Diagram.Ae1, "ae1"}}
	if p.Diagram.Ms > itCold {
		all = append(all, level{p.Diagram.Ms, "ms"})
	}
	at := make([]float64, len(all))
	for i, l := range all {
		at[i] = p.y(l.T)
		dash := ` stroke-dasharray="3 3"`
		if l.code == "ms" {
			dash = ""
		}
		fmt.Fprintf(b, `<path d="M%.0f %.1fH%.0f" stroke="currentColor" stroke-width="1.5"%s/>`+"\n", itLeft, at[i], right, dash)
	}
	spread(at, 36)
	for i, l := range all {
		plain, term := p.Say("transformation."+l.code, cite.Num("temperature", l.T, "K"))
		fmt.Fprintf(b, `<path d="M%.0f %.1fL%.0f %.1f" stroke="currentColor" stroke-width=".8"/><text x="%.0f" y="%.1f">%s</text><text x="%.0f" y="%.1f" font-size="12">%s</text>`+"\n",
			right, p.y(l.T), right+10, at[i], right+14, at[i]+2, html.EscapeString(plain), right+14, at[i]+17, html.EscapeString(term))
	}
}

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

func (p *itPanel) entry(stroke, code string) {
	plain, term := p.Say(code)
	p.entries = append(p.entries, entry{`<path d="M%.1f %.1fm-17 0h34" fill="none" stroke="currentColor" ` + stroke + `/>`, plain, term})
}

// list explains the lines beside the drawing, between what stands there already.
func (p *itPanel) list(b *strings.Builder) {
	const right = itWide - itRight
	y := p.y(p.Diagram.Ae1) + 78
	for _, e := range p.entries {
		fmt.Fprintf(b, e.sign, right+32, y-5)
		fmt.Fprintf(b, `<text x="%.0f" y="%.1f">%s</text>`, right+56, y, html.EscapeString(e.plain))
		if e.term != "" {
			y += 16
			fmt.Fprintf(b, `<text x="%.0f" y="%.1f" font-size="12">%s</text>`, right+56, y, html.EscapeString(e.term))
		}
		b.WriteString("\n")
		y += 26
	}
}
