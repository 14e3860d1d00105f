// Package medium holds the surface laws: what leaves the steel through a face
// at a given surface temperature, in air, in a fire, in a bath, against an
// anvil or under ash. A law is stateless: what a bath or a lining remembers
// lives in package shop, which hands out laws that fit its present state.
//
// All laws are filled over slices of faces, allocate nothing while they do it
// and are continuous with their derivative, so that an implicit step can take
// Newton steps on them. SI throughout: K, W/m², W/m²K, m²K/W.
//
// What is known of the true value of these laws is told by [Accuracy].
package medium

// Sigma is the Stefan–Boltzmann constant [W/m²K⁴] (exact in the SI of 2019).
const Sigma = 5.670374419e-8

// CelsiusZero is 0 °C in kelvin.
const CelsiusZero = 273.15

// Faces describes surface faces as a struct of arrays, one entry per face.
// T is required. Every other slice may be nil: a nil Eps counts as 0.8
// (oxidized steel), a nil R as bare steel, a nil Wet as wetted long ago, nil
// places and normals as 0.
type Faces struct {
	T   []float64 // temperature of the steel at the face, below any scale [K]
	Eps []float64 // total emissivity [–]
	R   []float64 // thermal resistance of scale or clay on the face [m²K/W]

	X, Y, Z    []float64 // place: along the length, across the width, through the thickness [m]
	NX, NY, NZ []float64 // outward normal [–]

	Wet  []float64 // seconds since this face went under the liquid; below 0: not yet
	Away []float64 // distance along the surface from the nearest edge or tip, where wetting begins [m]

	Thick []float64 // thickness of the piece at the face [m]; nil: thick everywhere

	Height    float64 // vertical extent, for natural convection [m]
	Perimeter float64 // of the cross section [m]
	Area      float64 // of all faces of the piece [m²]
}

// Len returns the number of faces.
func (f *Faces) Len() int { return len(f.T) }

func pick(s []float64, i int, otherwise float64) float64 {
	if s == nil {
		return otherwise
	}
	return s[i]
}

func (f *Faces) eps(i int) float64 { return pick(f.Eps, i, 0.8) }

// facing returns the cosine between the outward normal of face i and d.
func (f *Faces) facing(i int, d [3]float64) float64 {
	return pick(f.NX, i, 0)*d[0] + pick(f.NY, i, 0)*d[1] + pick(f.NZ, i, 0)*d[2]
}

// Law fills q, the heat flux out of the steel [W/m²], and dq, its derivative by
// the temperature of the steel [W/m²K], one entry per face. dq is negative where
// a boiling curve falls with rising temperature. All three have the same length.
type Law interface {
	Fill(q, dq []float64, f *Faces)
}

// A pointwise law answers for one face at a given temperature of the outermost
// surface. Every law of this package is made of one.
type pointwise interface {
	at(f *Faces, i int, T float64) (q, dq float64)
}

// fill evaluates a pointwise law over all faces, with the resistance of scale or
// clay in series.
func fill[P pointwise](p P, q, dq []float64, f *Faces) {
	n := len(f.T)
	if len(q) != n || len(dq) != n {
		panic("medium: len(q), len(dq) ≠ faces")
	}
	if f.R == nil {
		for i, T := range f.T {
			q[i], dq[i] = p.at(f, i, T)
		}
		return
	}
	for i, T := range f.T {
		if r := f.R[i]; r > 0 {
			q[i], dq[i] = through(p, f, i, T, r)
		} else {
			q[i], dq[i] = p.at(f, i, T)
		}
	}
}

// through solves q = g(To), To = T − qR for the outer surface of a coat of
// resistance r [m²K/W]. A boiling curve can have several solutions; the one
// nearest to the steel's temperature is taken, which a cooling piece meets first.
// At a fold of the curve the solution jumps, as the vapor under a coat does.
func through[P pointwise](p P, f *Faces, i int, T, r float64) (q, dq float64) {
	q, dq = p.at(f, i, T)
	start := q > 0
	near, far, bracketed := T, T, false
	to := T
	for range 40 {
		// Residual F(To) = To − T + r g(To). The last step is made below without
		// evaluating: over at most 3 mK dq is as good as constant.
		F, slope := to-T+r*q, 1+r*dq
		next := T - r*q
		if slope > 0 {
			next = to - F/slope
			if moved := next - to; moved < 0.003 && moved > -0.003 {
				break
			}
		}
		if bracketed && (next-near)*(next-far) >= 0 {
			next = 0.5 * (near + far)
		}
		to = next
		q, dq = p.at(f, i, to)
		if (to-T+r*q > 0) == start {
			near = to
		} else {
			far, bracketed = to, true
		}
	}
	// One more Newton step without evaluating: (T − to)/r alone would lose digits under a thin coat.
	slope := max(1+r*dq, 0.02)
	q -= dq * (to - T + r*q) / slope
	return q, dq / slope
}
