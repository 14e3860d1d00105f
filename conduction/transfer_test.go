package conduction

import (
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/shape"
)

func knife(t testing.TB) *shape.Solid {
	t.Helper()
	s, err := shape.Blade{
		Stations: []shape.Station{{X: 0, Width: 0.032, Spine: 4e-3, Edge: 1.2e-3}, {X: 0.14, Width: 0.03, Spine: 3e-3, Edge: 1.2e-3}, {X: 0.18, Width: 0.008, Spine: 2.5e-3, Edge: 1.2e-3}},
		Tang:     shape.Tang{Length: 0.08, Width: 0.016, EndWidth: 0.01},
	}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Acts lose no mass, enthalpy or carbon but what the chips carry, to 1e-9, and
// a body at one temperature stays at it (derived: balances).
func TestActsConserve(t *testing.T) {
	blade := knife(t)
	bar, err := flat(0.03, 0.004, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	must := func(c *shape.Change, err error) *shape.Change {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	ground, err := blade.Ground(0.25e-3)
	if err != nil {
		t.Fatal(err)
	}
	long := bar.Volume() / blade.Volume()
	blank, err := flat(0.03, 0.004, 0.2/long)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]*shape.Change{
		"draw":           must(shape.Draw(bar, shape.Pass{From: 0.05, To: 0.12, Thickness: 0.7, Width: 1.2})),
		"draw the end":   must(shape.Draw(bar, shape.Pass{From: 0.15, To: 0.2, Thickness: 0.6, Width: 1.1})),
		"forge to blade": must(shape.Forge(blank, blade)),
		"grind":          must(shape.Grind(blade, ground)),
		"drill":          must(shape.Drill(blade, shape.Hole{At: 0.03, Across: 0.5, Diameter: 6e-3})),
		"bend":           must(shape.Bend(bar, shape.Turn{From: 0.08, To: 0.12, Angle: 0.8})),
		"bend hard way":  must(shape.Bend(bar, shape.Turn{From: 0.05, To: 0.15, Angle: 0.6, Hard: true})),
	} {
		for _, cells := range []Cells{{24, 10, 4, 0}, {0, 14, 8, 0}} {
			from, to := mesh(t, c.From, nil, cells), mesh(t, c.To, nil, cells)
			tr, err := NewTransfer(c, from, to)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			f := NewField(from, 7850, 1000, austenite{})
			carbon := make([]float64, from.Len())
			for i := range f.H {
				f.H[i] *= 1 + 0.3*math.Sin(float64(i))
				carbon[i] = 0.8 + 0.3*math.Cos(float64(3*i))
			}
			g, lost := f.Remap(tr)
			mass, chips, before, after, gone := 0.0, 0.0, 0.0, 0.0, 0.0
			for i, m := range f.Mass {
				mass += m
				chips += m * tr.Lost[i]
				before += m * carbon[i]
				gone += m * carbon[i] * tr.Lost[i]
			}
			now := make([]float64, to.Len())
			tr.Mean(now, carbon, f.Mass)
			left := 0.0
			for i, m := range g.Mass {
				left += m
				after += m * now[i]
			}
			near := func(what string, a, b, scale float64) {
				t.Helper()
				if !(math.Abs(a-b) <= 1e-9*math.Abs(scale)) {
					t.Errorf("%s %v: %s %.12g, and %.12g", name, cells, what, a, b)
				}
			}
			near("mass", left*tr.Stretch+chips, mass, mass)
			near("enthalpy", g.Energy()*tr.Stretch+lost, f.Energy(), f.Energy())
			near("carbon", after*tr.Stretch+gone, before, before)
			// Each cell should weigh what its share of the volume weighs: the map of material follows the shape.
			worst := 0.0
			for i, m := range g.Mass {
				if v := to.Volume[i]; v > 0 {
					worst = max(worst, math.Abs(m/v/(left/total(to.Volume))-1))
				}
			}
			if worked := c.Act == shape.Forging || c.Act == shape.Bending; worked && worst > 1e-6 {
				t.Errorf("%s %v: a cell weighs %.2g more or less than its volume", name, cells, worst)
			}
			t.Logf("%-15s %v: lost %.3f of %.3f kg, worst cell density off by %.1f %%", name, cells, chips, mass, 100*worst)
			for i, temp := range g.T {
				if g.Mass[i] > 0 && math.Abs(temp-1000) > 1e-9 {
					t.Fatalf("%s: cell %d is at %g K", name, i, temp)
				}
			}
			g.Step(0.1, austenite{}, radiation(293), nil)
		}
	}
}

// The skin is stretched as its area grows: where thickness and width become f and
// g of what they were, the length grows by 1/(fg), so a flat side has g/(fg) of its
// area and skin of f of its thickness; an edge of the bar g of it (derived: volume is kept).
func TestSkinIsStretched(t *testing.T) {
	bar, err := flat(0.03, 0.006, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	c, err := shape.Draw(bar, shape.Pass{From: 0, To: 0.2, Thickness: 0.6, Width: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range []Cells{{12, 6, 4, 0}, {0, 6, 4, 0}} {
		tr, err := NewTransfer(c, mesh(t, c.From, nil, cells), mesh(t, c.To, nil, cells))
		if err != nil {
			t.Fatal(err)
		}
		for f, side := range tr.To.Faces.Side {
			want := map[Side]float64{Back: 0.6, Front: 0.6, Spine: 0.9, Edge: 0.9, Start: 1 / 0.54, End: 1 / 0.54}[side]
			if math.Abs(tr.Thinner[f]-want) > 0.002 {
				t.Fatalf("%v: face %d on side %d: skin of %.3f of its thickness, want %.3f", cells, f, side, tr.Thinner[f], want)
			}
		}
	}
}

// Forging into another form stretches all of the skin: area times what is left of
// its thickness is the area that it had (derived: the skin's volume is kept).
func TestSkinOfAnotherFormIsKept(t *testing.T) {
	blade := knife(t)
	bar, err := shape.Bar{Form: shape.Round, Width: 0.012, Length: blade.Volume() / (math.Pi / 4 * 0.012 * 0.012)}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	c, err := shape.Into(bar, blade, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range []Cells{{24, 10, 6, 0}, {0, 10, 6, 0}} {
		from := c.From.Clone()
		from.Cut = c.U(c.To.Cut)
		tr, err := NewTransfer(c.With(from, c.To), mesh(t, from, nil, cells), mesh(t, c.To, nil, cells))
		if err != nil {
			t.Fatal(err)
		}
		was, is, thinnest := total(tr.From.Faces.Area), 0.0, 1.0
		for f, a := range tr.To.Faces.Area {
			is += a * tr.Thinner[f] * tr.Stretch
			thinnest = min(thinnest, tr.Thinner[f])
		}
		if math.Abs(is/was-1) > 0.01 {
			t.Errorf("%v: skin of %.4g m² has the volume of %.4g m²", cells, was, is)
		}
		if thinnest > 0.9 {
			t.Errorf("%v: a round became a blade and its skin was stretched nowhere", cells)
		}
	}
}

// The wall of a hole has no forebear when it is drilled, and is carried on by the next act.
func TestWallOfAHole(t *testing.T) {
	blade := knife(t)
	drilled, err := shape.Drill(blade, shape.Hole{At: 0.03, Across: 0.5, Diameter: 6e-3})
	if err != nil {
		t.Fatal(err)
	}
	off, err := drilled.To.Ground(0.1e-3)
	if err != nil {
		t.Fatal(err)
	}
	ground, err := shape.Grind(drilled.To, off)
	if err != nil {
		t.Fatal(err)
	}
	cells := Cells{24, 10, 4, 0}
	a, b, c := mesh(t, blade, nil, cells), mesh(t, drilled.To, nil, cells), mesh(t, off, nil, cells)
	for n, step := range []struct {
		change   *shape.Change
		from, to *Mesh
	}{{drilled, a, b}, {ground, b, c}} {
		tr, err := NewTransfer(step.change, step.from, step.to)
		if err != nil {
			t.Fatal(err)
		}
		walls := 0
		for f, side := range step.to.Faces.Side {
			old, _ := tr.FaceSources(f)
			switch {
			case side != Hole && len(old) == 0:
				t.Errorf("act %d: face %d on side %d has no forebear", n, f, side)
			case side == Hole && (len(old) == 0) != (n == 0):
				t.Errorf("act %d: a face of the hole's wall has %d forebears", n, len(old))
			}
			if side == Hole {
				walls++
			}
		}
		if walls == 0 {
			t.Error("the mesh has no hole")
		}
	}
}

type solid interface{ Solid() (*shape.Solid, error) }

// Every form meshes, whole and as a section, with the volume of its geometry, with
// all its zones, and marches without a NaN.
func TestEveryFormMarches(t *testing.T) {
	for name, b := range map[string]solid{
		"round":         shape.Bar{Form: shape.Round, Width: 0.012, Length: 0.1},
		"hex":           shape.Bar{Form: shape.Hex, Width: 0.02, Length: 0.1},
		"octagon":       shape.Bar{Form: shape.Octagon, Width: 0.02, Length: 0.1},
		"thin edge":     shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 6e-3, Edge: 0.3e-3}, {X: 0.1, Width: 0.03, Spine: 6e-3, Edge: 0.3e-3}}},
		"convex":        shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 4e-3, Edge: 0.4e-3}, {X: 0.1, Width: 0.03, Spine: 4e-3, Edge: 0.4e-3}}, Grind: shape.ConvexGrind, Curve: 0.3e-3, Height: 0.7, Tang: shape.Tang{Length: 0.1}},
		"one-sided":     shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.05, Spine: 5e-3, Edge: 0.5e-3}, {X: 0.1, Width: 0.05, Spine: 5e-3, Edge: 0.5e-3}}, OneSided: true, Height: 0.5},
		"chisel":        shape.Chisel{Stock: shape.Bar{Form: shape.Hex, Width: 0.02, Length: 0.18}, Taper: 0.07, EdgeWidth: 0.022, EdgeThick: 2e-3},
		"round chisel":  shape.Chisel{Stock: shape.Bar{Form: shape.Round, Width: 0.02, Length: 0.18}, Taper: 0.07, EdgeWidth: 0.022, EdgeThick: 2e-3},
		"punch":         shape.Punch{Stock: shape.Bar{Form: shape.Octagon, Width: 0.016, Length: 0.15}, Taper: 0.05, Point: 2e-3},
		"drawknife":     shape.Drawknife{Length: 0.25, Width: 0.035, Spine: 5e-3, Edge: 0.6e-3, TangLength: 0.1, TangWidth: 0.012},
		"leaf spring":   shape.Spring{Length: 0.4, Width: 0.05, Middle: 6e-3, End: 3e-3},
		"froe":          shape.Froe{Length: 0.25, Width: 0.05, Spine: 8e-3, Edge: 2e-3, Eye: 0.035, Wall: 6e-3},
		"hatchet":       shape.Hatchet{Length: 0.15, Poll: 0.05, PollThick: 0.025, Eye: shape.Eye{At: 0.035, Long: 0.04, Wide: 0.018}, Cheek: 0.03, EdgeHeight: 0.09, EdgeThick: 1.5e-3},
		"hammer":        shape.Hammer{Length: 0.1, Face: shape.Bar{Form: shape.Octagon, Width: 0.03}, Body: 0.03, Eye: shape.Eye{At: 0.05, Long: 0.025, Wide: 0.016}, PeenWidth: 0.03, PeenThick: 6e-3},
		"hammer, round": shape.Hammer{Length: 0.1, Face: shape.Bar{Form: shape.Round, Width: 0.028}, Body: 0.03, Eye: shape.Eye{At: 0.05, Long: 0.025, Wide: 0.016}, PeenWidth: 0.03, PeenThick: 6e-3, PeenDistance: 0.02},
	} {
		s, err := b.Solid()
		for _, c := range []Cells{Whole, Section, {60, 20, 16, 0}} {
			m := mesh(t, s, err, c)
			f := NewField(m, 7650, 1100, austenite{})
			before := f.Energy()
			out, n, again := 0.0, 0, 0
			for i, l := range []law{radiation(293), robin(8000, 300), robin(12, 473)} {
				if c.Along == 60 {
					break
				}
				_, j, taken, refused := f.March([]float64{5, 5, 7200}[i], 0.01, Pace{Tolerance: 2}, austenite{}, l)
				out += j
				n += taken
				again += refused
			}
			if n > 150 || again > 10 {
				t.Errorf("%s %v: 5 s of air, 5 s of a strong film and a temper of two hours took %d steps, %d refused", name, c, n, again)
			}
			for i, temp := range f.T {
				if math.IsNaN(temp) || temp < 280 || temp > 1101 {
					t.Fatalf("%s %v: cell %d at %g K", name, c, i, temp)
				}
			}
			if d := math.Abs(before-f.Energy()-out) / before; d > 1e-9 {
				t.Errorf("%s %v: balance off by %.2g", name, c, d)
			}
			if m.Flat {
				continue
			}
			sum := total(m.Volume)
			if d := sum/s.Volume() - 1; math.Abs(d) > 0.01 && c.Along == 60 {
				t.Errorf("%s %v: mesh has %.4g m³, geometry %.4g (%+.1f %%)", name, c, sum, s.Volume(), 100*d)
			}
			var missing []string
			for _, z := range s.Zones {
				if m.Part(z.Name) == nil {
					missing = append(missing, z.Name)
				}
			}
			if len(missing) > 0 {
				t.Errorf("%s %v: no cells for %s", name, c, strings.Join(missing, ", "))
			}
			t.Logf("%-13s %v: %d steps, volume %+.2f %%", name, c, n, 100*(sum/s.Volume()-1))
		}
	}
}
