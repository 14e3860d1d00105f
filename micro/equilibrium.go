package micro

import (
	"fmt"
	"math"
	"sort"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/steel"
)

// equilibrium are limits computed by minimizing the Gibbs energy, sampled once.
type equilibrium struct {
	comp                steel.Composition
	ae1, ae1End         float64
	ae3, upper, solidus float64
	at                  []float64           // K, rising, from Ae1's end up
	austenite           []steel.Composition // at those temperatures
	eutectoid           float64             // wt % C of austenite where the three-phase field ends
	hypo                bool
	boundAlloy          steel.Composition
	table               *calphad.Table
	bound, free         *forces // with as much alloy as carbide leaves at Ae1, with all of it
}

// Slope of the line of austenite with ferrite below Ae1, extrapolated [wt %/K]. It
// continues the computed line of plain and low-alloy steels (0.0062–0.0080 above Ae1).
const ferriteSlope = 0.0075

// Equilibrium returns the limits of a composition [wt %] from the thermodynamic
// database: Ae1 and Ae3 within 3 K, Acm within 8 K of other published assessments.
func Equilibrium(comp steel.Composition) (Limits, error) {
	db, err := calphad.Open()
	if err != nil {
		return nil, fmt.Errorf("micro: %w", err)
	}
	table, err := db.Table(comp)
	if err != nil {
		return nil, fmt.Errorf("micro: %w", err)
	}
	return limitsOf(db, table)
}

// Near returns the metal of a neighboring composition [wt %], another bar of the same grade. Its
// equilibria start from those of m and take a fifth of the time; they are the same to 0.01 K, the
// driving forces to 20 J/mol.
func (m *Metal) Near(comp steel.Composition) (*Metal, error) {
	q, ok := m.limits.(*equilibrium)
	if !ok || q.table == nil {
		return New(comp, nil)
	}
	db, err := calphad.Open()
	if err != nil {
		return nil, fmt.Errorf("micro: %w", err)
	}
	var delta steel.Composition
	for e := range delta {
		delta[e] = comp[e] - m.comp[e]
	}
	table, err := q.table.Near(delta)
	if err != nil {
		return nil, fmt.Errorf("micro: %w", err)
	}
	limits, err := limitsOf(db, table)
	if err != nil {
		return nil, err
	}
	return New(comp, limits)
}

func limitsOf(db *calphad.Database, table *calphad.Table) (Limits, error) {
	comp, tr := table.Composition(), table.Transitions()
	if tr.Ae1Start == 0 {
		return nil, fmt.Errorf("micro: no austenite forms between 400 and 1600 °C in this composition: it does not harden; check the certificate")
	}
	q := &equilibrium{comp: comp, ae1: tr.Ae1Start, ae1End: tr.Ae1End, ae3: tr.Ae3, solidus: tr.Solidus, table: table}
	if q.ae1End == 0 {
		q.ae1End = q.ae1 + 1
	}
	if q.ae3 == 0 {
		q.ae3 = q.ae1End
	}
	q.upper = max(q.ae3, tr.Acm, q.ae1End+1)
	if q.solidus == 0 {
		q.solidus = 1700
	}
	if err := q.sample(db); err != nil {
		return nil, err
	}
	q.free = newForces(table, 1, q.ae1End+20)
	q.bound = q.free
	if !q.hypo {
		if q.boundAlloy = table.Dissolved(0); bindsAlloy(&comp, &q.boundAlloy) {
			q.bound = newForces(table, 0, q.ae1End+20)
		}
	}
	return q, nil
}

func (q *equilibrium) sample(db *calphad.Database) error {
	walk, err := db.Walk(q.comp)
	if err != nil {
		return fmt.Errorf("micro: %w", err)
	}
	from := q.ae1End + 0.2
	first, err := walk.At(from)
	if err != nil {
		return fmt.Errorf("micro: %w", err)
	}
	// A bar with less carbon than the austenite that the three-phase field ends with has
	// ferrite left there, one with more has carbide.
	if a, ok := first.Find(calphad.Austenite); ok {
		q.hypo = a.Composition[steel.C] > q.comp[steel.C] && q.ae3 > q.ae1End+0.5
	}
	high := !q.hypo && (q.comp[steel.Cr] > 3 || q.comp[steel.Mo]+q.comp[steel.W]+q.comp[steel.V] > 1.5)
	to := q.upper
	if high {
		to = max(to, min(q.solidus-5, 1473))
	}
	n := int(math.Ceil((q.upper - from) / 12))
	for i := 0; i <= n; i++ {
		q.at = append(q.at, from+(q.upper-from)*float64(i)/float64(max(n, 1)))
	}
	if high {
		for T := q.upper + 25; T < to; T += 25 {
			q.at = append(q.at, T)
		}
	}
	for _, T := range q.at {
		e, err := walk.At(T)
		if err != nil {
			return fmt.Errorf("micro: %w", err)
		}
		a, ok := e.Find(calphad.Austenite)
		if !ok {
			a.Composition = q.comp
		}
		q.austenite = append(q.austenite, a.Composition)
	}
	q.eutectoid = q.austenite[0][steel.C]
	return nil
}

func (q *equilibrium) Ae1() (start, end float64) { return q.ae1, q.ae1End }
func (q *equilibrium) Upper() float64            { return q.upper }
func (q *equilibrium) Solidus() float64          { return q.solidus }

// Dissolved is linear between the samples: within 0.002 wt % C along Acm. Beyond
// them austenite holds everything, but for steels with carbide that never goes.
func (q *equilibrium) Dissolved(T float64) steel.Composition {
	last := len(q.at) - 1
	switch {
	case T <= q.at[0]:
		return q.austenite[0]
	case T >= q.at[last]:
		return q.austenite[last]
	}
	i := sort.SearchFloat64s(q.at, T)
	w := (T - q.at[i-1]) / (q.at[i] - q.at[i-1])
	c := q.austenite[i-1]
	for e := range c {
		c[e] += w * (q.austenite[i][e] - c[e])
	}
	return c
}

func (q *equilibrium) FerriteSide(T float64) float64 {
	if T < q.ae1End {
		return q.eutectoid + ferriteSlope*(q.ae1End-T)
	}
	if q.hypo {
		if T < q.ae3 {
			return q.Dissolved(T)[steel.C]
		}
		return max(0, q.comp[steel.C]*(1-(T-q.ae3)/100))
	}
	return max(0, q.eutectoid-ferriteSlope*(T-q.ae1End))
}

// CarbideSide above Ae1 is computed for steels that have carbide there; elsewhere
// it follows an Arrhenius line of 28.7 kJ/mol through the end of the three-phase
// field, as that of plain steel does (0.76 wt % at 727 °C, 2.11 at 1148).
func (q *equilibrium) CarbideSide(T float64) float64 {
	if !q.hypo && T > q.ae1End {
		return q.Dissolved(T)[steel.C]
	}
	return q.eutectoid * math.Exp(3453*(1/q.ae1End-1/T))
}

// bindsAlloy tells whether carbide at Ae1 holds so much alloy that the rest is driven otherwise than all of it.
func bindsAlloy(comp, rest *steel.Composition) bool {
	sum := 0.0
	for _, e := range alloyElement {
		sum += math.Abs(comp[e] - rest[e])
	}
	return sum > 0.15
}
