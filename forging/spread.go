package forging

import (
	"fmt"
	"math"
)

// Spread returns the exponent S of a flat bite of length b on a bar of width w:
// what is pressed out of the height goes S parts into width and 1 − S into length.
//
//	w₁/w₀ = (h₀/h₁)^S,  L₁/L₀ = (h₀/h₁)^(1−S),  S = 0.14 + 0.36 (b/w) − 0.054 (b/w)²
//
// Mild steel at 1000–1100 °C, b/w 0.3–2.5; outside it is held at the ends.
//
// Source: tomlinson-stringer-1959 (from memory).
func Spread(b, w float64) float64 {
	x := min(max(b/w, 0.3), 2.5)
	return 0.14 + 0.36*x - 0.054*x*x
}

// Drawn returns width and length after a bar of width w and height h is brought
// to height h1 by bites of length b.
func Drawn(b, w, h, length, h1 float64) (width, longer float64) {
	s := Spread(b, w)
	return w * math.Pow(h/h1, s), length * math.Pow(h/h1, 1-s)
}

// Guards of drawing out: common practice.
const (
	MostReduction = 0.30 // of the height in one bite: more folds the surface in
	MostFlat      = 2.0  // width over height before the bar is turned: more laps over
)

// Upset is a bar made shorter and thicker from its end.
type Upset struct {
	Diameter, Strain float64 // mean diameter after [m], ln(h₀/h₁)
	Barrel           float64 // largest diameter of the bulge [m]
}

// UpsetTo shortens a free length h0 of diameter d to h1.
//
//	d₁ = d √(h₀/h₁)
//
// More than 2.5 diameters of free length buckle (3 in a well guided bar): from
// memory. The bulge is 5 to 10 % larger than the mean.
func UpsetTo(d, h0, h1 float64) (Upset, error) {
	switch {
	case !(d > 0 && h1 > 0 && h0 > h1):
		return Upset{}, fmt.Errorf("forging: upsetting %g m to %g m at %g m diameter: give a shorter length than before", h0, h1, d)
	case h0 > 2.5*d:
		return Upset{}, fmt.Errorf("forging: %.0f mm of hot length on %.1f mm diameter buckles: at most %.0f mm; heat a shorter length or upset in steps", 1e3*h0, 1e3*d, 2.5e3*d)
	}
	u := Upset{Diameter: d * math.Sqrt(h0/h1), Strain: math.Log(h0 / h1)}
	u.Barrel = 1.075 * u.Diameter
	return u, nil
}
