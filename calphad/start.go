package calphad

import "math"

// column is one sampled composition of one phase, per mole of atoms: a point
// under which the lower convex hull of the Gibbs energy cannot lie.
type column struct {
	at int
	y  []float64
	x  []float64 // mole fractions
	g  float64   // [J/mol of atoms]
}

// hull finds a first phase set from nothing: it samples every phase coarsely,
// finds the facet of the lower convex hull over the composition by the simplex
// method, then adds the compositions where each phase comes nearest to that
// facet and repeats; thorough goes on until nearly nothing lies below the facet
// from any start. On return w.mu holds the facet's plane and w.set the
// phases of its corners, joined where they are one composition set.
//
// Source: own derivation (column generation on the tangent plane).
func (w *work) hull(thorough bool) error {
	w.columns = w.columns[:0]
	for at := range w.sys.phases {
		w.sample(at)
	}
	lp := newSimplex(w)
	if err := lp.run(); err != nil {
		return err
	}
	copy(w.mu, lp.mu)
	worth, rounds := 1e-2*R*w.T, 20
	if thorough {
		worth, rounds = 1e-4*R*w.T, 60
	}
	var spots []*spot
	for afresh := true; rounds > 0; rounds-- {
		if afresh {
			spots = w.drop(spots)
			for at := range w.sys.phases {
				spots = append(spots, w.nearest(at, thorough)...)
			}
		}
		added := false
		for _, s := range spots {
			if s.drive > worth {
				w.addColumn(s.at, s.y, s.o.G)
				added = true
			}
		}
		if !added {
			if afresh || !thorough {
				break
			}
			afresh = true
			continue
		}
		if err := lp.run(); err != nil {
			return err
		}
		copy(w.mu, lp.mu)
		for _, s := range spots { // the same places, seen from the new plane; far ones now and then
			if thorough || rounds%5 == 0 || s.drive > -R*w.T {
				w.descend(s, w.mu, !thorough)
			}
		}
		afresh = false
	}
	w.drop(w.test)
	w.test = spots
	copy(w.mu, lp.mu)
	w.gather(lp)
	return nil
}

// gather turns the corners of the facet into composition sets.
func (w *work) gather(lp *simplex) {
	w.set = w.drop(w.set)
	for i, c := range lp.basis {
		if c < 0 || lp.amount[i] <= 1e-12 {
			continue
		}
		col := &w.columns[c]
		s := w.newSpot(col.at, col.y)
		s.m = lp.amount[i] / s.atoms
		joined := false
		for _, t := range w.set {
			if t.at == s.at && w.join(t, s) {
				joined = true
				break
			}
		}
		if joined {
			w.give(s)
			continue
		}
		w.set = append(w.set, s)
	}
	for _, s := range w.set {
		m := s.m * s.atoms
		w.descend(s, w.mu, false)
		s.m = m / s.atoms
	}
	for w.merge() {
	}
}

// join adds the amount of s to t when the Gibbs energy between them does not rise
// above their mixture: then they are one composition set.
func (w *work) join(t, s *spot) bool {
	p := t.p
	f := s.m / (s.m + t.m)
	v := w.state(t.at)
	p.energy(t.o, v, t.y, valueOnly)
	p.energy(s.o, v, s.y, valueOnly)
	mixture := (1-f)*t.o.G + f*s.o.G
	y := w.yStart[:p.n]
	for k := range y {
		y[k] = (1-f)*t.y[k] + f*s.y[k]
	}
	p.energy(s.o, v, y, valueOnly)
	if s.o.G > mixture+1e-6*R*w.T {
		return false
	}
	copy(t.y, y)
	t.m += s.m
	t.atoms = p.moles(t.x, t.y)
	return true
}

func near(a, b []float64, within float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > within {
			return false
		}
	}
	return true
}

// addColumn appends a point of the Gibbs energy; G is per mole of formula units.
func (w *work) addColumn(at int, y []float64, G float64) {
	p := w.sys.phases[at]
	i := len(w.columns)
	if i < cap(w.columns) {
		w.columns = w.columns[:i+1]
	} else {
		w.columns = append(w.columns, column{})
	}
	c := &w.columns[i]
	c.at = at
	c.y = append(c.y[:0], y...)
	if cap(c.x) < len(w.b) {
		c.x = make([]float64, len(w.b))
	}
	c.x = c.x[:len(w.b)]
	atoms := p.moles(c.x, y)
	if atoms < 0.05 {
		w.columns = w.columns[:i]
		return
	}
	for e := range c.x {
		c.x[e] /= atoms
	}
	c.g = G / atoms
}

// sample adds the coarse points of a phase: every sublattice led by one
// constituent, half-and-half mixtures on its first sublattice, and the metals in the
// proportion of the steel with its carbon in several amounts: one of them is the
// steel itself, so that there is always a mixture to start from.
func (w *work) sample(at int) {
	p := w.sys.phases[at]
	s := w.take(at)
	defer w.give(s)
	s.p, s.at = p, at
	add := func() {
		p.energy(s.o, w.state(at), s.y, valueOnly)
		w.addColumn(at, s.y, s.o.G)
	}
	if p.n == 0 {
		add()
		return
	}
	lead := make([]int, len(p.first)-1)
	for count := 0; count < 400; count++ {
		p.led(s.y, lead, 1-1e-9) // pure corners reach every composition, the others are nearer to phases
		add()
		p.led(s.y, lead, 0.97)
		add()
		k := 0
		for ; k < len(lead); k++ {
			if lead[k]++; lead[k] < p.first[k+1]-p.first[k] {
				break
			}
			lead[k] = 0
		}
		if k == len(lead) {
			break
		}
	}
	for _, a := range []float64{1e-3, 0.2, 1, 2, 5} {
		if w.proportioned(s.y, p, a) {
			add()
		}
	}
}

// led fills y with sublattices that hold the share of the lead constituent and
// the rest in equal parts.
func (p *phase) led(y []float64, lead []int, share float64) {
	for k := range lead {
		lo, hi := p.first[k], p.first[k+1]
		for i := lo; i < hi; i++ {
			y[i] = (1 - share) / float64(hi-lo-1)
		}
		y[lo+lead[k]] = share
	}
}

// proportioned fills y with the metals in the proportion of the steel and, on
// the sublattice of vacancies, a times its carbon and nitrogen: at 1 the phase
// has the composition of the steel. It reports false when the phase lacks an
// element to fill a sublattice.
func (w *work) proportioned(y []float64, p *phase, a float64) bool {
	metals := 0.0 // amount and sites of what shares a sublattice with no vacancy
	sites := 0.0
	for k := 0; k+1 < len(p.first); k++ {
		if k != p.interstitial {
			sites += p.site[p.first[k]]
			for i := p.first[k]; i < p.first[k+1]; i++ {
				metals += w.b[p.elem[i]]
			}
		}
	}
	for e, x := range p.fixed {
		if x > 0 {
			metals += w.b[e]
			sites += x
		}
	}
	if !(metals > 0) {
		return false
	}
	for k := 0; k+1 < len(p.first); k++ {
		sum, va := 0.0, -1
		for i := p.first[k]; i < p.first[k+1]; i++ {
			switch e := p.elem[i]; {
			case e < 0:
				va = i
				continue
			case p.interstitial == k:
				y[i] = max(a*w.b[e]/metals*sites/p.site[i], 1e-12)
			default:
				y[i] = max(w.b[e], 1e-12)
			}
			sum += y[i]
		}
		if va >= 0 {
			y[va] = max(1-sum, 0.01)
			sum += y[va]
		}
		if !(sum > 0) {
			return false
		}
		for i := p.first[k]; i < p.first[k+1]; i++ {
			y[i] /= sum
		}
	}
	return true
}
