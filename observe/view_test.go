package observe

import (
	"math"
	"os"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/shape"
)

// A tapered knife, side on: the picture covers the outline of the blade, cell by
// cell, and each cell carries its own reading.
func TestSideViewIsThePiece(t *testing.T) {
	s, err := shape.Blade{
		Stations: []shape.Station{{X: 0, Width: 0.032, Spine: 0.004, Edge: 0.0006}, {X: 0.1, Width: 0.03, Spine: 0.003, Edge: 0.0005}, {X: 0.16, Width: 0.006, Spine: 0.0015, Edge: 0.0005}},
		Tang:     shape.Tang{Length: 0.07, Width: 0.014, Thickness: 0.004},
	}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	m, err := conduction.New(s, conduction.Whole)
	if err != nil {
		t.Fatal(err)
	}
	r := Reading{T: make([]float64, m.Len()), HRC: make([]float64, m.Len())}
	for c := range r.T {
		r.T[c] = 900 + 1000*m.X[c] + 3000*m.Y[c]
		r.HRC[c] = 30 + 150*m.X[c]
	}
	cells := SideView(m, r)
	area := 0.0
	for _, c := range cells {
		area += polygonArea(c.Corner)
	}
	want := 0.0
	const n = 2000
	length := s.Length()
	for i := range n {
		u := s.U((float64(i) + 0.5) / n * length)
		want += math.Abs(s.Across(u, 1, 1).Y-s.Across(u, 0, 1).Y) * length / n
	}
	if math.Abs(area-want) > 0.01*want {
		t.Errorf("the picture covers %.2f cm², the blade is %.2f", area*1e4, want*1e4)
	}
	cut := CrossSection(m, r, 0.5)
	if len(cut) != m.NJ*m.NK {
		t.Errorf("%d cells in the section", len(cut))
	}
	if dir := os.Getenv("HEATWRIGHT_PICTURES"); dir != "" {
		eye := color.NewEye(color.Dark, color.NoGlasses)
		for name, png := range map[string][]byte{
			"side": eye.DrawPiece(cells, 700, color.Celsius).PNG(1.5), "side-hard": color.DrawHardness(cells, 700).PNG(1.5), "cut": eye.DrawPiece(cut, 700, color.Celsius).PNG(1.5),
		} {
			if err := os.WriteFile(dir+"/"+name+".png", png, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func polygonArea(p []color.Point) float64 {
	a := 0.0
	for i := range p {
		q := p[(i+1)%len(p)]
		a += p[i].X*q.Y - q.X*p[i].Y
	}
	return math.Abs(a) / 2
}

// A flat cross-section covers the section's area.
func TestCrossSectionIsTheSection(t *testing.T) {
	s := knife(t)
	m, err := conduction.New(s, conduction.Section)
	if err != nil {
		t.Fatal(err)
	}
	area := 0.0
	for _, c := range CrossSection(m, Reading{}, 0) {
		area += polygonArea(c.Corner)
	}
	if k := s.Section(s.Cut); math.Abs(area-k.Area()) > 0.01*k.Area() {
		t.Errorf("the picture covers %.1f mm², the section has %.1f", area*1e6, k.Area()*1e6)
	}
}
