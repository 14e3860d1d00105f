package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Work does to the metal of cell i what a forging pass does that deforms it by an
// equivalent strain [–] at T [K], and leaves it seconds [s] at about that heat.
// Austenite recrystallizes: of a grain d₀ [µm] that has stored the strain ε,
//
//	X  = 1 − exp(−ln2·t/t½),  t½ = 2.3e-15·ε^−2.5·d₀²·exp(230 000/RT) s
//	d  = 343·ε^−0.5·d₀^0.4·exp(−45 000/RT) µm, at most d₀
//
// is new, the mean goes with the shares, and what has not recrystallized keeps
// its strain for the next pass. Colder steel, and ferrite, are left as they are:
// what cold work does to pearlite is not computed.
//
// C–Mn steel, 0.1–0.3 wt % C, 850–1150 °C; more carbon is outside what it was fitted to:
// within a factor 1.5 of d by judgment. Source: hodgson-gibbs-1992 (coefficients from memory).
func (m *Metal) Work(c *Cells, i int, T, strain, seconds float64) {
	if c.Fraction[steel.Austenite][i] < 0.5 || !(strain > 0) {
		return
	}
	c.Strain[i] += strain
	d0 := m.Grain(c, i) * 1e6
	share, d := recrystallized(d0, c.Strain[i], T, seconds)
	if share > 0.99 {
		share = 1
	}
	c.Grain4[i] = math.Pow(share*d+(1-share)*d0, 1/0.211)
	c.Growing[i] *= 1 - share
	c.Strain[i] *= 1 - share
	c.ready[i] = 0
}

// recrystallized returns the share that is new after t [s] at T [K], and its grain [µm].
func recrystallized(d0, strain, T, t float64) (share, d float64) {
	half := 2.3e-15 * math.Pow(strain, -2.5) * d0 * d0 * math.Exp(230e3/(gasR*T))
	d = 343 / math.Sqrt(strain) * math.Pow(d0, 0.4) * math.Exp(-45e3/(gasR*T))
	return 1 - math.Exp(-math.Ln2*t/half), min(d, d0)
}
