package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// pairs makes each new cell of a third of one old cell and two thirds of the next.
type pairs struct{}

func (pairs) Mean(dst, src, amount []float64) {
	for i := range dst {
		a, b := amount[i]/3, 2*amount[i+1]/3
		if a+b > 0 {
			dst[i] = (a*src[i] + b*src[i+1]) / (a + b)
		} else {
			dst[i] = src[i]/3 + 2*src[i+1]/3
		}
	}
}

// Carbon, alloy and fractions are kept when cells of different structure are mixed (derived: balances).
func TestRemapKeepsCarbonAndAlloy(t *testing.T) {
	src, dst := NewCells(5), NewCells(4)
	mass := []float64{1, 0.5, 2, 1.5, 0.8}
	for i := range src.N {
		x := 0.1 + 0.15*float64(i)
		src.Fraction[steel.Austenite][i] = 0.3 * x
		src.Fraction[steel.Martensite][i] = 0.5 * x
		src.Births[0].Fraction[i], src.Births[0].Carbon[i] = 0.3*x, 0.9-0.1*x
		src.Births[1].Fraction[i], src.Births[1].Carbon[i] = 0.2*x, 0.4+0.3*x
		src.Fraction[steel.Carbide][i] = 0.1 * x
		src.Fraction[steel.Pearlite][i] = 1 - 0.9*x
		src.Carbon[i], src.PearliteCarbon[i] = 0.6+x, 0.8-0.2*x
		for e := range src.Alloy {
			src.Alloy[e][i] = 0.3 + 0.1*float64(e+i)
			src.Carbides[1].Mass[i] = src.Fraction[steel.Carbide][i]
			src.Carbides[1].Alloy[e][i] = 2 * float64(1+e*i)
			src.LamellaAlloy[e][i] = 1 * float64(2+e+i)
		}
		src.ready[i] = 1
	}
	dst.Remap(src, mass, pairs{})
	for i := range dst.N {
		a, b := mass[i]/3, 2*mass[i+1]/3
		want := (a*src.CarbonTotal(i) + b*src.CarbonTotal(i+1)) / (a + b)
		if got := dst.CarbonTotal(i); math.Abs(got-want) > 1e-12 {
			t.Errorf("cell %d holds %.15g %% carbon, its parts held %.15g", i, got, want)
		}
		for _, e := range alloyElement {
			want := (a*src.AlloyTotal(i, e) + b*src.AlloyTotal(i+1, e)) / (a + b)
			if got := dst.AlloyTotal(i, e); math.Abs(got-want) > 1e-9 {
				t.Errorf("cell %d holds %.15g %% %s, its parts held %.15g", i, got, e, want)
			}
		}
		sum := 0.0
		for k := range dst.Fraction {
			sum += dst.Fraction[k][i]
		}
		if math.Abs(sum-1) > 1e-12 || dst.ready[i] != 0 {
			t.Errorf("cell %d: fractions sum to %.15g, ready %g", i, sum, dst.ready[i])
		}
	}
}
