package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// What a cell does hangs on its temperatures and hardly on how finely the time is
// cut: carbide that dissolves at 10 K/s in steps of 2 s against steps of 0.02 s.
// Without turns and without sizes of their own it was 0.025 wt % C. Derived.
func TestDissolvingHardlyFeelsSteps(t *testing.T) {
	m := metalOf(t, s1084)
	after := func(dt float64) float64 {
		c, T := NewCells(1), []float64{0}
		m.Start(c, LamellarPearlite)
		for x := 0.0; x < 10; x += 0.02 {
			T[0] = 990 + 2*x
			m.Step(c, c, T, 0.02)
		}
		for x := 0.0; x < 10-1e-9; x += dt {
			T[0] = 1010 + 10*(x+dt/2)
			m.Step(c, c, T, dt)
		}
		return c.Carbon[0]
	}
	exact := after(0.02)
	for _, dt := range []float64{0.5, 1, 2} {
		if d := after(dt) - exact; math.Abs(d) > 1e-3 {
			t.Errorf("steps of %g s: %.4f wt %% C dissolved, steps of 0.02 s %.4f", dt, exact+d, exact)
		}
	}
}

// Martensite in a slow fall lags the same in one step as in a hundred, whatever
// rest went before; derived from dA/dt = 1 − A/restLost·d/dt.
func TestMartensiteHardlyFeelsSteps(t *testing.T) {
	m := metalOf(t, s1084)
	for _, rate := range []float64{0.03, 0.3, 3, 30} { // K/s
		after := func(step float64) float64 {
			c, T := NewCells(1), []float64{0}
			m.Start(c, Spheroidized)
			T[0] = 1090
			m.Step(c, c, T, 600)
			T[0] = m.MartensiteTemperature(c, 0) + 1
			m.Step(c, c, T, 1e-3)
			for n := 0.0; n < 80; n += step {
				T[0] -= step
				m.Step(c, c, T, step/rate)
			}
			return c.Fraction[steel.Martensite][0]
		}
		exact := after(0.1)
		for _, step := range []float64{1, 5, 20} {
			if d := after(step) - exact; math.Abs(d) > 0.004 {
				t.Errorf("%g K/s in steps of %g K: %.4f martensite, finely %.4f", rate, step, exact+d, exact)
			}
		}
	}
}

// A trace of austenite that holds next to no carbon turns to ferrite whole, and
// nothing of it is left to be divided by.
func TestLastAusteniteIsFerrite(t *testing.T) {
	m := metalOf(t, steel.Composition{steel.C: 0.45, steel.Mn: 0.7, steel.Si: 0.25})
	c := NewCells(1)
	m.Start(c, LamellarPearlite)
	const trace = 3.4e-5
	c.Fraction[steel.Pearlite][0] -= trace
	c.Fraction[steel.Austenite][0], c.Carbon[0] = trace, 3e-17
	m.Step(c, c, []float64{m.ae1 - 30}, 1e4)
	for k := range c.Fraction {
		if f := c.Fraction[k][0]; !(f >= 0 && f <= 1) {
			t.Errorf("%v is %g", steel.Constituent(k), f)
		}
	}
	if x := c.CarbonTotal(0); !(x > 0 && x < 1) {
		t.Errorf("%g wt %% C", x)
	}
}
