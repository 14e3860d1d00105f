package conduction

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/shape"
)

// A bare 0.4 mm plate in still air follows the lumped balance (derived: the
// Biot number is 0.001), integrated here by itself with small steps.
func TestThinPlateIsLumped(t *testing.T) {
	s, err := flat(0.025, 0.4e-3, 0.1)
	m := mesh(t, s, err, Cells{0, 14, 8, 0})
	f := NewField(m, 7650, 815+273.15, austenite{})
	air := stillAir(0.025)
	perimeter, area := 2*(0.025+0.4e-3), 0.025*0.4e-3
	lump, at, dt := 815+273.15, 0.0, 0.01
	for _, until := range []float64{1, 2, 4, 8} {
		var taken int
		dt, _, taken, _ = f.March(until-at, dt, Pace{}, austenite{}, air)
		for ; at < until-1e-9; at += 1e-3 {
			q, _ := air(lump)
			lump -= 1e-3 * q * perimeter / (7650 * area * (500 + 0.133*(lump-273.15)))
		}
		core := f.T[m.index(0, 7, 4)]
		t.Logf("%g s: %.1f °C, lumped %.1f °C, %d steps", until, core-273.15, lump-273.15, taken)
		if d := math.Abs(core-lump) / (815 - (lump - 273.15)); d > 0.03 {
			t.Errorf("%g s: %.1f °C, lumped balance gives %.1f: %.1f %% of the drop", until, core-273.15, lump-273.15, 100*d)
		}
	}
}

// An edge of 0.4 mm under a spine of 4 mm, 25 mm wide, in still air, against a
// fin of variable thickness integrated here on its own fine grid (derived:
// temperature uniform through the thickness). Printed check values of a second calculation: edge
// 763/731/687/654/628 °C and spine 799/788/766/745/725 °C at 1/2/4/6/8 s.
func TestEdgeIsAFin(t *testing.T) {
	s, err := shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.025, Spine: 4e-3, Edge: 0.4e-3}, {X: 0.1, Width: 0.025, Spine: 4e-3, Edge: 0.4e-3}}}.Solid()
	m := mesh(t, s, err, Section)
	f := NewField(m, 7650, 815+273.15, austenite{})
	air := stillAir(0.025)

	const n = 100
	var fin [n]float64
	for i := range fin {
		fin[i] = 815
	}
	dx := 0.025 / n
	thick := func(x float64) float64 { return 4e-3 + x/0.025*(0.4e-3-4e-3) }
	at, dt := 0.0, 0.01
	const h = 5e-4
	want := map[float64][2]float64{1: {763, 799}, 2: {731, 788}, 4: {687, 766}, 6: {654, 745}, 8: {628, 725}}
	for _, until := range []float64{1, 2, 4, 6, 8} {
		dt, _, _, _ = f.March(until-at, dt, Pace{}, austenite{}, air)
		for ; at < until-1e-9; at += h {
			old := fin
			for i := range fin {
				k := func(a, b int) float64 { return 15 + 0.0135*(old[a]+old[b])/2 }
				in := 0.0
				if i > 0 {
					in += k(i, i-1) * thick(dx*float64(i)) * (old[i-1] - old[i]) / dx
				}
				if i < n-1 {
					in += k(i, i+1) * thick(dx*float64(i+1)) * (old[i+1] - old[i]) / dx
				}
				q, _ := air(old[i] + 273.15)
				x := dx * (float64(i) + 0.5)
				out := 2 * q * dx
				switch i {
				case 0:
					out += q * 4e-3
				case n - 1:
					out += q * 0.4e-3
				}
				fin[i] += h * (in - out) / (7650 * thick(x) * dx * (500 + 0.133*old[i]))
			}
		}
		edge, spine := f.T[m.index(0, m.NJ-1, 4)]-273.15, f.T[m.index(0, 0, 4)]-273.15
		t.Logf("%g s: edge %.1f (fin %.1f), spine %.1f (fin %.1f)", until, edge, fin[n-1], spine, fin[0])
		for _, c := range []struct{ got, fin, printed float64 }{{edge, fin[n-1], want[until][0]}, {spine, fin[0], want[until][1]}} {
			if math.Abs(c.got-c.fin) > 8 || math.Abs(c.got-c.printed) > 8 {
				t.Errorf("%g s: %.1f °C, own fin %.1f, printed %g", until, c.got, c.fin, c.printed)
			}
		}
	}
}

// What leaves through the faces is what the cells lose, to rounding, whatever
// the step and the shape (derived).
func TestHeatOutEqualsHeatLost(t *testing.T) {
	blade, err := shape.Blade{
		Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 4e-3, Edge: 0.3e-3}, {X: 0.12, Width: 0.028, Spine: 3e-3, Edge: 0.3e-3}, {X: 0.16, Width: 0.006, Spine: 2e-3, Edge: 0.3e-3}},
		Tang:     shape.Tang{Length: 0.06, Width: 0.015, EndWidth: 0.008},
	}.Solid()
	for _, c := range []Cells{{0, 14, 8, 0}, {20, 8, 4, 0}, {1, 1, 6, 0}} {
		m := mesh(t, blade, err, c)
		f := NewField(m, 7650, 1090, austenite{})
		start := f.Energy()
		total := 0.0
		for _, dt := range []float64{1e-3, 0.1, 3, 200} {
			r := f.Step(dt, austenite{}, radiation(293), nil)
			total += r.Joules
		}
		if d := math.Abs(start-f.Energy()-total) / math.Abs(total); d > 1e-11 {
			t.Errorf("%v: lost %.9g J, %.9g J came out: %.2g apart", c, start-f.Energy(), total, d)
		}
	}
}
