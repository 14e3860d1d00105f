package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// thermalModel holds provisional enthalpies until steel's own tables are in.
type thermalModel struct {
	alpha, gamma [tableLen]float64 // J/kg
}

func newThermalModel(comp steel.Composition) thermalModel {
	var t thermalModel
	cpA := func(T float64) float64 {
		c := 380 + 0.38*T
		if T > 850 {
			c += 700 * math.Exp(-math.Pow((T-1040)/60, 2))
		}
		return c
	}
	cpG := func(T float64) float64 { return 430 + 0.15*T }
	for i := 1; i < tableLen; i++ {
		T := tableT(i)
		t.alpha[i] = t.alpha[i-1] + tableStep*cpA(T-1)
		t.gamma[i] = t.gamma[i-1] + tableStep*cpG(T-1)
	}
	k, w := at(1000)
	shift := t.alpha[k] + w*(t.alpha[k+1]-t.alpha[k]) + 80e3 - (t.gamma[k] + w*(t.gamma[k+1]-t.gamma[k]))
	for i := range t.gamma {
		t.gamma[i] += shift
	}
	return t
}

// Fill writes enthalpy [J/kg], heat capacity [J/kgK] and conductivity [W/mK] of
// every cell at temperature T [K] and the structure of c.
func (m *Metal) Fill(h, cp, k, T []float64, c *Cells) {
	for i, t := range T {
		h[i], cp[i], k[i] = m.mixture(c, i, t)
	}
}

func (m *Metal) mixture(c *Cells, i int, T float64) (h, cp, k float64) {
	n, w := at(T)
	g := c.Fraction[steel.Austenite][i] + c.Fraction[steel.RetainedAustenite][i]
	lo := g*m.gamma[n] + (1-g)*m.alpha[n]
	hi := g*m.gamma[n+1] + (1-g)*m.alpha[n+1]
	return lo + w*(hi-lo), (hi - lo) * perStep, 30
}

// Temperature is the inverse of Fill: T [K] from enthalpy h [J/kg] at the structure
// of c. On entry T holds a first guess.
func (m *Metal) Temperature(T, h []float64, c *Cells) {
	for i := range T {
		t := T[i]
		for range 30 {
			have, cp, _ := m.mixture(c, i, t)
			d := (h[i] - have) / cp
			t += d
			if math.Abs(d) < 1e-9 {
				break
			}
		}
		T[i] = t
	}
}
