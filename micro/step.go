package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Change says how much a step moved, for whoever chooses the next.
type Change struct {
	MaxFraction float64 // largest change of a constituent in any cell [–]
}

// softenFrom is where carbide begins to coarsen and lamellae to break up within hours
// [K]: below 587 °C they take days.
const softenFrom = 860.0

// Step advances the state by dt [s] at temperatures T [K], one per cell, held over
// the step. dst may be src. Only the mechanisms that can act at T are run.
func (m *Metal) Step(dst, src *Cells, T []float64, dt float64) Change {
	return m.move(dst, src, T, nil, nil, dt)
}

// Move is [Metal.Step] of cells whose enthalpy is h [J/kg]: at holds the temperatures
// that they move at, T on entry those before they moved, on return those that
// the same enthalpy then gives. What did not move keeps its T.
func (m *Metal) Move(dst, src *Cells, at, T, h []float64, dt float64) Change {
	return m.move(dst, src, at, T, h, dt)
}

func (m *Metal) move(dst, src *Cells, at, T, h []float64, dt float64) Change {
	if len(at) != src.N {
		panic("micro: len(T) ≠ cells")
	}
	if dst != src {
		dst.Copy(src)
	}
	mix := dst.mixture()
	most := 0.0
	f := &dst.Fraction
	for i, t := range at {
		if m.still(dst, i, t) {
			if f[steel.RetainedAustenite][i] > 0 {
				dst.Age[i] += dt
			}
			continue
		}
		aus, mar, pea := f[steel.Austenite][i]+f[steel.RetainedAustenite][i], f[steel.Martensite][i], f[steel.Pearlite][i]
		bai, fer, car := f[steel.Bainite][i], f[steel.Ferrite][i], f[steel.Carbide][i]
		m.stepCell(dst, i, t, dt)
		if h != nil {
			T[i] = m.thermal.TemperatureOf(i, T[i], h[i], &mix)
		}
		// Austenite is called retained once martensite has formed beside it: a new name, not a change.
		most = max(most, math.Abs(f[steel.Austenite][i]+f[steel.RetainedAustenite][i]-aus), math.Abs(f[steel.Martensite][i]-mar),
			math.Abs(f[steel.Pearlite][i]-pea), math.Abs(f[steel.Bainite][i]-bai), math.Abs(f[steel.Ferrite][i]-fer), math.Abs(f[steel.Carbide][i]-car))
	}
	return Change{MaxFraction: most}
}

// Still tells whether no cell changes at temperatures T [K], however long they are held.
func (m *Metal) Still(c *Cells, T []float64) bool {
	ret := c.Fraction[steel.RetainedAustenite]
	for i, t := range T {
		if ret[i] > 0 || !m.still(c, i, t) {
			return false
		}
	}
	return true
}

// still tells it of one cell; retained austenite in it only ages.
func (m *Metal) still(c *Cells, i int, T float64) bool {
	f := &c.Fraction
	if f[steel.Austenite][i] > 0 {
		return false
	}
	if T < m.temperFrom && T >= c.Lowest[i] {
		return true
	}
	// Ferrite and pearlite, too cool to soften.
	return T < softenFrom && f[steel.RetainedAustenite][i] == 0 && f[steel.Martensite][i] == 0 && f[steel.Bainite][i] == 0
}

// stepCell advances one cell.
func (m *Metal) stepCell(c *Cells, i int, T, dt float64) {
	if c.Lack[i] > 0 {
		m = m.leaner(c.Lack[i])
	}
	f := &c.Fraction
	if T > m.ae1 {
		if f[steel.Austenite][i] > 0.5 && T < m.upper && m.supersaturated(c, i, T) {
			m.cool(c, i, T, dt)
			return
		}
		n := m.turns(c, i, T, dt)
		for range n {
			m.heat(c, i, T, dt/float64(n))
		}
		return
	}
	if f[steel.Austenite][i] > 0 {
		m.cool(c, i, T, dt)
	}
	if f[steel.RetainedAustenite][i] > 0 && T < c.ms[i] {
		m.formMartensite(c, i, T, dt)
	} else if f[steel.Martensite][i]+f[steel.RetainedAustenite][i] > 0 && c.Age[i] < 30*incubation {
		c.Age[i] += dt
	}
	if T < m.temperFrom {
		return
	}
	if f[steel.Martensite][i] > 0 || f[steel.RetainedAustenite][i] > 0 || f[steel.Bainite][i] > 0 {
		m.temperCell(c, i, T, dt)
	}
	if T > softenFrom && (f[steel.Pearlite][i] > 0 || f[steel.Carbide][i] > 0 && f[steel.Ferrite][i] > 0) {
		m.soften(c, i, T, dt)
	}
}

// atOnce is how much of the carbide's way into solution is gone at once [–]: of
// several sizes the fine ones go first, and what is left is slower from there on.
// With 0.02 a soak in steps of 2 s dissolves what one in steps of 0.02 s does within 0.002 wt % C (0.025 in one turn).
const (
	atOnce    = 0.06
	mostTurns = 4
)

// turns returns in how many parts a step of dt [s] above Ae1 is taken.
func (m *Metal) turns(c *Cells, i int, T, dt float64) int {
	if c.Fraction[steel.Carbide][i] < 1e-4 {
		return 1
	}
	k, w := at(T)
	x := (m.hot[k].dissolve + w*(m.hot[k+1].dissolve-m.hot[k].dissolve)) * c.surface[i] * dt * (1 / atOnce)
	return int(min(x, mostTurns-1)) + 1
}

// supersaturated tells whether austenite above Ae1 is on its way down: ferrite or
// carbide wants to form and nothing is left to dissolve.
func (m *Metal) supersaturated(c *Cells, i int, T float64) bool {
	f := &c.Fraction
	if f[steel.Pearlite][i]+f[steel.Bainite][i]+f[steel.Martensite][i] > 1e-6 {
		return false
	}
	k, w := at(T)
	a, b := &m.cold[k], &m.cold[k+1]
	if m.hypo {
		return f[steel.Carbide][i] < 1e-6 && c.Carbon[i] < 0.98*(a.ferriteC+w*(b.ferriteC-a.ferriteC))
	}
	return f[steel.Ferrite][i] < 1e-6 && c.Carbon[i] > 1.01*(a.carbideC+w*(b.carbideC-a.carbideC))
}
