package micro

import "github.com/heatwright/heatwright/steel"

// kinetics are the constants of the laws of decomposition that were fitted together, six
// for 165 figures: end-quench bands of seven H grades, critical diameters of W-type steel in
// brine and of O1, 5160 and 4140 in oil, thin blades, and points of diagrams. Refit:
//
//	HEATWRIGHT_FIT=write HEATWRIGHT_DATA=… go test ./micro -run FitKinetics
type kinetics struct {
	Pearlite float64 // ln of the rate of pearlite at a driving force of 500 J/mol, 0.8 wt % C, grain 8, without alloy
	Drive    float64 // exponent of the driving force of pearlite
	Ferrite  float64 // ln of the rate of ferrite, grain 8, without alloy
	Drag     float64 // exponent of the drag of alloy on both
	Pair     float64 // ln τ of pearlite per wt % Mo times wt % Ni beyond that
	Slope    float64 // ln τ of bainite under 0.45 wt % C per wt % C, beyond the published, level at 0.4
}

// with returns the metal with other constants.
func (m *Metal) with(k *kinetics) *Metal {
	n := *m
	n.k = k
	n.fillCold()
	return &n
}

// ManganeseFor returns the manganese [wt %] with which pearlite takes longer by a factor than it
// does with that of comp, by the drag of alloy alone; from 0.02.
func ManganeseFor(comp steel.Composition, factor float64) float64 {
	want := a255Factor(steel.Mn, comp[steel.Mn]) * exp(ln(factor)/(2*committed.Drag))
	lo, hi := 0.02, 3.0
	for range 40 {
		if mid := (lo + hi) / 2; a255Factor(steel.Mn, mid) < want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
