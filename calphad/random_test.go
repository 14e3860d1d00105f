package calphad

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/heatwright/heatwright/steel"
)

// limits of the random compositions [wt %]: the range that the parameters cover.
var covered = steel.Composition{steel.C: 2.1, steel.Si: 2.5, steel.Mn: 2.5, steel.Cr: 13, steel.Ni: 4, steel.Mo: 2, steel.V: 1.5, steel.W: 2, steel.Cu: 0.5, steel.N: 0.03}

// randomSteel draws each element absent, as a trace, or anywhere up to its limit.
func randomSteel(r *rand.Rand) steel.Composition {
	var c steel.Composition
	for e, limit := range covered {
		switch r.IntN(5) {
		case 0:
		case 1:
			c[e] = limit * math.Pow(10, -6*r.Float64())
		default:
			c[e] = limit * r.Float64() * r.Float64()
		}
	}
	if r.IntN(3) > 0 {
		c[steel.C] = 0.1 + 1.5*r.Float64()
	}
	return c
}

// Random compositions at random temperatures over the whole range: every one is
// solved, every element is balanced, and no phase at any of many random site
// fractions lies below the plane of the potentials.
func TestRandomCompositions(t *testing.T) {
	n := 150
	if os.Getenv("HEATWRIGHT_LONG") != "" {
		n = 10000
	}
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	r, points := rand.New(rand.NewPCG(7, 11)), rand.New(rand.NewPCG(3, 5))
	type timed struct {
		d    time.Duration
		what string
	}
	var times []timed
	failed := 0
	for i := range n {
		c, T := randomSteel(r), Coldest+r.Float64()*(Hottest-Coldest)
		j, err := db.system(c, "", full)
		if err != nil {
			t.Fatal(err)
		}
		w := newWork(j.sys)
		j.amounts(w, c)
		start := time.Now()
		err = w.equilibrate(T, false)
		times = append(times, timed{time.Since(start), fmt.Sprintf("%v at %.1f °C", c, T-273.15)})
		if err != nil {
			failed++
			t.Errorf("%d: %v at %.2f °C: %v", i, c, T-273.15, err)
			continue
		}
		if balance := w.balanceError(); balance > 1e-12 {
			t.Errorf("%d: %v at %.2f °C: balance is off by %.2g", i, c, T-273.15, balance)
		}
		if below, name := w.deepest(points, 40); below > 1e-6 {
			t.Errorf("%d: %v at %.2f °C: %s lies %.3g RT below the plane", i, c, T-273.15, name, below)
		}
	}
	slices.SortFunc(times, func(a, b timed) int { return int(b.d - a.d) })
	t.Logf("%d compositions, %d failed; half under %v; slowest:", n, failed, times[n/2].d)
	for _, s := range times[:5] {
		t.Logf("  %v: %s", s.d, s.what)
	}
}

// balanceError returns the largest error of an element's balance [mol per mole of
// atoms] with the settled site fractions.
func (w *work) balanceError() float64 {
	for _, s := range w.set {
		s.atoms = s.p.moles(s.x, s.y)
	}
	return w.residual()
}

// deepest returns how far below the plane [RT per mole of atoms] the lowest of
// many random points of every phase lies.
func (w *work) deepest(r *rand.Rand, tries int) (float64, string) {
	worst, name := math.Inf(-1), ""
	for at, p := range w.sys.phases {
		s := w.take(at)
		s.p, s.at = p, at
		for range tries {
			for k := 0; k+1 < len(p.first); k++ {
				sum := 0.0
				sharp := 1 + 8*r.Float64()
				for i := p.first[k]; i < p.first[k+1]; i++ {
					s.y[i] = math.Pow(r.Float64(), sharp) + 1e-12
					sum += s.y[i]
				}
				for i := p.first[k]; i < p.first[k+1]; i++ {
					s.y[i] /= sum
				}
			}
			p.energy(s.o, w.state(at), s.y, valueOnly)
			if atoms := p.moles(s.x, s.y); atoms > 0.05 {
				if d := -s.distance(w.mu) / atoms / (R * w.T); d > worst {
					worst, name = d, fmt.Sprint(p.name, s.y)
				}
			}
		}
		w.give(s)
	}
	return worst, name
}
