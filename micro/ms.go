package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Trace holds elements that only the laws for Ms know, beside the composition [wt %].
type Trace struct{ Co, Al float64 }

// msTerms returns the features of the law for Ms; from the seventeenth on they stand
// for carbide that hardening leaves behind.
func msTerms(g *steel.Composition, x Trace) [24]float64 {
	c, mn, si, cr, ni, mo := g[steel.C], g[steel.Mn], g[steel.Si], g[steel.Cr], g[steel.Ni], g[steel.Mo]
	v, w := g[steel.V], g[steel.W]
	over := func(x, k float64) float64 { return max(0, x-k) }
	return [24]float64{
		1, -math.Expm1(-0.96 * c), mn, si, cr, ni, mo, g[steel.Cu], x.Co, x.Al,
		over(c, 0.4) * mn, over(c, 0.4) * ni, over(c, 0.7) * ni, over(ni, 3), c * si, si * ni,
		over(c, 0.7) * cr, over(c, 0.4) * w, over(c, 0.4) * v, cr * mo, cr * v, v * v, over(c, 0.9) * mn, over(c, 1),
	}
}

// MartensiteStart returns Ms [K] of a steel hardened from its usual temperature,
// from the composition of the bar [wt %]. The law has van Bohemen's exponential
// carbon term, linear alloy, and the interactions that leaving out whole alloys kept.
// Under 0.5 wt % C those gain nothing: there it is drawn by two thirds to the plain
// linear law and to van Bohemen's own, less his bias of 3 K, from 0.5 to 0.6 less and
// less. 31 constants for 928 rows.
//
// Left out: 13.6 K mean and 8.8 K median error for low-alloy steel under 0.6 wt %
// C, 19.3 and 14.5 K for low-alloy and tool steel of 0.5–1.1. Data of wentzien-2024;
// refit with go run ./micro/fit DATA ms.
func MartensiteStart(bar steel.Composition, x Trace) float64 {
	terms := msTerms(&bar, x)
	full, plain := 0.0, 0.0
	for k, f := range terms {
		full += msTerm[k] * f
	}
	for k, c := range msPlain {
		plain += c * terms[k]
	}
	known := vanBohemenMs(&bar) - kelvin - 3
	w := max(0, min(1, (0.6-bar[steel.C])/0.1)) / 3
	return kelvin + (1-2*w)*full + w*(plain+known)
}

// BainiteStart returns Bs [K] from what austenite holds [wt %]: van Bohemen's sum
// of alloy and carbon term with constants of its own, molybdenum that saturates,
// silicon with carbon, and the curvature of manganese; 6 constants for 98 rows.
//
// Leaving out whole alloys: 15.3 K mean error, where the published formula has
// 18.5. 0.1–1.0 wt % C. Data of schuscha-2025; refit with go run ./micro/fit DATA bs.
func BainiteStart(g steel.Composition) float64 {
	c, mn, si, mo := g[steel.C], g[steel.Mn], g[steel.Si], min(g[steel.Mo], 5)
	alloy := 86*mn + 23*si + 67*g[steel.Cr] + 33*g[steel.Ni] + 75*mo
	terms := [6]float64{1, -math.Expm1(-1.33 * c), alloy, mo * mo, c * si, math.Sqrt(max(0, mn))}
	T := kelvin
	for k, f := range terms {
		T += bsTerm[k] * f
	}
	return T
}
