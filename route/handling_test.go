package route

import (
	"reflect"
	"strings"
	"testing"
)

// A shop and steps with every word of handling.
const handled = `
[[shop.forge]]
name = "gas"
kind = "gas"
fuel = "natural gas"
flame = "neutral"
gas = "1.2 kg/h"
low = "0.4 kg/h"
length = "400 mm"
width = "180 mm"
height = "160 mm"
door = "90 mm"
door_height = "60 mm"
burner = "side"
lit = "20 min"
lining = [{ of = "hard face", thick = "8 mm" }, { of = "fiber", thick = "50 mm" }]
[[shop.oven]]
name = "small kiln"
kind = "kiln"
power = "3.6 kW"
[[shop.bath]]
name = "pail"
kind = "brine"
salt = "8 %"
vigor = "110 %"
wets = "20 mm/s"
[[shop.box]]
name = "ash box"
fill = "wood ash"
companion = "1 kg"
companion_at = "900 C"
warm = "60 C"
[[shop.plate]]
name = "plates"
kind = "pair"
metal = "aluminum"
mass = "4 kg"
warm = "25 C"
pressed = "clamped"
[[shop.plate]]
name = "block"
kind = "block"
[[shop.plate]]
name = "anvil"
kind = "anvil"
[[shop.tongs]]
name = "flat tongs"
jaws = "0.3 kg"
warm = "40 C"
[[shop.torch]]
name = "torch"
power = "3 kW"
spot = "18 mm"

[[step]]
do = "coat"
with = "clay"
layer = "2 mm"
bare = "8 mm"
[[step]]
do = "forge"
in = "gas"
at = "1100 C"
until = "at heat"
work = "10 s"
inside = "100 mm"
pieces = 2
tongs = "flat tongs"
grip = "20 mm"
on = "anvil"
[[step]]
do = "strip"
[[step]]
do = "anneal"
in = "small kiln"
at = "770 C"
rise = "200 K/h"
then = "oven off"
fall = "30 F/h"
[[step]]
do = "heat"
in = "gas"
until = "magnet off"
[[step]]
do = "quench"
in = "pail"
first = "edge"
under = "12 mm"
under_for = "2 s"
until = "4 s"
[[step]]
do = "quench"
in = "plates"
touches = "flats"
until = "2 min"
[[step]]
do = "temper"
in = "torch"
touches = "spine"
until = "300 C at spine"
edge_in = "pail"
under = "6 mm"
`

func handledJob() string {
	before, _, _ := strings.Cut(right, "[aim]")
	return before + handled
}

func TestHandlingIsReadWrittenAndKept(t *testing.T) {
	job, problems := Parse([]byte(handledJob()), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	again, problems := Parse(Write(job), nil)
	if len(problems) > 0 || !reflect.DeepEqual(job, again) {
		t.Fatal(problems, string(Write(job)))
	}
	kit := job.Shop.Kit()
	if p := kit.Check(); len(p) > 0 {
		t.Fatal(p)
	}
	for _, f := range kit.Forges {
		if f.Name != "gas" {
			continue
		}
		if f.Opening.Value < 0.0053 || f.Opening.Value > 0.0055 || len(f.Lining) != 2 || f.OneSide <= 0 || f.Lit.Value != 1200 || string(f.Fuel) != "natural gas" {
			t.Errorf("%+v", f)
		}
	}
	if n := len(kit.Plates); n != 4 || kit.Plates[3].Name != "flat tongs" {
		t.Errorf("%d plates and tongs: %+v", n, kit.Plates)
	}
	for _, b := range kit.Baths {
		if b.Name == "pail" && (b.Salt.Value != 8 || b.Vigor.Value != 1.1 || b.Wets.Value != 0.02) {
			t.Errorf("%+v", b)
		}
	}
	stages := job.Stages()
	if s := stages[0]; s.Role != Acting || !s.Coats {
		t.Errorf("%+v", s)
	}
	for _, s := range stages {
		switch {
		case s.Verb == Anneal && s.Role == Heating && (s.Ramp < 200./3600-1e-9 || s.Ramp > 200./3600+1e-9):
			t.Errorf("climbs by %g K/s", s.Ramp)
		case s.Verb == Anneal && s.Off && (s.Ramp < 30*5./9/3600-1e-9 || s.Ramp > 30*5./9/3600+1e-9):
			t.Errorf("comes down by %g K/s", s.Ramp)
		case s.Verb == Forge && s.Role == Heating && s.Tongs != "":
			t.Error("tongs in the fire")
		case s.Verb == Forge && s.Role == Working && (s.Tongs == "" || s.On == ""):
			t.Error("no tongs at the anvil")
		}
	}
}

// Each slip is told by its own code, at its line.
func TestWrongHandlingIsTold(t *testing.T) {
	for _, x := range []struct{ from, to, code string }{
		{`grip = "20 mm"`, "", ""},
		{`tongs = "flat tongs"`, "", "route.without"},
		{`tongs = "flat tongs"`, `tongs = "anvil"`, "route.wrong-company"},
		{`tongs = "flat tongs"`, `tongs = "flat tong"`, "route.no-such-place"},
		{`on = "anvil"`, `on = "plates"`, "route.wrong-company"},
		{`edge_in = "pail"`, `edge_in = "oil 1"`, "route.edge-in-oil"},
		{"in = \"torch\"\ntouches = \"spine\"", "in = \"kiln\"\nat = \"200 C\"", "route.edge-in-needs-block"},
		{`until = "300 C at spine"`, `hold = "1 h"`, "route.torch-needs-end"},
		{"in = \"small kiln\"\nat = \"770 C\"", `in = "gas"`, "route.only-in-an-oven"},
		{`then = "oven off"`, `then = "air"`, "route.fall-needs-oven-off"},
		{"in = \"plates\"\ntouches = \"flats\"", "in = \"plates\"\nunder = \"5 mm\"", "route.plates-are-no-bath"},
		{"in = \"pail\"\nfirst", "in = \"pail\"\ntouches = \"flats\"\nfirst", "route.nothing-touches"},
		{`inside = "100 mm"`, `inside = "900 mm"`, "route.longer-than-piece"},
		{`under = "12 mm"`, `under = "40 mm"`, "route.longer-than-piece"},
		{"under = \"12 mm\"\n", "", "route.without"},
		{`rise = "200 K/h"`, `rise = "200"`, "route.no-unit"},
		{`rise = "200 K/h"`, `rise = "200 K"`, "route.no-quantity"},
		{`salt = "8 %"`, `salt = "40 %"`, "route.outside"},
		{`power = "3 kW"`, `power = "3"`, "route.no-unit"},
		{`of = "fiber"`, `of = "rock wool"`, "route.not-one-of"},
		{`companion_at = "900 C"`, `companion_at = "1400 C"`, "route.outside"},
		{`low = "0.4 kg/h"`, `low = "1.9 kg/h"`, "route.shop-limits"},
		{`pieces = 2`, `pieces = 0`, "route.outside"},
		{"do = \"strip\"\n[[step]]\ndo = \"anneal\"", "do = \"coat\"\nwith = \"clay\"\n[[step]]\ndo = \"anneal\"", "route.coat-hot"},
	} {
		text := handledJob()
		if !strings.Contains(text, x.from) {
			t.Fatalf("%q does not stand in the job", x.from)
		}
		_, problems := Parse([]byte(strings.Replace(text, x.from, x.to, 1)), nil)
		found := x.code == "" && len(problems) == 0
		for _, p := range problems {
			found = found || p.Code == x.code && p.Line > 0
		}
		if !found {
			t.Errorf("%q for %q: %v, want %s", x.to, x.from, problems, x.code)
		}
	}
}

// Foil is taken off before a bath; a bar has no edge to leave bare.
func TestWrongCoatsAreTold(t *testing.T) {
	foil := strings.Replace(right, "[[step]]\ndo = \"heat\"", "[[step]]\ndo = \"coat\"\nwith = \"foil\"\n[[step]]\ndo = \"heat\"", 1)
	bar := strings.Replace(strings.Replace(right, "form = \"blade\"\nlength = \"150 mm\"\nwidth = \"28 mm\"\nspine = \"2.6 mm\"\nedge = \"0.8 mm\"", "form = \"round\"\nlength = \"150 mm\"\ndiameter = \"12 mm\"", 1),
		"[[step]]\ndo = \"heat\"", "[[step]]\ndo = \"coat\"\nwith = \"clay\"\nbare = \"5 mm\"\n[[step]]\ndo = \"heat\"", 1)
	bar = strings.Replace(bar, `{ edge = "60-62 HRC" }`, `{ core = "60-62 HRC" }`, 1)
	for text, code := range map[string]string{foil: "route.foil-in-bath", bar: "route.no-edge-here"} {
		_, problems := Parse([]byte(text), nil)
		if len(problems) != 1 || problems[0].Code != code {
			t.Errorf("%v, want %s", problems, code)
		}
	}
}
