package conduction

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/heatwright/heatwright/shape"
)

func wedge(tb testing.TB) *shape.Solid {
	tb.Helper()
	s, err := shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 4e-3, Edge: 0.4e-3}, {X: 0.2, Width: 0.025, Spine: 3e-3, Edge: 0.4e-3}}}.Solid()
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func step(b *testing.B, c Cells) {
	m := mesh(b, wedge(b), nil, c)
	f := NewField(m, 7650, 1090, austenite{})
	air := radiation(293)
	f.Step(1e-3, austenite{}, air, nil)
	b.ReportAllocs()
	best := time.Hour // of all steps, as the bound is the best of its tries: others may be at work on this machine
	for b.Loop() {
		start := time.Now()
		f.Step(1e-3, austenite{}, air, nil)
		best = min(best, time.Since(start))
		f.Undo()
	}
	ns := float64(best.Nanoseconds()) / float64(m.Len())
	b.ReportMetric(ns, "best-ns/cell")
	b.ReportMetric(ns/bound(m), "of-bound")
}

// bound returns the time that one cell's arithmetic takes at least on this
// machine [ns]: the multiply-adds of a step, counted in the code, at the rate of scalar
// multiply-adds from the nearest cache, measured now. It leaves out divisions, memory
// and waiting.
//
//	planes: factor b(b+1)/2 + 2b, two stages of 4b, with b cells through the thickness
//	length: factor 5, two stages of 4;  per stage: 12 a direction, 6 more where it leans, 12 for temperatures
func bound(m *Mesh) float64 {
	ops := 24.0
	if b := float64(m.NK); m.split3() {
		ops += 2 * 13
	} else {
		ops += b*(b+1)/2 + 2*b + 8*b
	}
	directions := 2.0
	if !m.Flat {
		directions, ops = 3, ops+13
	}
	ops += 2 * 12 * directions
	for _, s := range m.skewed {
		if s != nil {
			ops += 2 * 6
		}
	}

	x := make([]float64, 1024)
	for i := range x {
		x[i] = 1 / float64(i+1)
	}
	best := math.Inf(1)
	var a0, a1, a2, a3, a4, a5, a6, a7 float64
	for range 20 {
		start := time.Now()
		for range 200 {
			for i := 0; i+8 <= len(x); i += 8 {
				y := x[i : i+8 : i+8]
				a0 += 0.5 * y[0]
				a1 += 0.5 * y[1]
				a2 += 0.5 * y[2]
				a3 += 0.5 * y[3]
				a4 += 0.5 * y[4]
				a5 += 0.5 * y[5]
				a6 += 0.5 * y[6]
				a7 += 0.5 * y[7]
			}
		}
		best = min(best, float64(time.Since(start).Nanoseconds())/(200*1024))
	}
	if a0+a1+a2+a3+a4+a5+a6+a7 == 0 {
		panic("conduction: the sum of positive numbers is 0")
	}
	return ops * best
}

// What one step costs: of a section, of a whole knife.
func BenchmarkSectionStep(b *testing.B) { step(b, Section) }
func BenchmarkWholeStep(b *testing.B)   { step(b, Whole) }

// The cost is linear from a thousand cells to a million: the time per cell stays.
func BenchmarkStepOfCells(b *testing.B) {
	for _, c := range []Cells{{10, 10, 10, 0}, {40, 25, 10, 0}, {100, 40, 25, 0}, {400, 100, 25, 0}} {
		b.Run(fmt.Sprint(c.Along*c.Across*c.Through), func(b *testing.B) { step(b, c) })
	}
}

// A whole heat and quench by conduction alone: 10 min in a forge, 3 s of air, a
// minute of oil, a temper of two hours.
func BenchmarkHeatQuenchTemper(b *testing.B) {
	oven := law(func(t float64) (float64, float64) {
		return 0.3*sigma*(math.Pow(t, 4)-math.Pow(473, 4)) + 10*(t-473), 1.2*sigma*t*t*t + 10
	})
	for _, c := range []Cells{Section, Whole} {
		b.Run(fmt.Sprint(c), func(b *testing.B) {
			m := mesh(b, wedge(b), nil, c)
			steps := 0
			for b.Loop() {
				f := NewField(m, 7650, 293, austenite{})
				steps = 0
				for i, l := range []law{radiation(1120), radiation(293), fastOil(), oven} {
					_, _, taken, refused := f.March([]float64{600, 3, 60, 7200}[i], 0.01, Pace{Tolerance: 2}, austenite{}, l)
					steps += taken + refused
				}
			}
			b.ReportMetric(float64(steps), "steps")
		})
	}
}

// fastOil has the shape of a boiling curve: a vapor film of 930 W/m²K, a peak of
// 4340 at 504 °C, convection of 200 (our own calibration to a standard probe; here only a hard test).
func fastOil() law {
	flux := func(t float64) float64 {
		th := t - 273.15
		if th > 504 {
			return max(930, 4340*math.Exp(-(th-504)*(th-504)/(116*116))) * (th - 50)
		}
		return max(200, 4340*math.Exp(-(th-504)*(th-504)/(127*127))) * (th - 50)
	}
	return func(t float64) (float64, float64) { q := flux(t); return q, (flux(t+0.2) - q) / 0.2 }
}

// Marching allocates nothing, on meshes solved by planes and by lines.
func TestStepAllocatesNothing(t *testing.T) {
	for _, c := range []Cells{Section, {6, 5, 4, 0}, {3, 8, 26, 0}} {
		m := mesh(t, wedge(t), nil, c)
		f := NewField(m, 7650, 1090, austenite{})
		oil := Boundary(fastOil())
		f.Step(0.1, austenite{}, oil, nil)
		if n := testing.AllocsPerRun(20, func() { f.Step(0.1, austenite{}, oil, nil); f.Undo() }); n > 0 {
			t.Errorf("%v: %g allocations per step", c, n)
		}
	}
}

// The results converge with the one tolerance: through vapor, boiling and
// convection, the error falls with it (derived: against a tolerance of a thousandth).
func TestToleranceRules(t *testing.T) {
	m := mesh(t, wedge(t), nil, Cells{0, 10, 4, 0})
	at := func(tol float64) []float64 {
		f := NewField(m, 7650, 1090, austenite{})
		f.March(4, 0.01, Pace{Tolerance: tol}, austenite{}, fastOil())
		return append([]float64(nil), f.T...)
	}
	exact := at(0.002)
	last := math.Inf(1)
	for _, tol := range []float64{8, 2, 0.5, 0.1} {
		worst := 0.0
		for c, v := range at(tol) {
			worst = max(worst, math.Abs(v-exact[c]))
		}
		t.Logf("tolerance %g K: %.3f K off", tol, worst)
		if worst > 2*tol || worst > last {
			t.Errorf("tolerance %g K: %.3f K off, before %.3f", tol, worst, last)
		}
		last = worst
	}
}

// A step that is taken back leaves no trace, and a fork goes the same way to the last bit.
func TestUndoSaveClone(t *testing.T) {
	m := mesh(t, wedge(t), nil, Cells{4, 6, 4, 0})
	f := NewField(m, 7650, 1090, austenite{})
	f.Step(0.2, austenite{}, fastOil(), nil)
	kept := f.Save(nil)
	g := f.Clone()
	f.Step(0.3, austenite{}, fastOil(), nil)
	first := f.Save(nil)
	f.Undo()
	same := func(what string, a, b State) {
		t.Helper()
		for i := range a {
			if a[i] != b[i] {
				t.Fatalf("%s: entry %d is %v, and %v", what, i, a[i], b[i])
			}
		}
	}
	same("undo", f.Save(nil), kept)
	g.Step(0.3, austenite{}, fastOil(), nil)
	same("clone", g.Save(nil), first)
	f.Restore(kept)
	f.Step(0.3, austenite{}, fastOil(), nil)
	same("restore", f.Save(nil), first)
}

// Meshes that cannot be are refused with value, limits and remedy.
func TestWrongMeshes(t *testing.T) {
	s := wedge(t)
	for _, c := range []Cells{{40, 0, 8, 0}, {-1, 4, 4, 0}, {4000, 400, 80, 0}} {
		if _, err := New(s, c); err == nil {
			t.Errorf("%v: no error", c)
		} else {
			t.Log(err)
		}
	}
	crossed := s.Clone()
	for i := range crossed.Sections {
		top := crossed.Sections[i].Top
		for j := range top {
			top[j].Z -= 3e-3
		}
		crossed.Sections[i].Back[1], crossed.Sections[i].Front[1] = top[0], top[len(top)-1]
	}
	if _, err := New(crossed, Section); err == nil {
		t.Error("bevels that cross each other: no error")
	} else {
		t.Log(err)
	}
}
