package skin

import (
	"math"

	"github.com/heatwright/heatwright/medium"
)

// Step advances every patch by dt [s] at surface temperatures T [K], one per
// patch, in this atmosphere. dst may be src. It allocates nothing; patches below
// 350 K cost next to nothing, and carbon moves only above 900 K, in as few
// implicit steps as its profile needs.
func (s *Skin) Step(dst, src *State, T []float64, dt float64, air medium.Atmosphere) {
	if len(T) != len(s.patches) {
		panic("skin: len(T) ≠ patches")
	}
	dst.Copy(src)
	b := breathe(&air)
	for i, t := range T {
		if t > tooCold && dt > 0 {
			s.stepPatch(dst, i, t, dt, &b)
		} else if dst.wait[i] > 0 || dst.eat[i] > worthEating {
			s.settle(dst, i)
		}
	}
}

// Settle applies to every patch what it has waited for: at the end of a heat, so
// that what was lost there shows before the quench.
func (s *Skin) Settle(st *State) {
	for i := range st.Oxide {
		if st.wait[i] > 0 || st.eat[i] > worthEating {
			s.settle(st, i)
		}
	}
}

func (s *Skin) stepPatch(st *State, i int, T, dt float64, b *breath) {
	r := s.steels[s.of[i]]
	e := b.on(T, r)
	if coat := st.Coat[i]; coat > 0 {
		e.film *= 1 - coat
		e.scale *= 1 - coat
		e.carbon = r.carbon + (e.carbon-r.carbon)*(1-coat)
	}
	was := st.Oxide[i]
	x := min(T, lastT-1) - firstT
	n := int(x)
	x -= float64(n)
	kp := e.scale * (r.scale[n] + x*(r.scale[n+1]-r.scale[n]))
	k4 := 0.0
	if was < thick {
		k4 = e.film * (r.film[n] + x*(r.film[n+1]-r.film[n]))
	}
	now := grow(was, k4, kp, e.supply, dt)
	lost := (now - was) * metalPerScale
	st.Oxide[i] = now
	st.Lost[i] += lost

	if T < hot {
		st.eat[i] += lost
		if st.wait[i] > 0 || st.eat[i] > worthEating {
			s.settle(st, i)
		}
		return
	}
	if st.wait[i] > 0 && (math.Abs(e.carbon-st.gas[i]) > 0.02 || e.beta != st.beta[i]) {
		s.settle(st, i)
	}
	D := at(r.diff, T)
	st.eat[i] += lost
	st.wait[i] += D * dt
	st.waitT[i] += D * dt * T
	st.gas[i], st.beta[i] = e.carbon, e.beta
	// A profile of width √span changes by a few percent of its depth before the
	// next step is due; the first cell sets the pace at the very start.
	if first := s.first[i]; st.wait[i] > max(first*first, pace*st.span[i]) {
		s.settle(st, i)
	}
}

// worthEating is the recession that a cold profile waits for [m].
const worthEating = 0.2e-6

// pace is the part of its history by which a profile may age before it is stepped.
const pace = 0.3
