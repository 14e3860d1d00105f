package verification

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shop"
)

// evenBed is a loose medium whose conductivity does not change.
func evenBed(rho, cp, k float64) *medium.Filling {
	return medium.NewFilling(medium.Filling{Name: "even", Density: rho, Cp: cp, K20: k, K400: k, K700: k})
}

// buriedPlate marches a plate of 5 mm and a bed of sand as two bodies. The plate
// conducts so well that it has no gradient:
//
//	θ = exp(b²t) erfc(b√t),  b = √(kρc)_bed/(ρ c V/A)_plate
func buriedPlate() []Case {
	const rho, cp, thick = 7850.0, 650.0, 0.005
	sand := evenBed(1500, 830, 0.30)
	m := divide(slab(1, 1, thick), 1, 1, 6)
	steel := plain{cp, 1e4}
	f := conduction.NewField(m, rho, 1093.15, steel)
	area := 0.0
	on := sides{&m.Faces, map[conduction.Side]law{}}
	for i, a := range m.Faces.Area {
		if s := m.Faces.Side[i]; s == conduction.Front || s == conduction.Back {
			area += a
		}
	}
	bed := medium.NewBed(sand, medium.BedShape{Plane: true, Reach: 0.8, Cells: 90}, 293.15, 0)
	b := math.Sqrt(0.30*1500*830) / (rho * cp * thick / 2)
	var all []Case
	t, dt := 0.0, 0.01
	for _, until := range []float64{10, 100, 1000} {
		for t < until-1e-9 {
			step := math.Min(dt, until-t)
			slope, base := bed.Respond(step)
			r := law(func(ts float64) (float64, float64) { return slope*ts - base, slope })
			on.law[conduction.Front], on.law[conduction.Back] = r, r
			bed.Step(step, f.Step(step, steel, on, nil).Joules/area)
			t += step
			dt *= 1.01
		}
		x := b * math.Sqrt(until)
		all = append(all, Case{
			Problem: "Plate of 5 mm buried in sand without end", Quantity: fmt.Sprintf("temperature after %g s", until), Unit: "K",
			Want: 293.15 + 800*math.Exp(x*x)*math.Erfc(x), Got: f.T[m.NK/2], Tolerance: 1, Source: "carslaw-jaeger-1959",
			How: "plate of 6 cells and bed of 90 cells as two bodies, steps growing by 1 %",
		})
	}
	return all
}

// buriedRound cools a round without inner resistance in a bed around it.
//
//	θ = (8β/π²) ∫ exp(−Fo u²)/(u Δ(u)) du,  Δ = [u J₀ − 2β J₁]² + [u Y₀ − 2β Y₁]²
//
// β is the heat capacity of the bed in the place of the round over that of the round.
func buriedRound() []Case {
	const radius, rhoC, k, bedC = 0.006, 7850 * 650.0, 0.12, 500 * 900.0
	beta := bedC / rhoC
	exact := func(fo float64) float64 {
		const n = 4000
		lo, hi := math.Log(1e-8), math.Log(60.0)
		h := (hi - lo) / n
		sum := 0.0
		for i := range n {
			u := math.Exp(lo + (float64(i)+0.5)*h)
			a, b := u*math.J0(u)-2*beta*math.J1(u), u*math.Y0(u)-2*beta*math.Y1(u)
			sum += h * math.Exp(-fo*u*u) / (a*a + b*b)
		}
		return 8 * beta / (math.Pi * math.Pi) * sum
	}
	bed := medium.NewBed(evenBed(500, 900, k), medium.BedShape{Radius: radius, Reach: 0.6, Cells: 90}, 293.15, 0)
	c := rhoC * radius / 2
	T, t, dt := 1093.15, 0.0, 0.02
	var all []Case
	for _, until := range []float64{60, 600, 3600} {
		for t < until-1e-9 {
			step := math.Min(dt, until-t)
			slope, base := bed.Respond(step)
			next := (c*T/step + base) / (c/step + slope)
			bed.Step(step, c*(T-next))
			T = next
			t += step
			dt *= 1.01
		}
		all = append(all, Case{
			Problem: "Round of 12 mm buried in ash without end", Quantity: fmt.Sprintf("temperature after %g s", until), Unit: "K",
			Want: 293.15 + 800*exact(k/bedC*until/(radius*radius)), Got: T, Tolerance: 1, Source: "carslaw-jaeger-1959",
			How: "round as one lump, bed of 90 rings, steps growing by 1 %",
		})
	}
	return all
}

// standardProbe quenches the probe of alloy 600 in fast oil; the target is the middle
// of the printed between-laboratory limits, and the limits are what is allowed.
func standardProbe() []Case {
	c := medium.Probe{}.Quench(medium.Immersion{Kind: medium.FastOil, T: 50 + medium.CelsiusZero}.Law())
	var all []Case
	for _, x := range []struct {
		quantity, unit string
		got, low, high float64
	}{
		{"greatest cooling rate", "K/s", c.MaxRate, 84.7, 101.9},
		{"temperature at it", "°C", c.AtMaxRate - medium.CelsiusZero, 577.0, 627.6},
		{"rate at 300 °C", "K/s", c.Rate300, 4.02, 6.70},
		{"time to 600 °C", "s", c.To600, 4.59, 7.39},
		{"time to 400 °C", "s", c.To400, 8.25, 12.45},
		{"time to 200 °C", "s", c.To200, 30.33, 50.53},
	} {
		all = append(all, Case{
			Problem: "Standard probe in fast oil at rest", Quantity: x.quantity, Unit: x.unit,
			Want: (x.low + x.high) / 2, Got: x.got, Tolerance: (x.high - x.low) / 2, Source: "mackenzie-2017",
			How: "12.5 mm of alloy 600 as 40 rings, steps of 10 ms; allowed is what the precision table prints for different laboratories",
		})
	}
	return all
}

// rememberedProbes holds the other baths at rest against ranges for the probe that were
// recalled from memory: shown, and not counted.
func rememberedProbes() []Case {
	var all []Case
	for _, x := range []struct {
		kind                       medium.Quenchant
		bath                       float64 // [°C]
		rate, at, t600, t400, r300 [2]float64
	}{
		{medium.SlowOil, 40, [2]float64{45, 60}, [2]float64{480, 540}, [2]float64{11, 15}, [2]float64{18, 22}, [2]float64{5, 8}},
		{medium.MediumOil, 50, [2]float64{70, 85}, [2]float64{550, 620}, [2]float64{7, 9}, [2]float64{11, 14}, [2]float64{6, 10}},
		{medium.HotOil, 120, [2]float64{40, 60}, [2]float64{480, 560}, [2]float64{9, 14}, [2]float64{15, 20}, [2]float64{4, 7}},
		{medium.VegetableOil, 60, [2]float64{65, 85}, [2]float64{650, 720}, [2]float64{4, 6}, [2]float64{9, 12}, [2]float64{6, 9}},
		{medium.Water, 20, [2]float64{190, 220}, [2]float64{550, 620}, [2]float64{2, 3.5}, [2]float64{}, [2]float64{80, 110}},
		{medium.Brine, 20, [2]float64{220, 250}, [2]float64{630, 700}, [2]float64{1.5, 2}, [2]float64{}, [2]float64{90, 110}},
	} {
		c := medium.Probe{}.Quench(medium.Immersion{Kind: x.kind, T: x.bath + medium.CelsiusZero, Salt: 10}.Law())
		for _, y := range []struct {
			quantity, unit string
			got            float64
			in             [2]float64
		}{
			{"greatest cooling rate", "K/s", c.MaxRate, x.rate},
			{"temperature at it", "°C", c.AtMaxRate - medium.CelsiusZero, x.at},
			{"time to 600 °C", "s", c.To600, x.t600},
			{"time to 400 °C", "s", c.To400, x.t400},
			{"rate at 300 °C", "K/s", c.Rate300, x.r300},
		} {
			if y.in[1] == 0 {
				continue
			}
			all = append(all, Case{
				Problem: "Standard probe in " + string(x.kind) + " at rest", Quantity: y.quantity, Unit: y.unit, Reported: true,
				Want: (y.in[0] + y.in[1]) / 2, Got: y.got, Tolerance: (y.in[1] - y.in[0]) / 2, Source: "totten-1993",
				How: fmt.Sprintf("as in fast oil, bath at %g °C; allowed is a range recalled from memory", x.bath),
			})
		}
	}
	return all
}

// warmedBath gives the heat of eight blades of 0.25 kg to 12 L of oil.
//
//	m ∫ c dT = Q,  c = 1950 + 3 (T − 313 K) J/kgK
func warmedBath() []Case {
	const start, joules = 323.15, 8 * 0.25 * 600e3
	s := shop.Shop{
		Room:  shop.Room{Air: shop.Exactly(293.15)},
		Baths: []shop.Bath{{Name: "oil", Liquid: medium.MediumOil, Volume: shop.Exactly(0.012), Temperature: shop.Exactly(start)}},
	}
	bench, err := s.Start()
	if err != nil {
		panic(err)
	}
	oil, err := bench.Find("oil")
	if err != nil {
		panic(err)
	}
	for range 8 * 200 {
		oil.Advance(0, joules/(8*200))
	}
	const mass = 0.012 * 880
	a, b := 1.5, 1950.0
	x0 := start - 313
	content := a*x0*x0 + b*x0 + joules/mass
	x := (-b + math.Sqrt(b*b+4*a*content)) / (2 * a)
	return []Case{{
		Problem: "Eight blades of 0.25 kg in 12 L of oil", Quantity: "warming", Unit: "K",
		Want: x - x0, Got: oil.Temperature() - start, Tolerance: 0.02 * (x - x0), Source: "own-derivation",
		How: "1.2 MJ in 1600 steps against the integral of the heat capacity, no loss to the room",
	}}
}
