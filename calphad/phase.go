package calphad

import (
	"fmt"
	"slices"
)

// phase is a phase of the database joined to the elements of one system: only
// constituents that can occur remain, and the site fractions that can vary are
// numbered 0…n−1 across its sublattices.
type phase struct {
	name   string
	n      int       // variable site fractions
	elem   []int     // element of each variable, −1 for vacancies
	site   []float64 // sites of the sublattice it sits on [mol per mole of formula units]
	lat    []int     // which variable sublattice it sits on
	first  []int     // first variable of each variable sublattice, one more at the end
	fixed  []float64 // elements on sublattices with a single constituent [mol per formula unit]
	g      []group   // Gibbs energy
	tc, bm []group   // Curie temperature, magnetic moment
	par    []compiled
	factor float64 // magnetic: antiferromagnetic factor, 0 without magnetism
	short  float64 // magnetic: short-range fraction p

	interstitial int // variable sublattice that carries vacancies or carbon beside metals, −1 if none
	ends         []endMember
}

// endMember is one constituent on every variable sublattice; par is its
// parameter, −1 where the database gives none.
type endMember struct {
	v   [8]uint8
	par int
}

// group is the sum of all parameters that multiply the same product of site
// fractions: one end-member, or the series of one interaction.
//
//	contribution = Π y[idx] · F,  F = Σ_k L_k (y_i − y_j)^k      (pair)
//	                              F = Σ_k L_k v_k                (three)
//	                              F = L                          (one parameter)
type group struct {
	m    int
	idx  [8]uint8
	kind int8 // 0 one parameter, 1 pair series, 2 three-constituent
	lin  [3]uint8
	par  int // first of the parameters
	k    int // how many
}

// join builds the phase for the elements of a system; ok is false when one of
// its sublattices would be empty.
func (d *PhaseData) join(sys *System, b *basis) (p *phase, ok bool, err error) {
	p = &phase{name: d.Name, factor: d.AntiFerro, short: d.ShortRange, fixed: make([]float64, len(sys.symbols)), interstitial: -1}
	where := make([]map[string]int, len(d.Sites)) // variable of each constituent, −1 when alone
	for s, names := range d.Constituents {
		var present []string
		for _, c := range names {
			if c == "VA" || sys.index(c) >= 0 {
				present = append(present, c)
			}
		}
		where[s] = map[string]int{}
		switch len(present) {
		case 0:
			return nil, false, nil
		case 1:
			where[s][present[0]] = -1
			if e := sys.index(present[0]); e >= 0 {
				p.fixed[e] += d.Sites[s]
			}
			continue
		}
		if slices.Contains(present, "VA") {
			p.interstitial = len(p.first)
		}
		p.first = append(p.first, p.n)
		for _, c := range present {
			where[s][c] = p.n
			p.elem = append(p.elem, sys.index(c))
			p.site = append(p.site, d.Sites[s])
			p.lat = append(p.lat, len(p.first)-1)
			p.n++
		}
	}
	p.first = append(p.first, p.n)
	if p.n > 200 {
		return nil, false, fmt.Errorf("phase %s has %d constituents", d.Name, p.n)
	}
	if err := p.collect(d, where, b); err != nil {
		return nil, false, err
	}
	p.listEnds()
	return p, true, nil
}

// listEnds lists the end-members, up to a number that no phase of steel reaches.
func (p *phase) listEnds() {
	subs := len(p.first) - 1
	if subs == 0 || subs > 8 {
		return
	}
	par := map[[8]uint8]int{}
	for _, gr := range p.g {
		if gr.m != subs || gr.kind != 0 {
			continue
		}
		var v [8]uint8
		ok := true
		for k := range subs {
			i := int(gr.idx[k])
			ok = ok && i >= p.first[k] && i < p.first[k+1]
			v[k] = gr.idx[k]
		}
		if ok {
			par[v] = gr.par
		}
	}
	var v [8]uint8
	for k := range subs {
		v[k] = uint8(p.first[k])
	}
	for len(p.ends) < 500 {
		at, ok := par[v]
		if !ok {
			at = -1
		}
		p.ends = append(p.ends, endMember{v, at})
		k := 0
		for ; k < subs; k++ {
			if v[k]++; int(v[k]) < p.first[k+1] {
				break
			}
			v[k] = uint8(p.first[k])
		}
		if k == subs {
			return
		}
	}
}

// collect gathers the parameters that the present constituents need.
func (p *phase) collect(d *PhaseData, where []map[string]int, b *basis) error {
	list := slices.Clone(d.Parameters)
	slices.SortStableFunc(list, func(a, b *ParameterData) int { return a.Order - b.Order })
	series := map[string][]*ParameterData{}
	var keys []string
	for _, q := range list {
		if !q.present(where) {
			continue
		}
		key := fmt.Sprint(q.Kind, q.Constituents)
		if series[key] == nil {
			keys = append(keys, key)
		}
		if s := series[key]; len(s) > 0 && s[len(s)-1].Order == q.Order {
			return fmt.Errorf("phase %s has the same %s parameter of order %d on lines %d and %d", d.Name, q.Kind, q.Order, s[len(s)-1].Line, q.Line)
		}
		series[key] = append(series[key], q)
	}
	for _, key := range keys {
		s := series[key]
		gr, err := newGroup(d, s, where)
		if err != nil {
			return err
		}
		gr.par = len(p.par)
		for order := 0; order < gr.k; order++ {
			var c compiled
			if i := slices.IndexFunc(s, func(q *ParameterData) bool { return q.Order == order }); i >= 0 {
				c = b.compile(s[i].curve)
			} else {
				c = b.compile(curve{segments: []segment{{high: 6000}}})
			}
			p.par = append(p.par, c)
		}
		switch s[0].Kind {
		case "G":
			p.g = append(p.g, gr)
		case "TC":
			p.tc = append(p.tc, gr)
		case "BMAGN":
			p.bm = append(p.bm, gr)
		}
	}
	if p.factor == 0 {
		p.tc, p.bm = nil, nil
	}
	return nil
}

func (q *ParameterData) present(where []map[string]int) bool {
	for s, names := range q.Constituents {
		for _, c := range names {
			if _, ok := where[s][c]; !ok && c != "*" {
				return false
			}
		}
	}
	return true
}

func newGroup(d *PhaseData, s []*ParameterData, where []map[string]int) (group, error) {
	gr := group{k: s[len(s)-1].Order + 1}
	for sub, names := range s[0].Constituents {
		for _, c := range names {
			v, ok := where[sub][c]
			if !ok || v < 0 { // "*", or alone on its sublattice: y = 1
				continue
			}
			if gr.m == len(gr.idx) {
				return gr, fmt.Errorf("phase %s has a parameter over more than %d site fractions", d.Name, len(gr.idx))
			}
			gr.idx[gr.m] = uint8(v)
			gr.m++
			if len(names) == 2 && gr.kind < 1 || len(names) == 3 {
				gr.kind = int8(len(names) - 1)
			}
		}
	}
	if gr.kind > 0 && gr.k > 1 || gr.kind == 2 && len(s) > 1 {
		for sub, names := range s[0].Constituents {
			if len(names) == int(gr.kind)+1 {
				for i, c := range names {
					gr.lin[i] = uint8(where[sub][c])
				}
			}
		}
	} else {
		gr.kind = 0
	}
	if gr.kind == 2 {
		gr.k = 3
	}
	slices.Sort(gr.idx[:gr.m])
	return gr, nil
}

// moles fills dst with the amount of each element in one mole of formula units
// [mol] and returns their sum.
func (p *phase) moles(dst, y []float64) float64 {
	copy(dst, p.fixed)
	for i, e := range p.elem {
		if e >= 0 {
			dst[e] += p.site[i] * y[i]
		}
	}
	total := 0.0
	for _, x := range dst {
		total += x
	}
	return total
}

// values reads every parameter of the phase at temperature T [K]: value, slope
// and curvature in T, from the basis functions there.
func (p *phase) values(v, d, dd []float64, T float64, at []jet) {
	for i := range p.par {
		j := p.par[i].at(T, at)
		v[i], d[i], dd[i] = j.v, j.d, j.dd
	}
}
