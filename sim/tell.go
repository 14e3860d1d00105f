package sim

import (
	"math"
	"sync"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// Where signs are drawn. Fractions of a zone, temperatures in K.
const (
	shadowOn     = 0.9          // untransformed share at which the zone visibly holds back
	shadowLeft   = 0.1          // and at which the shadow has passed
	solved       = 0.95         // share of the carbon that equilibrium would dissolve
	nose         = 540 + kelvin // below it pearlite of carbon steel slows down again; 500–560 °C in the published diagrams (from memory)
	firstMart    = 0.01
	austeniteFor = 0.5         // share that must be left for a window to be worth its name
	burnsBelow   = 43 + kelvin // skin bears it [K]
	nearHeat     = 10          // the clock of a temper starts when every zone is this close to the oven [K]
)

// straw is the oxide film at which an eye in daylight begins to call it straw [m].
var straw = sync.OnceValue(func() float64 { return color.Straw.Film().Low * 1e-9 })

// tell compares the last two readings and writes down the signs that lie between them.
func (r *recorder) tell(m *March) {
	st := m.stageNow()
	heating := st.Role == route.Heating
	for z := range r.is {
		a, b := &r.was[z], &r.is[z]
		if heating {
			r.fall(m, ShadowSeen, z, a.left, b.left, shadowOn)
			r.fall(m, ShadowGone, z, a.left, b.left, shadowLeft)
			r.fall(m, MagnetLetsGo, z, a.pull, b.pull, micro.MagnetLost)
			r.rise(m, CarbonInSolution, z, a.solved, b.solved, solved)
			continue
		}
		if a.pull != b.pull {
			r.rise(m, MagnetReturns, z, a.pull, b.pull, micro.MagnetLost)
		}
		if b.aus > austeniteFor && r.baseM[z] < firstMart {
			r.fall(m, BelowNose, z, a.T, b.T, nose)
		}
		if r.baseM[z] < firstMart {
			r.rise(m, MartensiteStarts, z, a.mart-r.baseM[z], b.mart-r.baseM[z], firstMart)
		}
		if st.Role == route.Tempering && z == m.edge() {
			r.rise(m, EdgeStraw, z, a.film, b.film, straw())
		}
	}
	r.tellWhole(m, st)
	if m.stay.wetting {
		r.tellJackets(m)
	}
}

// tellWhole tells what concerns the piece as a whole.
func (r *recorder) tellWhole(m *March, st *Stage) {
	was, is := r.hottest(r.was), r.hottest(r.is)
	switch st.Role {
	case route.Quenching, route.Cooling:
		if was > handWarm && is <= handWarm {
			r.add(m, HandWarm, -1, r.between(m, was, is, handWarm), handWarm)
		}
	case route.Tempering, route.Holding:
		if math.IsNaN(r.ready) {
			place := m.stay.place.Temperature()
			before, now := r.farthest(r.was, place), r.farthest(r.is, place)
			if now <= nearHeat {
				r.ready = r.between(m, before, now, nearHeat)
				r.add(m, AtHeat, -1, r.ready, is)
			}
		}
	}
}

// tellJackets follows the vapor film on the faces of each zone: it has collapsed
// where the flux first rises while the surface cools.
func (r *recorder) tellJackets(m *March) {
	f := &m.rim.faces
	n := m.mesh.Faces.Len()
	if r.jacket == nil {
		r.jacket = make([]int8, n)
		r.q, r.dq = make([]float64, n), make([]float64, n)
	}
	f.T = m.now.field.Ts
	m.law(m.dt).Fill(r.q, r.dq, f)
	for i := range r.jacket {
		switch {
		case f.Wet[i] < 0:
		case r.dq[i] > 0 && r.jacket[i] == 0:
			r.jacket[i] = 1
		case r.dq[i] < 0:
			r.jacket[i] = 2
		}
	}
	for z := range m.mesh.Parts {
		down := true
		for _, i := range m.faces[z] {
			down = down && r.jacket[i] == 2
		}
		if down && len(m.faces[z]) > 0 {
			r.add(m, JacketCollapses, z, m.clock, r.is[z].T)
		}
	}
}

func (r *recorder) hottest(all []reading) float64 {
	T := 0.0
	for z := range all {
		T = math.Max(T, all[z].T)
	}
	return T
}

// farthest returns how far the zone farthest from a temperature is from it [K].
func (r *recorder) farthest(all []reading, T float64) float64 {
	d := 0.0
	for z := range all {
		d = math.Max(d, math.Abs(all[z].T-T))
	}
	return d
}

// between returns the time within the last step at which a value passed a level.
func (r *recorder) between(m *March, a, b, level float64) float64 {
	w := 1.0
	if a != b {
		w = math.Max(0, math.Min(1, (level-a)/(b-a)))
	}
	return m.clock - (1-w)*m.took
}

func (r *recorder) fall(m *March, name SignName, z int, a, b, level float64) {
	if a >= level && b < level {
		r.cross(m, name, z, a, b, level)
	}
}

func (r *recorder) rise(m *March, name SignName, z int, a, b, level float64) {
	if a <= level && b > level {
		r.cross(m, name, z, a, b, level)
	}
}

func (r *recorder) cross(m *March, name SignName, z int, a, b, level float64) {
	w := (level - a) / (b - a)
	r.add(m, name, z, m.clock-(1-w)*m.took, r.was[z].T+w*(r.is[z].T-r.was[z].T))
}

// add writes a sign down, once in a stage for each zone. z < 0 is the whole piece.
func (r *recorder) add(m *March, name SignName, z int, at, T float64) {
	step := len(r.steps) - 1
	key := seen{name, z, step}
	if r.seen[key] {
		return
	}
	r.seen[key] = true
	zone := "piece"
	if z >= 0 {
		zone = m.mesh.Parts[z].Name
	}
	r.signs = append(r.signs, Sign{
		Name: name, Zone: zone, Step: step, Time: unit.Exactly(at),
		Since: unit.Exactly(at - r.steps[step].Start), Temperature: unit.Exactly(T - kelvin),
	})
}
