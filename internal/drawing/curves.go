package drawing

import (
	"fmt"
	"html"
	"math"
	"strings"
)

// Curve is one quantity over time.
type Curve struct {
	Name string
	Y    []float64
	Dash string // pattern of its line, so that no color is needed: "", "9 5", "2 4"
}

// Curves returns a chart of curves over one time axis [s], in one ink, each named
// at its end. log draws the time from its first moment in equal steps per decade.
func Curves(x []float64, curves []Curve, log bool, xTitle, yTitle, label string) string {
	const wide, high, left, right, top, foot = 900.0, 380.0, 70.0, 130.0, 16.0, 46.0
	if len(x) < 2 {
		return ""
	}
	pos := func(t float64) float64 { return t }
	x0, x1 := x[0], x[len(x)-1]
	if log {
		x0 = math.Max(x0, 0.1)
		pos = func(t float64) float64 { return math.Log10(math.Max(t, x0)) }
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range curves {
		for _, y := range c.Y {
			lo, hi = math.Min(lo, y), math.Max(hi, y)
		}
	}
	lo, hi = math.Min(lo, 0), hi+0.04*(hi-lo)+1e-9
	px := func(t float64) float64 {
		return left + (wide-left-right)*(pos(t)-pos(x0))/math.Max(1e-12, pos(x1)-pos(x0))
	}
	py := func(y float64) float64 { return high - foot - (high-top-foot)*(y-lo)/(hi-lo) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" role="img" aria-label="%s" fill="currentColor" font-family="inherit" font-size="15">`, wide, high, html.EscapeString(label))
	for _, v := range ticks(lo, hi, 5) {
		fmt.Fprintf(&b, `<path d="M%.0f %.1fH%.0f" stroke="currentColor" stroke-width=".6" opacity=".5"/><text x="%.0f" y="%.1f" text-anchor="end">%s</text>`, left, py(v), wide-right, left-8, py(v)+5, short(v))
	}
	xs := ticks(x0, x1, 6)
	if log {
		xs = decades(x0, x1)
	}
	for _, v := range xs {
		fmt.Fprintf(&b, `<path d="M%.1f %.0fv6" stroke="currentColor"/><text x="%.1f" y="%.0f" text-anchor="middle">%s</text>`, px(v), high-foot, px(v), high-foot+22, clock(v))
	}
	fmt.Fprintf(&b, `<path d="M%.0f %.0fH%.0f" stroke="currentColor" stroke-width="2"/>`, left, high-foot, wide-right)
	fmt.Fprintf(&b, `<text x="%.0f" y="%.0f" text-anchor="end">%s</text><text x="18" y="%.0f" transform="rotate(-90 18 %.0f)" text-anchor="middle">%s</text>`, wide-right, high-6, html.EscapeString(xTitle), (high-foot)/2, (high-foot)/2, html.EscapeString(yTitle))
	ends := make([]float64, len(curves))
	for i, c := range curves {
		var d strings.Builder
		lastX, lastY := math.Inf(-1), math.Inf(-1)
		for k := range c.Y {
			qx, qy := px(x[k]), py(c.Y[k])
			if k > 0 && k < len(c.Y)-1 && math.Hypot(qx-lastX, qy-lastY) < 1.2 {
				continue
			}
			fmt.Fprintf(&d, "%c%.1f %.1f", "ML"[min(k, 1)], qx, qy)
			lastX, lastY = qx, qy
		}
		dash := ""
		if c.Dash != "" {
			dash = ` stroke-dasharray="` + c.Dash + `"`
		}
		fmt.Fprintf(&b, `<path d="%s" fill="none" stroke="currentColor" stroke-width="2.6"%s/>`, d.String(), dash)
		ends[i] = py(c.Y[len(c.Y)-1])
	}
	spread(ends, 18)
	for i, c := range curves {
		fmt.Fprintf(&b, `<text x="%.0f" y="%.1f">%s</text>`, wide-right+8, ends[i]+5, html.EscapeString(c.Name))
	}
	b.WriteString("</svg>")
	return b.String()
}

// spread moves values apart until each is gap from the next.
func spread(y []float64, gap float64) {
	for range 60 {
		moved := false
		for i := range y {
			for j := range y {
				if i != j && math.Abs(y[i]-y[j]) < gap {
					half := (gap - math.Abs(y[i]-y[j])) / 2
					if y[i] < y[j] || (y[i] == y[j] && i < j) {
						half = -half
					}
					y[i], y[j], moved = y[i]+half, y[j]-half, true
				}
			}
		}
		if !moved {
			return
		}
	}
}

// ticks returns round numbers between lo and hi, about n of them.
func ticks(lo, hi float64, n int) []float64 {
	raw := (hi - lo) / float64(n)
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	step := 10 * p
	for _, m := range []float64{1, 2, 5} {
		if m*p >= raw {
			step = m * p
			break
		}
	}
	var all []float64
	for v := math.Ceil(lo/step) * step; v <= hi+1e-9*step; v += step {
		all = append(all, v)
	}
	return all
}

func decades(lo, hi float64) []float64 {
	var all []float64
	for _, v := range []float64{0.1, 0.3, 1, 3, 10, 30, 120, 600, 1800, 7200, 36000} {
		if v >= lo && v <= hi {
			all = append(all, v)
		}
	}
	return all
}

func short(v float64) string {
	if math.Abs(v) < 1e-9 {
		return "0"
	}
	return fmt.Sprintf("%.4g", v)
}

// clock says a time on an axis: 0.3 s, 20 s, 5 min, 2 h.
func clock(s float64) string {
	switch {
	case s >= 5400:
		return short(s/3600) + " h"
	case s >= 90:
		return short(s/60) + " min"
	}
	return short(s) + " s"
}
