package verification

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/shape"
)

func blade(stations ...shape.Station) *shape.Solid {
	s, err := shape.Blade{Stations: stations}.Solid()
	if err != nil {
		panic(err)
	}
	return s
}

// boiling has the shape of an oil's boiling curve: a vapor film, a steep peak, convection.
func boiling(t float64) (q, dq float64) {
	flux := func(t float64) float64 {
		return math.Max(500, 6000*math.Exp(-(t-780)*(t-780)/(120*120))) * (t - 320)
	}
	return flux(t), (flux(t+0.1) - flux(t)) / 0.1
}

// finEdge cools an edge of 0.4 mm under a spine of 4 mm, 25 mm wide, by
// radiation and a film, against a fin of variable thickness on its own fine grid.
func finEdge() []Case {
	const w, thick0, thick1, rho = 0.025, 4e-3, 0.4e-3, 7650.0
	air := law(func(t float64) (float64, float64) {
		q, dq := radiation(0.8, 293.15)(t)
		return q + 13*(t-293.15), dq + 13
	})
	m := divide(blade(shape.Station{X: 0, Width: w, Spine: thick0, Edge: thick1}, shape.Station{X: 0.1, Width: w, Spine: thick0, Edge: thick1}), 0, 14, 8)
	f := conduction.NewField(m, rho, 1088.15, austenite{})
	const n, dt = 100, 5e-4
	dx := w / n
	fin, old := make([]float64, n), make([]float64, n)
	for i := range fin {
		fin[i] = 815
	}
	thick := func(x float64) float64 { return thick0 + x/w*(thick1-thick0) }
	slant := math.Hypot(w, (thick0-thick1)/2) / w
	var all []Case
	at, try := 0.0, 0.01
	for _, until := range []float64{1, 4, 8} {
		try, _, _, _ = f.March(until-at, try, conduction.Pace{}, austenite{}, air)
		for ; at < until-1e-9; at += dt {
			copy(old, fin)
			for i := range fin {
				in := 0.0
				for _, nb := range [2]int{i - 1, i + 1} {
					if nb >= 0 && nb < n {
						in += (15 + 0.0135*(old[i]+old[nb])/2) * thick(dx*(float64(i+nb)/2+0.5)) * (old[nb] - old[i]) / dx
					}
				}
				q, _ := air(old[i] + 273.15)
				out := 2 * q * dx * slant
				if i == 0 {
					out += q * thick0
				}
				if i == n-1 {
					out += q * thick1
				}
				fin[i] += dt * (in - out) / (rho * thick(dx*(float64(i)+0.5)) * dx * (500 + 0.133*old[i]))
			}
		}
		got := f.T[(m.NJ-1)*m.NK+m.NK/2] - 273.15
		y := w/2 + m.Y[(m.NJ-1)*m.NK+m.NK/2]
		i := int(y / dx)
		all = append(all, Case{
			Problem: "Edge of 0.4 mm under a 4 mm spine in still air", Quantity: fmt.Sprintf("edge after %g s", until), Unit: "°C",
			Want: fin[i], Got: got, Tolerance: 2, Source: "own-derivation", How: "14 × 8 cells against a fin of variable thickness, 100 cells, explicit steps of 0.5 ms",
		})
	}
	return all
}

// cut holds the whole against the section in the middle of a knife.
func cut() []Case {
	s, err := shape.Blade{
		Stations: []shape.Station{{X: 0, Width: 0.032, Spine: 3.5e-3, Edge: 0.5e-3}, {X: 0.15, Width: 0.03, Spine: 3e-3, Edge: 0.5e-3}, {X: 0.2, Width: 0.005, Spine: 2e-3, Edge: 0.5e-3}},
		Tang:     shape.Tang{Length: 0.09, Width: 0.016, EndWidth: 0.01},
	}.Solid()
	if err != nil {
		panic(err)
	}
	section, whole := divide(s, 0, 14, 8), divide(s, 40, 14, 8)
	f, g := conduction.NewField(section, 7650, 1088.15, austenite{}), conduction.NewField(whole, 7650, 1088.15, austenite{})
	i := 0
	for i < whole.NI-1 && whole.U[i+1] < s.Cut {
		i++
	}
	var all []Case
	worst := 0.0
	b1, b2 := radiation(0.8, 293.15), law(boiling)
	for stage, l := range []law{b1, b2, b1} {
		d := []float64{3, 5, 60}[stage]
		dt1, dt2 := 0.01, 0.01
		for range 5 {
			dt1, _, _, _ = f.March(d/5, dt1, conduction.Pace{}, austenite{}, l)
			dt2, _, _, _ = g.March(d/5, dt2, conduction.Pace{}, austenite{}, l)
			// The whole at the cut, between the middles of the cells on both sides of it.
			for jk := range section.Len() {
				a, b := i, i
				u := (whole.U[i] + whole.U[i+1]) / 2
				if u < s.Cut {
					b = i + 1
				} else {
					a = i - 1
				}
				ua, ub := (whole.U[a]+whole.U[a+1])/2, (whole.U[b]+whole.U[b+1])/2
				w := (s.Cut - ua) / (ub - ua)
				t := (1-w)*g.T[a*section.Len()+jk] + w*g.T[b*section.Len()+jk]
				worst = max(worst, math.Abs(t-f.T[jk]))
			}
		}
	}
	all = append(all, Case{Problem: "Section against whole, at the cut of a knife with tang and tip", Quantity: "largest difference in air, boiling oil and air", Unit: "K", Want: 3, Got: worst, Bound: "most", Source: "own-derivation", How: "14 × 8 and 40 × 14 × 8 cells: 3 s of air, 5 s of a boiling curve, 60 s of air"})
	return all
}

// conservation adds up all that leaves a body through boiling, radiation and contact.
func conservation() []Case {
	s := blade(shape.Station{X: 0, Width: 0.03, Spine: 4e-3, Edge: 0.3e-3}, shape.Station{X: 0.12, Width: 0.028, Spine: 3e-3, Edge: 0.3e-3}, shape.Station{X: 0.16, Width: 0.006, Spine: 2e-3, Edge: 0.3e-3})
	m := divide(s, 20, 8, 4)
	f := conduction.NewField(m, 7650, 1088.15, austenite{})
	start, out := f.Energy(), 0.0
	for _, l := range []law{radiation(0.8, 293.15), robin(5000, 293.15), law(boiling)} {
		_, joules, _, _ := f.March(4, 0.01, conduction.Pace{}, austenite{}, l)
		out += joules
	}
	return []Case{{
		Problem: "Conservation", Quantity: "heat lost less heat out, of the heat out", Unit: "–", Want: 1e-9, Got: math.Abs(start-f.Energy()-out) / out,
		Bound: "most", Source: "own-derivation", How: "knife of 20 × 8 × 4 cells through radiation, contact and boiling",
	}}
}
