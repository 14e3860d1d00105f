package calphad

import "math"

// spot is one composition of one phase in a solve: a stable composition set, or
// the place where a phase comes nearest to the tangent plane.
type spot struct {
	p      *phase
	at     int       // index of the phase in the system
	y      []float64 // site fractions
	m      float64   // moles of formula units, for one mole of atoms in all
	x      []float64 // moles of each element per formula unit
	atoms  float64   // their sum
	o      *parts
	stable bool    // at the last step, inside no miscibility gap
	drive  float64 // distance below the tangent plane [J per mole of atoms], positive when it would form
}

func (w *work) newSpot(at int, y []float64) *spot {
	p := w.sys.phases[at]
	s := w.take(at)
	s.p, s.at, s.m = p, at, 0
	copy(s.y, y)
	s.atoms = p.moles(s.x, s.y)
	return s
}

// distance returns G(y) − Σ μ x at the point of the last energy call [J per mole of
// formula units].
func (s *spot) distance(mu []float64) float64 {
	d := s.o.G
	for e, x := range s.x {
		d -= mu[e] * x
	}
	return d
}

// descend moves s to the nearest local minimum of its distance from the plane of
// the potentials mu [J/mol], by Newton steps that never go up, and notes the
// driving force there. A coarse descent stops within 1e-3 RT of the minimum, or
// where it is clear that the phase is far from forming. A descent that arrives at
// one of the known spots stops and returns false.
//
// Source: own derivation (Newton with fixed site sums).
func (w *work) descend(s *spot, mu []float64, coarse bool, known ...[]*spot) bool {
	p, v := s.p, w.state(s.at)
	RT := R * v.T
	p.energy(s.o, v, s.y, curvature)
	here := s.distance(mu)
	enough := 1e-10 * RT
	if coarse {
		enough = 1e-3 * RT
	}
	for iter := 0; iter < 60 && p.n > 0; iter++ {
		stable := p.respond(s.o, v, s.y)
		down := w.forces(s, mu)
		if down < enough || coarse && iter > 1 && stable && here-2*down > RT {
			break
		}
		t := 1.0
		copy(w.yOld, s.y)
		for try := 0; ; try++ {
			p.shift(s.y, w.yOld[:p.n], w.dy, t)
			p.moles(s.x, s.y)
			p.energy(s.o, v, s.y, curvature)
			if now := s.distance(mu); now <= here+1e-9*RT || try == 12 {
				here = now
				break
			}
			t *= 0.3
		}
		if arrived(s, known...) {
			return false
		}
	}
	s.atoms = p.moles(s.x, s.y)
	s.drive = math.Inf(-1)
	if s.atoms > 0.05 {
		s.drive = -here / s.atoms
	}
	return true
}

func arrived(s *spot, known ...[]*spot) bool {
	for _, list := range known {
		for _, t := range list {
			if same(s, t) {
				return true
			}
		}
	}
	return false
}

// forces fills w.dy with the Newton step of s toward the plane mu and returns
// the decrease that the step promises [J per mole of formula units].
func (w *work) forces(s *spot, mu []float64) float64 {
	p := s.p
	n := p.n
	f := w.f[:n]
	for i := range f {
		f[i] = -s.o.g[i]
		if e := p.elem[i]; e >= 0 {
			f[i] += mu[e] * p.site[i]
		}
	}
	down := 0.0
	for i := 0; i < n; i++ {
		x := 0.0
		for j := 0; j < n; j++ {
			x += s.o.e[i*n+j] * f[j]
		}
		w.dy[i] = x
		down += x * f[i]
	}
	return down
}

// same reports whether two spots are one composition set: the same phase and
// site fractions that differ by less than a hundredth of a site.
func same(a, b *spot) bool {
	if a.at != b.at {
		return false
	}
	for i := range a.y {
		if math.Abs(a.y[i]-b.y[i]) > 0.01 {
			return false
		}
	}
	return true
}
