package verification

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/shape"
)

// groeber follows the middle of plate, cylinder and sphere in a fluid.
func groeber() []Case {
	var all []Case
	for _, b := range []Body{Plate, Cylinder, Sphere} {
		for _, bi := range []float64{0.1, 1, 10} {
			all = append(all, b.follow(bi, []float64{0.2, 0.5, 1}, 0.001)...)
		}
	}
	return all
}

// follow computes the middle of a body of L = 10 mm, k 30, ρc 4.5e6, from 1000 to 0 K.
func (b Body) follow(bi float64, fo []float64, tolerance float64) []Case {
	const l, k, rhoc = 0.01, 30.0, 4.5e6
	var m *conduction.Mesh
	var how string
	var middle int
	var wall map[conduction.Side]law
	film := robin(bi*k/l, 0)
	switch b {
	case Plate:
		m = divide(slab(1, 0.01, 2*l), 0, 1, 41)
		wall = map[conduction.Side]law{conduction.Front: film, conduction.Back: film}
		how, middle = "41 even cells through the thickness", 20
	case Cylinder:
		s, err := shape.Bar{Form: shape.Round, Width: 2 * l, Length: 0.1}.Solid()
		if err != nil {
			panic(err)
		}
		s.Fine = shape.Fineness{}
		m = divide(s, 0, 25, 25)
		how, middle = "25 × 25 cells in the round section, no symmetry used", 12*25+12
	case Sphere:
		// A thin pyramid from the middle: its cross-section grows as r², as the sphere's does.
		const lean, tip = 0.02, 1e-3 * l
		a, e := rectangle(lean*tip, lean*tip), rectangle(lean*l, lean*l)
		a.Frame.X, e.Frame.X, e.U = tip, l, 1
		m = divide(&shape.Solid{Form: shape.Flat, Sections: []shape.Section{a, e}, Cut: 0.5}, 40, 1, 1)
		wall = map[conduction.Side]law{conduction.End: film}
		how, middle = "40 cells in a pyramid of 1.1°", 0
	}
	mat := plain{500, k}
	f := conduction.NewField(m, rhoc/500, 1000, mat)
	var bound conduction.Boundary = film
	if wall != nil {
		bound = sides{&m.Faces, wall}
	}
	var all []Case
	at, dt := 0.0, 1e-3
	for _, x := range fo {
		until := x * l * l * rhoc / k
		dt, _, _, _ = f.March(until-at, dt, conduction.Pace{Tolerance: 0.1}, mat, bound)
		at = until
		all = append(all, Case{
			Problem: "Gröber series, " + b.String(), Quantity: fmt.Sprintf("θ of the middle, Bi %g, Fo %g", bi, x), Unit: "–",
			Want: b.Center(bi, x), Got: f.T[middle] / 1000, Tolerance: tolerance, Source: "exact-heat", How: how + ", 0.1 K of 1000 K per step",
		})
	}
	return all
}

// semiInfinite warms the face of a bar so long that its far end stays cold.
func semiInfinite() []Case {
	const k, rhoc, t = 30.0, 4.5e6, 4.0
	at := k / rhoc * t
	run := func(l law) (*conduction.Mesh, *conduction.Field) {
		m := divide(slab(0.06, 0.01, 0.01), 240, 1, 1)
		mat := plain{500, k}
		f := conduction.NewField(m, rhoc/500, 0, mat)
		f.March(t, 1e-5, conduction.Pace{Tolerance: 0.01}, mat, sides{&m.Faces, map[conduction.Side]law{conduction.Start: l}})
		return m, f
	}
	how := "240 even cells of 0.25 mm, 0.01 K per step"
	var all []Case
	m, f := run(held(100))
	deep := func(v float64) float64 { return interpolate(m, f, v) }
	x := math.Sqrt(at) // erfc(1/2)
	all = append(all, Case{Problem: "Half-space, face brought to 100 K", Quantity: "temperature where x = √(αt)", Unit: "K", Want: 100 * halfSpaceStep(x, at), Got: deep(x), Tolerance: 0.2, Source: "exact-heat", How: how})
	_, f = run(fed(2e5))
	all = append(all, Case{Problem: "Half-space fed with 0.2 MW/m²", Quantity: "face temperature at 4 s", Unit: "K", Want: halfSpaceFlux(2e5, k, at), Got: f.Ts[0], Tolerance: 0.5, Source: "exact-heat", How: how})
	m, f = run(robin(5000, 100))
	all = append(all, Case{Problem: "Half-space in a fluid of 100 K, h 5000", Quantity: "face temperature at 4 s", Unit: "K", Want: 100 * halfSpaceFilm(0, 5000, k, at), Got: f.Ts[0], Tolerance: 0.2, Source: "exact-heat", How: how},
		Case{Problem: "Half-space in a fluid of 100 K, h 5000", Quantity: "temperature where x = √(αt)", Unit: "K", Want: 100 * halfSpaceFilm(x, 5000, k, at), Got: interpolate(m, f, x), Tolerance: 0.2, Source: "exact-heat", How: how})
	return all
}

func interpolate(m *conduction.Mesh, f *conduction.Field, x float64) float64 { return at(m.X, f.T, x) }

// pair is two plain materials, the second from a given cell on. Both have the density of the field.
type pair struct {
	a, b  plain
	first int
}

func (p pair) Fill(h, cp, k, T []float64) {
	p.a.Fill(h[:p.first], cp[:p.first], k[:p.first], T[:p.first])
	p.b.Fill(h[p.first:], cp[p.first:], k[p.first:], T[p.first:])
}

// twoBodies puts two half-spaces into perfect contact: the interface goes at once
// to (e₁T₁ + e₂T₂)/(e₁ + e₂), e = √(kρc), and stays there.
func twoBodies() []Case {
	var all []Case
	for _, c := range []struct {
		name           string
		hot            plain
		cold           plain
		tHot, tCold    float64
		rhoHot, rhoCld float64
	}{
		{"steel at 1100 °C on an anvil at 20 °C", plain{650, 27.3}, plain{486, 40}, 1373.15, 293.15, 7795, 7704},
		{"steel at 820 °C on aluminum at 20 °C", plain{605, 26}, plain{900, 204}, 1093.15, 293.15, 8842, 2706},
	} {
		const n = 200
		m := divide(slab(0.1, 0.01, 0.01), n, 1, 1)
		// One density for the field; the heat capacities carry the difference.
		hot, cold := c.hot, plain{c.cold.cp * c.rhoCld / c.rhoHot, c.cold.k}
		mat := pair{hot, cold, n / 2}
		f := conduction.NewField(m, c.rhoHot, c.tCold, mat)
		for i := range n / 2 {
			f.T[i] = c.tHot
			f.H[i] = hot.cp * c.tHot
		}
		f.March(3, 1e-4, conduction.Pace{Tolerance: 0.1}, mat, sides{&m.Faces, nil})
		e1, e2 := math.Sqrt(c.hot.k*c.rhoHot*c.hot.cp), math.Sqrt(c.cold.k*c.rhoCld*c.cold.cp)
		a, b := f.T[n/2-1], f.T[n/2]
		all = append(all, Case{
			Problem: "Two bodies in contact", Quantity: "interface, " + c.name, Unit: "K", Want: (e1*c.tHot + e2*c.tCold) / (e1 + e2),
			Got: (hot.k*a + cold.k*b) / (hot.k + cold.k), Tolerance: 1, Source: "exact-heat", How: "200 even cells of 0.5 mm, 3 s, 0.1 K per step",
		})
	}
	return all
}

// lumped cools a thin plate by a film and by radiation.
func lumped() []Case {
	const rhoc, va = 7800 * 650, 2.5e-3
	m := divide(slab(1, 0.05, 2*va), 0, 1, 4)
	mat := plain{650, 1e4} // conducts so well that nothing but the surface counts
	var all []Case
	f := conduction.NewField(m, 7800, 1000, mat)
	film := robin(100, 0)
	both := func(l law) sides {
		return sides{&m.Faces, map[conduction.Side]law{conduction.Front: l, conduction.Back: l}}
	}
	f.March(100, 0.01, conduction.Pace{Tolerance: 0.05}, mat, both(film))
	all = append(all, Case{Problem: "Lumped plate in a film", Quantity: "temperature after 100 s", Unit: "K", Want: 1000 * math.Exp(-100*100/(rhoc*va)), Got: f.T[1], Tolerance: 0.5, Source: "exact-heat", How: "5 mm plate, 0.05 K per step"})
	f = conduction.NewField(m, 7800, 1273.15, mat)
	at, dt := 0.0, 0.01
	for _, t := range []float64{1073.15, 773.15, 573.15} {
		until := radiationTime(0.8, rhoc, va, 1273.15, t, 293.15)
		dt, _, _, _ = f.March(until-at, dt, conduction.Pace{Tolerance: 0.05}, mat, both(radiation(0.8, 293.15)))
		at = until
		all = append(all, Case{Problem: "Lumped plate that radiates", Quantity: fmt.Sprintf("temperature after %.2f s", until), Unit: "K", Want: t, Got: f.T[1], Tolerance: 0.5, Source: "bejan-kraus-2003", How: "5 mm plate, ε 0.8, from 1273.15 K in 293.15 K, 0.05 K per step"})
	}
	return all
}

// melt is a material with a share of each cell transformed, frozen in a step:
// the same coupling that a metal's latent heat has.
type melt struct {
	cp, k, latent float64
	share         []float64
}

func (p *melt) Fill(h, cp, k, T []float64) {
	for c, t := range T {
		h[c], cp[c], k[c] = p.cp*t+p.latent*p.share[c], p.cp, p.k
	}
}

// settle gives each cell the share and temperature that its enthalpy has when melting at 0.
func (p *melt) settle(f *conduction.Field) {
	for c, h := range f.H {
		p.share[c] = min(1, max(0, h/p.latent))
		f.T[c] = (h - p.latent*p.share[c]) / p.cp
	}
}

// stefan follows the front of a body that melts at 0 from a face held at 100 K above.
func stefan() []Case {
	var all []Case
	for _, st := range []float64{0.1, 0.5, 2} {
		const k, cp, rho, n = 30.0, 600.0, 7500.0, 200
		m := divide(slab(0.02, 0.01, 0.01), n, 1, 1)
		mat := &melt{cp, k, cp * 100 / st, make([]float64, n)}
		f := conduction.NewField(m, rho, 0, mat)
		lam := neumann(st)
		t := 0.012 * 0.012 / (4 * lam * lam) * rho * cp / k // front at 12 mm
		steps := 4000
		b := sides{&m.Faces, map[conduction.Side]law{conduction.Start: held(100)}}
		for range steps {
			f.Step(t/float64(steps), mat, b, nil)
			mat.settle(f)
		}
		front := 0.0
		for _, s := range mat.share {
			front += s * 0.02 / n
		}
		all = append(all, Case{
			Problem: "Stefan problem (Neumann's solution)", Quantity: fmt.Sprintf("front over √(4αt), St %g", st), Unit: "–", Want: lam,
			Got: front / 0.012 * lam, Tolerance: 0.005 * lam, Source: "exact-heat", How: "200 cells, 4000 steps, latent heat by a share frozen in each step, as a metal's",
		})
	}
	return all
}
