package color

import (
	"fmt"
	"image"
	"math"
	"slices"
)

// History is what a picture of a whole run is drawn from: one line of places on
// the piece, watched over time.
type History struct {
	Time  []float64 // [s], rising
	Place []float64 // along the line, from 0 at the top of the picture to 1 at its foot, rising
	Names []string  // a name per place, "" for none: "spine", "edge"
	T     []float64 // [K], len = len(Time)·len(Place), one moment after the other
	Film  []float64 // oxide [nm], the same shape; nil for scale
	Ticks []Tick    // what the time axis says; nil: even steps of the clock
}

// Tick is a mark on the time axis, with a text from there to the next.
type Tick struct {
	At    float64  // [s], on the scale of History.Time
	Lines []string // what happens from there on
}

// Strip paints the history as the eye saw it: time across, the piece down, each
// pixel the seen color. It allocates only scratch for one column.
func (e *Eye) Strip(dst *image.RGBA, h *History) {
	b := dst.Bounds()
	if b.Empty() || len(h.Time) == 0 || len(h.Place) == 0 {
		return
	}
	n := len(h.Place)
	if len(h.T) != len(h.Time)*n || (h.Film != nil && len(h.Film) != len(h.T)) {
		panic("color: len(T) ≠ times × places")
	}
	column := make([]float64, 2*n)
	T, film := column[:n], column[n:]
	// Where each row of pixels lies between two places.
	low, part := make([]int, b.Dy()), make([]float64, b.Dy())
	for y, j := 0, 0; y < b.Dy(); y++ {
		at := (float64(y) + 0.5) / float64(b.Dy())
		for j < n-2 && h.Place[j+1] < at {
			j++
		}
		low[y] = j
		if n > 1 {
			part[y] = min(1, max(0, (at-h.Place[j])/(h.Place[j+1]-h.Place[j])))
		}
	}
	first, last := h.Time[0], h.Time[len(h.Time)-1]
	for x, i := 0, 0; x < b.Dx(); x++ {
		t := first + (last-first)*(float64(x)+0.5)/float64(b.Dx())
		for i < len(h.Time)-2 && h.Time[i+1] < t {
			i++
		}
		f, next := 0.0, i
		if len(h.Time) > 1 {
			next = i + 1
			f = min(1, max(0, (t-h.Time[i])/(h.Time[next]-h.Time[i])))
		}
		for j := range n {
			a, c := h.T[i*n+j], h.T[next*n+j]
			T[j] = a + f*(c-a)
			film[j] = fullScaleNm
			if h.Film != nil {
				a, c := h.Film[i*n+j], h.Film[next*n+j]
				film[j] = a + f*(c-a)
			}
		}
		for y := range b.Dy() {
			j, g := low[y], part[y]
			k := min(j+1, n-1)
			c := e.See(T[j]+g*(T[k]-T[j]), film[j]+g*(film[k]-film[j]))
			p := dst.Pix[dst.PixOffset(b.Min.X+x, b.Min.Y+y):]
			p[0], p[1], p[2], p[3] = c.R, c.G, c.B, 255
		}
	}
}

// At returns temperature [K] and film [nm] at a time and a place, interpolated.
func (h *History) At(time, place float64) (T, film float64) {
	n := len(h.Place)
	i, f := locate(h.Time, time)
	j, g := locate(h.Place, place)
	mix := func(a []float64) float64 {
		k, m := min(i+1, len(h.Time)-1), min(j+1, n-1)
		return (1-f)*((1-g)*a[i*n+j]+g*a[i*n+m]) + f*((1-g)*a[k*n+j]+g*a[k*n+m])
	}
	film = fullScaleNm
	if h.Film != nil {
		film = mix(h.Film)
	}
	return mix(h.T), film
}

func locate(a []float64, x float64) (int, float64) {
	if len(a) < 2 || x <= a[0] {
		return 0, 0
	}
	for i := 1; i < len(a); i++ {
		if x <= a[i] {
			return i - 1, (x - a[i-1]) / (a[i] - a[i-1])
		}
	}
	return len(a) - 2, 1
}

// Scales says how a drawing writes its numbers: the doors know the user's units.
type Scales struct {
	Temperature func(T float64) string // of a temperature [K]
	Time        func(s float64) string // of a moment [s]
	Word        func(w string) string  // a color word in the reader's English; nil: as this package has it
}

func (s *Scales) word(w string) string {
	if s.Word == nil {
		return w
	}
	return s.Word(w)
}

// Celsius writes °C, seconds under two minutes, then minutes and hours.
var Celsius = Scales{
	Temperature: func(T float64) string { return fmt.Sprintf("%.0f °C", math.Round((T-kelvin)/5)*5) },
	Time:        sayTime,
}

// Fahrenheit writes °F.
var Fahrenheit = Scales{
	Temperature: func(T float64) string { return fmt.Sprintf("%.0f °F", math.Round(((T-kelvin)*1.8+32)/10)*10) },
	Time:        sayTime,
}

func sayTime(s float64) string {
	switch {
	case s < 120:
		return fmt.Sprintf("%.0f s", s)
	case s < 7200:
		return fmt.Sprintf("%.0f min", s/60)
	}
	return fmt.Sprintf("%.1f h", s/3600)
}

// DrawStrip frames a heat strip with what makes it readable without color: lines
// of equal temperature with their numbers, names of places, a time scale.
func (e *Eye) DrawStrip(h *History, w, hgt int, sc Scales, lines []float64) *Drawing {
	const left, right, top, foot = 52, 12, 22, 30
	more := 0
	for _, t := range h.Ticks {
		more = max(more, 14*(len(t.Lines)-1))
	}
	d := &Drawing{Width: float64(w + left + right), Height: float64(hgt + top + foot + more)}
	d.Title = "heat strip: time across, the piece down, the color seen " + e.Light.Where
	m := image.NewRGBA(image.Rect(0, 0, w, hgt))
	e.Strip(m, h)
	d.Image(Point{left, top}, float64(w), float64(hgt), m)
	d.Text(Black, 12, Point{left, 14}, 's', "seen "+e.Light.Where+wearing(e.Glasses))
	first, last := h.Time[0], h.Time[len(h.Time)-1]
	x := func(t float64) float64 { return left + float64(w)*(t-first)/max(1e-9, last-first) }
	y := func(p float64) float64 { return top + float64(hgt)*p }
	type label struct {
		Point
		T float64
	}
	var taken []label
	free := func(p Point) bool {
		for _, q := range taken {
			if math.Hypot((q.X-p.X)/2.6, q.Y-p.Y) <= 17 {
				return false
			}
		}
		return p.X > left+26 && p.X < float64(left+w)-26
	}
	// A number stands near the middle of its line, on the first of several lines;
	// where the axis has steps, once in each step that has room.
	far := func(p Point) float64 { return math.Abs(p.Y-float64(top)-float64(hgt)/2) + 0.5*p.X }
	slot := func(p Point) int {
		for i := len(h.Ticks) - 1; i > 0; i-- {
			if p.X >= x(h.Ticks[i].At) {
				return i
			}
		}
		return 0
	}
	for _, T := range slices.Backward(lines) {
		best := map[int]Point{}
		for _, seg := range h.contour(T, 2*w/3, 24) {
			a, b := Point{x(seg[0].X), y(seg[0].Y)}, Point{x(seg[1].X), y(seg[1].Y)}
			d.Line(RGB{255, 255, 255}, 2.2, a, b)
			d.Line(Black, 0.9, a, b)
			k := slot(b)
			if len(h.Ticks) > 0 && (slot(Point{X: b.X - 24}) != k || slot(Point{X: b.X + 24}) != k) {
				continue // the number would lie across two steps
			}
			if at, ok := best[k]; free(b) && (!ok || far(b) < far(at)) {
				best[k] = b
			}
		}
		for k := range max(1, len(h.Ticks)) {
			if at, ok := best[k]; ok && free(at) {
				taken = append(taken, label{at, T})
			}
		}
	}
	for _, at := range taken {
		d.Label(10, Point{at.X, at.Y + 3.5}, 'm', sc.Temperature(at.T))
	}
	for i, name := range h.Names {
		if name != "" {
			d.Text(Black, 12, Point{left - 6, min(float64(top+hgt), max(top+10, y(h.Place[i])+4))}, 'e', name)
		}
	}
	frame(d, left, top, float64(w), float64(hgt))
	if h.Ticks != nil {
		for i, t := range h.Ticks {
			until := last
			if i+1 < len(h.Ticks) {
				until = h.Ticks[i+1].At
			}
			d.Line(Black, 1, Point{x(t.At), top}, Point{x(t.At), float64(top+hgt) + 6})
			for k, s := range t.Lines {
				d.Text(Black, 11, Point{(x(t.At) + x(until)) / 2, float64(top+hgt) + 16 + 14*float64(k)}, 'm', s)
			}
		}
		return d
	}
	step := niceStep((last - first) / 6)
	for k := math.Ceil(first/step - 1e-9); k*step <= last+1e-9; k++ {
		t := math.Abs(k) * step
		d.Line(Black, 1, Point{x(t), float64(top + hgt)}, Point{x(t), float64(top+hgt) + 5})
		d.Text(Black, 11, Point{x(t), float64(top+hgt) + 18}, 'm', sc.Time(t))
	}
	return d
}

func wearing(g Glasses) string {
	if g.Name == NoGlasses.Name || g.Name == "" {
		return ""
	}
	return ", through " + g.Name + " glasses"
}

func frame(d *Drawing, x, y, w, h float64) {
	d.Line(Black, 1, Point{x, y}, Point{x + w, y}, Point{x + w, y + h}, Point{x, y + h}, Point{x, y})
}

// niceStep returns the least step not under x that a clock would show [s].
func niceStep(x float64) float64 {
	for _, s := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400} {
		if s >= x {
			return s
		}
	}
	return 3600 * math.Ceil(x/3600)
}

// contour returns short lines of equal temperature over a grid of nx × ny cells,
// points as (time, place), by walking the cells' corners.
func (h *History) contour(T float64, nx, ny int) [][2]Point {
	first, last := h.Time[0], h.Time[len(h.Time)-1]
	value := make([]float64, (nx+1)*(ny+1))
	where := func(i, j int) Point {
		return Point{first + (last-first)*float64(i)/float64(nx), float64(j) / float64(ny)}
	}
	for i := range nx + 1 {
		for j := range ny + 1 {
			p := where(i, j)
			v, _ := h.At(p.X, p.Y)
			value[i*(ny+1)+j] = v - T
		}
	}
	var lines [][2]Point
	for i := range nx {
		for j := range ny {
			corner := [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}
			var cut []Point
			for k := range 4 {
				a, b := corner[k], corner[(k+1)%4]
				va, vb := value[a[0]*(ny+1)+a[1]], value[b[0]*(ny+1)+b[1]]
				if (va < 0) != (vb < 0) {
					f := va / (va - vb)
					p, q := where(a[0], a[1]), where(b[0], b[1])
					cut = append(cut, Point{p.X + f*(q.X-p.X), p.Y + f*(q.Y-p.Y)})
				}
			}
			if len(cut) >= 2 {
				lines = append(lines, [2]Point{cut[0], cut[1]})
			}
		}
	}
	return lines
}
