package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Limits are the phase boundaries of one composition at equilibrium.
type Limits interface {
	// Ae1 returns where the first austenite appears and where, of ferrite and
	// carbide, the first of the two is gone [K].
	Ae1() (start, end float64)
	// Upper returns Ae3 or Acm, above which there is austenite alone [K].
	Upper() float64
	// Solidus returns the temperature of the first liquid [K].
	Solidus() float64
	// FerriteSide returns the carbon of austenite in equilibrium with ferrite at
	// T, extrapolated below Ae1 [wt %]; it falls as T rises.
	FerriteSide(T float64) float64
	// CarbideSide returns the carbon of austenite in equilibrium with carbide at
	// T, extrapolated below Ae1 and never above the bar's own carbon by itself [wt %].
	CarbideSide(T float64) float64
	// Dissolved returns what austenite holds at equilibrium at T [wt %].
	Dissolved(T float64) steel.Composition
}

// formulas are limits from published regressions, for use until an equilibrium
// has been computed. Ae1 and Ae3 after Andrews; the carbide line is a straight
// Arrhenius line through the eutectoid and the eutectic, lowered for chromium.
// Accuracy ±15 K for Ae1, ±20 K for Ae3, ±0.05 wt % C for plain steel.
//
// Source: andrews-1965; the carbide line is our own (own-derivation).
type formulas struct{ comp steel.Composition }

// Formulas returns limits by regression for a composition.
func Formulas(comp steel.Composition) Limits { return formulas{comp} }

func (f formulas) Ae1() (start, end float64) {
	c := &f.comp
	start = 723 - 10.7*c[steel.Mn] - 16.9*c[steel.Ni] + 29.1*c[steel.Si] + 16.9*math.Min(c[steel.Cr], 3.5) + 6.38*c[steel.W] + kelvin
	return start, start + 4 + 6*(c[steel.Mn]+c[steel.Cr]+c[steel.Ni]+2*c[steel.Si])
}

// shift returns how far alloy moves Ae3 [K].
func (f formulas) shift() float64 {
	c := &f.comp
	return -15.2*c[steel.Ni] + 44.7*c[steel.Si] + 104*c[steel.V] + 31.5*c[steel.Mo] + 13.1*c[steel.W] -
		30*c[steel.Mn] - 11*c[steel.Cr] - 20*c[steel.Cu] + 700*c[steel.P]
}

func (f formulas) FerriteSide(T float64) float64 {
	root := (910 + f.shift() + kelvin - T) / 203
	if root <= 0 {
		return 0
	}
	return root * root
}

func (f formulas) CarbideSide(T float64) float64 {
	c := &f.comp
	plain := 24.0 * math.Exp(-3453/T)
	return math.Max(0.3, plain-0.13*math.Min(c[steel.Cr], 2)-0.03*c[steel.Si])
}

func (f formulas) Upper() float64 {
	c := f.comp[steel.C]
	_, end := f.Ae1()
	T := end
	for ; T < 1450; T++ {
		if f.FerriteSide(T) <= c && f.CarbideSide(T) >= c {
			break
		}
	}
	return T
}

func (f formulas) Solidus() float64 { return 1810 - 190*f.comp[steel.C] }

func (f formulas) Dissolved(T float64) steel.Composition {
	d := f.comp
	cc := f.CarbideSide(T)
	if cc >= d[steel.C] {
		return d
	}
	// Undissolved cementite keeps chromium at about 4 and manganese at 1.6 times the austenite's share.
	x := (d[steel.C] - cc) / (carbideC - cc)
	d[steel.C] = cc
	for e, k := range map[steel.Element]float64{steel.Cr: 4, steel.Mn: 1.6, steel.Mo: 3, steel.W: 3, steel.V: 20} {
		d[e] = f.comp[e] / (1 - x + k*x)
	}
	return d
}

const kelvin = 273.15
