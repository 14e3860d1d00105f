package skin

import (
	"math"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
)

// exposure is what an atmosphere does to one patch at one temperature.
type exposure struct {
	film   float64 // factor on the growth of temper films
	scale  float64 // factor on parabolic scaling
	supply float64 // the most that the gas can make of scale [m/s]
	carbon float64 // carbon that the surface is held at [wt %]
	beta   float64 // or drawn toward, with this coefficient [m/s]
}

const (
	freeOxygen = 0.005 // above this share of oxygen steel always scales
	// In flue gas without free oxygen scale grows in proportion to time, fed by CO2
	// and steam (lee-2005): this much makes 0.35 of air's loss in ten minutes at
	// 1050 °C, the middle of the published 0.2 to 0.5.
	leanSupply = 1.1e-7 // [m/s]
	// Supply through the joints of a half-closed muffle (heuristic): scale of 0.3 mm in ten minutes at most.
	closedSupply = 5e-7 // [m/s]
)

// breath is an atmosphere with all that does not depend on the patch worked out.
type breath struct {
	gas    *medium.Atmosphere
	open   exposure // but for the carbon
	regime regime
}

// regime is what a gas can do.
type regime int8

const (
	sealed   regime = iota // nothing comes to the steel
	scaling                // free oxygen: scale, and carbon lost under it
	depends                // CO2 and steam: on the temperature
	harmless               // nothing there that takes carbon or iron
)

func breathe(g *medium.Atmosphere) breath {
	b := breath{gas: g, open: exposure{beta: transfer, supply: math.Inf(1), film: math.Min(1, math.Sqrt(g.O2/0.02))}}
	if g.Free < 1 {
		// What a closed space lets through: a muffle half of what the open air
		// brings, a packed box a tenth, foil nothing (heuristic).
		b.open.film *= math.Min(1, 3*g.Free)
		b.open.supply = closedSupply * g.Free / (1 - g.Free)
	}
	switch {
	case g.Free <= 0:
		b.regime = sealed
	case g.O2 > freeOxygen:
		b.regime = scaling
		b.open.scale, b.open.beta = 1, 0
		if g.H2O > 0.05 {
			b.open.scale = 1.5 // steam opens the scale: 1.3 to 2 (from memory)
		}
	case g.CO2+g.H2O <= 0 && g.CO <= 0:
		b.regime = harmless
	default:
		b.regime = depends
	}
	return b
}

// on returns the exposure of a patch at T [K]. Three regimes: scale and carbon
// lost under it; no scale, carbon lost to the gas; no scale, carbon kept or gained.
func (b *breath) on(T float64, r *rates) exposure {
	e := b.open
	e.carbon = r.carbon
	switch b.regime {
	case scaling:
		e.carbon = min(underScale, r.carbon)
	case depends:
		switch {
		case scales(b.gas, T):
			e.scale, e.supply = 1, min(e.supply, leanSupply)
			e.carbon, e.beta = min(underScale, r.carbon), 0
		case T > hot && b.gas.CO2 > 0:
			e.carbon = potentialCarbon(b.gas, T, r)
		case T > hot:
			e.carbon = 0
		}
	}
	return e
}

// scales says whether gas without free oxygen makes scale: where CO2/CO exceeds
// exp[(17500 − 21.0 T)/RT], or H2O/H2 exceeds 0.7 (0.6 to 0.75; both from memory).
func scales(g *medium.Atmosphere, T float64) bool {
	if g.CO2 > g.CO*math.Exp((17500-21.0*T)/(gasConstant*T)) && g.CO2 > 0 {
		return true
	}
	return g.H2O > 0.7*g.H2 && g.H2O > 0
}

// potentialCarbon returns the carbon that austenite of this steel would take on
// in equilibrium with CO and CO2 [wt %], 850 to 1000 °C:
//
//	a = pCO²/(pCO2 K), K = exp[−(170700 − 174.5 T)/RT]
//	log a = log C + 0.15 C + 2300/T − 2.21, log(C/C_alloy) = 0.055 Si − 0.013 Mn − 0.040 Cr + 0.014 Ni − 0.013 Mo
//
// Source: gunnarson-1967 (from memory).
func potentialCarbon(g *medium.Atmosphere, T float64, r *rates) float64 {
	a := g.CO * g.CO / g.CO2 / boudouard(T)
	c := plainCarbon(a, T)
	k := r.comp
	alloy := 0.055*k[steel.Si] - 0.013*k[steel.Mn] - 0.040*k[steel.Cr] + 0.014*k[steel.Ni] - 0.013*k[steel.Mo]
	return min(2.1, c*math.Pow(10, -alloy))
}

func boudouard(T float64) float64 { return math.Exp(-(170700 - 174.5*T) / (gasConstant * T)) }

func plainCarbon(activity, T float64) float64 {
	if activity <= 0 {
		return 0
	}
	// log C + 0.15 C = L by Newton's method; the left side is concave and rising.
	L := math.Log10(activity) - 2300/T + 2.21
	c := min(2.5, math.Pow(10, L))
	for range 20 {
		f := math.Log10(c) + 0.15*c - L
		step := f / (1/(c*math.Ln10) + 0.15)
		c = max(c/4, c-step)
		if math.Abs(step) < 1e-9 {
			break
		}
	}
	return c
}
