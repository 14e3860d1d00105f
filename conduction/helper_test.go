package conduction

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/shape"
)

const sigma = 5.670374e-8 // W/m²K⁴

// austenite has k = 15 + 0.0135 θ W/mK and cp = 500 + 0.133 θ J/kgK, θ in °C
// (from memory; used alike on both sides of a comparison).
type austenite struct{}

func (austenite) Fill(h, cp, k, T []float64) {
	for c, t := range T {
		th := t - 273.15
		h[c] = 500*th + 0.0665*th*th
		cp[c] = 500 + 0.133*th
		k[c] = 15 + 0.0135*th
	}
}

// law is a surface law the same on all faces: q and dq/dTs at Ts.
type law func(ts float64) (q, dq float64)

func (l law) Fill(q, dq, Ts []float64) {
	for i, t := range Ts {
		q[i], dq[i] = l(t)
	}
}

func robin(h, fluid float64) law {
	return func(t float64) (float64, float64) { return h * (t - fluid), h }
}

// radiation is that of an oxidized body, ε 0.8, to surroundings.
func radiation(surround float64) law {
	const eps = 0.8
	return func(t float64) (float64, float64) {
		return eps * sigma * (t*t*t*t - surround*surround*surround*surround), 4 * eps * sigma * t * t * t
	}
}

// stillAir is radiation with emissivity 0.8 and natural convection on a vertical
// plate of height l, Nu = 0.68 + 0.670 Ra^¼/[1 + (0.492/Pr)^(9/16)]^(4/9)
// (churchill-chu-1975, as printed in textbooks), air at 20 °C.
func stillAir(l float64) law {
	const ta, pr = 293.15, 0.70
	flux := func(ts float64) float64 {
		tf := (ts + ta) / 2
		k := 0.0241 * math.Pow(tf/273.15, 0.81)
		nu := 13.3e-6 * math.Pow(tf/273.15, 1.76)
		ra := 9.81 * math.Max(ts-ta, 0) * l * l * l / (tf * nu * nu) * pr
		h := k / l * (0.68 + 0.670*math.Pow(ra, 0.25)/math.Pow(1+math.Pow(0.492/pr, 9./16), 4./9))
		return h*(ts-ta) + 0.8*sigma*(math.Pow(ts, 4)-math.Pow(ta, 4))
	}
	return func(t float64) (float64, float64) {
		q := flux(t)
		return q, (flux(t+0.5) - q) / 0.5
	}
}

func mesh(t testing.TB, s *shape.Solid, err error, c Cells) *Mesh {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	m, err := New(s, c)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func flat(w, th, l float64) (*shape.Solid, error) {
	return shape.Bar{Form: shape.Flat, Width: w, Thickness: th, Length: l}.Solid()
}
