package micro

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// Whatever the history, fractions stay shares, carbon stays, and hardness stays in
// the range of steel: random walks over temperature and time from fixed seeds.
func TestRandomWalks(t *testing.T) {
	grades := []steel.Composition{o1, s1084, s1095, s52100, s5160, s1018, s4140, s80crv2,
		comp(map[steel.Element]float64{steel.C: 1, steel.Mn: 0.7, steel.Si: 0.3, steel.Cr: 5.2, steel.Mo: 1.1, steel.V: 0.25}),
		comp(map[steel.Element]float64{steel.C: 1.9, steel.Mn: 0.3}),
		comp(map[steel.Element]float64{steel.C: 0.05, steel.Mn: 0.3}),
		comp(map[steel.Element]float64{steel.C: 0.6, steel.Mn: 0.8, steel.Si: 2}),
	}
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(seed, 7))
		for g, grade := range grades {
			m := metalOf(t, grade)
			const n = 3
			c := NewCells(n)
			m.Start(c, Condition(r.IntN(int(numConditions))))
			T := []float64{293, 293, 293}
			for k := range 400 {
				dt := math.Pow(10, r.Float64()*6-2)
				for i := range T {
					if r.Float64() < 0.1 {
						T[i] = 253 + r.Float64()*1350
					} else {
						T[i] = math.Max(253, math.Min(1600, T[i]+r.NormFloat64()*40))
					}
				}
				m.Step(c, c, T, dt)
				for i := range n {
					sum := 0.0
					for f := range c.Fraction {
						x := c.Fraction[f][i]
						if math.IsNaN(x) || x < 0 || x > 1+1e-9 {
							t.Fatalf("seed %d grade %d step %d: %s = %g", seed, g, k, steel.Constituent(f), x)
						}
						sum += x
					}
					if math.Abs(sum-1) > 1e-9 || math.Abs(c.CarbonTotal(i)-grade[steel.C]) > 1e-9 {
						t.Fatalf("seed %d grade %d step %d: fractions %.12f, carbon %.12f", seed, g, k, sum, c.CarbonTotal(i))
					}
					for _, e := range alloyElement {
						if d := c.AlloyTotal(i, e) - grade[e]; math.Abs(d) > 1e-9 {
							t.Fatalf("seed %d grade %d step %d: %s %.12f", seed, g, k, e, c.AlloyTotal(i, e))
						}
					}
					if hv := m.HV(c, i); !(hv > 70 && hv < 1100) {
						t.Fatalf("seed %d grade %d step %d: %g HV", seed, g, k, hv)
					}
					if d := m.Grain(c, i); !(d > 1e-7 && d < 2e-2) {
						t.Fatalf("seed %d grade %d step %d: grain %g m", seed, g, k, d)
					}
				}
			}
		}
	}
}
