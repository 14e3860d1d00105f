package calphad

import (
	"fmt"
	"math"
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// Transitions are the temperatures [K] where phases come and go at equilibrium,
// on slow heating. A temperature that does not exist between 400 and 1600 °C is
// zero.
type Transitions struct {
	Ae1Start float64 // first austenite
	Ae1End   float64 // end of the field of ferrite, austenite and a pearlitic carbide
	Ae3      float64 // last ferrite gone
	Acm      float64 // last cementite gone, when it outlasts the ferrite
	Solidus  float64 // first liquid
	Liquidus float64 // last solid gone
	Changes  []Change
	Coldest  []string // phases at 400 °C, where the walk starts
	Notes    []cite.Note
}

// Change is one phase that appears or vanishes on heating.
type Change struct {
	T       float64 // [K]
	Phase   string
	Appears bool
}

// Gone returns the temperature above which a phase does not come back before
// the solidus [K], zero if it never vanishes or never was.
func (t *Transitions) Gone(phase string) float64 {
	at := 0.0
	for _, c := range t.Changes {
		if c.Phase == phase && (t.Solidus == 0 || c.T < t.Solidus || !c.Appears) {
			if at = 0; !c.Appears {
				at = c.T
			}
		}
	}
	return at
}

// Field is a range of temperature [K] in which the phases stay the same.
type Field struct {
	From, To float64
	Phases   []string // in alphabetical order
}

// Fields returns the fields between the transitions, the coldest first.
func (t *Transitions) Fields() []Field {
	phases := slices.Clone(t.Coldest)
	from := walkFrom
	var list []Field
	for _, c := range t.Changes {
		if c.T-from > 1e-6 {
			list = append(list, Field{from, c.T, slices.Clone(phases)})
			from = c.T
		}
		if i := slices.Index(phases, c.Phase); c.Appears {
			phases = append(phases, c.Phase)
			slices.Sort(phases)
		} else if i >= 0 {
			phases = slices.Delete(phases, i, i+1)
		}
	}
	return append(list, Field{from, Hottest, phases})
}

// The walk through temperatures that finds the transitions [K].
const (
	walkFrom = 673.15
	walkStep = 25
)

// Transitions returns where phases come and go for a composition [wt %].
//
// Each is a temperature where the amount of a phase is zero and its distance
// from the plane of the potentials too, found by Newton steps with the
// temperature unknown, not by halving. It was held against an independent
// solver: Ae1 and Ae3 agree within 0.3 K, the others within 0.7 K; published
// databases differ among each other by 3 K at Ae1 and Ae3 and about 8 K at Acm.
func (db *Database) Transitions(c steel.Composition) (Transitions, error) {
	tr, _, err := db.trace(c)
	return tr, err
}

func (db *Database) trace(c steel.Composition) (Transitions, *tracer, error) {
	notes, err := db.check(c)
	if err != nil {
		return Transitions{}, nil, err
	}
	j, err := db.system(c, "", full)
	if err != nil {
		return Transitions{}, nil, err
	}
	w := j.works.Get().(*work)
	defer j.works.Put(w)
	j.amounts(w, c)
	t := &tracer{j: j, w: w}
	if err := t.run(); err != nil {
		return Transitions{}, nil, fmt.Errorf("calphad: transitions: %w", err)
	}
	t.w = nil
	tr := t.summary()
	tr.Notes = notes
	return tr, t, nil
}

// snapshot is a settled state that a solve can start from again.
type snapshot struct {
	T    float64
	mu   []float64
	sets []savedSet
	zero int // the set whose amount is zero at a transition, −1 otherwise
}

type savedSet struct {
	at   int
	y    []float64
	m    float64
	name string
}

func (j *joined) snapshot(w *work) *snapshot {
	s := &snapshot{}
	w.save(s)
	for i, t := range w.set {
		s.sets[i].name = j.name(t)
	}
	return s
}

// save copies the settled sets into s.
func (w *work) save(s *snapshot) {
	s.zero = -1
	s.T, s.mu, s.sets = w.T, append(s.mu[:0], w.mu...), s.sets[:0]
	for _, t := range w.set {
		s.sets = append(s.sets, savedSet{at: t.at, y: append([]float64(nil), t.y...), m: t.m})
	}
}

func (w *work) restore(s *snapshot) {
	w.at(s.T)
	copy(w.mu, s.mu)
	w.set = w.drop(w.set)
	for _, t := range s.sets {
		w.include(t)
	}
}

func (w *work) include(t savedSet) *spot {
	s := w.newSpot(t.at, t.y)
	s.m = t.m
	w.set = append(w.set, s)
	return s
}

// tracer follows the phases of one composition through temperature.
type tracer struct {
	j       *joined
	w       *work
	changes []tracedChange
	first   *snapshot // the coldest state
}

type tracedChange struct {
	Change
	state *snapshot // the sets at the transition
}

func (t *tracer) run() error {
	t.w.test = t.w.drop(t.w.test)
	var last *snapshot
	for i := 0; ; i++ {
		T := min(walkFrom+float64(i)*walkStep, Hottest)
		if err := t.w.equilibrate(T, i > 0); err != nil {
			return fmt.Errorf("at %.1f °C: %w", T-273.15, err)
		}
		s := t.j.snapshot(t.w)
		if t.first == nil {
			t.first = s
		}
		if last != nil {
			if err := t.between(last, s, 0); err != nil {
				return err
			}
			t.w.restore(s)
		}
		if last = s; T == Hottest {
			return nil
		}
	}
}

// unmatched returns the sets of a that b lacks.
func unmatched(a, b *snapshot) []savedSet {
	var list []savedSet
	used := make([]bool, len(b.sets))
next:
	for _, s := range a.sets {
		for i, r := range b.sets {
			if !used[i] && r.name == s.name && r.at == s.at {
				used[i] = true
				continue next
			}
		}
		list = append(list, s)
	}
	return list
}

// between finds the changes from state a to state b, a the colder.
func (t *tracer) between(a, b *snapshot, depth int) error {
	goes, comes := unmatched(a, b), unmatched(b, a)
	if len(goes)+len(comes) == 0 {
		return nil
	}
	if len(goes)+len(comes) <= 2 && t.joint(a, b, goes, comes) {
		return nil
	}
	if depth > 24 || b.T-a.T < 1e-6 { // a change of several phases at one temperature
		for _, s := range goes {
			t.changes = append(t.changes, tracedChange{Change{b.T, s.name, false}, a})
		}
		for _, s := range comes {
			t.changes = append(t.changes, tracedChange{Change{b.T, s.name, true}, b})
		}
		return nil
	}
	t.w.restore(a)
	if err := t.w.equilibrate((a.T+b.T)/2, true); err != nil {
		return fmt.Errorf("at %.3f °C: %w", (a.T+b.T)/2-273.15, err)
	}
	mid := t.j.snapshot(t.w)
	if err := t.between(a, mid, depth+1); err != nil {
		return err
	}
	return t.between(mid, b, depth+1)
}

// joint looks for the temperature between a and b where all sets of both are in
// equilibrium with the coming or going one at amount zero. It reports false
// when that is not how a turns into b.
func (t *tracer) joint(a, b *snapshot, goes, comes []savedSet) bool {
	if len(goes)+len(comes) == 2 && len(a.sets) != len(t.w.b) {
		return false // two changes at one temperature happen at invariants only
	}
	w := t.w
	w.restore(a)
	w.fix = -1
	switch {
	case len(comes) == 1:
		s := w.include(comes[0])
		s.m = 0
		w.fix = len(w.set) - 1
	case len(comes) == 0 && len(goes) == 1:
		for i, s := range a.sets {
			if s.name == goes[0].name && near(s.y, goes[0].y, 1e-12) {
				w.set[i].m = 0
				w.fix = i
			}
		}
	}
	if w.fix < 0 {
		return false
	}
	w.at((a.T + b.T) / 2)
	if w.settle() != nil || w.T < a.T-1e-6 || w.T > b.T+1e-6 {
		return false
	}
	fixed := w.set[w.fix]
	w.fix = -1
	for i, s := range w.set {
		if s != fixed && s.m*s.atoms < -1e-9 {
			return false
		}
		for k := i + 1; k < len(w.set); k++ {
			if same(s, w.set[k]) {
				return false
			}
		}
	}
	w.barred = w.drop(w.barred)
	if s, _ := w.strongest(); s != nil {
		return false
	}
	state := t.j.snapshot(w)
	state.zero = slices.Index(w.set, fixed)
	for _, s := range goes {
		t.changes = append(t.changes, tracedChange{Change{w.T, s.name, false}, state})
	}
	for _, s := range comes {
		t.changes = append(t.changes, tracedChange{Change{w.T, s.name, true}, state})
	}
	return true
}

// summary reads the named temperatures off the changes.
func (t *tracer) summary() Transitions {
	var tr Transitions
	present := map[string]int{}
	for _, s := range t.first.sets {
		present[s.name]++
		tr.Coldest = append(tr.Coldest, s.name)
	}
	slices.Sort(tr.Coldest)
	beside := func() bool {
		for name, n := range present {
			if n > 0 && pearlitic(name) {
				return true
			}
		}
		return false
	}
	solid := func() bool {
		for name, n := range present {
			if n > 0 && name != Liquid {
				return true
			}
		}
		return false
	}
	if present[Austenite] > 0 { // much nickel keeps some at the coldest
		tr.Ae1Start = walkFrom
	}
	for i := 0; i < len(t.changes); i++ {
		c := t.changes[i]
		tr.Changes = append(tr.Changes, c.Change)
		if c.Appears {
			present[c.Phase]++
		} else {
			present[c.Phase]--
		}
		if i+1 < len(t.changes) && t.changes[i+1].T-c.T < 1e-9 {
			continue // the rest of an invariant
		}
		switch {
		case tr.Ae1Start == 0 && present[Austenite] > 0:
			tr.Ae1Start = c.T
		case tr.Ae3 == 0 && present[Austenite] == 0: // gone again before the ferrite
			tr.Ae1Start, tr.Ae1End = 0, 0
		}
		if tr.Ae1Start > 0 && tr.Ae1End == 0 && (present[Ferrite] == 0 || !beside()) {
			tr.Ae1End = c.T
		}
		if tr.Ae1Start > 0 && tr.Ae3 == 0 && present[Ferrite] == 0 {
			tr.Ae3 = c.T
		}
		if tr.Ae3 > 0 && tr.Solidus == 0 && c.Phase == Cementite && !c.Appears {
			tr.Acm = c.T
		}
		if tr.Solidus == 0 && present[Liquid] > 0 {
			tr.Solidus = c.T
		}
		if tr.Liquidus == 0 && !solid() {
			tr.Liquidus = c.T
		}
	}
	if tr.Acm > 0 && tr.Acm <= tr.Ae3 || math.IsNaN(tr.Acm) {
		tr.Acm = 0
	}
	return tr
}
