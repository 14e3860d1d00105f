package micro

import (
	"math"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/steel"
)

// forces are what drives austenite that holds a share of its steel's alloy to change:
// rows over temperature, linear between.
type forces struct {
	ferriteC [forceRows]float64 // carbon of austenite beside ferrite, carried on below Ae1 [wt %]
	carbideC [forceRows]float64 // carbon of austenite beside cementite, carried on [wt %]
	pearlite [forceRows]float64 // driving force of pearlite from austenite of the eutectoid [J per mole of atoms]
	bainiteC [forceRows]float64 // carbon at which T is T0: with more, ferrite of the austenite's own composition is not driven [wt %]
}

const (
	forceFrom = 473.15 // K
	forceStep = 10.0   // K
	forceRows = 72     // to 1183 K
)

// pearliteEntropy is the slope of pearlite's driving force, for limits that come without
// forces [J/mol/K]: 82 kJ/kg (hagel-1956, abstract) over 1000 K.
const pearliteEntropy = 82e3 * 0.0538 / 1000

// newForces reads the forces of austenite with a share of the alloy from a table, from top
// [K] down; above, nothing is driven.
func newForces(t *calphad.Table, share, top float64) *forces {
	f := &forces{}
	eutectoid := 0.77
	for i := forceRows - 1; i >= 0; i-- {
		T := forceT(i)
		if f.carbideC[i] = 2.2; T > top {
			continue
		}
		f.ferriteC[i], f.carbideC[i] = t.CarbonLimits(T, share)
		if j := i + 1; j < forceRows && f.ferriteC[i] > f.carbideC[i] && f.ferriteC[j] <= f.carbideC[j] { // the lines cross
			over, under := f.carbideC[j]-f.ferriteC[j], f.ferriteC[i]-f.carbideC[i]
			eutectoid = f.ferriteC[i] + (f.ferriteC[j]-f.ferriteC[i])*under/(over+under)
		}
		f.pearlite[i] = max(0, t.Drive(T, eutectoid, share).Pearlite)
		lo, hi := 0.0, 2.2
		for range 24 {
			if mid := (lo + hi) / 2; t.Drive(T, mid, share).Bainite > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		f.bainiteC[i] = lo
	}
	return f
}

// straightForces are those of limits that come without a table.
func straightForces(l Limits) *forces {
	f := &forces{}
	start, _ := l.Ae1()
	for i := range forceRows {
		T := forceT(i)
		f.ferriteC[i], f.carbideC[i] = l.FerriteSide(T), l.CarbideSide(T)
		f.pearlite[i] = pearliteEntropy * max(0, start-T)
		f.bainiteC[i] = max(0, (start-90-T)/300)
	}
	return f
}

func forceT(i int) float64 { return forceFrom + forceStep*float64(i) }

// at interpolates one of the columns at T [K].
func (f *forces) at(column *[forceRows]float64, T float64) float64 {
	p := math.Max(0, (T-forceFrom)/forceStep)
	i := min(int(p), forceRows-2)
	w := math.Min(1, p-float64(i))
	return column[i] + w*(column[i+1]-column[i])
}

// takeForces finds the driving forces that come with the limits.
func (m *Metal) takeForces() {
	if q, ok := m.limits.(*equilibrium); ok {
		m.bound, m.free, m.boundAlloy = q.bound, q.free, q.boundAlloy
		return
	}
	m.free = straightForces(m.limits)
	m.bound = m.free
}

// shareOf returns how much of the alloy that carbide binds at Ae1 the austenite g holds [0–1].
func (m *Metal) shareOf(g *steel.Composition) float64 {
	if m.bound == m.free {
		return 1
	}
	held, all := 0.0, 0.0
	for _, e := range alloyElement {
		d := m.comp[e] - m.boundAlloy[e]
		held += math.Copysign(1, d) * (g[e] - m.boundAlloy[e])
		all += math.Abs(d)
	}
	if all < 0.01 {
		return 1
	}
	return max(0, min(1, held/all))
}
