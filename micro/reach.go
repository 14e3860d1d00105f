package micro

import "math"

// CarbonReach returns how far carbon travels in austenite in a time [s] at a
// temperature [K]: √(D·t) [m] with D at 0.4 % C, where the surface is kept at what
// it takes up. Nothing that gives carbon can give it deeper, so this is the most
// that a charcoal fire, a box or an oil can do. ±8 %, as D is good to ±15 %.
//
// Source: agren-1986 (from memory), as diffusivity.
func CarbonReach(T, seconds float64) float64 {
	return math.Sqrt(diffusivity(0.4, T) * math.Max(0, seconds))
}
