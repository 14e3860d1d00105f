package calphad

import "math"

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
		if !w.descend(s, w.mu, !all, found, stable) || arrived(s, found) {
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
		for _, i := range w.bestEnds() {
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
func (w *work) bestEnds() []int {
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
