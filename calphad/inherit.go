package calphad

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/steel"
)

// inherited is the state of carbon-only equilibrium: the metals stay where they
// are, in the proportion u that austenite, ferrite and cementite share.
type inherited struct {
	j             *joined
	w             *work
	u             []float64 // atoms of each element per metal atom; carbon zero
	fcc, bcc, cem lattice
	gram          float64 // mass of the metals per mole of metal atoms [g]
	carbonMass    float64
}

// lattice says where the carbon of a phase sits.
type lattice struct {
	at            int
	metals, sites float64 // sites of the metals and of the interstitials per formula unit
	c, va         int     // variables of carbon and vacancy, −1 for cementite
	y             []float64
}

// inherit prepares carbon-only equilibrium for the metals of a composition. The
// caller gives the state back with done.
func (db *Database) inherit(c steel.Composition) (*inherited, error) {
	if _, err := db.check(c); err != nil {
		return nil, err
	}
	c[steel.N] = 0 // a trace that would need a sublattice of its own
	c[steel.C] = max(c[steel.C], 0.1)
	j, err := db.para.system(c, "", func(name string) bool { return name == "FCC_A1" || name == "BCC_A2" || name == "CEMENTITE" })
	if err != nil {
		return nil, err
	}
	w := j.works.Get().(*work)
	h := &inherited{j: j, w: w, u: make([]float64, len(j.sys.symbols))}
	h.compose(c)
	for _, l := range []struct {
		dst  *lattice
		name string
	}{{&h.fcc, "FCC_A1"}, {&h.bcc, "BCC_A2"}, {&h.cem, "CEMENTITE"}} {
		if *l.dst, err = h.lattice(l.name); err != nil {
			h.done()
			return nil, err
		}
	}
	return h, nil
}

func (h *inherited) done() { h.j.works.Put(h.w) }

// compose sets the proportion of the metals from a composition [wt %].
func (h *inherited) compose(c steel.Composition) {
	total := 0.0
	for i, e := range h.j.elems {
		x := c.Fe()
		switch {
		case e == steel.C:
			h.carbonMass = h.j.sys.mass[i]
			x = 0
		case e >= 0:
			x = c[e]
		}
		h.u[i] = x / h.j.sys.mass[i]
		total += h.u[i]
	}
	h.gram = 0
	for i := range h.u {
		h.u[i] /= total
		h.gram += h.u[i] * h.j.sys.mass[i]
	}
}

// z returns carbon atoms per metal atom for carbon [wt %].
func (h *inherited) z(carbon float64) float64 {
	return carbon / h.carbonMass / (100 - carbon) * h.gram
}

// percent is the inverse of z.
func (h *inherited) percent(z float64) float64 {
	c := z * h.carbonMass
	return 100 * c / (c + h.gram)
}

func (h *inherited) lattice(name string) (lattice, error) {
	at := h.j.sys.phase(name)
	if at < 0 {
		return lattice{}, fmt.Errorf("calphad: phase %s does not exist for this composition", name)
	}
	p := h.j.sys.phases[at]
	l := lattice{at: at, c: -1, va: -1, y: make([]float64, p.n)}
	for i, e := range p.elem {
		switch {
		case e < 0:
			l.va = i
		case h.j.elems[e] == steel.C:
			l.c = i
			l.sites = p.site[i]
		default:
			l.metals = p.site[i]
		}
	}
	for e, x := range p.fixed { // pure iron sits alone on its sublattice
		if h.j.elems[e] != steel.C && x > 0 {
			l.metals = x
		}
	}
	if name != "CEMENTITE" && (l.c < 0 || l.va < 0) {
		return lattice{}, fmt.Errorf("calphad: phase %s of this database does not dissolve carbon between its metals", name)
	}
	return l, nil
}

// at sets the temperature [K].
func (h *inherited) at(T float64) { h.w.at(T) }

// energy returns the Gibbs energy of a phase with z carbon atoms per metal atom
// [J per mole of metal atoms], the potential of carbon in it [J/mol] and its slope
// in z. For cementite, whose carbon is given, only the first has a meaning.
func (h *inherited) energy(l *lattice, z float64) (G, mu, slope float64) {
	p := h.j.sys.phases[l.at]
	for i, e := range p.elem {
		if e >= 0 && i != l.c {
			l.y[i] = max(h.u[e], tiny)
		}
	}
	depth := valueOnly
	if l.c >= 0 {
		x := min(max(z*l.metals/l.sites, 1e-12), 1-1e-9)
		l.y[l.c], l.y[l.va] = x, 1-x
		depth = curvature
	}
	s := h.w.take(l.at)
	defer h.w.give(s)
	s.p, s.at = p, l.at
	p.energy(s.o, h.w.state(l.at), l.y, depth)
	G = s.o.G / l.metals
	if l.c >= 0 {
		mu = (s.o.g[l.c] - s.o.g[l.va]) / l.sites
		slope = (s.o.h[l.c*p.n+l.c] - 2*s.o.h[l.c*p.n+l.va] + s.o.h[l.va*p.n+l.va]) * l.metals / (l.sites * l.sites)
	}
	return G, mu, slope
}

// ferriteAt returns the carbon of ferrite, per metal atom, whose potential of
// carbon is mu, with its Gibbs energy [J per mole of metal atoms].
func (h *inherited) ferriteAt(mu float64) (z, G float64) {
	RT := R * h.w.T
	z = 1e-4
	for range 60 {
		g, m, slope := h.energy(&h.bcc, z)
		d := mu - m
		if math.Abs(d) < 1e-9*RT {
			return z, g
		}
		// the potential runs with ln z: step there, by the true slope
		step := d / (slope * z)
		z = min(z*math.Exp(max(min(step, 8), -8)), 0.5)
		G = g
	}
	return z, G
}
