package calphad

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// Equilibrium is the state of lowest Gibbs energy at one temperature. Energies
// are per kilogram of steel and count from the elements in their reference
// states at 298.15 K.
type Equilibrium struct {
	T              float64                    // [K]
	Phases         []Phase                    // stable phases, the largest first
	Gibbs          float64                    // [J/kg]
	Enthalpy       float64                    // [J/kg]
	Entropy        float64                    // [J/(kg K)]
	HeatCapacity   float64                    // [J/(kg K)], at equilibrium: heats of change included
	Potential      [steel.NumElements]float64 // chemical potential of each element present [J/mol], else 0
	IronPotential  float64                    // of iron [J/mol]
	CarbonActivity float64                    // of carbon against graphite [–]; 0 without carbon or without graphite in the database
	Notes          []cite.Note                // what the answer leaves out of account
}

// Phase is one stable phase.
type Phase struct {
	Name         string            // "austenite", "ferrite", "cementite", "M7C3", "MC" …
	Model        string            // name of its description in the database, "FCC_A1"
	MassFraction float64           // [–], of the whole
	MoleFraction float64           // [–], moles of atoms
	Composition  steel.Composition // [wt %], iron is the rest
	Sites        []float64         // fractions of the constituents that vary, in the order of the database
}

// Find returns the phase of this name.
func (q *Equilibrium) Find(name string) (Phase, bool) {
	for _, p := range q.Phases {
		if p.Name == name {
			return p, true
		}
	}
	return Phase{}, false
}

// Equilibrium returns the equilibrium of a composition [wt %] at temperature T
// [K], graphite left aside as in all heat treatment. Elements that the database
// lacks are left out of account and named in the notes.
//
// It fails for contents or temperatures outside the limits. It was held against
// an independent solver on the same parameters: phase fractions agree within
// 1e-4, austenite composition within 1e-3 wt %.
func (db *Database) Equilibrium(c steel.Composition, T float64) (Equilibrium, error) {
	notes, err := db.check(c)
	if err != nil {
		return Equilibrium{}, err
	}
	if err := checkTemperature(T); err != nil {
		return Equilibrium{}, err
	}
	j, err := db.system(c, "", full)
	if err != nil {
		return Equilibrium{}, err
	}
	w := j.works.Get().(*work)
	defer j.works.Put(w)
	j.amounts(w, c)
	if err := w.equilibrate(T, false); err != nil {
		return Equilibrium{}, fmt.Errorf("calphad: equilibrium at %.1f °C: %w", T-273.15, err)
	}
	q := j.read(w)
	q.Notes = notes
	q.CarbonActivity = db.activity(c, &q)
	return q, nil
}

// activity returns the activity of carbon against graphite at the same
// temperature.
func (db *Database) activity(c steel.Composition, q *Equilibrium) float64 {
	for _, d := range db.params.Phases {
		if d.Name == "GRAPHITE" && c[steel.C] > trace && len(d.Parameters) == 1 {
			return math.Exp((q.Potential[steel.C] - d.Parameters[0].curve.value(q.T)) / (R * q.T))
		}
	}
	return 0
}

// Walk answers one composition at many temperatures, each from the last answer:
// several times as fast as single questions, for neighboring temperatures. It
// belongs to one goroutine.
type Walk struct {
	db    *Database
	c     steel.Composition
	j     *joined
	w     *work
	notes []cite.Note
	warm  bool
}

// Walk starts a walk through temperatures at composition c [wt %].
func (db *Database) Walk(c steel.Composition) (*Walk, error) {
	notes, err := db.check(c)
	if err != nil {
		return nil, err
	}
	j, err := db.system(c, "", full)
	if err != nil {
		return nil, err
	}
	w := newWork(j.sys)
	j.amounts(w, c)
	return &Walk{db: db, c: c, j: j, w: w, notes: notes}, nil
}

// At returns the equilibrium at temperature T [K].
func (k *Walk) At(T float64) (Equilibrium, error) {
	if err := checkTemperature(T); err != nil {
		return Equilibrium{}, err
	}
	if err := k.w.equilibrate(T, k.warm); err != nil {
		k.warm = false
		return Equilibrium{}, fmt.Errorf("calphad: equilibrium at %.1f °C: %w", T-273.15, err)
	}
	k.warm = true
	q := k.j.read(k.w)
	q.Notes = k.notes
	q.CarbonActivity = k.db.activity(k.c, &q)
	return q, nil
}

// read turns the settled sets into an answer.
func (j *joined) read(w *work) Equilibrium {
	q := Equilibrium{T: w.T}
	kg := 0.0 // kilograms per mole of atoms
	for i, b := range w.b {
		kg += b * j.sys.mass[i] / 1000
	}
	for i, e := range j.elems {
		if e >= 0 {
			q.Potential[e] = w.mu[i]
		} else {
			q.IronPotential = w.mu[i]
		}
	}
	for _, s := range w.set {
		s.p.energy(s.o, w.state(s.at), s.y, inHeatDeep)
		s.p.respond(s.o, w.state(s.at), s.y)
		s.atoms = s.p.moles(s.x, s.y)
		q.Gibbs += s.m * s.o.G / kg
		q.Entropy -= s.m * s.o.GT / kg
	}
	q.Enthalpy = q.Gibbs + w.T*q.Entropy
	q.HeatCapacity = w.heatCapacity() / kg
	for _, s := range w.set {
		q.Phases = append(q.Phases, j.phase(s, kg))
	}
	order(q.Phases)
	return q
}

func (j *joined) phase(s *spot, kg float64) Phase {
	p := Phase{Name: j.name(s), Model: s.p.name, MoleFraction: s.m * s.atoms, Sites: append([]float64(nil), s.y...)}
	mass := 0.0
	for i, x := range s.x {
		mass += x * j.sys.mass[i]
	}
	p.MassFraction = s.m * mass / 1000 / kg
	for i, e := range j.elems {
		if e >= 0 {
			p.Composition[e] = 100 * s.x[i] * j.sys.mass[i] / mass
		}
	}
	return p
}

// order puts the largest phase first; equal amounts go by name.
func order(list []Phase) {
	for i := range list {
		for k := i; k > 0 && (list[k].MassFraction > list[k-1].MassFraction || list[k].MassFraction == list[k-1].MassFraction && list[k].Name < list[k-1].Name); k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

// heatCapacity returns dH/dT along the equilibrium [J/(K mol of atoms)] from the
// settled sets, whose parts are current: the response of potentials, amounts
// and site fractions to temperature solves the same matrix as a Newton step.
func (w *work) heatCapacity() float64 {
	n, q := len(w.mu), len(w.set)
	w.fix = -1
	size := w.assemble(false)
	r := w.rhs[:size]
	clear(r)
	RT := R * w.T
	for i, s := range w.set {
		r[i] = s.o.GT / RT
		k := s.p.n
		for a := 0; a < k; a++ {
			if e := s.p.elem[a]; e >= 0 {
				for b := 0; b < k; b++ {
					r[q+e] += s.m * s.p.site[a] * s.o.e[a*k+b] * s.o.gT[b]
				}
			}
		}
	}
	if !solve(w.matrix, r, size) {
		return 0
	}
	cp := 0.0
	for i, s := range w.set {
		k := s.p.n
		f := w.f[:k]
		for a := range f {
			f[a] = -s.o.gT[a]
			if e := s.p.elem[a]; e >= 0 {
				f[a] += r[e] * RT * s.p.site[a]
			}
		}
		cp += r[n+i] * (s.o.G - w.T*s.o.GT)
		dh := -w.T * s.o.GTT
		for a := 0; a < k; a++ {
			x := 0.0
			for b := 0; b < k; b++ {
				x += s.o.e[a*k+b] * f[b]
			}
			dh += (s.o.g[a] - w.T*s.o.gT[a]) * x
		}
		cp += s.m * dh
	}
	return cp
}
