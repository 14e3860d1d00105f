package micro

import "github.com/heatwright/heatwright/steel"

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

const kelvin = 273.15
