package calphad

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/heatwright/heatwright/steel"
)

// Near returns the table of a neighboring composition, this one's plus delta
// [wt %]: another bar of the same grade. Every transition starts from this
// table's and is found by Newton steps, whose first is the analytic derivative
// in composition; equilibria start from this table's nodes, and driving
// forces follow this table's derivatives. Where the order of the named transitions
// changes, or an element comes or goes, the table is made from nothing.
//
// It was held against tables made from nothing over the ranges of grades: within
// 0.01 K and 1e-4 wt % C.
func (t *Table) Near(delta steel.Composition) (*Table, error) {
	c := t.composition
	for e := range c {
		c[e] = math.Max(c[e]+delta[e], 0)
	}
	if c == t.composition {
		return t, nil
	}
	notes, err := t.db.check(c)
	if err != nil {
		return nil, err
	}
	for e := range c {
		if (c[e] > trace) != (t.composition[e] > trace) {
			return t.db.Table(c)
		}
	}
	tr, changes, ok := t.follow(c)
	if !ok {
		return t.db.Table(c)
	}
	tr.Notes = notes
	n := newTable(t.db, c, tr, changes)
	n.first, n.parent = t.first, t
	return n, nil
}

// follow moves every transition to composition c, the named ones to the end and
// with the test of all phases, those of carbides by their derivative. It reports
// false when a named one gets lost or passes another.
func (t *Table) follow(c steel.Composition) (Transitions, []tracedChange, bool) {
	j, err := t.db.system(c, "", full)
	if err != nil || len(t.changes) == 0 {
		return Transitions{}, nil, false
	}
	w := j.works.Get().(*work)
	defer j.works.Put(w)
	j.amounts(w, c)
	w.test = w.drop(w.test)
	var changes []tracedChange
	moved := map[*snapshot]*snapshot{}
	for _, change := range t.changes {
		state, again := moved[change.state] // the other half of an invariant
		if !again {
			if state = t.followOne(j, w, change); state == nil && t.named(change) {
				return Transitions{}, nil, false
			}
			moved[change.state] = state
		}
		if state == nil {
			continue
		}
		change.T, change.state = state.T, state
		changes = append(changes, change)
	}
	tr := t.transitions
	tr.Changes = nil
	for _, f := range []*float64{&tr.Ae1Start, &tr.Ae1End, &tr.Ae3, &tr.Acm, &tr.Solidus, &tr.Liquidus} {
		for i := range t.changes {
			if state := moved[t.changes[i].state]; *f == t.changes[i].T && state != nil {
				*f = state.T
				break
			}
		}
	}
	if tr.Ae1End < tr.Ae1Start || tr.Ae3 < tr.Ae1End || tr.Acm > 0 && tr.Acm < tr.Ae3 {
		return Transitions{}, nil, false
	}
	slices.SortStableFunc(changes, func(a, b tracedChange) int { return cmp.Compare(a.T, b.T) })
	for _, change := range changes {
		tr.Changes = append(tr.Changes, change.Change)
	}
	return tr, changes, true
}

// followOne moves one transition to the composition of w, nil when it is lost.
// Carbides that are used up or would form on the way go and come.
func (t *Table) followOne(j *joined, w *work, change tracedChange) *snapshot {
	if change.state.zero < 0 {
		return nil
	}
	w.restore(change.state)
	w.barred = w.drop(w.barred)
	w.fix = change.state.zero
	fixed := w.set[w.fix]
	defer func() { w.fix = -1 }()
	small, balance := 1e-5, 1e-8 // what is left after the step is the square of it
	if !t.named(change) {
		small, balance = math.Inf(1), math.Inf(1) // one step: the derivative alone
	}
	for range 8 {
		if w.settleWithin(small, balance) != nil || math.Abs(w.T-change.T) > 100 || w.T < Coldest || w.T > Hottest {
			return nil
		}
		if t.named(change) && w.dropSpentBut(fixed) {
			continue
		}
		if t.named(change) {
			if s, _ := w.strongest(); s != nil {
				if len(w.set) > len(w.b) {
					return nil
				}
				if _, err := w.admit(s); err != nil {
					return nil
				}
				w.fix = slices.Index(w.set, fixed)
				continue
			}
		}
		state := j.snapshot(w)
		state.zero = w.fix
		return state
	}
	return nil
}

// dropSpentBut removes the set with the most negative amount, and keeps the one
// whose amount is fixed.
func (w *work) dropSpentBut(fixed *spot) bool {
	least := -1
	for i, s := range w.set {
		if s != fixed && s.m*s.atoms < -1e-10 && (least < 0 || s.m*s.atoms < w.set[least].m*w.set[least].atoms) {
			least = i
		}
	}
	if least < 0 {
		return false
	}
	w.remove(least)
	w.fix = slices.Index(w.set, fixed)
	return true
}

// named reports whether a change is one of the named transitions, which a
// neighbor has to the end and tested in full.
func (t *Table) named(change tracedChange) bool {
	tr := &t.transitions
	return slices.Contains([]float64{tr.Ae1Start, tr.Ae1End, tr.Ae3, tr.Acm, tr.Solidus}, change.T)
}

// slopes are the derivatives of the driving forces in the content of each metal
// [J/mol per wt %], at full dissolution.
type slopes struct {
	once sync.Once
	of   [steel.NumElements]*knots
}

// slopeStep is the content [wt %] over which the derivatives are taken.
const slopeStep = 0.05

// shift fills plane i of a neighbor from this table's and its slopes. It reports
// false when the neighbor is too far for that.
func (t *Table) shift(n *Table, i int, p *plane) bool {
	share := float64(i) / float64(len(t.planes)-1)
	from, to := t.Dissolved(share), n.Dissolved(share)
	base := t.plane(i, true)
	t.slopes.once.Do(t.fillSlopes)
	p.knots = base.knots
	for e := range from {
		d := to[e] - from[e]
		s := t.slopes.of[e]
		switch {
		case d == 0 || steel.Element(e) == steel.C || steel.Element(e) == steel.N || !t.db.Covers(steel.Element(e)):
			continue // these do not enter the forces
		case s == nil || math.Abs(d) > 0.6:
			return false
		}
		for k := range knotCols {
			for a := range p.knots.para {
				p.knots.para[a][k].add(&s.para[a][k], d)
			}
			for a := range p.knots.full {
				p.knots.full[a][k].add(&s.full[a][k], d)
			}
		}
	}
	p.spread(0, driveRows)
	p.crossings()
	return true
}

// fillSlopes takes the derivatives at every second knot, which is finer than the
// forces need, and puts the rest between.
func (t *Table) fillSlopes() {
	base := &t.plane(len(t.planes)-1, true).knots
	for e := range steel.NumElements {
		if e == steel.C || e == steel.N || t.composition[e] <= trace || !t.db.Covers(e) {
			continue
		}
		c := t.composition
		c[e] += slopeStep
		s := &knots{}
		if t.db.fillKnots(s, c, 0, fullKnots, 2) != nil {
			continue
		}
		derive(s.para[:], base.para[:])
		derive(s.full[:], base.full[:])
		t.slopes.of[e] = s
	}
}

// derive turns the forces at every second knot, counted from the last, into slopes
// against base and fills those between.
func derive(rows, base [][knotCols]Driving) {
	last := len(rows) - 1
	for i := last; i >= 0; i -= 2 {
		for k := knotCols - 1; k >= 0; k -= 2 {
			f := Driving{}
			f.add(&rows[i][k], 1/slopeStep)
			f.add(&base[i][k], -1/slopeStep)
			rows[i][k] = f
		}
		for k := knotCols - 2; k >= 0; k -= 2 {
			w := 0.0
			if k > 0 {
				w = (knotCol[k+1] - knotCol[k]) / (knotCol[k+1] - knotCol[k-1])
			}
			rows[i][k] = between(rows[i][max(k-1, 1)], rows[i][k+1], w)
		}
	}
	for i := last - 1; i >= 0; i -= 2 {
		for k := range rows[i] {
			rows[i][k] = between(rows[max(i-1, 1)][k], rows[i+1][k], 0.5)
		}
	}
}

// between returns w of a and the rest of b.
func between(a, b Driving, w float64) Driving {
	f := Driving{}
	f.add(&a, w)
	f.add(&b, 1-w)
	return f
}
