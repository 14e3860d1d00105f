package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// The metal of a neighbor is that of its own equilibria: limits, hardness after a quench, and
// time to half in pearlite (derived: two ways to the same).
func TestNeighborIsItsOwnMetal(t *testing.T) {
	for name, c := range map[string]steel.Composition{"O1": o1, "1095": s1095, "5160": s5160} {
		to := c
		to[steel.C] += 0.02
		to[steel.Mn] -= 0.12
		to[steel.Cr] += 0.05
		near, err := metalOf(t, c).Near(to)
		if err != nil {
			t.Fatal(err)
		}
		own := metalOf(t, to)
		if math.Abs(near.ae1-own.ae1) > 0.05 || math.Abs(near.upper-own.upper) > 0.05 {
			t.Errorf("%s: Ae1 %.2f and %.2f, upper limit %.2f and %.2f K", name, near.ae1, own.ae1, near.upper, own.upper)
		}
		half := func(m *Metal) (s float64) {
			c, _ := m.austenitized(Austenitizing{StartState{Condition: Spheroidized}, m.ae1End + 80, 600})
			for _, k := range m.hold(c, 620+kelvin, 1e6) {
				if k.Product == Whole && k.Share == 0.5 {
					s = k.Time
				}
			}
			return s
		}
		a, b := half(near), half(own)
		t.Logf("%s: half of it pearlite at 620 °C after %.1f s, by its own equilibria %.1f", name, a, b)
		if !(math.Abs(math.Log(a/b)) < 0.08) {
			t.Errorf("%s: %.1f s, by its own equilibria %.1f", name, a, b)
		}
	}
}

// The next bar of a grade.
func BenchmarkNear(b *testing.B) {
	m := metalOf(b, o1)
	c := o1
	for b.Loop() {
		c[steel.C] += 1e-6
		if _, err := m.Near(c); err != nil {
			b.Fatal(err)
		}
	}
}

// A steel that nobody has asked for.
func BenchmarkNew(b *testing.B) {
	c := o1
	for b.Loop() {
		c[steel.C] += 1e-6
		if _, err := New(c, nil); err != nil {
			b.Fatal(err)
		}
	}
}
