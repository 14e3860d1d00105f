package color

import (
	"strings"
	"testing"
)

// plate is an invented piece: 8 × 2 cells, hot at the left.
func plate() []Cell {
	var cells []Cell
	for i := range 8 {
		for j := range 2 {
			x, y := 0.01*float64(i), 0.01*float64(j)
			c := Cell{Corner: []Point{{x, y}, {x + 0.01, y}, {x + 0.01, y + 0.01}, {x, y + 0.01}}, T: 1100 - 60*float64(i), Film: 1e4}
			cells = append(cells, c)
		}
	}
	return cells
}

// Each cell is painted with what the eye sees there, the outline is drawn once.
func TestPieceIsPaintedAsSeen(t *testing.T) {
	e := NewEye(Dark, NoGlasses)
	d := e.DrawPiece(plate(), 400, Celsius, "a plate")
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
