package calphad

import (
	"errors"
	"math"
)

var (
	errSingular = errors.New("the phases of the set do not determine an equilibrium")
	errSlow     = errors.New("the solve did not converge")
)

// settle runs Newton steps on the equilibrium of the sets in w.set: unknown are
// the potentials of the elements, the amount of every set and all site
// fractions; at the solution every set lies on the plane of the potentials and
// the amounts of the elements add up to w.b.
//
// With w.fix ≥ 0 the temperature is unknown too and the amount of that set
// stays as it is: zero finds the temperature where the phase appears.
//
// Each set's site fractions are eliminated by its response E, which leaves a
// linear system in potentials, amounts and temperature:
//
//	Δy = E(Nᵀμ − g − g_T ΔT)
//	Σ_A μ_A x_A − G_T ΔT = G                                     (every set)
//	Σ m NENᵀμ + Σ x Δm − ΔT Σ m NE g_T = b − Σ m x + Σ m NE g    (every element)
//
// Amounts may pass below zero on the way; a set that stays there is dropped by
// the caller. Source: sundman-2015.
func (w *work) settle() error { return w.settleWithin(1e-9, 1e-13) }

// settleWithin stops when the largest change of a step and the error of the
// balances before it are below the given bounds.
func (w *work) settleWithin(small, balance float64) error {
	heat := w.fix >= 0
	for iter := 0; iter < 60; iter++ {
		ideal := false
		for _, s := range w.set {
			v := w.state(s.at)
			d := curvature
			if heat {
				d = inHeat
			}
			s.p.energy(s.o, v, s.y, d)
			s.stable = s.p.respond(s.o, v, s.y)
			ideal = ideal || !s.stable
			s.atoms = s.p.moles(s.x, s.y)
		}
		size := w.assemble(heat)
		if !solve(w.matrix, w.rhs, size) {
			return errSingular
		}
		change, mass := w.step(heat)
		if math.IsNaN(change) {
			return errSlow
		}
		if mass < balance && (change < small && !ideal || change < small/10) {
			return nil
		}
		if ideal && iter%12 == 11 {
			w.leaveGaps()
		}
		if iter > 3 {
			if i := w.lost(); i >= 0 {
				return nil // the caller drops it
			}
		}
	}
	return errSlow
}

// leaveGaps moves every set that has stayed inside a miscibility gap of its phase,
// where Newton steps creep toward a saddle, to the composition of that phase
// with the largest driving force.
func (w *work) leaveGaps() {
	for _, s := range w.set {
		if s.stable {
			continue
		}
		best := s
		for _, t := range w.nearest(s.at, false) {
			if !arrived(t, w.set) && (best == s || t.drive > best.drive) {
				best = t
			}
		}
		copy(s.y, best.y)
		s.atoms = s.p.moles(s.x, s.y)
		w.found = w.drop(w.found)
	}
}

// lost returns a set whose amount has been far below zero for a while, or −1.
func (w *work) lost() int {
	for i, s := range w.set {
		if s.m*s.atoms < -0.3 && i != w.fix {
			return i
		}
	}
	return -1
}

// assemble fills w.matrix and w.rhs; it returns the number of unknowns.
// The order is potentials, amounts, temperature; energies are divided by RT.
func (w *work) assemble(heat bool) int {
	n, q := len(w.mu), len(w.set)
	size := n + q // with heat, T takes the place of the fixed amount
	a, b := w.matrix[:size*size], w.rhs[:size]
	clear(a)
	clear(b)
	RT := R * w.T
	for e := 0; e < n; e++ {
		b[q+e] = w.b[e]
	}
	for i, s := range w.set {
		col := n + i
		fixed := heat && i == w.fix
		// the set on the plane
		for e, x := range s.x {
			a[i*size+e] = x
		}
		b[i] = s.o.G / RT
		if heat {
			a[i*size+n+w.fix] = -s.o.GT / RT
		}
		// the balances
		for e, x := range s.x {
			if !fixed {
				a[(q+e)*size+col] = x
			}
			b[q+e] -= s.m * x
		}
		w.balance(s, a, b, size, n, q, heat)
	}
	return size
}

// balance adds what one set's site fractions give to the balances.
func (w *work) balance(s *spot, a, b []float64, size, n, q int, heat bool) {
	p := s.p
	RT := R * w.T
	k := p.n
	for i := 0; i < k; i++ {
		ei := p.elem[i]
		if ei < 0 {
			continue
		}
		row := (q + ei) * size
		f := s.m * p.site[i]
		eg, egT := 0.0, 0.0
		for j := 0; j < k; j++ {
			x := s.o.e[i*k+j]
			if ej := p.elem[j]; ej >= 0 {
				a[row+ej] += f * x * RT * p.site[j]
			}
			eg += x * s.o.g[j]
			if heat {
				egT += x * s.o.gT[j]
			}
		}
		b[q+ei] += f * eg
		if heat {
			a[row+n+w.fix] -= f * egT
		}
	}
}

// step applies the solution in w.rhs and returns the largest change of a site
// fraction, relative for small ones, and the residual of the balances before it.
func (w *work) step(heat bool) (change, mass float64) {
	n := len(w.mu)
	RT := R * w.T
	mass = w.residual()
	dT, t := 0.0, 1.0
	for e, mu := range w.mu { // many phases hold the potentials stiffly: none moves by more than a few RT,
		if d := math.Abs(w.rhs[e] - mu/RT); d > 5 && d < 150 { // unless there was no plane worth the name before
			t = min(t, 5/d)
		}
	}
	tT := 1.0 // of temperature and site fractions
	if heat {
		dT = w.rhs[n+w.fix]
		tT = 60 / max(math.Abs(dT), 60)
		t = min(t, tT)
	}
	for i, s := range w.set { // no amount moves by more than half of the whole
		if i != w.fix {
			t = min(t, 0.5/max(math.Abs(w.rhs[n+i])*s.atoms, 0.5))
		}
	}
	for e := range w.mu {
		w.mu[e] += t * (w.rhs[e]*RT - w.mu[e])
	}
	for i, s := range w.set {
		dm := w.rhs[n+i]
		if heat && i == w.fix {
			dm = 0
		}
		s.m += t * dm
		w.forces(s, w.mu)
		k := s.p.n
		if heat {
			for i := 0; i < k; i++ {
				x := 0.0
				for j := 0; j < k; j++ {
					x += s.o.e[i*k+j] * s.o.gT[j]
				}
				w.dy[i] -= x * dT
			}
		}
		for i := 0; i < k; i++ {
			change = max(change, math.Abs(w.dy[i])/(s.y[i]+1e-7))
		}
		s.p.shift(s.y, s.y, w.dy, tT)
	}
	if heat {
		change = max(change, math.Abs(dT)*1e-4)
		w.at(w.T + tT*dT)
	}
	return change, mass
}

// residual returns the largest error of the balance of an element [mol per mole
// of atoms].
func (w *work) residual() float64 {
	worst := 0.0
	for e, b := range w.b {
		for _, s := range w.set {
			b -= s.m * s.x[e]
		}
		worst = max(worst, math.Abs(b))
	}
	return worst
}
