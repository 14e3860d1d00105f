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

// Enthalpy returns that of cell i at temperature T [J/kg].
func (m *Metal) Enthalpy(c *Cells, i int, T float64) float64 {
	one := c.mixtureOf(i)
	t, h := [1]float64{T}, [1]float64{}
	m.thermal.Mix(h[:], nil, nil, t[:], &one)
	return h[0]
}

// mixtureOf shows one cell to the thermal tables.
func (c *Cells) mixtureOf(i int) steel.Mixture {
	one := c.mixture()
	for k := range one.Fraction {
		one.Fraction[k] = one.Fraction[k][i : i+1]
	}
	one.Carbon, one.Tempered = one.Carbon[i:i+1], one.Tempered[i:i+1]
	return one
}

// Thermal returns the thermal tables of the metal.
func (m *Metal) Thermal() *steel.Thermal { return m.thermal }
