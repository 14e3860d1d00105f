package sim

import (
	"context"
	"math"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/steel"
)

const heavyBlade = `format = 1
name = "blade"
[piece]
form = "flat"
length = "250 mm"
width = "32 mm"
thickness = "4 mm"
[steel]
grade = "1084"
condition = "normalized"
`

// Eight blades of 0.25 kg go through 12 L of oil one after another, five minutes
// apart, each finding the bath as the one before left it. Against the heat
// balance: what each blade has more at the bath than when it comes out, by the
// enthalpies of its structure, into oil of 880 kg/m³ with the heat capacity of
// mineral oil, which loses 10 W/m²K through its surface and walls to the room.
func TestEightBladesWarmTheOil(t *testing.T) {
	job, problems := route.Parse([]byte(heavyBlade+companyShop+hardened+"[[step]]\ndo = \"quench\"\nin = \"oil\"\nuntil = \"30 s\"\n"), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	setup, err := Prepare(job)
	if err != nil {
		t.Fatal(err)
	}
	thermal := steel.Properties(setup.Steel)
	content := func(z Zone) float64 { // [J/kg]
		T, c := z.Temperature.Value+kelvin, setup.Steel[steel.C]
		h := 0.0
		for k := steel.Constituent(0); k < steel.NumConstituents; k++ {
			h += *z.Constituents.at(k) * thermal.Enthalpy(k, T, c)
		}
		return h
	}
	const pause, room = 300., 20 + kelvin
	oil := 40 + kelvin
	side := math.Cbrt(0.012 / 1.5)
	leave := func(seconds float64) { // the tank: half again as deep as wide, open on top
		c := 0.012 * 880 * (1950 + 3*(oil-313))
		oil = room + (oil-room)*math.Exp(-10*8*side*side*seconds/c)
	}
	var left []shop.Kept
	for n := range 8 {
		o := Options{Section: true, Quick: true, NoSeries: true, Shop: left}
		if n > 0 {
			o.Pause = pause
			leave(pause)
		}
		h, err := Run(context.Background(), job, o, nil)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(h.Mesh.Mass-0.251) > 0.001 {
			t.Fatalf("a blade of %.3f kg", h.Mesh.Mass)
		}
		in, out := content(zoneOf(t, h.Steps[1].Zones, "core")), content(zoneOf(t, h.Steps[2].Zones, "core"))
		for heat := h.Mesh.Mass * (in - out); heat > 0; heat -= 1000 {
			oil += math.Min(heat, 1000) / (0.012 * 880 * (1950 + 3*(oil-313)))
		}
		leave(30)
		if got := h.Steps[2].Where.End + kelvin; math.Abs((got-313.15)-(oil-313.15)) > 0.02*(oil-313.15) {
			t.Errorf("after blade %d the oil stands at %.2f °C, by the balance at %.2f", n+1, got-kelvin, oil-kelvin)
		}
		left = h.Shop
	}
	t.Logf("after eight: %.1f °C", oil-kelvin)
	if oil < 60+kelvin {
		t.Errorf("eight blades warm the oil to %.1f °C only", oil-kelvin)
	}
}

// The shop is kept by name; one of another shop is refused.
func TestShopIsKeptForTheNextPiece(t *testing.T) {
	job, problems := route.Parse([]byte(heavyBlade+companyShop+hardened+"[[step]]\ndo = \"quench\"\nin = \"oil\"\nuntil = \"5 s\"\n"), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	run := func(kept []shop.Kept, pause float64) (*History, error) {
		return Run(context.Background(), job, Options{Section: true, Quick: true, NoSeries: true, Shop: kept, Pause: pause}, nil)
	}
	if _, err := run([]shop.Kept{{Name: "another oil", State: []float64{1}}}, 0); err == nil {
		t.Error("a bath that the shop has not is taken")
	}
	if _, err := run([]shop.Kept{{Name: "oil", State: []float64{300, 300}}}, 0); err == nil {
		t.Error("a state that does not fit is taken")
	}
	if _, err := run([]shop.Kept{{Name: "plates", State: []float64{1e30}}}, 0); err == nil {
		t.Error("plates hotter than any fire are taken")
	}
	first, err := run(nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	soon, err := run(first.Shop, 0)
	if err != nil {
		t.Fatal(err)
	}
	late, err := run(first.Shop, 24*3600)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := soon.Steps[2].Where.Start, first.Steps[2].Where.End; math.Abs(a-b) > 1e-9 {
		t.Errorf("the next piece finds the oil at %.3f °C, the first left it at %.3f", a, b)
	}
	if a := late.Steps[2].Where.Start; math.Abs(a-20) > 0.5 {
		t.Errorf("a day later the oil stands at %.1f °C in a shop of 20", a)
	}
}
