package color

import (
	"math"
	"slices"
	"sort"
)

// Cell is a part of the piece as a picture shows it: a convex polygon in meters,
// x to the right and y down, with what is known of it.
type Cell struct {
	Corner []Point
	T      float64 // [K]
	Film   float64 // oxide [nm]
}

func (c *Cell) middle() (m Point) {
	for _, p := range c.Corner {
		m.X += p.X / float64(len(c.Corner))
		m.Y += p.Y / float64(len(c.Corner))
	}
	return m
}

// frameOf fits cells into a width [px] and returns the drawing and the way from meters to it.
func frameOf(cells []Cell, width float64) (*Drawing, func(Point) Point) {
	const margin, top = 14, 24
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range cells {
		for _, p := range cells[i].Corner {
			x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
		}
	}
	k := (width - 2*margin) / max(1e-9, x1-x0)
	d := &Drawing{Width: width, Height: top + margin + k*(y1-y0)}
	return d, func(p Point) Point { return Point{margin + k*(p.X-x0), top + k*(p.Y-y0)} }
}

// fillCells paints the cells nearly a pixel larger than they are on every side, so
// that no paper shows between them.
func fillCells(d *Drawing, cells []Cell, at func(Point) Point, ink func(*Cell) RGB) {
	for i := range cells {
		c := &cells[i]
		m := at(c.middle())
		n := len(c.Corner)
		p := make([]Point, n)
		for j := range c.Corner {
			a, q, b := at(c.Corner[(j+n-1)%n]), at(c.Corner[j]), at(c.Corner[(j+1)%n])
			u, v := outward(a, q, m), outward(q, b, m)
			k := 0.7 / max(0.5, 1+u.X*v.X+u.Y*v.Y) // so that both edges move by as much
			p[j] = Point{q.X + k*(u.X+v.X), q.Y + k*(u.Y+v.Y)}
		}
		d.Polygon(ink(c), p...)
	}
}

// outward returns the unit normal of an edge, away from m; nothing of a point.
func outward(a, b, m Point) Point {
	n := Point{b.Y - a.Y, a.X - b.X}
	l := math.Hypot(n.X, n.Y)
	if l < 1e-9 {
		return Point{}
	}
	if (a.X-m.X)*n.X+(a.Y-m.Y)*n.Y < 0 {
		l = -l
	}
	return Point{n.X / l, n.Y / l}
}

// outline draws the edges that only one cell has.
func outline(d *Drawing, cells []Cell, at func(Point) Point) {
	type edge struct{ a, b [2]int64 }
	key := func(p Point) [2]int64 { return [2]int64{int64(math.Round(p.X * 1e8)), int64(math.Round(p.Y * 1e8))} }
	count := map[edge]int{}
	name := func(p, q Point) edge {
		a, b := key(p), key(q)
		if a[0] > b[0] || (a[0] == b[0] && a[1] > b[1]) {
			a, b = b, a
		}
		return edge{a, b}
	}
	for i := range cells {
		c := cells[i].Corner
		for j := range c {
			count[name(c[j], c[(j+1)%len(c)])]++
		}
	}
	for i := range cells {
		c := cells[i].Corner
		for j := range c {
			if count[name(c[j], c[(j+1)%len(c)])] == 1 {
				d.Line(Black, 1.6, at(c[j]), at(c[(j+1)%len(c)]))
			}
		}
	}
}

// spread picks cells for numbers: as many as fit beside each other, from end to
// end, and of those in one place the nearest to the middle of its stripe.
func spread(cells []Cell, at func(Point) Point, wide, high float64) []int {
	var chosen []int
	order := make([]int, len(cells))
	for i := range order {
		order[i] = i
	}
	// Begin at the outermost places, which matter most, and fill in between.
	middle := Point{}
	for i := range cells {
		m := at(cells[i].middle())
		middle.X += m.X / float64(len(cells))
		middle.Y += m.Y / float64(len(cells))
	}
	far := func(i int) float64 {
		m := at(cells[i].middle())
		return math.Abs(m.X-middle.X) + 0.3*math.Abs(m.Y-middle.Y)
	}
	sort.SliceStable(order, func(a, b int) bool { return far(order[a]) > far(order[b]) })
	for _, i := range order {
		m := at(cells[i].middle())
		free := true
		for _, j := range chosen {
			n := at(cells[j].middle())
			if math.Abs(m.X-n.X) < wide && math.Abs(m.Y-n.Y) < high {
				free = false
			}
		}
		if free {
			chosen = append(chosen, i)
		}
	}
	return chosen
}

// DrawPiece draws the piece as it looks in this light, with a caption above, and its
// temperature written where there is room and it changes.
func (e *Eye) DrawPiece(cells []Cell, width float64, sc Scales, caption string) *Drawing {
	const apart = 240 // between numbers that say the same [px]
	d, at := frameOf(cells, width)
	d.Title = caption
	d.Text(Black, 12, Point{14, 15}, 's', caption)
	fillCells(d, cells, at, func(c *Cell) RGB { return e.See(c.T, c.Film) })
	outline(d, cells, at)
	said := map[string][]Point{}
	for _, i := range spread(cells, at, 90, 26) {
		m, text := at(cells[i].middle()), sc.Temperature(cells[i].T)
		if slices.ContainsFunc(said[text], func(p Point) bool { return math.Hypot(p.X-m.X, p.Y-m.Y) < apart }) {
			continue
		}
		said[text] = append(said[text], m)
		d.Label(10, Point{min(width-30, max(30, m.X)), m.Y + 3.5}, 'm', text)
	}
	return d
}

// DrawFrames shows one line of places, from top to foot, at some moments side by
// side: a comic of colors marching down the piece. Each word stands where its
// color is, so that it is read without color.
func (e *Eye) DrawFrames(h *History, moments []float64, titles []string, sc Scales) *Drawing {
	const left, top, foot, wide, high, apart = 58.0, 40.0, 14.0, 96.0, 190.0, 10.0
	d := &Drawing{Width: left + float64(len(moments))*(wide+apart) + 6, Height: top + high + foot}
	d.Title = "colors running down the piece, moment by moment"
	for i, name := range h.Names {
		if name != "" {
			d.Text(Black, 12, Point{left - 6, min(top+high, max(top+10, top+high*h.Place[i]+4))}, 'e', name)
		}
	}
	for k, t := range moments {
		x := left + float64(k)*(wide+apart)
		const bands = 95
		var words []string
		for b := range bands {
			T, film := h.At(t, (float64(b)+0.5)/bands)
			y0, y1 := top+high*float64(b)/bands, top+high*float64(b+1)/bands
			d.Polygon(e.See(T, film), Point{x, y0}, Point{x + wide, y0}, Point{x + wide, y1 + 0.3}, Point{x, y1 + 0.3})
			words = append(words, e.lookOf(T, film))
		}
		frame(d, x, top, wide, high)
		d.Text(Black, 12, Point{x + wide/2, top - 20}, 'm', sc.Time(t))
		if k < len(titles) && titles[k] != "" {
			d.Text(Black, 11, Point{x + wide/2, top - 6}, 'm', titles[k])
		}
		// From the foot up, so that the place that is watched keeps its word.
		last := d.Height
		for to := bands; to > 0; {
			from := to - 1
			for from > 0 && words[from-1] == words[to-1] {
				from--
			}
			y := min(top+high-8, max(top+8, top+high*float64(from+to)/2/bands))
			if words[from] != "" && last-y > 15 {
				d.Label(10, Point{x + wide/2, y + 3.5}, 'm', sc.word(words[from]))
				last = y
			}
			to = from
		}
	}
	return d
}

// lookOf returns the word for what is seen at one place: a heat where it glows, else the film.
func (e *Eye) lookOf(T, film float64) string {
	if T >= e.Threshold() {
		return e.HeatOf(T).String()
	}
	return TemperOf(film).String()
}
