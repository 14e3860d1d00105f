package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Hold is a time at a temperature.
type Hold struct {
	T    float64 // K
	Time float64 // s
}

// TemperedHardness returns the hardness [HV] of a bar of this composition that was
// hardened through from its usual temperature and then tempered by the holds, each
// followed by cooling to room temperature. It is the reading of the law that the
// cells follow, for a bar whose hardening is not known in detail: carbon beyond
// what usual hardening dissolves counts as carbide, retained austenite follows
// from Ms. Without holds it returns the as-quenched hardness.
//
// Accuracy and range: see newHardnessLaw.
func TemperedHardness(bar steel.Composition, holds []Hold) float64 {
	h := newHardnessLaw(bar)
	g := bar
	g[steel.C] = min(bar[steel.C], h.limit)
	carb := (bar[steel.C] - g[steel.C]) / (carbideC - g[steel.C])
	ret := usualRetained(&g)
	var theta [numRates]float64
	size3 := freshSize3
	if len(holds) == 0 { // what the quench itself tempers: under a second below Ms in water, seconds in oil, minutes in air
		own := Hold{vanBohemenMs(&g) - 60, 0.4}
		if bar[steel.Cr] > 2.5 {
			own.Time = 300
		}
		holds = []Hold{own}
	}
	for _, hold := range holds {
		for j := range theta {
			theta[j] += temperRate(j, hold.T) * hold.Time
		}
		ret *= math.Exp(-retainedRate(&bar, hold.T) * hold.Time)
		size3 += coarsening(&bar, hold.T) * hold.Time
	}
	hv := h.temperedHV(g[steel.C], &theta, size3)
	mix := (1-ret)*hv + ret*retainedHV
	return (1-carb)*mix + carb*carbideIn(mix)
}

// temperRate returns k_j at T [1/s].
func temperRate(j int, T float64) float64 {
	return math.Exp(-math.Ln10*temperK*(temperPeak[j]/T-1)) / 3600
}
