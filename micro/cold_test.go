package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// The integral S(X) at three shares; values of the published integrand summed finely (li-1998).
func TestSigmoid(t *testing.T) {
	for _, x := range []struct{ x, s float64 }{{0.01, 0.1043}, {0.5, 1.026}, {0.99, 1.947}} {
		if s := liSigmoid.inverse(x.x); math.Abs(s/x.s-1) > 2e-3 {
			t.Errorf("S(%.2f) = %.4f, want %.4f", x.x, s, x.s)
		}
	}
}

// Isothermal start of pearlite, 1 %, at the nose with Ae1 of Andrews and G 8, no
// multiplier: our own evaluation of the printed law (li-1998), nose within 2 %.
func TestPearliteNose(t *testing.T) {
	for _, x := range []struct {
		name string
		g    steel.Composition
		nose float64
	}{
		{"1080", steel.Composition{steel.C: 0.8, steel.Mn: 0.75, steel.Si: 0.2}, 0.77},
		{"O1", steel.Composition{steel.C: 0.75, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.45}, 18.6},
		{"52100", steel.Composition{steel.C: 0.65, steel.Mn: 0.35, steel.Si: 0.25, steel.Cr: 1.1}, 1.8},
		{"5160", steel.Composition{steel.C: 0.6, steel.Mn: 0.88, steel.Si: 0.25, steel.Cr: 0.8}, 6.7},
	} {
		ae1 := 723 - 10.7*x.g[steel.Mn] + 29.1*x.g[steel.Si] + 16.9*x.g[steel.Cr] + kelvin
		best := math.Inf(1)
		for T := 700.0; T < ae1-5; T++ {
			d := ae1 - T
			best = math.Min(best, 0.1043*liPearliteF(&x.g)/(math.Exp2(0.32*8)*d*d*d*math.Exp(-27500/(gasCal*T))))
		}
		if math.Abs(best/x.nose-1) > 0.03 {
			t.Errorf("%s: nose at %.2f s, want %.2f", x.name, best, x.nose)
		}
	}
}

// Bainite by our own form at its targets: 150 s to the start at 250 °C and 20 s to
// the middle at 400 °C of eutectoid steel (textbook diagrams, from memory, factor 2);
// O1 at 300 °C complete in half an hour to two hours, 52100 at 230 °C in two to four
// (full bainite is held four hours in practice).
func TestBainiteTimes(t *testing.T) {
	tau := func(g steel.Composition, G, T, s float64) float64 {
		d := bainiteStart(&g) - T
		return s * bainiteF(&g) / (math.Exp2(0.29*G) * d * d * math.Exp(-bainiteQ/(gasCal*T)))
	}
	eutectoid := steel.Composition{steel.C: 0.76, steel.Mn: 0.7, steel.Si: 0.2}
	o1 := steel.Composition{steel.C: 0.75, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.45}
	bearing := steel.Composition{steel.C: 0.65, steel.Mn: 0.35, steel.Si: 0.25, steel.Cr: 1.1}
	for _, x := range []struct {
		name            string
		g               steel.Composition
		G, T, s, lo, hi float64
	}{
		{"eutectoid start at 250", eutectoid, 6, 250 + kelvin, 0.1043, 75, 300},
		{"eutectoid middle at 400", eutectoid, 6, 400 + kelvin, 1.026, 10, 40},
		{"eutectoid finish at 400", eutectoid, 6, 400 + kelvin, 1.947, 35, 300},
		{"O1 finish at 300", o1, 9, 300 + kelvin, 1.947, 1800, 7200},
		{"52100 finish at 230", bearing, 9, 230 + kelvin, 1.947, 7200, 14400},
	} {
		got := tau(x.g, x.G, x.T, x.s)
		t.Logf("%s: %.1f s", x.name, got)
		if got < x.lo || got > x.hi {
			t.Errorf("%s: %.1f s, want %.0f–%.0f", x.name, got, x.lo, x.hi)
		}
	}
}
