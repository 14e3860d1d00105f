package micro

import (
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// What a carbide gives up as it dissolves goes into solution: the rich carbide of annealed
// 52100 keeps its chromium from the austenite until it goes, lamellae that formed with the
// metals in place give theirs at once. Signs and balances, derived; that annealed stock
// holds most of its chromium in carbide is textbook knowledge of bearing steel.
func TestDissolvingReturnsTheAlloy(t *testing.T) {
	m := metalOf(t, s52100)
	heated := func(cond Condition, hold float64) *Cells {
		c := NewCells(1)
		m.Start(c, cond)
		m.bring(c, 845+kelvin, 5, hold)
		return c
	}
	start := NewCells(1)
	m.Start(start, Spheroidized)
	bound := start.bound(0, alloyCr) / s52100[steel.Cr]
	short, long, fine := heated(Spheroidized, 60), heated(Spheroidized, 3600), heated(Normalized, 60)
	t.Logf("bound in annealed stock %.2f of the chromium; in solution at 845 °C: 1 min %.2f, 1 h %.2f %%; normalized 1 min %.2f %%",
		bound, short.Alloy[alloyCr][0], long.Alloy[alloyCr][0], fine.Alloy[alloyCr][0])
	if bound < 0.5 || short.Alloy[alloyCr][0] >= long.Alloy[alloyCr][0] || fine.Alloy[alloyCr][0] < short.Alloy[alloyCr][0] {
		t.Error("chromium should come into solution as its carbide dissolves")
	}
	// The class that is smaller goes first and takes its alloy along.
	chromium := func(k int) float64 { // share that is left
		was, is := &start.Carbides[k], &long.Carbides[k]
		return is.Mass[0] * is.Alloy[alloyCr][0] / (was.Mass[0] * was.Alloy[alloyCr][0])
	}
	for k := 1; k < numClasses; k++ {
		was, is := &start.Carbides[k], &long.Carbides[k]
		t.Logf("class %d: %.3f of its mass is left, %.3f of its chromium", k, is.Mass[0]/was.Mass[0], chromium(k))
		if k > 1 && chromium(k) < chromium(k-1) {
			t.Errorf("class %d has lost more of its chromium than the smaller one", k)
		}
	}
	// Pearlite that forms close to Ae1 partitions, that of a nose does not.
	lamella := func(T float64) float64 {
		c := heated(Normalized, 600)
		m.Step(c, c, []float64{T + kelvin}, 1e4)
		return c.LamellaAlloy[alloyCr][0] / c.Alloy[alloyCr][0]
	}
	if high, low := lamella(715), lamella(590); high < 1.2*low || low > 1.01 {
		t.Errorf("chromium in lamellae over that of the ferrite: %.2f from 715 °C, %.2f from 590 °C", high, low)
	}
}
