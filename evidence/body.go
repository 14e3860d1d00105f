package evidence

import (
	"math"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// body is a row of cells of steel between two ends, the plainest geometry on
// which the metal can be held against hardenability tests: a long cylinder from
// axis to surface, or a bar from its quenched end along its length. Implicit in
// enthalpy; the metal moves between the steps of conduction at constant heat.
type body struct {
	metal *micro.Metal
	cells *micro.Cells
	heat  *steel.Thermal

	T, h, cp, k []float64 // [K], [J/kg], [J/kgK], [W/mK]
	volume      []float64 // [m³], per unit
	area        []float64 // between cell i and i+1 [m²]; the last is the surface
	gap         []float64 // center to center; the last is center to surface [m]
	side        []float64 // side face of each cell that loses heat to air [m²]

	quench func(Ts float64) (q, dq float64) // at the last face [W/m²], [W/m²K]
	air    float64                          // coefficient on the sides [W/m²K]

	a, b, c, d, guess, was, old []float64
	before                      *micro.Cells
}

const bodyDensity = 7800.0 // [kg/m³]

func newBody(n int) *body {
	slice := func() []float64 { return make([]float64, n) }
	return &body{
		T: slice(), h: slice(), cp: slice(), k: slice(), volume: slice(), area: slice(), gap: slice(), side: slice(),
		a: slice(), b: slice(), c: slice(), d: slice(), guess: slice(), was: slice(), old: slice(),
	}
}

// round returns a cylinder of that diameter [m] in rings that grow thin to the surface.
func round(diameter float64, n int) *body {
	b := newBody(n)
	edge := func(i int) float64 { // equal areas halfway to equal widths
		x := float64(i) / float64(n)
		return diameter / 2 * (0.5*x + 0.5*math.Sqrt(x))
	}
	for i := range n {
		r0, r1 := edge(i), edge(i+1)
		b.volume[i], b.area[i] = math.Pi*(r1*r1-r0*r0), 2*math.Pi*r1
		if i+1 < n {
			b.gap[i] = (edge(i+2)+r1)/2 - (r0+r1)/2
		} else {
			b.gap[i] = (r1 - r0) / 2
		}
	}
	return b
}

// endBar returns the end-quenched bar, 25 mm thick and 100 mm long, from its
// free end (cell 0) to the quenched one, in cells that grow thin to that end.
// It returns the distance of each center from the quenched end [m].
func endBar(n int) (b *body, at []float64) {
	const length, section, perimeter = 0.1, math.Pi * 0.0125 * 0.0125, math.Pi * 0.025
	b = newBody(n)
	at = make([]float64, n)
	edge := func(i int) float64 { x := 1 - float64(i)/float64(n); return length * (0.15*x + 0.85*x*x) } // from the quenched end
	for i := range n {
		z0, z1 := edge(i+1), edge(i)
		b.volume[i], b.area[i], b.side[i] = section*(z1-z0), section, perimeter*(z1-z0)
		at[i] = (z0 + z1) / 2
	}
	for i := range n {
		if i+1 < n {
			b.gap[i] = at[i] - at[i+1]
		} else {
			b.gap[i] = at[i]
		}
	}
	return b, at
}

// of fills the body with metal that is in one state and at one temperature [K].
func (b *body) of(s *specimen) {
	n := len(b.T)
	b.metal, b.heat = s.metal, s.metal.Thermal()
	b.cells, b.before = micro.NewCells(n), micro.NewCells(n)
	for i := range n {
		b.cells.CopyCell(i, s.cells, 0)
		b.T[i] = s.T[0]
	}
}

// run cools until stop says so or so many seconds have gone.
func (b *body) run(most float64, stop func(t float64) bool) {
	b.metal.Fill(b.h, b.cp, b.k, b.T, b.cells)
	dt := 1e-3
	for t := 0.0; t < most && !stop(t); {
		dt = min(dt, most-t)
		copy(b.was, b.T)
		b.before.Copy(b.cells)
		move := b.conduct(dt)
		change := b.metal.Step(b.cells, b.cells, b.T, dt)
		if (move > 12 || change.MaxFraction > 0.04) && dt > 2e-4 {
			copy(b.T, b.was)
			b.cells.Copy(b.before)
			dt /= 2
			continue
		}
		t += dt
		b.metal.Temperature(b.T, b.h, b.cells) // the heat of change at constant enthalpy
		if move < 6 && change.MaxFraction < 0.02 {
			dt *= 1.25
		}
	}
}

// conduct takes one implicit step; on return T is the temperature at frozen
// structure (but for martensite) and h the enthalpy. It returns the largest move [K].
func (b *body) conduct(dt float64) float64 {
	n := len(b.T)
	old := b.old
	b.metal.Fill(old, b.cp, b.k, b.T, b.cells)
	copy(b.guess, b.T)
	for range 12 {
		b.fill(dt)
		worst := 0.0
		for i := range n {
			mass := bodyDensity * b.volume[i] / dt
			f := mass*(b.h[i]-old[i]) + b.air*b.side[i]*(b.guess[i]-295)
			diag := mass*b.cp[i] + b.air*b.side[i]
			b.a[i], b.c[i] = 0, 0
			if i > 0 {
				g := b.conductance(i - 1)
				f += g * (b.guess[i] - b.guess[i-1])
				diag += g
				b.a[i] = -g
			}
			if i+1 < n {
				g := b.conductance(i)
				f += g * (b.guess[i] - b.guess[i+1])
				diag += g
				b.c[i] = -g
			} else {
				q, dq := b.surface(b.guess[i], b.k[i])
				f += q * b.area[i]
				diag += max(0, dq) * b.area[i]
			}
			b.b[i], b.d[i] = diag, -f
		}
		b.solve()
		for i := range n {
			step := min(60, max(-60, b.d[i]))
			b.guess[i] += step
			worst = max(worst, math.Abs(step))
		}
		if worst < 1e-4 {
			break
		}
	}
	b.fill(dt)
	move := 0.0
	for i := range n {
		move = max(move, math.Abs(b.guess[i]-b.T[i]))
		b.T[i] = b.guess[i]
	}
	return move
}

// fill returns h and cp at the guess. Martensite forms by temperature alone, so
// its heat stands with the heat capacity.
func (b *body) fill(dt float64) {
	b.metal.Fill(b.h, b.cp, nil, b.guess, b.cells)
	for i, T := range b.guess {
		if T > 720 {
			continue
		}
		if df, slope := b.metal.MartensiteBelow(b.cells, i, T, dt); slope < 0 {
			carbon := b.cells.Carbon[i]
			heat := b.heat.Enthalpy(steel.Martensite, T, carbon) - b.heat.Enthalpy(steel.Austenite, T, carbon)
			b.h[i] += df * heat
			b.cp[i] += slope * heat
		}
	}
}

func (b *body) conductance(i int) float64 {
	return 2 * b.k[i] * b.k[i+1] / (b.k[i] + b.k[i+1]) * b.area[i] / b.gap[i]
}

// surface returns the flux out of the last cell through half of it and the law.
func (b *body) surface(T, k float64) (q, dq float64) {
	g := k / b.gap[len(b.gap)-1]
	Ts := T
	for range 20 {
		law, slope := b.quench(Ts)
		f := g*(T-Ts) - law
		step := f / (g + max(0, slope))
		Ts += step
		if math.Abs(step) < 1e-6 {
			break
		}
	}
	q = g * (T - Ts)
	_, slope := b.quench(Ts)
	if slope > 0 {
		return q, g * slope / (g + slope)
	}
	return q, 0
}

// solve is the elimination of Thomas for the three diagonals; the answer is in d.
func (b *body) solve() {
	n := len(b.b)
	for i := 1; i < n; i++ {
		w := b.a[i] / b.b[i-1]
		b.b[i] -= w * b.c[i-1]
		b.d[i] -= w * b.d[i-1]
	}
	b.d[n-1] /= b.b[n-1]
	for i := n - 2; i >= 0; i-- {
		b.d[i] = (b.d[i] - b.c[i]*b.d[i+1]) / b.b[i]
	}
}

// constant is a surface with that coefficient [W/m²K] and liquid temperature [K].
func constant(h, bath float64) func(float64) (float64, float64) {
	return func(Ts float64) (float64, float64) { return h * (Ts - bath), h }
}

// hardened is the share of martensite with its retained austenite in cell i.
func (b *body) hardened(i int) float64 {
	f := &b.cells.Fraction
	return f[steel.Martensite][i] + f[steel.RetainedAustenite][i] + f[steel.Austenite][i]
}
