package calphad

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// states over which the laws are held: plain, low-alloy and high-alloy steels
// from 150 to 1550 °C.
func states() []struct {
	c steel.Composition
	T float64
} {
	var list []struct {
		c steel.Composition
		T float64
	}
	for _, c := range []steel.Composition{
		{steel.C: 0.8}, mnCrW, {steel.C: 0.6, steel.Si: 2, steel.Mn: 0.9}, {steel.C: 1, steel.Cr: 5.1, steel.Mo: 1.1, steel.V: 0.25, steel.Mn: 0.7, steel.Si: 0.3},
		{steel.C: 1.55, steel.Cr: 11.8, steel.Mo: 0.8, steel.V: 0.8, steel.Mn: 0.3, steel.Si: 0.3}, {steel.C: 0.4, steel.Mn: 0.8, steel.Ni: 1.8, steel.Cr: 0.8, steel.Mo: 0.25, steel.Cu: 0.2, steel.N: 0.01},
	} {
		for _, t := range []float64{150, 400, 650, 730, 800, 1000, 1300, 1550} {
			list = append(list, struct {
				c steel.Composition
				T float64
			}{c, t + 273.15})
		}
	}
	return list
}

// G = H − TS; the heat capacity is the slope of the enthalpy; the fractions sum to
// one; every element adds up to what the steel holds.
func TestBalancesOfAnEquilibrium(t *testing.T) {
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range states() {
		q, err := db.Equilibrium(s.c, s.T)
		if err != nil {
			t.Fatalf("%v at %g K: %v", s.c, s.T, err)
		}
		if d := q.Gibbs - (q.Enthalpy - q.T*q.Entropy); math.Abs(d) > 1e-9*math.Abs(q.Gibbs) {
			t.Errorf("%v at %g K: G − (H − TS) = %g J/kg", s.c, s.T, d)
		}
		mass, held := 0.0, steel.Composition{}
		for _, p := range q.Phases {
			mass += p.MassFraction
			for e, x := range p.Composition {
				held[e] += p.MassFraction * x
			}
		}
		if math.Abs(mass-1) > 1e-12 {
			t.Errorf("%v at %g K: mass fractions sum to 1 %+.2g", s.c, s.T, mass-1)
		}
		for e, x := range held {
			if math.Abs(x-s.c[e]) > 1e-12*100 {
				t.Errorf("%v at %g K: %s adds up to %v, not %v", s.c, s.T, steel.Element(e), x, s.c[e])
			}
		}
	}
}

// The heat capacity is the slope of the enthalpy, and the entropy that of the
// Gibbs energy, wherever no phase comes or goes between.
func TestHeatCapacityIsTheSlopeOfEnthalpy(t *testing.T) {
	db, _ := Open()
	const h = 0.02
	for _, s := range states() {
		a, err := db.Equilibrium(s.c, max(s.T-h, Coldest))
		if err != nil {
			t.Fatal(err)
		}
		q, _ := db.Equilibrium(s.c, s.T)
		b, err := db.Equilibrium(s.c, s.T+h)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Phases) != len(q.Phases) || len(b.Phases) != len(q.Phases) {
			continue
		}
		step := b.T - a.T
		mid := (b.Enthalpy - a.Enthalpy) / step
		if s.T-h < Coldest {
			continue
		}
		if math.Abs(mid-q.HeatCapacity) > 1e-4*(100+q.HeatCapacity) {
			t.Errorf("%v at %g K: heat capacity %v, slope of the enthalpy %v J/(kg K)", s.c, s.T, q.HeatCapacity, mid)
		}
		if d := (b.Gibbs-a.Gibbs)/step + q.Entropy; math.Abs(d) > 1e-5*q.Entropy {
			t.Errorf("%v at %g K: entropy %v, slope of the Gibbs energy differs by %g", s.c, s.T, q.Entropy, d)
		}
	}
}

// Every stable phase lies on one plane (equal potentials), every other above it;
// the sum over elements of content times potential is the Gibbs energy, and
// Gibbs–Duhem ties the potentials of neighboring temperatures.
func TestEqualPotentialsAndGibbsDuhem(t *testing.T) {
	db, _ := Open()
	for _, s := range states() {
		j, err := db.system(s.c, "", full)
		if err != nil {
			t.Fatal(err)
		}
		w := newWork(j.sys)
		j.amounts(w, s.c)
		if err := w.equilibrate(s.T, false); err != nil {
			t.Fatal(err)
		}
		RT := R * s.T
		for _, p := range w.set {
			p.p.energy(p.o, w.state(p.at), p.y, gradient)
			p.atoms = p.p.moles(p.x, p.y)
			if d := p.distance(w.mu); math.Abs(d) > 1e-8*RT*p.atoms {
				t.Errorf("%v at %g K: %s lies %.2g RT off the plane", s.c, s.T, p.p.name, d/RT)
			}
			// on each sublattice all constituents see one potential
			for k := 0; k+1 < len(p.p.first); k++ {
				level, weight := 0.0, 0.0
				for i := p.p.first[k]; i < p.p.first[k+1]; i++ {
					level += p.y[i] * p.pull(i, w.mu)
					weight += p.y[i]
				}
				for i := p.p.first[k]; i < p.p.first[k+1]; i++ {
					if d := p.pull(i, w.mu) - level/weight; p.y[i] > 1e-20 && math.Abs(d) > 1e-6*RT {
						t.Errorf("%v at %g K: %s constituent %d is off by %.2g RT", s.c, s.T, p.p.name, i, d/RT)
					}
				}
			}
		}
		for _, p := range w.test {
			if p.drive > driveTolerance*RT {
				t.Errorf("%v at %g K: %s would form (%.2g RT)", s.c, s.T, p.p.name, p.drive/RT)
			}
		}
	}
	// Gibbs–Duhem at constant pressure: Σ b dμ = −S dT
	for _, s := range states() {
		if s.T+0.5 > Hottest || s.T-0.5 < Coldest {
			continue
		}
		lo, err := db.Equilibrium(s.c, s.T-0.5)
		if err != nil {
			t.Fatal(err)
		}
		hi, err := db.Equilibrium(s.c, s.T+0.5)
		if err != nil {
			t.Fatal(err)
		}
		j, _ := db.system(s.c, "", full)
		w := newWork(j.sys)
		j.amounts(w, s.c)
		kg, sum := 0.0, 0.0
		for i, e := range j.elems {
			kg += w.b[i] * j.sys.mass[i] / 1000
			if e >= 0 {
				sum += w.b[i] * (hi.Potential[e] - lo.Potential[e])
			} else {
				sum += w.b[i] * (hi.IronPotential - lo.IronPotential)
			}
		}
		if S := (lo.Entropy + hi.Entropy) / 2 * kg; math.Abs(sum+S) > 1e-3*S {
			t.Errorf("%v at %g K: Σ b dμ/dT = %.6g, −S = %.6g J/(mol K)", s.c, s.T, sum, -S)
		}
	}
}

// pull is the derivative of the distance from the plane in one site fraction.
func (s *spot) pull(i int, mu []float64) float64 {
	g := s.o.g[i]
	if e := s.p.elem[i]; e >= 0 {
		g -= mu[e] * s.p.site[i]
	}
	return g
}

// outcome is an equilibrium in a form that can be compared.
func outcome(q *Equilibrium) map[string]float64 {
	m := map[string]float64{"G": q.Gibbs / 1e6}
	for _, p := range q.Phases {
		name := p.Name
		for i := 2; m[name] != 0; i++ {
			name = fmt.Sprint(p.Name, i)
		}
		m[name] = p.MassFraction
		for e, x := range p.Composition {
			m[fmt.Sprint(name, steel.Element(e))] = x / 100
		}
	}
	return m
}

func differ(a, b map[string]float64, by float64) string {
	for k, x := range a {
		if y, ok := b[k]; !ok || math.Abs(x-y) > by {
			return fmt.Sprintf("%s: %v and %v", k, x, y)
		}
	}
	for k := range b {
		if _, ok := a[k]; !ok {
			return k + " is new"
		}
	}
	return ""
}

// The answer does not depend on where a solve starts: from nothing, from a far
// temperature, from a near one, from another steel's phases.
func TestSameAnswerFromShuffledStarts(t *testing.T) {
	db, _ := Open()
	r := rand.New(rand.NewPCG(5, 6))
	for _, s := range states() {
		cold, err := db.Equilibrium(s.c, s.T)
		if err != nil {
			t.Fatal(err)
		}
		want := outcome(&cold)
		w, err := db.Walk(s.c)
		if err != nil {
			t.Fatal(err)
		}
		for range 4 {
			if _, err := w.At(Coldest + r.Float64()*(Hottest-Coldest)); err != nil {
				t.Fatal(err)
			}
			q, err := w.At(s.T)
			if err != nil {
				t.Fatal(err)
			}
			if d := differ(want, outcome(&q), 1e-8); d != "" {
				t.Errorf("%v at %.0f °C: %s", s.c, s.T-273.15, d)
			}
		}
	}
}

// Nor does it depend on the order of the phases in the database.
func TestSameAnswerFromShuffledPhases(t *testing.T) {
	db, _ := Open()
	r := rand.New(rand.NewPCG(8, 1))
	for range 3 {
		p := *db.params
		p.Phases = slices.Clone(p.Phases)
		r.Shuffle(len(p.Phases), func(i, k int) { p.Phases[i], p.Phases[k] = p.Phases[k], p.Phases[i] })
		shuffled, err := New(&p)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range states() {
			a, err := db.Equilibrium(s.c, s.T)
			if err != nil {
				t.Fatal(err)
			}
			b, err := shuffled.Equilibrium(s.c, s.T)
			if err != nil {
				t.Fatal(err)
			}
			if d := differ(outcome(&a), outcome(&b), 1e-8); d != "" {
				t.Errorf("%v at %.0f °C: %s", s.c, s.T-273.15, d)
			}
		}
	}
}

// Two runs give the same bytes.
func TestSameBytes(t *testing.T) {
	for _, s := range states()[:12] {
		var texts []string
		for range 2 {
			p, err := ReadTDB(steelTDB)
			if err != nil {
				t.Fatal(err)
			}
			db, err := New(p)
			if err != nil {
				t.Fatal(err)
			}
			q, err := db.Equilibrium(s.c, s.T)
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, fmt.Sprintf("%x", q.Gibbs)+fmt.Sprint(q))
		}
		if texts[0] != texts[1] {
			t.Errorf("%v: %s", s.c, strings.Join(texts, "\n"))
		}
	}
}
