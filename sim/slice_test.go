package sim

import (
	"context"
	"testing"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

func c1084() steel.Composition {
	var c steel.Composition
	c[steel.C], c[steel.Si], c[steel.Mn], c[steel.Cr], c[steel.Ni], c[steel.Mo], c[steel.Cu] = 0.84, 0.2, 0.75, 0.08, 0.08, 0.015, 0.12
	return c
}

func demoShop() shop.Shop {
	return shop.Shop{
		Forges: []shop.Forge{{Name: "forge", Kind: shop.GasForge}, {Name: "pipe", Kind: shop.Muffle}},
		Ovens:  []shop.Oven{{Name: "kiln", Kind: shop.Kiln}},
		Baths: []shop.Bath{
			{Name: "fast", Liquid: medium.FastOil, Volume: shop.Exactly(0.02), Temperature: shop.Exactly(40 + kelvin)},
			{Name: "medium", Liquid: medium.MediumOil, Volume: shop.Exactly(0.02), Temperature: shop.Exactly(50 + kelvin)},
			{Name: "slow", Liquid: medium.SlowOil, Volume: shop.Exactly(0.02), Temperature: shop.Exactly(40 + kelvin)},
			{Name: "water", Liquid: medium.Water, Volume: shop.Exactly(0.04), Temperature: shop.Exactly(20 + kelvin)},
		},
	}
}

func at(name string, s route.Stage, c float64) Stage {
	if c != 0 {
		s.At = route.Temp{Text: "typed", Value: unit.Temp(c + kelvin)}
	}
	return Stage{Stage: s, Name: name}
}

func knife(t testing.TB) *Setup {
	solid, err := shape.Blade{
		Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 0.003, Edge: 0.0006}, {X: 0.15, Width: 0.02, Spine: 0.002, Edge: 0.0006}},
		Tang:     shape.Tang{Length: 0.08, Width: 0.015},
	}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	core := func(c float64) route.Ending {
		return route.Ending{Kind: route.ByTemp, Temp: unit.Temp(c + kelvin), Zone: "core"}
	}
	sign := func(s string) route.Ending { return route.Ending{Kind: route.BySign, Sign: s} }
	s := &Setup{Name: "kitchen knife", Solid: solid, Steel: c1084(), Start: micro.StartState{Condition: micro.Spheroidized}, Shop: demoShop()}
	for range 3 {
		s.Stages = append(s.Stages,
			at("normalize", route.Stage{Verb: route.Normalize, Role: route.Heating, In: "forge", Until: core(850)}, 900),
			at("normalize", route.Stage{Verb: route.Normalize, Role: route.Cooling, In: "air", Until: sign(route.HandWarm)}, 0))
	}
	s.Stages = append(s.Stages,
		at("heat", route.Stage{Verb: route.Heat, Role: route.Heating, In: "pipe", Until: core(805), Hold: 60}, 815),
		at("carry", route.Stage{Verb: route.Carry, Role: route.Carrying, Until: route.Ending{Kind: route.ByTime, Time: 2}}, 0),
		at("quench", route.Stage{Verb: route.Quench, Role: route.Quenching, In: "fast", Until: sign(route.HandWarm), Moved: "moved"}, 0),
	)
	for range 2 {
		s.Stages = append(s.Stages,
			at("temper", route.Stage{Verb: route.Temper, Role: route.Tempering, In: "kiln", Until: route.Ending{Kind: route.AtHeat}, Hold: 7200}, 204),
			at("temper", route.Stage{Verb: route.Temper, Role: route.Cooling, In: "air", Until: sign(route.HandWarm)}, 0))
	}
	return s
}

func TestKnifeSlice(t *testing.T) {
	h, err := knife(t).Run(context.Background(), Options{Section: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range h.Steps {
		t.Logf("%-10s %-10s %9.1f–%9.1f s", s.Name, s.Role, s.Start, s.End)
		for _, z := range s.Zones {
			t.Logf("      %-6s %6.1f C %5.0f HV %+.3f C%.2f grain %.0f", z.Name, z.Temperature.Value, z.HardnessHV.Value, z.Constituents, z.DissolvedC.Value, z.Grain.Value)
		}
	}
	for _, s := range h.Signs {
		t.Logf("%-18s %-6s step %d %9.2f s (%.2f) %6.1f C", s.Name, s.Zone, s.Step, s.Time.Value, s.Since.Value, s.Temperature.Value)
	}
	t.Logf("%+v %+v series %d", h.Mesh, h.Balance, len(h.Series.Time))
}
