package color

import (
	"math"
	"strings"
	"testing"
)

// plate is an invented piece: 8 × 2 cells, hard at the right, hot at the left.
func plate() []Cell {
	var cells []Cell
	for i := range 8 {
		for j := range 2 {
			x, y := 0.01*float64(i), 0.01*float64(j)
			c := Cell{Corner: []Point{{x, y}, {x + 0.01, y}, {x + 0.01, y + 0.01}, {x, y + 0.01}}, T: 1100 - 60*float64(i), Film: 1e4, HRC: 25 + 5*float64(i)}
			if i == 0 {
				c.HRC = math.NaN()
			}
			cells = append(cells, c)
		}
	}
	return cells
}

// Each cell is painted with what the eye sees there, the outline is drawn once.
func TestPieceIsPaintedAsSeen(t *testing.T) {
	e := NewEye(Dark, NoGlasses)
	d := e.DrawPiece(plate(), 400, Celsius)
	m := d.Raster(1)
	b := m.Bounds()
	// The lower right quarter of the first cell lies clear of any number.
	c := m.RGBAAt(14+40, 24+85)
	if want := e.See(1100, 1e4); apart(RGB{c.R, c.G, c.B}, want) > 1 {
		t.Errorf("painted %v, the eye sees %v (%v)", c, want, b)
	}
	if svg := d.SVG(); strings.Count(svg, "<polyline") != 20 {
		t.Errorf("%d edges drawn, the plate has 20", strings.Count(svg, "<polyline"))
	}
}

// Hardness is drawn in black alone; harder steel takes more ink; soft steel none.
func TestHardnessIsOneInk(t *testing.T) {
	d := DrawHardness(plate(), 600)
	m := d.Raster(1)
	dark := func(x0, x1 int) (n int) {
		for y := 24; y < m.Bounds().Dy()-14; y++ {
			for x := x0; x < x1; x++ {
				c := m.RGBAAt(x, y)
				if c.R != c.G || c.G != c.B {
					t.Fatalf("a colored pixel %v", c)
				}
				if c.R < 128 {
					n++
				}
			}
		}
		return n
	}
	cell := (600 - 28) / 8
	if soft, mid, hard := dark(20, 14+cell-4), dark(14+4*cell, 14+5*cell), dark(14+7*cell, 14+8*cell-4); soft >= mid || mid >= hard {
		t.Errorf("ink: soft %d, middle %d, hard %d", soft, mid, hard)
	}
	for _, want := range []string{">soft<", ">60<"} {
		if !strings.Contains(d.SVG(), want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
}

// The words stand on the frames, so that the comic is read without color.
func TestFramesCarryTheirWords(t *testing.T) {
	h := &History{Place: []float64{0, 0.5, 1}, Names: []string{"spine", "", "edge"}}
	for s := 0.0; s <= 60; s += 2 {
		h.Time = append(h.Time, s)
		for _, p := range h.Place {
			h.T = append(h.T, 500)
			h.Film = append(h.Film, 2.5+70*(1-0.6*p)*s/60)
		}
	}
	svg := NewEye(Daylight, NoGlasses).DrawFrames(h, []float64{20, 40, 60}, []string{"", "", "stop"}, Celsius).SVG()
	for _, want := range []string{">straw<", ">purple<", ">blue<", ">stop<", ">edge<", ">40 s<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the frames lack %q", want)
		}
	}
}
