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
		for _, s := range spots { // the same places, seen from the new plane
			w.descend(s, w.mu, !thorough)
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

// nearest returns the local minima of a phase's distance from the plane w.mu,
// each once, from several starts. The caller gives the spots back. With all, it
// also starts from the composition sets of the last test.
func (w *work) nearest(at int, all bool) []*spot {
	p := w.sys.phases[at]
	found := w.found[:0]
	try := func(floor float64) {
		s := w.newSpot(at, w.yStart[:p.n])
		p.energy(s.o, w.state(at), s.y, valueOnly)
		if -s.distance(w.mu) < floor*R*w.T*s.atoms {
			w.give(s)
			return
		}
		var stable []*spot
		if all {
			stable = w.set
		}
		if !w.descend(s, w.mu, !all, found, stable) || arrived(s, [][]*spot{found}) {
			w.give(s)
			return
		}
		found = append(found, s)
	}
	if p.n == 0 {
		try(math.Inf(-1))
		w.found = found
		return found
	}
	if all {
		for _, t := range w.test {
			if t.at == at {
				copy(w.yStart, t.y)
				try(math.Inf(-1))
			}
		}
	}
	corners := 1
	if k := p.interstitial; k >= 0 {
		corners = p.first[k+1] - p.first[k]
	}
	for c := 0; c < corners; c++ {
		w.boltzmann(w.yStart, at, c)
		floor := -3.0
		if c == corners-1 && len(found) == 0 {
			floor = math.Inf(-1)
		}
		try(floor)
	}
	if p.interstitial >= 0 || p.site[0] == 1 && len(p.first) == 2 {
		if w.proportioned(w.yStart, p, 1) {
			try(-3)
		}
		if all {
			w.single(at, func() { try(-1.2) })
		}
	} else {
		for _, i := range w.bestEnds(p) {
			lead := w.lead[:len(p.first)-1]
			for k := range lead {
				lead[k] = int(p.ends[i].v[k]) - p.first[k]
			}
			p.led(w.yStart, lead, 0.85)
			try(-3)
		}
	}
	w.found = found
	return found
}

// bestEnds returns the end-members with the largest weights of the last call of
// boltzmann, the best first and left out where it has nearly all of the weight.
func (w *work) bestEnds(p *phase) []int {
	var best [3]int
	n := 0
	for i, x := range w.weights {
		at := n
		for at > 0 && x > w.weights[best[at-1]] {
			at--
		}
		if at < len(best) {
			n = min(n+1, len(best))
			copy(best[at+1:n], best[at:n-1])
			best[at] = i
		}
	}
	if n < 2 || w.weights[best[0]]-w.weights[best[1]] > 4 {
		return nil
	}
	w.ends = append(w.ends[:0], best[:n]...)
	return w.ends
}

// single calls try with each metal leading on the first sublattice, the others in
// the proportion of the steel, and the interstitial sublattice empty: starts for
// the copper-rich and the chromium-rich composition sets.
func (w *work) single(at int, try func()) {
	p := w.sys.phases[at]
	if p.interstitial == 0 {
		return
	}
	for i := p.first[0]; i < p.first[1]; i++ {
		if e := p.elem[i]; e < 0 || w.b[e] > 0.5 || w.b[e] < 1e-4 {
			continue
		}
		if !w.proportioned(w.yStart, p, 0.01) {
			return
		}
		for k := p.first[0]; k < p.first[1]; k++ {
			w.yStart[k] *= 0.1
		}
		w.yStart[i] += 0.9
		try()
	}
}

// boltzmann fills y with the composition that an ideal phase would show against
// the plane w.mu, from its end-members alone; corner chooses the constituent of
// the interstitial sublattice.
func (w *work) boltzmann(y []float64, at, corner int) {
	p, v := w.sys.phases[at], w.state(at)
	total := 0.0
	for k := 0; k+1 < len(p.first); k++ {
		if k != p.interstitial {
			total = max(total, p.site[p.first[k]])
		}
	}
	RT := R * w.T * max(total, 1)
	best := math.Inf(-1)
	weight := w.weights[:0]
	for i := range p.ends {
		em := &p.ends[i]
		if p.interstitial >= 0 && int(em.v[p.interstitial]) != p.first[p.interstitial]+corner {
			weight = append(weight, math.Inf(-1))
			continue
		}
		g := 0.0
		if em.par >= 0 {
			g = v.v[em.par]
		}
		for e, x := range p.fixed {
			g -= w.mu[e] * x
		}
		for k := 0; k+1 < len(p.first); k++ {
			if e := p.elem[em.v[k]]; e >= 0 {
				g -= w.mu[e] * p.site[em.v[k]]
			}
		}
		weight = append(weight, -g/RT)
		best = max(best, -g/RT)
	}
	w.weights = weight
	for i := range y[:p.n] {
		y[i] = 1e-6
	}
	for i := range p.ends {
		f := math.Exp(weight[i] - best)
		for k := 0; k+1 < len(p.first); k++ {
			y[p.ends[i].v[k]] += f
		}
	}
	for k := 0; k+1 < len(p.first); k++ {
		lo, hi := p.first[k], p.first[k+1]
		if k == p.interstitial {
			p.leadOne(y, k, corner)
			continue
		}
		sum := 0.0
		for i := lo; i < hi; i++ {
			sum += y[i]
		}
		for i := lo; i < hi; i++ {
			y[i] /= sum
		}
	}
}

func (p *phase) leadOne(y []float64, k, corner int) {
	lo, hi := p.first[k], p.first[k+1]
	share := 0.9
	if p.elem[lo+corner] < 0 {
		share = 0.99
	}
	for i := lo; i < hi; i++ {
		y[i] = (1 - share) / float64(hi-lo-1)
	}
	y[lo+corner] = share
}
