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
	if T += stabilization(low, c.Age[i]+dt); T >= low {
		if T < low+brink {
			slope = -c.msRate[i] * left
		}
		return 0, slope
	}
	rest := left * math.Exp(-c.msRate[i]*(low-T))
	return left - rest, -c.msRate[i] * rest
}

// AnnealedRadius returns the mean carbide radius of spheroidized stock of this
// composition, when nothing is known of the bar [m]: chromium keeps it smaller.
func AnnealedRadius(comp steel.Composition) float64 {
	return annealedRadius * 1e-6 * math.Sqrt(1/(1+0.6*math.Min(1.5, comp[steel.Cr])))
}
