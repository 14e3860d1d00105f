package sim

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"sync"
	"testing"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

func asJSON(t *testing.T, h *History) []byte {
	t.Helper()
	b, err := json.Marshal(h)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The same job gives the same bytes, also when others run beside it.
func TestSameBytes(t *testing.T) {
	s := knife(t)
	var wg sync.WaitGroup
	out := make([][]byte, 4)
	for i := range out {
		wg.Go(func() {
			h, err := s.Run(context.Background(), Options{Section: true}, nil)
			if err != nil {
				t.Error(err)
				return
			}
			out[i] = asJSON(t, h)
		})
	}
	wg.Wait()
	for i := range out {
		if !bytes.Equal(out[0], out[i]) {
			t.Fatalf("run %d differs from the first", i)
		}
	}
}

// A fork goes exactly as the march alone would have gone, and does not disturb
// it; so does a march that was put back to a snapshot.
func TestForkIsExact(t *testing.T) {
	s := knife(t)
	ctx := context.Background()
	straight, err := s.Run(ctx, Options{Section: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := asJSON(t, straight)
	m, err := s.March(Options{Section: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, stage := range []int{1, 6, 8, 9} { // in air, in the pipe, in the oil, in the kiln
		if err := m.Until(ctx, func(m *March) bool { return m.Stage() >= stage }); err != nil {
			t.Fatal(err)
		}
		for range 7 {
			if err := m.Step(); err != nil {
				t.Fatal(err)
			}
		}
		kept := m.Snapshot()
		f := m.Fork()
		if err := f.Finish(ctx, nil); err != nil {
			t.Fatal(err)
		}
		h, err := f.History()
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(want, asJSON(t, h)) {
			t.Fatalf("a fork in stage %d goes its own way", stage)
		}
		for range 5 { // wander off, and come back
			if err := m.Step(); err != nil {
				t.Fatal(err)
			}
		}
		m.Restore(kept)
	}
	if err := m.Finish(ctx, nil); err != nil {
		t.Fatal(err)
	}
	h, err := m.History()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, asJSON(t, h)) {
		t.Fatal("the march that was forked and restored differs from the straight one")
	}
}

// Energy, carbon, iron and fractions close to 1e-6 in every run; in fact far better.
func TestBooksClose(t *testing.T) {
	for _, name := range []string{"knife.toml", "o1_soft.toml", "1095_flat.toml"} {
		h := runOf(t, load(t, name))
		for what, x := range map[string]float64{"energy": h.Balance.Energy, "carbon": h.Balance.Carbon, "iron": h.Balance.Iron, "fractions": h.Balance.Fractions} {
			if x > 1e-9 {
				t.Errorf("%s: %s is off by %.2g", name, what, x)
			}
		}
	}
}

// A balance that does not close fails the run.
func TestBooksFail(t *testing.T) {
	if err := (Balance{Energy: 2e-6}).check(); err == nil {
		t.Error("an energy balance off by 2e-6 passes")
	}
	if err := (Balance{Carbon: math.NaN()}).check(); err == nil {
		t.Error("a balance that is not a number passes")
	}
	m, err := knife(t).March(Options{Section: true, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := m.Until(context.Background(), func(m *March) bool { return m.Clock() > 20 }); err != nil {
		t.Fatal(err)
	}
	m.now.field.H[5] *= 1.001 // heat from nowhere
	if _, err := m.History(); err == nil {
		t.Error("heat from nowhere is not noticed")
	}
}

// austenitic is a steel that stays austenite in air for the time of these checks,
// so that no heat of change disturbs them: O1 type, all dissolved.
func austenitic(t *testing.T, solid *shape.Solid, heat, seconds float64) *Setup {
	t.Helper()
	g, err := steel.Find("O1")
	if err != nil {
		t.Fatal(err)
	}
	s := &Setup{Name: "check", Solid: solid, Steel: g.Nominal(), Start: micro.StartState{Condition: micro.Spheroidized}, Shop: demoShop()}
	s.Shop.Ovens[0].Swing.Known = true
	s.Stages = []Stage{
		at("heat", route.Stage{Verb: route.Heat, Role: route.Heating, In: "kiln", Until: route.Ending{Kind: route.ByTemp, Temp: unit.Temp(heat + kelvin), Zone: "core"}, Hold: 1}, heat+3),
		at("carry", route.Stage{Verb: route.Carry, Role: route.Carrying, Until: route.Ending{Kind: route.ByTime, Time: seconds}}, 0),
	}
	return s
}

// A bare plate of 0.4 mm from 815 °C in still air follows the lumped solution
// within 3 % of its fall. The lumped plate is integrated here by itself: radiation with
// the emissivity 0.8 of scaled steel, natural convection on a vertical plate
// (churchill-chu-1975), density 7850 and the enthalpy of austenite.
func TestThinPlateIsLumped(t *testing.T) {
	const thick, width = 0.4e-3, 25e-3
	solid, err := shape.Bar{Form: shape.Flat, Width: width, Thickness: thick, Length: 0.15}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	s := austenitic(t, solid, 815, 8)
	m, err := s.March(Options{Section: true, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	if err := m.Until(ctx, func(m *March) bool { return m.Stage() == 1 }); err != nil {
		t.Fatal(err)
	}
	core := m.mesh.Part("core")
	for i := range m.now.skin.Oxide { // all scaled, none insulating
		m.now.skin.Oxide[i] = 8.1e-6
	}
	m.wrap()
	start := m.clock
	T := core.Mean(m.now.field.T)
	c := m.now.cells.Carbon[core.Cell[0]]
	thermal := steel.Properties(s.Steel)
	aus := m.now.cells.Fraction[steel.Austenite][core.Cell[0]]
	cp := func(T float64) float64 {
		return aus*thermal.HeatCapacity(steel.Austenite, T, c) + (1-aus)*thermal.HeatCapacity(steel.Carbide, T, 6.67)
	}
	const air = 20 + kelvin
	perimeter, area := 2*(width+thick), width*thick
	lumped, clock := T, 0.0
	for _, at := range []float64{1, 2, 4} {
		for ; clock < at-1e-9; clock += 1e-3 {
			h := medium.Convection(lumped, air, width, medium.Upright, 0)
			q := 0.8*medium.Sigma*(math.Pow(lumped, 4)-math.Pow(air, 4)) + h*(lumped-air)
			lumped -= 1e-3 * q * perimeter / (density * area * cp(lumped))
		}
		if err := m.UntilTime(ctx, start+at); err != nil {
			t.Fatal(err)
		}
		got := core.Mean(m.now.field.T)
		t.Logf("%g s: %.1f °C, lumped %.1f", at, got-kelvin, lumped-kelvin)
		if d := math.Abs(got-lumped) / (T - lumped); d > 0.03 {
			t.Errorf("after %g s %.1f °C, lumped %.1f: off by %.1f %% of the fall", at, got-kelvin, lumped-kelvin, 100*d)
		}
	}
}

// An edge of 0.4 mm on a wedge of 25 mm up to 4 mm, from 815 °C in still air:
// the spine feeds the edge. Against two independent integrations of a fin of
// variable thickness (own-check-fin), which agree within 8 K.
func TestEdgeIsAFin(t *testing.T) {
	solid, err := shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.025, Spine: 0.004, Edge: 0.0004}, {X: 0.15, Width: 0.025, Spine: 0.004, Edge: 0.0004}}}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	m, err := austenitic(t, solid, 815, 9).March(Options{Section: true, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	if err := m.Until(ctx, func(m *March) bool { return m.Stage() == 1 }); err != nil {
		t.Fatal(err)
	}
	for i := range m.now.skin.Oxide {
		m.now.skin.Oxide[i] = 8.1e-6
	}
	m.wrap()
	start := m.clock
	// The check starts from an even 815 °C.
	off := m.mesh.Part("core").Mean(m.now.field.T) - (815 + kelvin)
	for _, c := range []struct{ at, edge, spine float64 }{{1, 763, 799}, {2, 731, 788}, {4, 687, 766}, {6, 654, 745}, {8, 628, 725}} {
		if err := m.UntilTime(ctx, start+c.at); err != nil {
			t.Fatal(err)
		}
		// The very edge: the last cells across.
		edge, n := 0.0, 0
		for k := range m.mesh.NK {
			edge += m.now.field.T[(m.mesh.NJ-1)*m.mesh.NK+k]
			n++
		}
		edge = edge/float64(n) - kelvin - off
		spine := m.now.field.T[m.mesh.NK/2] - kelvin - off
		t.Logf("%g s: edge %.1f (%.0f), spine %.1f (%.0f)", c.at, edge, c.edge, spine, c.spine)
		if math.Abs(edge-c.edge) > 8 || math.Abs(spine-c.spine) > 8 {
			t.Errorf("after %g s edge %.1f °C, spine %.1f; want %.0f and %.0f within 8 K", c.at, edge, spine, c.edge, c.spine)
		}
	}
}

// A march that is varied by nothing ends where it would have ended: what a spread
// finds is what was changed.
func TestVaryByNothing(t *testing.T) {
	s, err := Prepare(load(t, "knife.toml"))
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	straight, err := s.Run(ctx, Options{Section: true, Quick: true, NoSeries: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	m, err := s.March(Options{Section: true, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	for k := range s.Stages {
		if err := m.Until(ctx, func(m *March) bool { return m.Stage() >= k }); err != nil {
			t.Fatal(err)
		}
		if m.Stage() != k { // an act is no stay
			continue
		}
		f, err := m.Vary(s.Clone(), Options{Quick: true, NoSeries: true})
		if err != nil {
			t.Fatal(err)
		}
		if err := f.Finish(ctx, nil); err != nil {
			t.Fatal(err)
		}
		h, err := f.History()
		if err != nil {
			t.Fatal(err)
		}
		if len(h.Steps) != len(straight.Steps) {
			t.Fatalf("from stage %d: %d steps, want %d", k, len(h.Steps), len(straight.Steps))
		}
		for z := range h.Zones {
			if d := math.Abs(h.Zones[z].HardnessHV.Value - straight.Zones[z].HardnessHV.Value); d > 2 {
				t.Errorf("from stage %d: %s differs by %.1f HV", k, h.Zones[z].Name, d)
			}
		}
		for i := range h.Steps {
			a, b := &h.Steps[i], &straight.Steps[i]
			if d := math.Abs((a.End - a.Start) - (b.End - b.Start)); d > 0.02*(b.End-b.Start)+0.5 {
				t.Errorf("from stage %d: step %d (%s) takes %.1f s, straight %.1f", k, i, a.Name, a.End-a.Start, b.End-b.Start)
			}
		}
	}
}
