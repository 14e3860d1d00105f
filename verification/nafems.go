package verification

import (
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/shape"
)

// nafems solves the thermal benchmarks T2 (radiating rod), T3 (rod with an end
// that oscillates), T4 (plate with films) and the cylinder with a heated band.
func nafems() []Case {
	return []Case{t2(), t3(), t4(), heatedBand()}
}

// t2: rod of 0.1 m, one end at 1000 K, the other radiates with ε 0.98 to 300 K,
// k 55.6 W/mK, sides insulated; steady temperature of the radiating end.
func t2() Case {
	m := divide(slab(0.1, 0.01, 0.01), 20, 1, 1)
	mat := plain{460, 55.6}
	f := conduction.NewField(m, 7850, 1000, mat)
	b := sides{&m.Faces, map[conduction.Side]law{conduction.Start: held(1000), conduction.End: radiation(0.98, 300)}}
	f.March(1e4, 0.1, conduction.Pace{Tolerance: 0.01}, mat, b)
	return Case{
		Problem: "NAFEMS T2", Quantity: "end temperature", Unit: "K", Want: 927.0, Got: f.Ts[len(f.Ts)-1-indexFromEnd(m, conduction.End)],
		Tolerance: 0.1, Source: "nafems-1990", How: "20 cells, marched to rest",
	}
}

func indexFromEnd(m *conduction.Mesh, s conduction.Side) int {
	n := m.Faces.Len()
	for i := range n {
		if m.Faces.Side[n-1-i] == s {
			return i
		}
	}
	panic("verification: the mesh has no such side")
}

// t3: rod of 0.1 m, k 35, ρ 7200, c 440.5, at 0 °C; T(0) = 0, T(L) = 100 sin(πt/40) °C;
// temperature at 0.08 m after 32 s.
func t3() Case {
	m := divide(slab(0.1, 0.01, 0.01), 100, 1, 1)
	mat := plain{440.5, 35}
	f := conduction.NewField(m, 7200, 0, mat)
	const n = 640
	for i := range n {
		t := 32.0 / n * (float64(i) + 0.5)
		f.Step(32.0/n, mat, sides{&m.Faces, map[conduction.Side]law{conduction.Start: held(0), conduction.End: held(100 * math.Sin(math.Pi*t/40))}}, nil)
	}
	return Case{
		Problem: "NAFEMS T3", Quantity: "temperature at 0.08 m and 32 s", Unit: "°C", Want: 36.60, Got: at(m.X, f.T, 0.08),
		Tolerance: 0.05, Source: "nafems-1990", How: "100 cells, 640 steps with the end's temperature taken at mid-step",
	}
}

// t4: plate 0.6 × 1.0 m, k 52; bottom 100 °C, left insulated, right and top a film
// of 750 W/m²K to 0 °C; steady temperature at (0.6, 0.2).
func t4() Case {
	got := func(n int) float64 {
		m := divide(slab(1, 0.6, 1), 0, 3*n, 5*n)
		mat := plain{460, 52}
		f := conduction.NewField(m, 7850, 20, mat)
		b := sides{&m.Faces, map[conduction.Side]law{conduction.Back: held(100), conduction.Front: robin(750, 0), conduction.Edge: robin(750, 0)}}
		f.March(4e6, 1, conduction.Pace{Tolerance: 0.02}, mat, b)
		var z, T []float64
		for i, s := range m.Faces.Side {
			if s == conduction.Edge {
				z, T = append(z, m.Faces.Z[i]+0.5), append(T, f.Ts[i])
			}
		}
		return at(z, T, 0.2)
	}
	a, b := got(10), got(20)
	return Case{
		Problem: "NAFEMS T4", Quantity: "temperature at (0.6, 0.2) m", Unit: "°C", Want: 18.25, Got: b + (b-a)/3,
		Tolerance: 0.05, Source: "nafems-1990", How: "30 × 50 and 60 × 100 cells, marched to rest, extrapolated by the second order (Richardson)",
	}
}

// heatedBand: cylinder of radius 0.02 to 0.10 m and height 0.14 m, k 52;
// 5·10⁵ W/m² into the inner wall between heights 0.04 and 0.10, the ends and
// the outer wall at 273.15 K; steady temperature at r = z = 0.04. A wedge of 2° stands for the cylinder.
func heatedBand() Case {
	wedge := func(yaw float64) shape.Section {
		k := rectangle(0.08, 0.14)
		for _, c := range [][]shape.Point{k.Top, k.Bottom, k.Back, k.Front} {
			for i := range c {
				c[i].Y += 0.06
				c[i].Z += 0.07
			}
		}
		k.Frame.Yaw = yaw
		return k
	}
	a, b := wedge(math.Pi/180), wedge(-math.Pi/180)
	b.U = 1
	m := divide(&shape.Solid{Form: shape.Flat, Sections: []shape.Section{a, b}, Cut: 0.5}, 1, 80, 140)
	mat := plain{460, 52}
	f := conduction.NewField(m, 7850, 300, mat)
	f.March(4e4, 0.1, conduction.Pace{Tolerance: 0.05}, mat, band{&m.Faces})
	got := 0.0
	for _, jk := range [4][2]int{{19, 39}, {19, 40}, {20, 39}, {20, 40}} {
		got += f.T[jk[0]*m.NK+jk[1]] / 4
	}
	return Case{
		Problem: "NAFEMS cylinder with a heated band", Quantity: "temperature at r = z = 0.04 m", Unit: "K", Want: 332.97, Got: got,
		Tolerance: 0.3, Source: "nafems-cylinder", Reported: true, How: "80 × 140 cells in a wedge of 2°, marched to rest",
	}
}

type band struct{ faces *conduction.Faces }

func (b band) Fill(q, dq, Ts []float64) {
	for i, t := range Ts {
		q[i], dq[i] = 0, 0
		switch s, z := b.faces.Side[i], b.faces.Z[i]; {
		case s == conduction.Spine && z > 0.04 && z < 0.10:
			q[i] = -5e5
		case s == conduction.Edge || s == conduction.Front || s == conduction.Back:
			q[i], dq[i] = held(273.15)(t)
		}
	}
}
