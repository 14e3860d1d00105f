package shop

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/medium"
)

// Available heat of flue gas by the lower heating value, without dissociation,
// computed elsewhere from the polynomials of gri-mech-3 and printed to 0.01.
func TestAvailableHeat(t *testing.T) {
	at := []float64{600, 800, 1000, 1100, 1200, 1300, 1400, 1500} // [°C]
	for _, x := range []struct {
		fuel   Fuel
		excess float64
		want   []float64
	}{
		{NaturalGas, 0, []float64{0.75, 0.66, 0.56, 0.51, 0.46, 0.41, 0.35, 0.30}},
		{NaturalGas, 10, []float64{0.73, 0.63, 0.52, 0.47, 0.41, 0.36, 0.30, 0.24}},
		{NaturalGas, 20, []float64{0.71, 0.60, 0.49, 0.43, 0.37, 0.31, 0.25, 0.18}},
		{NaturalGas, 30, []float64{0.69, 0.57, 0.45, 0.39, 0.32, 0.26, 0.19, 0.13}},
		{Propane, 0, []float64{0.76, 0.67, 0.57, 0.52, 0.48, 0.43, 0.37, 0.32}},
		{Propane, 10, []float64{0.74, 0.64, 0.54, 0.48, 0.43, 0.38, 0.32, 0.27}},
		{Propane, 20, []float64{0.72, 0.61, 0.50, 0.44, 0.39, 0.33, 0.27, 0.21}},
		{Propane, 30, []float64{0.70, 0.58, 0.47, 0.40, 0.34, 0.28, 0.22, 0.15}},
	} {
		b := NewBurn(x.fuel, 1+x.excess/100)
		for i, c := range at {
			if got := b.Available(c + zero); math.Abs(got-x.want[i]) > 0.011 {
				t.Errorf("%s, %.0f %% excess, %.0f °C: %.3f, expected %.2f", x.fuel, x.excess, c, got, x.want[i])
			}
		}
	}
}

// The polynomials join at 1000 K, which a wrong digit would break, and give the
// heats of burning of CO (283.0) and H₂ (241.8 kJ/mol; handbook values from memory).
func TestPolynomialsJoin(t *testing.T) {
	g := gases()
	for i := range g {
		a, b := g[i].enthalpy(999.999999), g[i].enthalpy(1000)
		c, d := g[i].entropy(999.999999), g[i].entropy(1000)
		if math.Abs(a-b) > 30 || math.Abs(c-d) > 0.03 {
			t.Errorf("%s: enthalpy %g to %g, entropy %g to %g at 1000 K", g[i].Name, a, b, c, d)
		}
	}
	if q := g[co].enthalpy(298.15) + g[o2].enthalpy(298.15)/2 - g[co2].enthalpy(298.15); math.Abs(q-283.0e3) > 200 {
		t.Errorf("CO burns with %g J/mol", q)
	}
	if q := g[h2].enthalpy(298.15) + g[o2].enthalpy(298.15)/2 - g[h2o].enthalpy(298.15); math.Abs(q-241.8e3) > 200 {
		t.Errorf("H₂ burns with %g J/mol", q)
	}
	// Water-gas shift: 1 near 1100 K (825 °C), handbook value from memory.
	if k := shift(1100); k < 0.9 || k > 1.15 {
		t.Errorf("shift at 1100 K: %g", k)
	}
}

// Atoms balance whatever the air, and CO comes with too little of it.
func TestBurnBalancesAtoms(t *testing.T) {
	for _, fuel := range []Fuel{Propane, NaturalGas} {
		f := fuels[fuel]
		before := math.Inf(1)
		for air := 0.6; air < 1.5; air += 0.02 {
			b := NewBurn(fuel, air)
			n := 1 / f.molar
			carbon := b.mol[co2] + b.mol[co]
			hydrogen := 2*b.mol[h2o] + 2*b.mol[h2]
			oxygen := 2*b.mol[co2] + b.mol[co] + b.mol[h2o] + 2*b.mol[o2]
			if math.Abs(carbon/(n*f.c)-1) > 1e-9 || math.Abs(hydrogen/(n*f.h)-1) > 1e-9 || math.Abs(oxygen/(2*air*(f.c+f.h/4)*n)-1) > 1e-9 {
				t.Errorf("%s, air %.2f: C %g H %g O %g", fuel, air, carbon, hydrogen, oxygen)
			}
			if s := b.Share(); s > before || s < 0 {
				t.Errorf("%s, air %.2f: CO %g after %g", fuel, air, s, before)
			} else {
				before = s
			}
		}
	}
	// 1.4 kg/h of propane with 3 to 8 % CO gives 18 to 16 m³/h of wet flue and 0.54 to
	// 1.25 m³/h of CO (computed independently by hand from the atom balance), with 12 to 29 % too little air.
	for _, x := range []struct{ share, flue, co, air float64 }{{0.03, 18, 0.54, 0.88}, {0.08, 16, 1.25, 0.71}} {
		b := BurnWithCO(Propane, x.share)
		if f := 1.4 * b.Volume(); math.Abs(f-x.flue) > 0.6 || math.Abs(f*b.Share()-x.co) > 0.05 || math.Abs(b.Air-x.air) > 0.02 {
			t.Errorf("%.0f %% CO: flue %.1f, CO %.2f m³/h, air %.2f", 100*x.share, f, f*b.Share(), b.Air)
		}
	}
}

// The three flames of package medium are those of propane at 1.12, 1.00 and 0.82 of its air.
func TestFlamesOfMedium(t *testing.T) {
	for _, x := range []struct {
		air float64
		is  medium.Atmosphere
	}{{1.12, medium.Lean}, {1, medium.Neutral}, {0.82, medium.Rich}} {
		a := Atmosphere(Propane, x.air)
		if a.Kind != x.is.Kind || math.Abs(a.O2-x.is.O2) > 5e-4 || math.Abs(a.CO-x.is.CO) > 5e-4 || math.Abs(a.CO2-x.is.CO2) > 5e-4 || math.Abs(a.H2O-x.is.H2O) > 5e-4 || math.Abs(a.H2-x.is.H2) > 5e-4 {
			t.Errorf("air %.2f: computed %+v, written %+v", x.air, a, x.is)
		}
	}
}
