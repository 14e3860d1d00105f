package micro

import (
	"math"
	"testing"
)

// The tables of the hot loop against the library's functions.
func TestPowers(t *testing.T) {
	for _, p := range []*power{grainPower, grainUp, cubeRoot, spacingPower, softPower} {
		most := 3e-7 * math.Max(1, math.Abs(p.p*(p.p-1))) * 2
		for x := 1e-9; x < 1e9; x *= 1.00037 {
			if got, want := p.at(x), math.Pow(x, p.p); math.Abs(got/want-1) > most {
				t.Fatalf("%g^%g = %g, want %g", x, p.p, got, want)
			}
		}
		for _, x := range []float64{0, 1e-30, 1e30, math.Inf(1)} {
			if got, want := p.at(x), math.Pow(x, p.p); got != want {
				t.Errorf("%g^%g = %g, want %g", x, p.p, got, want)
			}
		}
	}
	if got := exp(-3e-17); got != 1 {
		t.Errorf("exp(−3e-17) = %g", got)
	}
	for x := -650.0; x < 650; x += 0.0371 {
		if got, want := exp(x), math.Exp(x); math.Abs(got-want) > 4e-7*want+1e-299 {
			t.Fatalf("exp(%g) = %g, want %g", x, got, want)
		}
		if x > 0 {
			if got, want := ln(x), math.Log(x); math.Abs(got-want) > 1e-6 {
				t.Fatalf("ln(%g) = %g, want %g", x, got, want)
			}
		}
	}
}
