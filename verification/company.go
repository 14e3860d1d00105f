package verification

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shop"
)

// radiatingFlats cools flats of real conductivity from 1100 to 850 °C by radiation.
// The lumped solution knows one temperature; what radiates is the surface, and the
// surface is held to it.
func radiatingFlats() []Case {
	const rho, cp, eps, room = 7600.0, 640.0, 0.8, 293.15
	mat := plain{cp, 29}
	var all []Case
	for _, thick := range []float64{0.003, 0.005, 0.010, 0.019} {
		m := divide(slab(1, 1, thick), 0, 1, 20)
		f := conduction.NewField(m, rho, 1373.15, mat)
		r := radiation(eps, room)
		on := sides{&m.Faces, map[conduction.Side]law{conduction.Front: r, conduction.Back: r}}
		want := radiationTime(eps, rho*cp, thick/2, 1373.15, 1123.15, room)
		surface := 0
		for i, s := range m.Faces.Side {
			if s == conduction.Front {
				surface = i
			}
		}
		t, dt := 0.0, want/4000
		for f.Ts[surface] > 1123.15 || t == 0 {
			f.Step(dt, mat, on, nil)
			t += dt
		}
		all = append(all, Case{
			Problem: "Flat that radiates from 1100 to 850 °C", Quantity: fmt.Sprintf("time of the surface, %g mm", 1000*thick), Unit: "s",
			Want: want, Got: t, Tolerance: 0.03 * want, Source: "bejan-kraus-2003", How: "20 cells through the thickness, k 29 W/mK, 4000 steps or so; the solution is of a lumped body",
		})
	}
	return all
}

// hotBlock lays a cold plate on a hot block: two lumps that meet in a joint.
//
//	T₁ − T₂ = (T₁ − T₂)₀ exp(−h A (1/C₁ + 1/C₂) t),  both end at (C₁T₁ + C₂T₂)/(C₁ + C₂)
func hotBlock() []Case {
	const rho, cp, thick, area, mass, start, hot = 7850.0, 500.0, 0.004, 0.030 * 0.150, 2.0, 293.15, 873.15
	s := shop.Shop{
		Room:   shop.Room{Air: shop.Exactly(start)},
		Plates: []shop.Plate{{Name: "block", Kind: shop.Block, Metal: "steel", Mass: shop.Exactly(mass), Joint: shop.Exactly(500), Temperature: shop.Exactly(hot)}},
	}
	bench, err := s.Start()
	if err != nil {
		panic(err)
	}
	block, err := bench.Find("block")
	if err != nil {
		panic(err)
	}
	m := divide(slab(0.150, 0.030, thick), 1, 1, 6)
	mat := plain{cp, 1e4}
	f := conduction.NewField(m, rho, start, mat)
	c1, c2 := mass*480, rho*cp*thick*area
	mean := (c1*hot + c2*start) / (c1 + c2)
	rate := 500 * area * (1/c1 + 1/c2)
	var all []Case
	t, dt := 0.0, 0.02
	for _, until := range []float64{10, 40, 300} {
		for t < until-1e-9 {
			on := sides{&m.Faces, map[conduction.Side]law{conduction.Back: robin(500, block.Temperature())}}
			block.Advance(0, f.Step(dt, mat, on, nil).Joules)
			t += dt
		}
		want := mean - c1/(c1+c2)*(hot-start)*math.Exp(-rate*until)
		all = append(all, Case{
			Problem: "Plate of 4 mm on a hot block of 2 kg", Quantity: fmt.Sprintf("temperature of the plate after %g s", until), Unit: "K",
			Want: want, Got: f.T[m.NK/2], Tolerance: 0.5, Source: "bejan-kraus-2003", How: "6 cells and the shop's block as one lump, joint of 500 W/m²K, steps of 20 ms, nothing to the room",
		})
	}
	return all
}

// companionBook buries a hot round with a hotter bar beside it in damp ash and
// counts the heat of the bed, the bar, the room and the water against what the round gave.
func companionBook() []Case {
	filling, ok := medium.FindFilling("wood ash")
	if !ok {
		panic("verification: no wood ash")
	}
	bed := medium.NewBed(filling, medium.BedShape{Radius: 0.006, Reach: 0.10}, 293.15, 0.02)
	bed.Room = 293.15
	bed.Accompany(650, 1123.15, 0.01, 0.006)
	const c = 7850 * 650 * 0.006 / 2
	before, _, _ := bed.Held(293.15)
	T, given := 1093.15, 0.0
	for dt, t := 0.05, 0.0; t < 4*3600; t += dt {
		slope, base := bed.Respond(dt)
		next := (c*T/dt + base) / (c/dt + slope)
		bed.Step(dt, c*(T-next))
		given += c * (T - next)
		T = next
		dt = math.Min(dt*1.02, 60)
	}
	now, lost, vapor := bed.Held(293.15)
	return []Case{{
		Problem: "Round buried in ash with a hot companion", Quantity: "heat lost, of the heat given", Unit: "–", Want: 1e-9, Bound: "most",
		Got: math.Abs(now+lost+vapor-before-given) / given, Source: "own-derivation", How: "bed, bar, evaporated water and room in one account over four hours",
	}}
}
