package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
)

// body is a plate or round in shells of equal thickness, for tests: explicit
// conduction in enthalpy form, so that its balance closes by itself.
type body struct {
	m           *Metal
	c           *Cells
	T, h, cp, k []float64
	area, vol   []float64 // outer area and volume of each shell per unit
	dx          float64
	t           float64
	side        float64 // loss of the sides to air [W/m³K]
	watch       func()  // called after each step
}

const density = 7800.0

func newBody(m *Metal, cond Condition, half float64, round bool, n int) *body {
	b := &body{m: m, c: NewCells(n), dx: half / float64(n)}
	m.Start(b.c, cond)
	for i := range n {
		r0, r1 := b.dx*float64(i), b.dx*float64(i+1)
		if round {
			b.area = append(b.area, 2*math.Pi*r1)
			b.vol = append(b.vol, math.Pi*(r1*r1-r0*r0))
		} else {
			b.area = append(b.area, 1)
			b.vol = append(b.vol, b.dx)
		}
		b.T = append(b.T, 293)
	}
	b.h, b.cp, b.k = make([]float64, n), make([]float64, n), make([]float64, n)
	return b
}

// soak heats the whole body to T at rate [K/s] and holds it.
func (b *body) soak(T, rate, hold float64) {
	one := NewCells(1)
	one.CopyCell(0, b.c, 0)
	at := b.T[0]
	step := func(T, dt float64) { b.m.Step(one, one, []float64{T}, dt) }
	for at < T {
		at = math.Min(T, at+2)
		step(at, 2/rate)
	}
	for range 100 {
		step(T, hold/100)
	}
	for i := range b.T {
		b.T[i] = T
		b.c.CopyCell(i, one, 0)
	}
}

// cool lets heat go by q(Ts) [W/m²] until every shell is under end [K] or most seconds are over.
func (b *body) cool(q func(T float64) float64, end, most float64) {
	n := len(b.T)
	dH := make([]float64, n)
	b.m.Fill(b.h, b.cp, b.k, b.T, b.c)
	for stop := b.t + most; b.t < stop; {
		hot := 0.0
		for _, T := range b.T {
			hot = math.Max(hot, T)
		}
		if hot < end {
			return
		}
		b.m.Fill(b.h, b.cp, b.k, b.T, b.c)
		dt := stop - b.t
		for i := range b.T {
			dt = math.Min(dt, 0.25*density*b.cp[i]*b.dx*b.dx/b.k[i])
			dH[i] = -b.side * (b.T[i] - 295) * b.vol[i]
		}
		last := n - 1
		flux := q(b.T[last]) // from the surface, half a shell out
		slope := (q(b.T[last]) - q(b.T[last]-1))
		flux /= 1 + slope*b.dx/2/b.k[last]
		out := flux * b.area[last]
		dt = math.Min(dt, 5*density*b.cp[last]*b.vol[last]/(math.Abs(out)+1e-9))
		dH[last] -= out
		for i := range last {
			k := 2 * b.k[i] * b.k[i+1] / (b.k[i] + b.k[i+1])
			f := k * (b.T[i] - b.T[i+1]) / b.dx * b.area[i]
			dH[i] -= f
			dH[i+1] += f
		}
		for i := range b.h {
			b.h[i] += dH[i] * dt / (density * b.vol[i])
		}
		b.m.Temperature(b.T, b.h, b.c)
		b.m.Step(b.c, b.c, b.T, dt)
		b.m.Temperature(b.T, b.h, b.c)
		b.t += dt
		if b.watch != nil {
			b.watch()
		}
	}
}

// hardened is the share of the core that is martensite or retained austenite.
func (b *body) hardened() float64 {
	return b.c.Fraction[steel.Martensite][0] + b.c.Fraction[steel.RetainedAustenite][0]
}

// bath returns the heat flux of a quenchant of the medium package, wetted, at T [K].
func bath(kind medium.Quenchant, T float64) func(float64) float64 {
	law := medium.Immersion{Kind: kind, T: T}.Law()
	f := &medium.Faces{T: []float64{0}, Wet: []float64{10}, Eps: []float64{0.8}, R: []float64{0}}
	q, dq := []float64{0}, []float64{0}
	return func(T float64) float64 {
		f.T[0] = T
		law.Fill(q, dq, f)
		return q[0]
	}
}

// severity is the constant coefficient of Grossmann's H [1/inch], h = 2kH with k = 30.
func severity(H, T float64) func(float64) float64 {
	h := 2 * 30 * H / 25.4e-3
	return func(Ts float64) float64 { return h * (Ts - T) }
}

// critical returns the diameter [m] whose center is half martensite.
func critical(t testing.TB, comp steel.Composition, cond Condition, T, hold float64, q func(float64) float64) float64 {
	t.Helper()
	m := metalOf(t, comp)
	lo, hi := 1e-3, 150e-3
	for hi/lo > 1.03 {
		d := math.Sqrt(lo * hi)
		b := newBody(m, cond, d/2, true, 7)
		b.soak(T, 5, hold)
		b.cool(q, 380, 1e4)
		if b.hardened() > 0.5 {
			lo = d
		} else {
			hi = d
		}
	}
	return math.Sqrt(lo * hi)
}

var metals = map[steel.Composition]*Metal{}

func metalOf(t testing.TB, comp steel.Composition) *Metal {
	t.Helper()
	if m, ok := metals[comp]; ok {
		return m
	}
	m, err := New(comp, nil)
	if err != nil {
		t.Fatal(err)
	}
	metals[comp] = m
	return m
}
