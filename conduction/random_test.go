package conduction

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/heatwright/heatwright/shape"
)

// Sixty pieces of chance measures march through fire, water and a long temper
// without a NaN, without losing a joule and in few steps.
func TestChancePieces(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	between := func(a, b float64) float64 { return a * math.Pow(b/a, r.Float64()) }
	grinds := []shape.Bevel{shape.FlatGrind, shape.ConvexGrind, shape.HollowGrind}
	forms := []shape.Form{shape.Flat, shape.Round, shape.Square, shape.Hex, shape.Octagon}
	for n := range 60 {
		var b solid
		if n%2 == 0 {
			spine := between(1e-3, 8e-3)
			edge := between(0.1e-3, spine)
			w := between(8e-3, 60e-3)
			b = shape.Blade{
				Stations: []shape.Station{{X: 0, Width: w, Spine: spine, Edge: edge}, {X: 0.1, Width: w * between(0.7, 1), Spine: spine, Edge: edge}, {X: 0.15, Width: w * between(0.1, 0.6), Spine: between(0.6, 1) * spine, Edge: 0.6 * edge}},
				Grind:    grinds[n/2%3], Curve: 0.1 * (spine - edge), Height: between(0.3, 1), OneSided: n%4 == 0,
				Tang: shape.Tang{Length: between(0.02, 0.1), Width: between(0.3, 1) * w},
			}
		} else {
			b = shape.Bar{Form: forms[n/2%5], Width: between(2e-3, 50e-3), Thickness: between(0.5e-3, 20e-3), Length: between(0.02, 0.4)}
		}
		s, err := b.Solid()
		if err != nil {
			t.Fatalf("%d: %v", n, err)
		}
		cells := Section
		if n%3 == 0 {
			cells = Cells{16, 8, 4, 0}
		}
		m := mesh(t, s, nil, cells)
		f := NewField(m, 7850, 293, austenite{})
		start, out, steps := f.Energy(), 0.0, 0
		water := law(func(t float64) (float64, float64) {
			h := func(t float64) float64 {
				return (400 + 18000*math.Exp(-(t-550)*(t-550)/(90*90))) * (t - 293)
			}
			return h(t), (h(t+0.1) - h(t)) / 0.1
		})
		for i, l := range []law{radiation(1500), water, robin(10, 473)} {
			_, j, taken, refused := f.March([]float64{300, 10, 7200}[i], 0.01, Pace{Tolerance: 2}, austenite{}, l)
			out += j
			steps += taken + refused
		}
		if d := math.Abs(start - f.Energy() - out); !(d < 1e-9*math.Abs(start)+1e-9*math.Abs(out)+1e-6) {
			t.Errorf("%d %+v: balance off by %g J", n, b, d)
		}
		for c, T := range f.T {
			if !(T > 280 && T < 1510) {
				t.Fatalf("%d %+v: cell %d is at %g K", n, b, c, T)
			}
		}
		if steps > 2500 {
			t.Errorf("%d %+v %v: %d steps", n, b, cells, steps)
		}
	}
}
