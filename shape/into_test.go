package shape

import (
	"errors"
	"math"
	"testing"
)

func knifeFrom(t *testing.T) (bar, blade *Solid) {
	t.Helper()
	blade, err := Blade{
		Stations: []Station{{0, 0.03, 4e-3, 1.5e-3}, {0.1, 0.028, 3e-3, 1.5e-3}, {0.13, 0.01, 2e-3, 1.5e-3}},
		Height:   0.6, Tang: Tang{Length: 0.06, Width: 0.014},
	}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	bar, err = Bar{Form: Round, Width: 0.014, Length: 1.02 * blade.Volume() / (math.Pi / 4 * 0.014 * 0.014)}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	return bar, blade
}

// A bar forged into a blade keeps its volume at each turn of the way, to rounding; at
// the end it has the blade's sections, and a length 2 % longer for 2 % more metal (derived: volume is kept).
func TestIntoKeepsVolume(t *testing.T) {
	bar, blade := knifeFrom(t)
	at := bar
	for n := range 4 {
		c, err := Into(at, blade, 1/float64(4-n))
		if err != nil {
			t.Fatal(err)
		}
		if v := c.To.Volume() / bar.Volume(); math.Abs(v-1) > 1e-9 {
			t.Errorf("turn %d: volume × %.12f", n+1, v)
		}
		for i := range c.To.Sections {
			if k := &c.To.Sections[i]; !(k.thinnest() > 0.5e-3) || i > 0 && !(k.Frame.X > c.To.Sections[i-1].Frame.X && k.U > c.To.Sections[i-1].U) {
				t.Fatalf("turn %d: section %d is %.3g mm thick at %.4g m, U %.4g", n+1, i, 1000*k.thinnest(), k.Frame.X, k.U)
			}
		}
		at = c.To
	}
	if l := at.Length() / blade.Length(); math.Abs(l-1.02) > 1e-3 {
		t.Errorf("length × %.4f, want 1.02", l)
	}
	for _, u := range []float64{0.1, 0.5, 0.9} {
		a, b := at.Section(u), blade.Section(u)
		if d := a.Area()/b.Area() - 1; math.Abs(d) > 1e-6 {
			t.Errorf("area at %g off by %.2g", u, d)
		}
	}
}

// More metal is asked for than there is: the limits are lengths that would go.
func TestIntoTellsTheLengthThatGoes(t *testing.T) {
	bar, blade := knifeFrom(t)
	short := bar.Clone()
	short.Sections[1].Frame.X *= 0.8
	_, err := Into(short, blade, 1)
	var p *Problem
	if !errors.As(err, &p) || p.Key != "length" {
		t.Fatal(err)
	}
	l := blade.Length() * 0.8 * 1.02
	if p.Low > l || p.High < l || p.High > blade.Length() {
		t.Errorf("%.4g m of it would take all of the metal; told %.4g to %.4g", l, p.Low, p.High)
	}
}

// Zones of the blade lie in the bar where their metal was: they take the same share of its volume.
func TestZonesBeforeForging(t *testing.T) {
	bar, blade := knifeFrom(t)
	c, err := Into(bar, blade, 1)
	if err != nil {
		t.Fatal(err)
	}
	share := func(s *Solid, z Zone) float64 {
		const n = 60
		all, in := 0.0, 0.0
		for i := range n {
			u := (float64(i) + 0.5) / n
			over := s.spreadOver(u)
			k := s.Section(u)
			x0, _, _ := s.At(float64(i)/n, 0.5, 0)
			x1, _, _ := s.At(float64(i+1)/n, 0.5, 0)
			slab := k.Area() * (x1 - x0)
			all += slab
			for _, b := range z.Boxes {
				if u > b.U0 && u < b.U1 {
					in += slab * (table(over, b.V1) - table(over, b.V0)) * (b.W1 - b.W0) / 2
				}
			}
		}
		return in / all
	}
	was := c.Before(c.To.Zones)
	for i, z := range c.To.Zones {
		if a, b := share(bar, was[i]), share(c.To, z); math.Abs(a-b) > 0.15*b+0.003 {
			t.Errorf("%s: %.4f of the bar, %.4f of the blade", z.Name, a, b)
		}
	}
}

// Grinding the faces of a blade takes twice off its thickness and keeps its outline;
// its edge comes to what is asked for, evenly from the shoulder of the bevel (derived).
func TestFacesAndEdgeGround(t *testing.T) {
	_, blade := knifeFrom(t)
	thin, err := blade.Thinned(0.3e-3)
	if err != nil {
		t.Fatal(err)
	}
	edged, err := thin.Edged(0.5e-3, blade.Zones[4].Boxes[0].U0)
	if err != nil {
		t.Fatal(err)
	}
	_, w, _ := blade.Extent()
	_, w2, _ := edged.Extent()
	if w != w2 {
		t.Errorf("width %g became %g", w, w2)
	}
	at := func(s *Solid, u, v float64) float64 { return s.Across(u, v, 1).Z - s.Across(u, v, -1).Z }
	const u = 0.5
	for _, x := range []struct{ v, off float64 }{{0.1, 0.6e-3}, {0.375, 0.6e-3}, {1, at(blade, u, 1) - 0.5e-3}, {0.7, 0.6e-3 + 0.5*(at(blade, u, 1)-1.1e-3)}} {
		if got := at(blade, u, x.v) - at(edged, u, x.v); math.Abs(got-x.off) > 1e-6 {
			t.Errorf("at V %g %.4g mm came off, want %.4g", x.v, 1e3*got, 1e3*x.off)
		}
	}
	if a, b := at(thin, 0.1, 1), at(edged, 0.1, 1); a != b {
		t.Error("the tang was ground with the edge")
	}
	if _, err := thin.Edged(3e-3, 0.4); err == nil {
		t.Error("an edge was ground thicker")
	}
	if _, err := blade.Thinned(0.8e-3); err == nil {
		t.Error("ground through without a word")
	}
}

// A pass strains the metal that it moves and no other; where a square becomes a
// smaller square the strain is the logarithm of the areas (derived). A bend moves what it turns.
func TestWhatAnActMoves(t *testing.T) {
	bar, err := Bar{Form: Square, Width: 0.012, Length: 0.2}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	c, err := Draw(bar, Pass{From: 0.1, To: 0.2, Thickness: 0.8, Width: 0.8})
	if err != nil {
		t.Fatal(err)
	}
	if e := c.Strain(0.8); math.Abs(e-math.Log(1/0.64)) > 1e-9 {
		t.Errorf("strain %.4f", e)
	}
	if c.Strain(0.2) > 1e-9 || c.Moves(0.2) || !c.Moves(0.8) {
		t.Error("what was not struck moved, or what was struck did not")
	}
	b, err := Bend(bar, Turn{From: 0.02, To: 0.08, Angle: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if b.Strain(0.25) != 0 || !b.Moves(0.25) || b.Moves(0.9) {
		t.Error("a bend moves what it turns")
	}
	// A hole through the place that stands for the whole sends it beside itself.
	d, err := Drill(bar, Hole{At: 0.1, Across: 0.5, Diameter: 4e-3})
	if err != nil {
		t.Fatal(err)
	}
	if box := d.To.Voids[0].Box; d.To.Cut > box.U0 && d.To.Cut < box.U1 {
		t.Errorf("the cut at U %.3f goes through the hole", d.To.Cut)
	}
}
