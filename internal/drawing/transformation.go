package drawing

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
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

// The rates of a continuous-cooling diagram [K/s].
const (
	fastestRate, slowestRate = 1000.0, 0.001
	ratesPerDecade           = 8
)

// CoolingRates are the even rates that a diagram of cooling is read off at [K/s].
func CoolingRates() []float64 {
	var rates []float64
	for i := 0; ; i++ {
		r := fastestRate * math.Pow(10, -float64(i)/ratesPerDecade)
		if r < slowestRate {
			return rates
		}
		rates = append(rates, r)
	}
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
	fmt.Fprintf(b, `<text x="%.0f" y="%.0f" text-anchor="end">%s</text><text x="%.0f" y="%.0f" text-anchor="end">%s</text>`+"\n", right, foot+46, html.EscapeString(p.plain(code, cite.Num("temperature", p.Diagram.Upper, "K"))), itLeft-8, itTop-8, p.degrees())
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
