package calphad

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"
	"sync/atomic"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// Table answers questions of one composition from stored equilibria: cheap
// enough for every cell of every step. It fills as it is asked; Fill fills it at once.
// It is safe for use by many goroutines.
type Table struct {
	db          *Database
	composition steel.Composition
	transitions Transitions

	at    []float64 // temperatures of the nodes [K], rising
	index []int32   // first node at or above each whole step of gridStep, for finding at once
	nodes []atomic.Pointer[node]

	mu sync.Mutex // one solve at a time

	changes []tracedChange // the transitions with their states, for neighbors
	first   *snapshot      // the coldest state
	parent  *Table         // the neighbor it was made from, nil if from nothing

	boundOnce  sync.Once
	boundAlloy steel.Composition
	planes     [3]plane // driving forces at no, half and full dissolution
	slopes     slopes
}

// node is the equilibrium at one temperature, as far as the table serves it.
type node struct {
	austenite steel.Composition // [wt %]; the last known one where there is none
	present   bool
	fraction  []Amount
	carbides  float64
	potential float64 // of carbon [J/mol]
	state     *snapshot
}

// Amount is the mass fraction of one phase.
type Amount struct {
	Phase    string
	Fraction float64
}

// Spacing of the nodes [K], fine in the three-phase field, where everything changes
// within a few kelvins. Between them the table is linear, which is within
// 1e-4 wt % C of the equilibrium.
const (
	tableFrom = 473.15
	gridStep  = 5.0
	fineStep  = 0.25
)

// Table returns the table of a composition [wt %]. Its transitions are there at
// once (a few tens of milliseconds for a new composition); the rest fills as it
// is asked. The last compositions asked for are kept.
func (db *Database) Table(c steel.Composition) (*Table, error) {
	if t, ok := db.tables.find(c); ok {
		return t, nil
	}
	tr, tracer, err := db.trace(c)
	if err != nil {
		return nil, err
	}
	t := newTable(db, c, tr, tracer.changes)
	t.first = tracer.first
	db.tables.keep(c, t)
	return t, nil
}

func newTable(db *Database, c steel.Composition, tr Transitions, changes []tracedChange) *Table {
	t := &Table{db: db, composition: c, transitions: tr, changes: changes}
	for T := tableFrom; T < Hottest; T += gridStep {
		t.at = append(t.at, T)
	}
	for T := tr.Ae1Start + fineStep; T < tr.Ae1End; T += max(fineStep, (tr.Ae1End-tr.Ae1Start)/100) {
		t.at = append(t.at, T)
	}
	for _, change := range tr.Changes {
		t.at = append(t.at, change.T-1e-3, change.T+1e-3)
	}
	sort.Float64s(t.at)
	t.at = slices.CompactFunc(t.at, func(a, b float64) bool { return math.Abs(b-a) < 5e-4 })
	for T := tableFrom; T <= Hottest+gridStep; T += gridStep {
		t.index = append(t.index, int32(sort.SearchFloat64s(t.at, T)))
	}
	t.nodes = make([]atomic.Pointer[node], len(t.at))
	return t
}

// Composition returns what the table is of [wt %].
func (t *Table) Composition() steel.Composition { return t.composition }

// Transitions returns all transition temperatures.
func (t *Table) Transitions() Transitions { return t.transitions }

// Ae1Start returns where the first austenite appears on slow heating [K].
func (t *Table) Ae1Start() float64 { return t.transitions.Ae1Start }

// Ae1End returns where ferrite, austenite and a pearlitic carbide stop being
// together on slow heating [K].
func (t *Table) Ae1End() float64 { return t.transitions.Ae1End }

// Ae3 returns where the last ferrite vanishes [K].
func (t *Table) Ae3() float64 { return t.transitions.Ae3 }

// Acm returns where the last cementite vanishes [K], zero for a steel whose
// cementite is gone before its ferrite or that has none.
func (t *Table) Acm() float64 { return t.transitions.Acm }

// Solidus returns where the first liquid appears [K].
func (t *Table) Solidus() float64 { return t.transitions.Solidus }

// Notes returns what the table leaves out of account.
func (t *Table) Notes() []cite.Note { return t.transitions.Notes }

// find returns the node below T and the weight of the one above it.
func (t *Table) find(T float64) (int, float64) {
	last := len(t.at) - 1
	if T <= t.at[0] {
		return 0, 0
	}
	if T >= t.at[last] {
		return last - 1, 1
	}
	k := int((T - tableFrom) / gridStep)
	i := int(t.index[k])
	for i < last && t.at[i+1] <= T {
		i++
	}
	return i, (T - t.at[i]) / (t.at[i+1] - t.at[i])
}

// Austenite returns the composition of the austenite at equilibrium at
// temperature T [K], and whether there is any. Where there is none, it returns
// that of the nearest temperature with austenite.
func (t *Table) Austenite(T float64) (steel.Composition, bool) {
	low, high := t.transitions.Ae1Start, t.transitions.Liquidus
	present := low > 0 && T >= low && (high == 0 || T <= high)
	T = max(T, low+2e-3)
	i, f := t.find(T)
	a, b := t.node(i), t.node(i+1)
	switch {
	case !a.present && b.present:
		return b.austenite, present
	case a.present && !b.present:
		return a.austenite, present
	case !a.present:
		return t.composition, false
	}
	c := a.austenite
	for e := range c {
		c[e] += f * (b.austenite[e] - c[e])
	}
	return c, present
}

// Carbides returns the mass fraction of all carbides together at temperature T
// [K].
func (t *Table) Carbides(T float64) float64 {
	i, f := t.find(T)
	a, b := t.node(i), t.node(i+1)
	return a.carbides + f*(b.carbides-a.carbides)
}

// Fraction returns the mass fraction of one phase at temperature T [K].
func (t *Table) Fraction(T float64, phase string) float64 {
	i, f := t.find(T)
	a, b := t.node(i).of(phase), t.node(i+1).of(phase)
	return a + f*(b-a)
}

// CarbonPotential returns the chemical potential of carbon at temperature T [K],
// against graphite at 298.15 K and zero enthalpy [J/mol].
func (t *Table) CarbonPotential(T float64) float64 {
	i, f := t.find(T)
	a, b := t.node(i), t.node(i+1)
	return a.potential + f*(b.potential-a.potential)
}

func (n *node) of(phase string) float64 {
	for _, a := range n.fraction {
		if a.Phase == phase {
			return a.Fraction
		}
	}
	return 0
}

// node returns node i, solving for it when it is empty.
func (t *Table) node(i int) *node {
	if n := t.nodes[i].Load(); n != nil {
		return n
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if n := t.nodes[i].Load(); n != nil {
		return n
	}
	n := t.solve(t.at[i])
	t.nodes[i].Store(n)
	return n
}

// solve finds the equilibrium of a node: from nothing, so that a table holds the
// same numbers whatever was asked of it first, or from the nearest node of the
// table that this one was made from.
func (t *Table) solve(T float64) *node {
	n := &node{austenite: t.composition}
	t.equilibrate(T, func(j *joined, w *work, kg float64) {
		n.state = j.snapshot(w)
		for i := range w.b {
			if j.elems[i] == steel.C {
				n.potential = w.mu[i]
			}
		}
		for _, s := range w.set {
			p := j.phase(s, kg)
			n.fraction = append(n.fraction, Amount{p.Name, p.MassFraction})
			switch p.Name {
			case Austenite:
				n.austenite, n.present = p.Composition, true
			case Ferrite, Liquid, Copper, Hexagonal:
			default:
				n.carbides += p.MassFraction
			}
		}
	})
	return n
}

// phases returns the phases at T [K].
func (t *Table) phases(T float64) (list []Phase) {
	t.equilibrate(T, func(j *joined, w *work, kg float64) {
		for _, s := range w.set {
			list = append(list, j.phase(s, kg))
		}
	})
	return list
}

// equilibrate solves at T and shows the solution, and the mass of the mole that it is of [kg].
func (t *Table) equilibrate(T float64, show func(j *joined, w *work, kg float64)) {
	T = min(max(T, Coldest), Hottest)
	j, err := t.db.system(t.composition, "", full)
	if err != nil {
		panic(err) // the same question was answered when the table was made
	}
	w := j.works.Get().(*work)
	defer j.works.Put(w)
	j.amounts(w, t.composition)
	warm := t.parent != nil
	if warm {
		w.restore(t.parent.nearestState(T))
		w.test = w.drop(w.test)
	}
	if err := w.equilibrate(T, warm); err != nil {
		// The transitions of this composition were found by solving all around
		// this temperature: a failure here is a fault of the solver.
		panic(fmt.Sprintf("calphad: table of %v at %.2f °C: %v", t.composition, T-273.15, err))
	}
	kg := 0.0
	for i, b := range w.b {
		kg += b * j.sys.mass[i] / 1000
	}
	show(j, w, kg)
}

// nearestState returns the settled state of the node nearest to T.
func (t *Table) nearestState(T float64) *snapshot {
	i, f := t.find(T)
	if f > 0.5 {
		i++
	}
	return t.node(i).state
}

// Fill solves for every node that is still empty, so that later questions never
// wait. It stops when ctx ends; progress, if not nil, hears how many of how many
// are done.
func (t *Table) Fill(ctx context.Context, progress func(done, total int)) error {
	for i := range t.nodes {
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("calphad: fill table: %w", err)
		}
		t.node(i)
		if progress != nil {
			progress(i+1, len(t.nodes))
		}
	}
	return nil
}

// shelf keeps the tables asked for last.
type shelf struct {
	mu    sync.Mutex
	order []steel.Composition
	byKey map[steel.Composition]*Table
}

const shelfSize = 64

func (s *shelf) find(c steel.Composition) (*Table, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	t, ok := s.byKey[c]
	return t, ok
}

func (s *shelf) keep(c steel.Composition, t *Table) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.byKey == nil {
		s.byKey = map[steel.Composition]*Table{}
	}
	if _, ok := s.byKey[c]; ok {
		return
	}
	if len(s.order) == shelfSize {
		delete(s.byKey, s.order[0])
		s.order = s.order[1:]
	}
	s.order = append(s.order, c)
	s.byKey[c] = t
}
