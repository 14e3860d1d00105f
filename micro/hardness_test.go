package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// quenchedAt returns one cell austenitized above Ae3, brought past pearlite at once and
// then cooled at rate [K/s] to room temperature.
func quenchedAt(t *testing.T, c steel.Composition, rate float64) *lump {
	l := &lump{m: metalOf(t, c), c: NewCells(1), T: 293}
	l.m.Start(l.c, Normalized)
	l.hold(math.Min(l.m.Limits().Upper()+40, 1273), 20, 1800)
	l.hold(673, 2000, 0)
	l.hold(298, rate, 60)
	return l
}

// Martensite as the quench leaves it: the initial hardness of astm-a255 at the rates that
// the end of the bar sees below 400 °C, some 100–300 K/s, within 1.5 HRC; 0.2–0.65 wt % C.
func TestMartensiteAsQuenched(t *testing.T) {
	for _, carbon := range []float64{0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65} {
		for _, rate := range []float64{300, 100} {
			l := quenchedAt(t, steel.Composition{steel.C: carbon, steel.Mn: 0.7, steel.Si: 0.25}, rate)
			got, want := hrc(l.m.HV(l.c, 0)), InitialHardness(carbon)
			t.Logf("%.2f C at %.0f K/s: %.1f HRC, want %.1f", carbon, rate, got, want)
			if math.Abs(got-want) > 1.5 {
				t.Errorf("%.2f C at %.0f K/s: %.1f HRC, want %.1f", carbon, rate, got, want)
			}
		}
	}
}

// What the quench tempers by itself grows as it slows, and a piece that is pulled hot
// from the oil tempers in its own heat (common practice).
// The limits are our own: a regression guard, no evidence.
func TestSelfTempering(t *testing.T) {
	c := steel.Composition{steel.C: 0.4, steel.Mn: 0.7, steel.Si: 0.25}
	last, fast := math.Inf(1), 0.0
	for _, rate := range []float64{300, 100, 30} {
		l := quenchedAt(t, c, rate)
		hv := l.m.HV(l.c, 0)
		if hv >= last {
			t.Errorf("at %.0f K/s: %.0f HV, not softer than in a faster quench, %.0f", rate, hv, last)
		}
		last = hv
		if rate == 100 {
			fast = hv
		}
	}
	l := &lump{m: metalOf(t, c), c: NewCells(1), T: 293}
	l.m.Start(l.c, Normalized)
	l.hold(l.m.Limits().Upper()+40, 20, 1800)
	l.hold(673, 2000, 0)
	l.hold(500, 100, 120) // two minutes at 227 °C, half of it martensite
	l.hold(298, 100, 60)
	if hv := l.m.HV(l.c, 0); hv > fast-10 {
		t.Errorf("pulled at 227 °C: %.0f HV, not softer than quenched, %.0f", hv, fast)
	}
}

// Hardly any pearlite forms where diagrams have bainite alone (common practice: below
// 400 °C), also where 30 K/s give it time.
// 2 % is our own limit: a regression guard.
func TestNoPearliteBelowItsBay(t *testing.T) {
	l := quenchedAt(t, steel.Composition{steel.C: 0.5, steel.Mn: 0.7, steel.Si: 0.25}, 30)
	if p := l.c.Fraction[steel.Pearlite][0]; p > 0.02 {
		t.Errorf("pearlite %.3f formed from 400 °C down at 30 K/s", p)
	}
}

// Carbide of vanadium that hardening leaves counts as in the bars whose curves the law
// was fitted on: H13 type through the cells as its sheet says, 54, 53 and 36 HRC
// tempered at 204, 538 and 649 °C (maker's data sheet).
func TestAirHardeningThroughCells(t *testing.T) {
	h13 := steel.Composition{steel.C: 0.39, steel.Mn: 0.35, steel.Si: 1, steel.Cr: 5.1, steel.Mo: 1.4, steel.V: 1}
	for _, x := range []struct{ T, want float64 }{{204, 54}, {538, 53}, {649, 36}} {
		l := &lump{m: metalOf(t, h13), c: NewCells(1), T: 293}
		l.m.Start(l.c, Spheroidized)
		l.hold(1010+kelvin, 5, 1800)
		l.hold(298, 2, 60)
		l.hold(x.T+kelvin, 1, 7200)
		l.hold(298, 1, 60)
		got := hrc(l.m.HV(l.c, 0))
		t.Logf("tempered at %.0f °C: %.1f HRC, want %.0f", x.T, got, x.want)
		if math.Abs(got-x.want) > 1.9 {
			t.Errorf("tempered at %.0f °C: %.1f HRC, want %.0f", x.T, got, x.want)
		}
	}
}

// Stock that comes hardened tempers as what was hardened here: after an hour at 460 °C
// in one go it has the hardness of the law, and no austenite is left.
func TestHardenedStockTempers(t *testing.T) {
	l := &lump{m: metalOf(t, s1084), c: NewCells(1), T: 293}
	l.m.Start(l.c, Hardened)
	l.hold(460+kelvin, 1000, 3600)
	want := hrc(TemperedHardness(s1084, []Hold{{460 + kelvin, 3600}}))
	if got := hrc(l.m.HV(l.c, 0)); math.Abs(got-want) > 1.5 || l.c.Fraction[steel.RetainedAustenite][0] > 1e-3 {
		t.Errorf("%.1f HRC, want %.1f; retained austenite %.4f", got, want, l.c.Fraction[steel.RetainedAustenite][0])
	}
}
