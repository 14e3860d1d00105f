package verification

import (
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/shape"
)

// made is a field chosen beforehand; the source and the wall that make it the
// solution of the heat equation with k = 15 + 0.0135 θ follow by differentiation.
//
//	T = 900 + 200 sin(40x + 0.4) cos(60y) cosh(80z) [K]
type made struct{ faces *conduction.Faces }

func (made) value(x, y, z float64) float64 {
	return 900 + 200*math.Sin(40*x+0.4)*math.Cos(60*y)*math.Cosh(80*z)
}

func (made) gradient(x, y, z float64) (gx, gy, gz float64) {
	s, c := math.Sincos(40*x + 0.4)
	sy, cy := math.Sincos(60 * y)
	ch, sh := math.Cosh(80*z), math.Sinh(80*z)
	return 200 * 40 * c * cy * ch, -200 * 60 * s * sy * ch, 200 * 80 * s * cy * sh
}

func conductivity(t float64) float64 { return 15 + 0.0135*(t-273.15) }

// source returns −∇·(k∇T) [W/m³].
func (f made) source(x, y, z float64) float64 {
	gx, gy, gz := f.gradient(x, y, z)
	t := f.value(x, y, z)
	laplace := (-40*40 - 60*60 + 80*80) * (t - 900)
	return -0.0135*(gx*gx+gy*gy+gz*gz) - conductivity(t)*laplace
}

// Fill lets the chosen field's own flux out, and 3000 W/m²K for every kelvin the surface is off.
func (f made) Fill(q, dq, Ts []float64) {
	a := f.faces
	for i, t := range Ts {
		x, y, z := a.X[i], a.Y[i], a.Z[i]
		gx, gy, gz := f.gradient(x, y, z)
		v := f.value(x, y, z)
		q[i] = -conductivity(v)*(gx*a.NX[i]+gy*a.NY[i]+gz*a.NZ[i]) + 3000*(t-v)
		dq[i] = 3000
	}
}

// tapered returns a body that narrows, thins, leans and is bent along its length.
func tapered() *shape.Solid {
	a, b := rectangle(0.03, 0.012), rectangle(0.018, 0.005)
	b.U = 1
	b.Frame = shape.Frame{X: 0.05, Y: 0.004, Z: 0.003, Pitch: 0.15, Yaw: -0.1}
	return &shape.Solid{Form: shape.Flat, Sections: []shape.Section{a, b}, Cut: 0.5}
}

// manufactured returns the order of convergence in space on the tapered body.
func manufactured() []Case {
	errors := make([]float64, 0, 3)
	for _, n := range []int{6, 12, 24} {
		m := divide(tapered(), n, n, n)
		want := made{&m.Faces}
		f := conduction.NewField(m, 7800, 900, austenite{})
		source := make([]float64, m.Len())
		for c := range source {
			source[c] = want.source(m.X[c], m.Y[c], m.Z[c]) * m.Volume[c]
			f.T[c] = want.value(m.X[c], m.Y[c], m.Z[c])
		}
		work := make([]float64, m.Len())
		austenite{}.Fill(f.H, work, make([]float64, m.Len()), f.T)
		// The slowest time of the body is L²/π²k·ρc, about 30 s; the steady state is reached from the chosen field.
		for range 400 {
			f.Step(2, austenite{}, want, source)
		}
		sum, volume := 0.0, 0.0
		for c, v := range m.Volume {
			d := f.T[c] - want.value(m.X[c], m.Y[c], m.Z[c])
			sum += v * d * d
			volume += v
		}
		errors = append(errors, math.Sqrt(sum/volume))
	}
	how := "6³, 12³ and 24³ cells on a body that narrows, thins, leans and bends; k varies with temperature; root mean square error"
	return []Case{
		{Problem: "Manufactured solution on a tapered body", Quantity: "order in space, 6 to 12 cells", Unit: "–", Want: 1.9, Got: math.Log2(errors[0] / errors[1]), Bound: "least", Source: "roache-2002", How: how},
		{Problem: "Manufactured solution on a tapered body", Quantity: "order in space, 12 to 24 cells", Unit: "–", Want: 1.9, Got: math.Log2(errors[1] / errors[2]), Bound: "least", Source: "roache-2002", How: how},
		{Problem: "Manufactured solution on a tapered body", Quantity: "error at 24 cells", Unit: "K", Want: 0.5, Got: errors[2], Bound: "most", Source: "roache-2002", How: how},
	}
}

// timeOrder halves the step in a section that radiates and conducts with varying properties.
func timeOrder() []Case {
	m := divide(blade(shape.Station{X: 0, Width: 0.03, Spine: 4e-3, Edge: 0.5e-3}, shape.Station{X: 0.1, Width: 0.03, Spine: 4e-3, Edge: 0.5e-3}), 0, 10, 4)
	end := func(steps int) []float64 {
		f := conduction.NewField(m, 7800, 1200, austenite{})
		for range steps {
			f.Step(40/float64(steps), austenite{}, radiation(0.8, 293.15), nil)
		}
		return f.T
	}
	exact := end(5120)
	distance := func(T []float64) float64 {
		worst := 0.0
		for c, t := range T {
			worst = max(worst, math.Abs(t-exact[c]))
		}
		return worst
	}
	a, b := distance(end(80)), distance(end(160))
	return []Case{
		{Problem: "Step halved in a radiating edge", Quantity: "order in time", Unit: "–", Want: 1.9, Got: math.Log2(a / b), Bound: "least", Source: "roache-2002", How: "10 × 4 cells, 40 s in 80 and 160 steps against 5120"},
	}
}
