package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// A pass refines coarse austenite at a forging heat, does nothing to a grain that is
// finer than it would make, leaves the strain in it where it is too cold to recrystallize, and
// never touches carbon or fractions. Signs and order, derived from the law beside it.
func TestWorkRefinesHotAustenite(t *testing.T) {
	m, err := New(steel.Composition{steel.C: 0.8, steel.Mn: 0.75, steel.Si: 0.2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	fresh := func(d float64) *Cells {
		c := NewCells(1)
		m.StartFrom(c, StartState{Condition: Normalized})
		for k := range c.Fraction {
			c.Fraction[k][0] = 0
		}
		c.Fraction[steel.Austenite][0], c.Carbon[0] = 1, 0.8
		c.Grain4[0] = math.Pow(d, 1/0.211)
		return c
	}
	hot := fresh(200)
	m.Work(hot, 0, 1050+273.15, 0.5, 5)
	if d := m.Grain(hot, 0) * 1e6; !(d > 20 && d < 80) || hot.Strain[0] > 1e-6 {
		t.Errorf("200 µm worked by 0.5 at 1050 °C: %.0f µm, strain left %.2f", d, hot.Strain[0])
	}
	cold := fresh(100)
	m.Work(cold, 0, 760+273.15, 0.3, 3)
	if d := m.Grain(cold, 0) * 1e6; d < 90 || cold.Strain[0] < 0.25 {
		t.Errorf("100 µm worked by 0.3 at 760 °C: %.0f µm, strain left %.2f; it should wait", d, cold.Strain[0])
	}
	fine := fresh(8)
	m.Work(fine, 0, 1000+273.15, 0.1, 5)
	if d := m.Grain(fine, 0) * 1e6; d > 8.001 {
		t.Errorf("8 µm became %.1f µm by working", d)
	}
	more := fresh(200)
	m.Work(more, 0, 1050+273.15, 1, 5)
	if m.Grain(more, 0) >= m.Grain(hot, 0) {
		t.Error("twice the strain leaves no finer grain")
	}
	if hot.CarbonTotal(0) != fresh(200).CarbonTotal(0) {
		t.Error("working changed the carbon")
	}
	soft := NewCells(1)
	m.StartFrom(soft, StartState{Condition: Normalized})
	before := soft.Clone()
	m.Work(soft, 0, 500, 1, 5)
	for i, x := range before.Values() {
		if soft.Values()[i] != x {
			t.Fatal("working cold pearlite changed its state, which is not modeled")
		}
	}
}
