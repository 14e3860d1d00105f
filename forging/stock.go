package forging

import (
	"fmt"
	"math"
)

// Prismoid returns the volume of a body between two parallel ends with a middle
// section: L (A₁ + 4 A_m + A₂)/6. Exact for tapers, wedges, cones.
//
// Source: own derivation (Simpson's rule is exact to the third power).
func Prismoid(length, first, middle, last float64) float64 {
	return length / 6 * (first + 4*middle + last)
}

// Taper returns the volume of a rectangular taper from w1 × h1 to w2 × h2.
//
//	V = L/6 (2 w₁h₁ + w₁h₂ + w₂h₁ + 2 w₂h₂)
func Taper(length, w1, h1, w2, h2 float64) float64 {
	return length / 6 * (2*w1*h1 + w1*h2 + w2*h1 + 2*w2*h2)
}

// RoundTaper returns the volume of a round taper from diameter d1 to d2.
func RoundTaper(length, d1, d2 float64) float64 {
	return math.Pi / 12 * length * (d1*d1 + d1*d2 + d2*d2)
}

// Stock returns the length of bar [m] to cut for a forged volume [m³]: loss is
// what scale, cropping and grinding take, as a part of the volume.
//
//	L = V (1 + loss)/A
//
// Source: own derivation from the constancy of volume.
func Stock(volume, loss, section float64) (float64, error) {
	switch {
	case !(section > 0):
		return 0, fmt.Errorf("forging: a bar of %g m² has no section; give its size", section)
	case !(volume > 0):
		return 0, fmt.Errorf("forging: a volume of %g m³ needs no bar; give the finished shape", volume)
	case loss < 0 || loss > 0.6:
		return 0, fmt.Errorf("forging: loss %.0f %%: possible are 0 to 60 %%; 2–3 %% a heat is usual", 100*loss)
	}
	return volume * (1 + loss) / section, nil
}

// ScaleLoss returns the depth of metal that turns to scale on each face [m] in
// t [s] at T [K].
//
//	W² = k_p t,  k_p = 6.1 exp(−169452/RT) g²/cm⁴s for iron, × 0.65 for steel
//	depth = 3.35 W/ρ
//
// Lean fire parabolic as here; near neutral slower, rich 0.3–0.5 of it.
//
// Source: paidassi-1958 (from memory), ±50 %.
func ScaleLoss(T, t float64) float64 {
	kp := 0.65 * 6.1 * math.Exp(-169452/(8.314462618*T)) // g²/cm⁴s
	return 3.35 * math.Sqrt(kp*t) / 7.87 * 0.01
}

// HeatLoss returns the part of the volume that one forging heat takes by scale
// that is knocked off: 4 d/D for a bar of thickness D [m].
func HeatLoss(thickness, depth float64) float64 { return 4 * depth / thickness }
