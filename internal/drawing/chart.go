package drawing

import (
	"fmt"
	"html"
	"math"
	"strings"
)

// Line is a curve of a Chart. Points of NaN interrupt it.
type Line struct {
	X, Y []float64
	Name string // for the list beside the panel
	Dash string // pattern, "" for a full line
	Thin bool
}

// Place is a word at a point of a chart.
type Place struct {
	X, Y float64
	Text string
}

// Chart is a panel of lines over two linear axes, in one ink.
type Chart struct {
	XTitle, YTitle string
	XLow, XHigh    float64
	YLow, YHigh    float64
	Lines          []Line
	Places         []Place
	MarkX          float64 // a dashed upright at this value, where it lies inside
	MarkText       string
	High           float64 // height of the panel, 0 for 420
	Clock          bool    // X is a time [s], drawn in equal steps per decade
}

const (
	chartWide  = 900.0
	chartLeft  = 76.0
	chartRight = 150.0
	chartTop   = 18.0
	chartFoot  = 50.0
)

// Charts returns panels under each other as one SVG drawing with a label for
// those who cannot see it.
func Charts(label string, panels ...Chart) string {
	total := 0.0
	for _, p := range panels {
		total += p.height()
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" role="img" aria-label="%s" fill="currentColor" font-family="Liberation Sans, Arial, sans-serif" font-size="15">`+"\n", chartWide, total, html.EscapeString(label))
	fmt.Fprintf(&b, "<title>%s</title>\n", html.EscapeString(label))
	at := 0.0
	for _, p := range panels {
		fmt.Fprintf(&b, `<g transform="translate(0 %.0f)">`+"\n", at)
		p.draw(&b)
		b.WriteString("</g>\n")
		at += p.height()
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func (c *Chart) height() float64 {
	if c.High > 0 {
		return c.High
	}
	return 420
}

func (c *Chart) px(x float64) float64 {
	if c.Clock {
		return chartLeft + (chartWide-chartLeft-chartRight)*math.Log(math.Max(x, c.XLow)/c.XLow)/math.Log(c.XHigh/c.XLow)
	}
	return chartLeft + (chartWide-chartLeft-chartRight)*(x-c.XLow)/(c.XHigh-c.XLow)
}

func (c *Chart) py(y float64) float64 {
	return c.height() - chartFoot - (c.height()-chartTop-chartFoot)*(y-c.YLow)/(c.YHigh-c.YLow)
}

func (c *Chart) draw(b *strings.Builder) {
	high := c.height()
	for _, v := range ticks(c.YLow, c.YHigh, 6) {
		fmt.Fprintf(b, `<path d="M%.0f %.1fH%.0f" stroke="currentColor" stroke-width=".5" opacity=".4"/><text x="%.0f" y="%.1f" text-anchor="end">%s</text>`+"\n", chartLeft, c.py(v), chartWide-chartRight, chartLeft-8, c.py(v)+5, short(v))
	}
	xs, say := ticks(c.XLow, c.XHigh, 8), short
	if c.Clock {
		xs, say = decades(c.XLow, c.XHigh), clock
	}
	for _, v := range xs {
		fmt.Fprintf(b, `<path d="M%.1f %.0fv6" stroke="currentColor"/><text x="%.1f" y="%.0f" text-anchor="middle">%s</text>`+"\n", c.px(v), high-chartFoot, c.px(v), high-chartFoot+22, say(v))
	}
	fmt.Fprintf(b, `<path d="M%.0f %.0fV%.0fH%.0f" fill="none" stroke="currentColor" stroke-width="2"/>`+"\n", chartLeft, chartTop, high-chartFoot, chartWide-chartRight)
	fmt.Fprintf(b, `<text x="%.0f" y="%.0f" text-anchor="end">%s</text><text transform="translate(20 %.0f) rotate(-90)" text-anchor="middle">%s</text>`+"\n", chartWide-chartRight, high-8, html.EscapeString(c.XTitle), (high-chartFoot+chartTop)/2, html.EscapeString(c.YTitle))
	if c.MarkText != "" && c.MarkX > c.XLow && c.MarkX < c.XHigh {
		fmt.Fprintf(b, `<path d="M%.1f %.0fV%.0f" stroke="currentColor" stroke-width="1.4" stroke-dasharray="3 4"/><text x="%.1f" y="%.0f">%s</text>`+"\n", c.px(c.MarkX), chartTop, high-chartFoot, c.px(c.MarkX)+5, chartTop+12, html.EscapeString(c.MarkText))
	}
	for i := range c.Lines {
		c.line(b, &c.Lines[i])
	}
	c.names(b)
	for _, p := range c.Places {
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="13" stroke="#fff" stroke-width="4" paint-order="stroke" stroke-linejoin="round">%s</text>`+"\n", c.px(p.X), c.py(p.Y)+4, html.EscapeString(p.Text))
	}
}

func (c *Chart) line(b *strings.Builder, l *Line) {
	var d strings.Builder
	pen, slack := "M", 1e-6*(c.YHigh-c.YLow)
	for k := range l.X {
		if math.IsNaN(l.Y[k]) || l.Y[k] < c.YLow-slack || l.Y[k] > c.YHigh+slack {
			pen = "M"
			continue
		}
		fmt.Fprintf(&d, "%s%.1f %.1f", pen, c.px(l.X[k]), c.py(l.Y[k]))
		pen = "L"
	}
	if d.Len() == 0 {
		return
	}
	width, dash := 2.4, ""
	if l.Thin {
		width = 1.1
	}
	if l.Dash != "" {
		dash = ` stroke-dasharray="` + l.Dash + `"`
	}
	fmt.Fprintf(b, `<path d="%s" fill="none" stroke="currentColor" stroke-width="%.1f" stroke-linejoin="round"%s/>`+"\n", d.String(), width, dash)
}

// names lists the named lines beside the right edge, each with its pattern.
func (c *Chart) names(b *strings.Builder) {
	y := chartTop + 12
	for _, l := range c.Lines {
		if l.Name == "" {
			continue
		}
		dash := ""
		if l.Dash != "" {
			dash = ` stroke-dasharray="` + l.Dash + `"`
		}
		x := chartWide - chartRight + 12
		fmt.Fprintf(b, `<path d="M%.0f %.0fh34" stroke="currentColor" stroke-width="2.4"%s/><text x="%.0f" y="%.0f">%s</text>`+"\n", x, y-5, dash, x+42, y, html.EscapeString(l.Name))
		y += 21
	}
}
