package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Trace holds elements that only the laws for Ms know, beside the composition [wt %].
type Trace struct{ Co, Al float64 }

// dissolvedTerms returns the features of the law for Ms of what is dissolved.
func dissolvedTerms(g *steel.Composition) [8]float64 {
	c := g[steel.C]
	return [8]float64{1, 1 - exp(-0.96*c), g[steel.Mn], g[steel.Si], g[steel.Cr], g[steel.Ni], g[steel.Mo], c * g[steel.Ni]}
}

// barTerms returns those of the law for a bar; from the eighth on most stand for
// carbide that hardening leaves behind.
func barTerms(g *steel.Composition, x Trace) [19]float64 {
	c, cr, v, w := g[steel.C], g[steel.Cr], g[steel.V], g[steel.W]
	over := func(x, k float64) float64 { return max(0, x-k) }
	t := [19]float64{
		7: over(c, 0.6), over(c, 0.7) * cr, over(c, 0.6) * over(cr, 3), cr * g[steel.Mo], c * cr, cr / (cr + 0.3),
		over(c, 0.4) * v, over(c, 0.4) * w, x.Co, x.Al, cr * v, v * v,
	}
	d := dissolvedTerms(g)
	copy(t[:7], d[:7])
	return t
}

// dissolvedMs returns Ms [K] for what austenite holds [wt %], in grain as hardening
// leaves it: van Bohemen's form with constants of its own and nickel with carbon, drawn
// by a third to his own, less his bias of 3 K. It is the law of the march, smooth from
// 0.1 to 1.3 wt % C. 8 constants from 714 rows of low-alloy steel under 0.7 wt % C.
//
// Left out by alloys: 13.6 K mean and 8.8 K median error under 0.6 wt % C, against
// 14.3 of his. Data of wentzien-2024; refit with go run ./micro/fit DATA ms.
func dissolvedMs(g *steel.Composition) float64 {
	own := 0.0
	for k, f := range dissolvedTerms(g) {
		own += msDissolved[k] * f
	}
	return (2*(own+kelvin) + vanBohemenMs(g) - 3) / 3
}

// MartensiteStart returns Ms [K] of a steel hardened from its usual temperature,
// from the composition of the bar [wt %]: up to 0.45 wt % C, where all is dissolved,
// the law of the march, from 0.55 a law of its own, whose terms stand for the carbide that hardening
// leaves behind, and between them the one goes over into the other. 27 constants for 928 rows.
//
// Left out by alloys: 13.5 K mean and 9.0 K median error for low-alloy steel under 0.6 wt %
// C, 18.9 and 13.2 K for low-alloy and tool steel of 0.5–1.1. Data of wentzien-2024;
// refit with go run ./micro/fit DATA ms.
func MartensiteStart(bar steel.Composition, x Trace) float64 {
	u := max(0, min(1, (0.55-bar[steel.C])/0.1))
	T := u * dissolvedMs(&bar)
	for k, f := range barTerms(&bar, x) {
		T += (1 - u) * msBar[k] * f
	}
	return T + (1-u)*kelvin
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
