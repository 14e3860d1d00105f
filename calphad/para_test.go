package calphad

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// Driving forces of cementite without movement of the metals, computed by an
// independent evaluator on the same parameters and additions (complex-step
// derivatives, magnetism included). They hold the evaluation, not steel.
func TestParaEquilibriumAgainstAnotherEvaluator(t *testing.T) {
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		parent string
		si     float64
		T, D   float64 // [°C], [J per mole of M3C]
	}{
		{Austenite, 0, 300, 14491}, {Austenite, 0, 400, 11015}, {Austenite, 0, 500, 7706}, {Austenite, 0, 600, 4494}, {Austenite, 0, 700, 1328},
		{Austenite, 0.25, 300, 11954}, {Austenite, 0.25, 400, 8502}, {Austenite, 0.25, 500, 5215}, {Austenite, 0.25, 600, 2025}, {Austenite, 0.25, 700, -1119},
		{Austenite, 2, 300, -4674}, {Austenite, 2, 400, -7971}, {Austenite, 2, 500, -11110}, {Austenite, 2, 600, -14158}, {Austenite, 2, 700, -17161},
		{Ferrite, 0, 300, 50439}, {Ferrite, 0.25, 300, 47849}, {Ferrite, 2, 300, 31240},
		{Ferrite, 0, 400, 46328}, {Ferrite, 0.25, 400, 43739}, {Ferrite, 2, 400, 27120},
	} {
		p, err := db.ParaEquilibrium(row.parent, steel.Composition{steel.C: 0.8, steel.Si: row.si}, row.T+273.15)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.Cementite-row.D) > 30 {
			t.Errorf("%s, %g %% Si, %g °C: %.0f J, want %.0f", row.parent, row.si, row.T, p.Cementite, row.D)
		}
	}
}

// Para-Acm from the same independent evaluator.
func TestParaAcm(t *testing.T) {
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct{ si, T, carbon float64 }{{0, 800, 0.948}, {0, 700, 0.698}, {0.25, 800, 1.183}, {0.25, 700, 0.896}} {
		c, ok, err := db.ParaAcm(steel.Composition{steel.Si: row.si}, row.T+273.15)
		if err != nil || !ok || math.Abs(c-row.carbon) > 0.003 { // a kelvin
			t.Errorf("%g %% Si at %g °C: %.4f %% C, %v, %v; want %.3f", row.si, row.T, c, ok, err, row.carbon)
		}
	}
	if _, ok, err := db.ParaAcm(steel.Composition{steel.Si: 2}, 973.15); ok || err != nil {
		t.Errorf("2 %% Si has a para-Acm below 3 %% C at 700 °C (%v)", err)
	}
	for _, row := range []struct{ si, T float64 }{{0, 819}, {0.25, 737}} {
		T, ok, err := db.ParaAcmTemperature(steel.Composition{steel.C: 1, steel.Si: row.si})
		if err != nil || !ok || math.Abs(T-273.15-row.T) > 1 {
			t.Errorf("1 %% C, %g %% Si: %.1f °C, %v, %v; want %g", row.si, T-273.15, ok, err, row.T)
		}
	}
	if T, ok, _ := db.ParaAcmTemperature(steel.Composition{steel.C: 1, steel.Si: 2}); ok && T > 573 {
		t.Errorf("cementite is driven from austenite with 2 %% Si and 1 %% C below %.0f °C; it should not be above 300", T-273.15)
	}
	// copper at the level of a residual hardly matters
	a, _, _ := db.ParaAcmTemperature(steel.Composition{steel.C: 1})
	b, _, _ := db.ParaAcmTemperature(steel.Composition{steel.C: 1, steel.Cu: 0.12})
	if d := b - a; math.Abs(d-0.8) > 0.3 {
		t.Errorf("0.12 %% Cu moves para-Acm by %.2f K, want 0.8", d)
	}
}

// The sign of the drive for cementite at 400 °C turns near 1.1 % Si, by about
// 2.5 kJ for each quarter of a percent: why silicon steels hold carbon in their
// austenite during bainite.
func TestSiliconTurnsCementiteAway(t *testing.T) {
	db, _ := Open()
	D := func(si float64) float64 {
		p, err := db.ParaEquilibrium(Austenite, steel.Composition{steel.C: 0.8, steel.Si: si}, 673.15)
		if err != nil {
			t.Fatal(err)
		}
		return p.Cementite
	}
	if D(1.05) < 0 || D(1.2) > 0 {
		t.Errorf("drive at 1.05 and 1.2 %% Si: %.0f, %.0f J; the sign should turn near 1.1", D(1.05), D(1.2))
	}
	if fall := D(0.5) - D(0.75); math.Abs(fall-2500) > 150 {
		t.Errorf("a quarter percent of silicon takes %.0f J, want about 2500", fall)
	}
}

// T0 lies below Ae3 and falls with carbon; in the limit of no carbon it is the
// transformation of iron.
func TestT0(t *testing.T) {
	db, _ := Open()
	last := 1184.0
	for _, c := range []float64{0.01, 0.2, 0.4, 0.8, 1.2} {
		T, ok, err := db.T0(steel.Composition{steel.C: c})
		if err != nil || !ok {
			t.Fatal(c, ok, err)
		}
		tr, err := db.Transitions(steel.Composition{steel.C: c})
		if err != nil {
			t.Fatal(err)
		}
		if !(T < last) || tr.Ae1Start == 0 || T >= tr.Ae3 {
			t.Errorf("%g %% C: T0 %.1f °C, Ae3 %.1f °C", c, T-273.15, tr.Ae3-273.15)
		}
		last = T
	}
}

// In plain iron with carbon nothing is inherited but iron, so carbon-only and
// full equilibrium are one.
func TestParaIsFullEquilibriumWithoutAlloy(t *testing.T) {
	db, _ := Open()
	for _, T := range []float64{1073.15, 1173.15, 1273.15} {
		para, ok, err := db.ParaAcm(steel.Composition{}, T)
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		q, err := db.Equilibrium(steel.Composition{steel.C: 2}, T)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := q.Find(Austenite)
		if d := para - a.Composition[steel.C]; math.Abs(d) > 1e-6 {
			t.Errorf("%.0f K: para-Acm %.6f %%, full %.6f %%", T, para, a.Composition[steel.C])
		}
	}
	p, err := db.ParaEquilibrium(Austenite, steel.Composition{steel.C: 0.7615}, 726.53+273.15)
	if err != nil || math.Abs(p.Pearlite) > 1 {
		t.Errorf("pearlite is driven by %.3f J at the eutectoid, want 0 (%v)", p.Pearlite, err)
	}
}
