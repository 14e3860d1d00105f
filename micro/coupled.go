package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// brink is how close above its next martensite a cell already has the slope of
// forming it [K]: a cell that cools starts every step exactly there.
const brink = 0.5

// MartensiteBelow returns how much martensite cell i would gain if it came to T
// [K] within dt [s], and the slope of that by T [1/K]: negative. Martensite waits for no
// time, so its heat belongs into the heat capacity by which the cell cools;
// whoever froze it for a step would cool the cell too far and get too much of it.
func (m *Metal) MartensiteBelow(c *Cells, i int, T, dt float64) (df, slope float64) {
	left := c.Fraction[steel.RetainedAustenite][i] + c.Fraction[steel.Austenite][i]
	if left < 1e-6 || c.ready[i] == 0 {
		return 0, 0
	}
	low := c.Lowest[i]
	if c.ready[i] == 2 {
		low = c.ms[i]
	}
	if T >= low+brink {
		return 0, 0
	}
	if late := T + stabilization(low, c.Age[i]+dt); late >= low {
		if late < low+brink {
			slope = -c.msRate[i] * left
		}
		return 0, slope
	}
	T, _ = lagged(low, T, c.Age[i], dt)
	rest := left * exp(-c.msRate[i]*(low-T))
	return left - rest, -c.msRate[i] * rest
}

// AnnealedRadius returns the mean carbide radius of spheroidized stock of this
// composition, when nothing is known of the bar [m]: chromium keeps it smaller.
func AnnealedRadius(comp steel.Composition) float64 {
	return annealedRadius * 1e-6 * math.Sqrt(1/(1+0.6*min(1.5, comp[steel.Cr])))
}

const (
	settled     = 0.6 // a cell has moved at the temperature that it ends with, within this [K]
	mostSettles = 12
)

// Settle moves cell i by dt [s] from src to dst at the temperature that it ends
// with, given its enthalpy h [J/kg], and returns that temperature [K] and its
// largest change of a constituent. at is a temperature that was tried and T what it ended with.
//
// A change that takes or gives much heat and is driven by a few kelvins, as that
// to austenite above Ae1, holds its own temperature; moved at one that is foretold without
// it, it would jump to and fro. The end falls with the temperature of the move,
// so that the two meet once; they are brought together by regula falsi.
func (m *Metal) Settle(dst, src *Cells, i int, at, T, h, dt float64) (end, change float64) {
	var lo, hi, missLo, missHi float64 // miss = end − at: positive at lo, negative at hi
	for k := 0; ; k++ {
		if miss := T - at; miss > 0 {
			if missLo > 0 {
				missHi /= 2 // Illinois: the far end stood still
			}
			lo, missLo = at, miss
		} else {
			if missHi < 0 {
				missLo /= 2
			}
			hi, missHi = at, miss
		}
		if math.Abs(T-at) < settled || k == mostSettles {
			break
		}
		switch {
		case missLo > 0 && missHi < 0:
			at = lo + (hi-lo)*missLo/(missLo-missHi)
		default:
			at += 0.6 * (T - at)
		}
		for j := i; j < len(dst.slab); j += dst.pitch {
			dst.slab[j] = src.slab[j]
		}
		m.stepCell(dst, i, at, dt)
		T = m.temperatureOf(dst, i, at, h)
	}
	f, g := &src.Fraction, &dst.Fraction
	change = math.Abs(g[steel.Austenite][i] + g[steel.RetainedAustenite][i] - f[steel.Austenite][i] - f[steel.RetainedAustenite][i])
	for k := steel.Martensite; k < steel.NumConstituents; k++ {
		change = max(change, math.Abs(g[k][i]-f[k][i]))
	}
	return T, change
}

// temperatureOf returns the temperature of one cell from its enthalpy.
func (m *Metal) temperatureOf(c *Cells, i int, guess, h float64) float64 {
	mix := c.mixture()
	return m.thermal.TemperatureOf(i, guess, h, &mix)
}
