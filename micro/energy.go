package micro

import "github.com/heatwright/heatwright/steel"

// mixture shows the cells to the thermal tables. No constituent holds an energy of
// its own here: all latent heats are differences of steel's enthalpies.
func (c *Cells) mixture() steel.Mixture {
	return steel.Mixture{Fraction: c.Fraction, Carbon: c.Carbon, Tempered: c.Tempered}
}

// Fill writes enthalpy [J/kg], heat capacity [J/kgK] and conductivity [W/mK] of
// every cell at temperature T [K] and the structure of c.
func (m *Metal) Fill(h, cp, k, T []float64, c *Cells) {
	mix := c.mixture()
	m.thermal.Mix(h, cp, k, T, &mix)
}

// Temperature is the inverse of Fill: T [K] from enthalpy h [J/kg] at the structure
// of c. On entry T holds a first guess.
func (m *Metal) Temperature(T, h []float64, c *Cells) {
	mix := c.mixture()
	m.thermal.Temperature(T, h, &mix)
}

// Thermal returns the thermal tables of the metal.
func (m *Metal) Thermal() *steel.Thermal { return m.thermal }
