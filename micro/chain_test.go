package micro

import "github.com/heatwright/heatwright/steel"

// lump is a plate or round whose temperature is uniform: a heat balance for tests.
type lump struct {
	m *Metal
	c *Cells
	T float64
	// surface over volume [1/m]
	sv float64
	t  float64
}

// hold brings the lump to T [K] at rate [K/s] and keeps it for dt [s].
func (l *lump) hold(T, rate, dt float64) {
	for l.T != T {
		d := T - l.T
		if d > 2 {
			d = 2
		}
		if d < -2 {
			d = -2
		}
		l.T += d
		if d < 0 {
			d = -d
		}
		l.step(d / rate)
	}
	for n := 200.0; n > 0; n-- {
		l.step(dt / 200)
	}
}

func (l *lump) step(dt float64) {
	l.t += dt
	l.m.Step(l.c, l.c, []float64{l.T}, dt)
}

// cool lets heat out by q(T) [W/m²] until the lump is at end [K] or time is up.
func (l *lump) cool(q func(T float64) float64, end, most float64) {
	for stop := l.t + most; l.T > end && l.t < stop; {
		h, cp, k := []float64{0}, []float64{0}, []float64{0}
		l.m.Fill(h, cp, k, []float64{l.T}, l.c)
		flux := q(l.T)
		dt := 2 * cp[0] * 7850 / (flux*l.sv + 1)
		if dt > stop-l.t {
			dt = stop - l.t
		}
		h[0] -= flux * l.sv * dt / 7850
		T := []float64{l.T}
		l.m.Temperature(T, h, l.c)
		l.m.Step(l.c, l.c, T, dt)
		l.m.Temperature(T, h, l.c)
		l.T = T[0]
		l.t += dt
	}
}

// stillAir is radiation at emissivity 0.8 and free convection of a thin plate.
func stillAir(T float64) float64 {
	const sigma = 5.67e-8
	return 0.8*sigma*(T*T*T*T-293*293*293*293) + 10*(T-293)
}

func comp(pairs map[steel.Element]float64) steel.Composition {
	c := steel.Composition{steel.Si: 0.2, steel.Cr: 0.08, steel.Ni: 0.08, steel.Cu: 0.12, steel.Mo: 0.015}
	for e, x := range pairs {
		c[e] = x
	}
	return c
}

var (
	o1      = comp(map[steel.Element]float64{steel.C: 0.93, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.5, steel.W: 0.5, steel.V: 0.1})
	s1084   = comp(map[steel.Element]float64{steel.C: 0.84, steel.Mn: 0.75})
	s1095   = comp(map[steel.Element]float64{steel.C: 0.96, steel.Mn: 0.40})
	s1018   = comp(map[steel.Element]float64{steel.C: 0.18, steel.Mn: 0.75})
	s52100  = comp(map[steel.Element]float64{steel.C: 1.02, steel.Mn: 0.35, steel.Si: 0.25, steel.Cr: 1.45})
	s4140   = comp(map[steel.Element]float64{steel.C: 0.405, steel.Mn: 0.875, steel.Si: 0.25, steel.Cr: 0.95, steel.Mo: 0.2})
	s80crv2 = comp(map[steel.Element]float64{steel.C: 0.80, steel.Mn: 0.4, steel.Si: 0.3, steel.Cr: 0.55, steel.V: 0.2})
	s5160   = comp(map[steel.Element]float64{steel.C: 0.6, steel.Mn: 0.88, steel.Si: 0.25, steel.Cr: 0.8})
)
