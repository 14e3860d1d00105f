package color

import (
	"image"
	"math"
	"strings"
	"testing"
)

// demo is an invented run: four minutes up to 820 °C, edge first, oil, an hour at 220 °C.
func demo() *History {
	h := &History{Place: []float64{0, 0.2, 0.4, 0.6, 0.8, 1}, Names: []string{"spine", "", "", "", "", "edge"}}
	for t := 0.0; t <= 400; t += 2 {
		h.Time = append(h.Time, t)
		for _, p := range h.Place {
			T := 293 + (1093-293)*(1-math.Exp(-t/(90-40*p)))
			if t > 320 {
				T = 300 + 793*math.Exp(-(t-320)*(0.3+0.5*p))
			}
			h.T = append(h.T, T)
			h.Film = append(h.Film, min(1e4, 2.5+t*t/4))
		}
	}
	return h
}

// The strip shows at each pixel what the eye sees at that time and place.
func TestStripShowsTheHistory(t *testing.T) {
	h, e := demo(), NewEye(Dim, NoGlasses)
	m := image.NewRGBA(image.Rect(0, 0, 600, 120))
	e.Strip(m, h)
	for _, p := range []image.Point{{0, 0}, {599, 119}, {300, 60}, {470, 10}, {490, 100}} {
		T, film := h.At(400*(float64(p.X)+0.5)/600, (float64(p.Y)+0.5)/120)
		want, c := e.See(T, film), m.RGBAAt(p.X, p.Y)
		if apart(RGB{c.R, c.G, c.B}, want) > 1 || c.A != 255 {
			t.Errorf("pixel %v is %v, the eye sees %v", p, c, want)
		}
	}
	if n := testing.AllocsPerRun(5, func() { e.Strip(m, h) }); n > 4 {
		t.Errorf("a strip allocates %v times", n)
	}
}

// Awkward: one moment, one place, nothing.
func TestStripOfLittle(t *testing.T) {
	e := NewEye(Dim, NoGlasses)
	m := image.NewRGBA(image.Rect(0, 0, 5, 3))
	e.Strip(m, &History{})
	e.Strip(m, &History{Time: []float64{1}, Place: []float64{0}, T: []float64{1100}})
	if c := m.RGBAAt(4, 2); c.R < 80 || c.A != 255 {
		t.Errorf("one hot point paints %v", c)
	}
}

// Without color it is still read: numbers on the lines, names, times.
func TestStripIsReadWithoutColor(t *testing.T) {
	d := NewEye(Dim, NoGlasses).DrawStrip(demo(), 600, 120, Celsius, []float64{200 + kelvin, 400 + kelvin, 600 + kelvin, 800 + kelvin})
	svg := d.SVG()
	for _, want := range []string{">spine<", ">edge<", ">600 °C<", ">800 °C<", ">2 min<", "<title>"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
	if len(d.PNG(1)) < 2000 {
		t.Error("no picture")
	}
}

// A shape that hangs over the border is cut off there: nothing of it turns up at
// the other side, and what lies inside is whole.
func TestShapesAreCutAtTheBorder(t *testing.T) {
	d := &Drawing{Width: 20, Height: 20}
	ink := RGB{200, 0, 0}
	d.Polygon(ink, Point{15, 5}, Point{40, 5}, Point{40, 10}, Point{15, 10})
	d.Polygon(ink, Point{-30, 14}, Point{4, 14}, Point{4, 26}, Point{-30, 26})
	m := d.Raster(1)
	for y := range 20 {
		for x := range 20 {
			want := RGB{255, 255, 255}
			if x >= 15 && y >= 5 && y < 10 || x < 4 && y >= 14 {
				want = ink
			}
			if c := m.RGBAAt(x, y); apart(RGB{c.R, c.G, c.B}, want) > 1 {
				t.Errorf("pixel %d, %d is %v, want %v", x, y, c, want)
			}
		}
	}
}

// BenchmarkHeatStrip is what a page waits for: 600 × 120 pixels from a history.
func BenchmarkHeatStrip(b *testing.B) {
	h, e := demo(), NewEye(Dim, NoGlasses)
	m := image.NewRGBA(image.Rect(0, 0, 600, 120))
	b.ReportAllocs()
	for b.Loop() {
		e.Strip(m, h)
	}
}
