package sim

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/route"
)

// worked reads a job file of a piece in the test's shop and works it through.
func worked(t *testing.T, section bool, piece, steps string) *History {
	t.Helper()
	h, err := worksOut(t, section, piece, steps)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func worksOut(t *testing.T, section bool, piece, steps string) (*History, error) {
	t.Helper()
	job, problems := route.Parse([]byte(piece+companyShop+steps), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	o := Options{Section: section, Quick: true}
	if !section {
		o.Along, o.Across, o.Through = 16, 6, 4
	}
	return Run(context.Background(), job, o, nil)
}

const (
	kitchenKnife = `format = 1
name = "knife"
[piece]
form = "blade"
length = "150 mm"
width = "30 mm"
spine = "3 mm"
edge = "0.6 mm"
[steel]
grade = "1084"
condition = "normalized"
`
	o1Flat = `format = 1
name = "flat"
[piece]
form = "flat"
length = "150 mm"
width = "30 mm"
thickness = "4 mm"
[steel]
grade = "O1"
condition = "spheroidized"
`
	coldChisel = `format = 1
name = "chisel"
[piece]
form = "chisel"
length = "150 mm"
stock = "octagon"
across = "16 mm"
taper = "50 mm"
edge_width = "16 mm"
edge = "2 mm"
[steel]
grade = "W1"
condition = "annealed"
`
	companyShop = `[shop]
air = "20 C"
[[shop.forge]]
name = "forge"
kind = "gas"
holds = "840 C"
length = "400 mm"
[[shop.forge]]
name = "short fire"
kind = "gas"
holds = "840 C"
length = "80 mm"
[[shop.forge]]
name = "cold fire"
kind = "gas"
holds = "840 C"
lit = "5 min"
[[shop.forge]]
name = "side fire"
kind = "gas"
holds = "840 C"
burner = "side"
[[shop.oven]]
name = "kiln"
kind = "kiln"
offset = "0 K"
swing = "1 K"
[[shop.bath]]
name = "oil"
kind = "fast oil"
volume = "12 L"
warm = "40 C"
[[shop.bath]]
name = "brine"
kind = "brine"
volume = "40 L"
warm = "20 C"
[[shop.bath]]
name = "pail"
kind = "water"
volume = "40 L"
warm = "35 C"
[[shop.bath]]
name = "slow to wet"
kind = "fast oil"
volume = "12 L"
warm = "40 C"
wets = "10 mm/s"
[[shop.oven]]
name = "kitchen oven"
kind = "kitchen"
offset = "0 K"
swing = "1 K"
[[shop.plate]]
name = "plates"
kind = "pair"
mass = "4 kg"
[[shop.plate]]
name = "hot block"
kind = "block"
mass = "4 kg"
warm = "700 C"
pressed = "clamped"
[[shop.plate]]
name = "anvil"
kind = "anvil"
[[shop.tongs]]
name = "tongs"
[[shop.torch]]
name = "torch"
power = "4 kW"
`
	hardened = `
[[step]]
do = "heat"
in = "kiln"
at = "810 C"
until = "at heat"
hold = "5 min"
[[step]]
do = "carry"
until = "2 s"
`
)

func zoneOf(t *testing.T, zones []Zone, name string) Zone {
	t.Helper()
	for _, z := range zones {
		if z.Name == name {
			return z
		}
	}
	t.Fatalf("no zone %q", name)
	return Zone{}
}

func hv(t *testing.T, h *History, zone string) float64 {
	t.Helper()
	return zoneOf(t, h.Zones, zone).HardnessHV.Value
}

// Clay on all but the edge keeps the spine soft in the oil; taken off, it hardens.
func TestClayKeepsTheSpineSoft(t *testing.T) {
	quench := hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\n"
	coat := "\n[[step]]\ndo = \"coat\"\nwith = \"clay\"\nbare = \"9 mm\"\n"
	bare, clay := worked(t, true, kitchenKnife, quench), worked(t, true, kitchenKnife, coat+quench)
	off := worked(t, true, kitchenKnife, coat+"[[step]]\ndo = \"strip\"\n"+quench)
	if s := hv(t, bare, "spine"); s < 700 {
		t.Fatalf("bare spine %.0f HV", s)
	}
	if e, s := hv(t, clay, "edge"), hv(t, clay, "spine"); e < 700 || s > 0.7*hv(t, bare, "spine") {
		t.Errorf("under clay: edge %.0f HV, spine %.0f", e, s)
	}
	if a, b := hv(t, off, "spine"), hv(t, bare, "spine"); math.Abs(a-b) > 1 {
		t.Errorf("clay taken off: spine %.0f HV, never laid on %.0f", a, b)
	}
}

// A thin wash of clay breaks the vapor jacket of water up: it cools faster, not slower.
func TestClayWashIsFasterInWater(t *testing.T) {
	quench := hardened + "[[step]]\ndo = \"quench\"\nin = \"pail\"\nmotion = \"still\"\nuntil = \"400 C at core\"\n[[step]]\ndo = \"cool\"\nuntil = \"1 s\"\n"
	bare := worked(t, true, o1Flat, quench)
	wash := worked(t, true, o1Flat, "\n[[step]]\ndo = \"coat\"\nwith = \"clay wash\"\nlayer = \"0.1 mm\"\n"+quench)
	a, b := bare.Steps[2].Seconds.Value, wash.Steps[3].Seconds.Value
	t.Logf("to 400 °C in %.2f s bare, in %.2f under a wash", a, b)
	if b > 0.95*a {
		t.Errorf("to 400 °C in %.2f s bare, in %.2f under a wash", a, b)
	}
}

// Foil keeps the gas from the steel.
func TestFoilKeepsScaleAway(t *testing.T) {
	steps := hardened + "[[step]]\ndo = \"quench\"\nin = \"plates\"\n"
	bare := worked(t, true, o1Flat, steps)
	foil := worked(t, true, o1Flat, "\n[[step]]\ndo = \"coat\"\nwith = \"foil\"\n"+steps)
	if a, b := zoneOf(t, bare.Zones, "surface").Scale.Value, zoneOf(t, foil.Zones, "surface").Scale.Value; b > 0.2*a {
		t.Errorf("scale %.2f µm bare, %.2f in foil", a, b)
	}
	if a, b := bare.Steps[0].Seconds.Value, foil.Steps[1].Seconds.Value; b < 1.2*a {
		t.Errorf("heats in %.0f s bare, in foil in %.0f", a, b)
	}
}

// An oil-hardening steel hardens between plates, and the plates get its heat:
// they warm by joules/(m c), less what the room takes of them.
func TestPlatesQuench(t *testing.T) {
	h := worked(t, true, o1Flat, hardened+"[[step]]\ndo = \"quench\"\nin = \"plates\"\n")
	if c := hv(t, h, "core"); c < 700 {
		t.Errorf("core %.0f HV between plates", c)
	}
	s := h.Steps[2]
	rise, want := s.Where.End-s.Where.Start, s.Joules/(4*920)
	if !(rise < want && rise > 0.9*want) {
		t.Errorf("plates warm by %.1f K, %.1f if nothing were lost", rise, want)
	}
}

// A hot block or a torch at the spine, the edge in water: the spine is let down,
// the edge stays hard.
func TestSpineIsLetDown(t *testing.T) {
	quench := hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\n"
	hard := worked(t, true, kitchenKnife, quench)
	for _, in := range []string{"hot block", "torch"} {
		h := worked(t, true, kitchenKnife, quench+"[[step]]\ndo = \"temper\"\nin = \""+in+"\"\ntouches = \"spine\"\nuntil = \"320 C at spine\"\nedge_in = \"brine\"\nunder = \"8 mm\"\n")
		if e := hv(t, hard, "edge") - hv(t, h, "edge"); e > 15 {
			t.Errorf("%s: the edge loses %.0f HV", in, e)
		}
		if s := hv(t, hard, "spine") - hv(t, h, "spine"); s < 80 {
			t.Errorf("%s: the spine loses only %.0f HV", in, s)
		}
	}
}

// Only the edge end of a chisel goes under: it hardens, the struck end does not.
func TestOnlyTheEndGoesUnder(t *testing.T) {
	h := worked(t, true, coldChisel, hardened+"[[step]]\ndo = \"quench\"\nin = \"brine\"\nunder = \"35 mm\"\nuntil = \"15 s\"\n[[step]]\ndo = \"cool\"\nuntil = \"200 C at struck end\"\n")
	out := zoneOf(t, h.Steps[2].Zones, "edge").HardnessHV.Value
	if s := hv(t, h, "struck end"); out < 700 || s > 450 {
		t.Errorf("edge %.0f HV out of the water, struck end %.0f", out, s)
	}
	// Heat runs back from the shank into the cold edge, and lets it down.
	if e := hv(t, h, "edge"); e > out-50 {
		t.Errorf("edge %.0f HV out of the water, %.0f in the end", out, e)
	}
	cold := zoneOf(t, h.Steps[2].Zones, "edge").Temperature.Value
	if peak := seriesPeak(h, "edge", 3); peak < cold+30 {
		t.Errorf("edge leaves the water at %.0f °C and comes back to %.0f only", cold, peak)
	}
}

func seriesPeak(h *History, zone string, step int) float64 {
	peak := math.Inf(-1)
	for _, z := range h.Series.Zones {
		if z.Name != zone {
			continue
		}
		for i, T := range z.Temperature {
			if h.Series.Step[i] == step {
				peak = math.Max(peak, T)
			}
		}
	}
	return peak
}

// The edge goes under first, the rest after five seconds.
func TestEdgeGoesUnderFirst(t *testing.T) {
	steps := func(how string) string {
		return hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\n" + how + "until = \"5 s\"\n[[step]]\ndo = \"cool\"\nuntil = \"1 s\"\n"
	}
	at := func(how, zone string) float64 {
		return zoneOf(t, worked(t, true, kitchenKnife, steps(how)).Steps[2].Zones, zone).Temperature.Value
	}
	first := "first = \"edge\"\nunder = \"10 mm\"\nunder_for = \"5 s\"\n"
	if all, edge := at("", "spine"), at(first, "spine"); edge < all+150 {
		t.Errorf("spine after 5 s: %.0f °C all under, %.0f while only the edge is", all, edge)
	}
	if all, edge := at("", "edge"), at(first, "edge"); math.Abs(edge-all) > 80 {
		t.Errorf("edge after 5 s: %.0f °C all under, %.0f first", all, edge)
	}
	h := worked(t, true, kitchenKnife, hardened+"[[step]]\ndo = \"quench\"\nin = \"oil\"\nfirst = \"edge\"\nunder = \"10 mm\"\nunder_for = \"3 s\"\n")
	if s := hv(t, h, "edge"); s < 700 {
		t.Errorf("edge %.0f HV", s)
	}
}

// Out and in again: an interrupted quench is steps one after another.
func TestOutAndInAgain(t *testing.T) {
	h := worked(t, true, kitchenKnife, hardened+`[[step]]
do = "quench"
in = "brine"
until = "1 s"
[[step]]
do = "carry"
until = "1.5 s"
[[step]]
do = "quench"
in = "oil"
`)
	if s := hv(t, h, "edge"); s < 700 {
		t.Errorf("edge %.0f HV", s)
	}
	if n := len(h.Steps); h.Steps[2].Where.Name != "brine" || n < 5 || h.Steps[4].Where.Name != "oil" {
		t.Errorf("steps %+v", h.Steps)
	}
}

// A long piece sticks out of a closed fire: its far end stays behind.
func TestWhatSticksOutStaysBehind(t *testing.T) {
	steps := func(in, how string) string {
		return "\n[[step]]\ndo = \"heat\"\nin = \"" + in + "\"\n" + how + "until = \"4 min\"\n"
	}
	end := func(h *History, zone string) float64 { return zoneOf(t, h.Zones, zone).Temperature.Value }
	all := worked(t, false, kitchenKnife, steps("forge", ""))
	part := worked(t, false, kitchenKnife, steps("forge", "inside = \"80 mm\"\n"))
	short := worked(t, false, kitchenKnife, steps("short fire", ""))
	if a, b := end(all, "heel"), end(part, "heel"); b > a-100 {
		t.Errorf("heel %.0f °C all inside, %.0f with the tip inside only", a, b)
	}
	if a, b := end(all, "tip"), end(part, "tip"); math.Abs(a-b) > 25 {
		t.Errorf("tip %.0f °C all inside, %.0f with the tip inside only", a, b)
	}
	if a, b := end(short, "heel"), end(all, "heel"); a > b-100 {
		t.Errorf("heel %.0f °C in a fire that is too short, %.0f in one that is not", a, b)
	}
}

// Of a piece of which only the tip is heated, the tip decides: endings look at it, and
// so does the cross-section that stands for the piece.
func TestOnlyTheTipIsHardened(t *testing.T) {
	steps := "\n[[step]]\ndo = \"heat\"\nin = \"forge\"\ninside = \"60 mm\"\nuntil = \"magnet off\"\nhold = \"1 min\"\n[[step]]\ndo = \"carry\"\nuntil = \"1 s\"\n[[step]]\ndo = \"quench\"\nin = \"oil\"\nunder = \"60 mm\"\nuntil = \"2 min\"\n"
	section := worked(t, true, kitchenKnife, steps)
	if e := hv(t, section, "edge"); e < 650 {
		t.Errorf("section: edge %.0f HV", e)
	}
	whole := worked(t, false, kitchenKnife, steps)
	if tip, heel := hv(t, whole, "tip"), hv(t, whole, "heel"); tip < 650 || heel > 400 {
		t.Errorf("whole: tip %.0f HV, heel %.0f", tip, heel)
	}
}

// Tongs and an anvil take heat, each where it touches.
func TestTongsAndAnvilTakeHeat(t *testing.T) {
	heat := func(how string) string {
		return "\n[[step]]\ndo = \"forge\"\nin = \"forge\"\nat = \"1100 C\"\nuntil = \"at heat\"\nwork = \"15 s\"\n" + how
	}
	core := func(how, zone string) float64 {
		return zoneOf(t, worked(t, false, o1Flat, heat(how)).Zones, zone).Temperature.Value
	}
	if a, b := core("", "core"), core("on = \"anvil\"\n", "core"); b > a-25 {
		t.Errorf("core after 15 s of work: %.0f °C in the air, %.0f on the anvil", a, b)
	}
	// The zone core runs all along: a fifth of it is in the tongs, at the end away from the zone end.
	held := "tongs = \"tongs\"\ngrip = \"30 mm\"\n"
	if a, b := core("", "core"), core(held, "core"); b > a-5 || b < a-60 {
		t.Errorf("the tongs change the mean of the core from %.0f to %.0f °C", a, b)
	}
	if a, b := core("", "end"), core(held, "end"); math.Abs(b-a) > 3 {
		t.Errorf("far end after 15 s: %.0f °C free, %.0f in tongs", a, b)
	}
}

// A kiln climbs and comes down with the piece inside, at the rate that is said.
func TestKilnClimbsAndComesDown(t *testing.T) {
	h := worked(t, true, o1Flat, "\n[[step]]\ndo = \"anneal\"\nin = \"kiln\"\nat = \"780 C\"\nrise = \"300 K/h\"\nhold = \"30 min\"\nthen = \"oven off\"\nfall = \"20 K/h\"\nto = \"600 C at core\"\n")
	if up := h.Steps[0].Reached / 3600; math.Abs(up-760./300) > 0.15 {
		t.Errorf("heats in %.2f h, 760 K at 300 K/h are %.2f", up, 760./300)
	}
	if down := h.Steps[1].Seconds.Value / 3600; math.Abs(down-9) > 0.5 {
		t.Errorf("comes down in %.2f h, 180 K at 20 K/h are 9", down)
	}
	air := worked(t, true, o1Flat, "\n[[step]]\ndo = \"anneal\"\nin = \"kiln\"\nat = \"780 C\"\nhold = \"30 min\"\n")
	if a, b := hv(t, h, "core"), hv(t, air, "core"); a > 260 || b < a+50 {
		t.Errorf("annealed %.0f HV, cooled in air %.0f", a, b)
	}
}

// Eight in the oil together warm it eight times as much.
func TestSistersWarmTheBath(t *testing.T) {
	rise := func(how string) float64 {
		h := worked(t, true, kitchenKnife, hardened+"[[step]]\ndo = \"quench\"\nin = \"oil\"\nuntil = \"8 s\"\n"+how)
		for _, s := range h.Steps {
			if s.Where.Name == "oil" {
				return s.Where.End - s.Where.Start
			}
		}
		return 0
	}
	if one, eight := rise(""), rise("pieces = 8\n"); math.Abs(eight/one-8) > 0.4 {
		t.Errorf("one warms the oil by %.2f K, eight by %.2f", one, eight)
	}
}

// Where wetting creeps in from the edge, the spine stands under vapor longer; the edge does not.
func TestWettingCreepsFromTheEdge(t *testing.T) {
	at := func(bath, zone string) float64 {
		h := worked(t, true, kitchenKnife, hardened+"[[step]]\ndo = \"quench\"\nin = \""+bath+"\"\nuntil = \"1.5 s\"\n[[step]]\ndo = \"cool\"\nuntil = \"1 s\"\n")
		return zoneOf(t, h.Steps[2].Zones, zone).Temperature.Value
	}
	if a, b := at("oil", "spine"), at("slow to wet", "spine"); b < a+20 {
		t.Errorf("spine after 1.5 s: %.0f °C wetted at once, %.0f by a front", a, b)
	}
	if a, b := at("oil", "edge"), at("slow to wet", "edge"); math.Abs(a-b) > 25 {
		t.Errorf("edge after 1.5 s: %.0f °C wetted at once, %.0f by a front", a, b)
	}
}

// A thin edge sees the glowing element of a kitchen oven: while the oven is on, it
// runs ahead of the spine. A kiln full of pieces heats them slower.
func TestOvenSeesEdgeAndLoad(t *testing.T) {
	steps := func(more string) string {
		return "\n[[step]]\ndo = \"temper\"\nin = \"kitchen oven\"\nat = \"220 C\"\nuntil = \"210 C at core\"\nhold = \"1 min\"\n" + more
	}
	h := worked(t, true, kitchenKnife, steps(""))
	edge, spine := zoneOf(t, h.Steps[0].Zones, "edge").Temperature.Value, zoneOf(t, h.Steps[0].Zones, "spine").Temperature.Value
	if edge < spine+0.3 {
		t.Errorf("edge %.2f °C, spine %.2f at the end of the heating", edge, spine)
	}
	// Forty knives want 6 kW for five minutes, and a kiln of 3 kW sags.
	load := func(more string) float64 {
		return worked(t, true, kitchenKnife, "\n[[step]]\ndo = \"heat\"\nin = \"kiln\"\nat = \"810 C\"\nuntil = \"790 C at core\"\n"+more).Steps[0].Reached
	}
	if a, b := load(""), load("pieces = 40\n"); b < 1.5*a {
		t.Errorf("one knife is at 790 °C after %.0f s, forty after %.0f", a, b)
	}
}

// A hot bar beside it, or fill that was warmed, keeps a buried piece warm: it comes out softer.
func TestCompanionSoftens(t *testing.T) {
	box := func(more string) string {
		return strings.Replace(companyShop, "[[shop.plate]]", "[[shop.box]]\nname = \"box\"\nfill = \"vermiculite\"\nvolume = \"40 L\"\n"+more+"[[shop.plate]]", 1)
	}
	core := func(more string) float64 {
		job, problems := route.Parse([]byte(o1Flat+box(more)+hardened+"[[step]]\ndo = \"bury\"\nin = \"box\"\nuntil = \"100 C at core\"\n"), nil)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		h, err := Run(context.Background(), job, Options{Section: true, Quick: true}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return hv(t, h, "core")
	}
	alone, beside, warm := core(""), core("companion = \"3 kg\"\ncompanion_at = \"900 C\"\n"), core("warm = \"500 C\"\n")
	t.Logf("%.0f HV alone, %.0f beside a hot bar, %.0f in fill of 500 °C", alone, beside, warm)
	if beside > alone-15 || warm > alone-15 {
		t.Errorf("%.0f HV alone, %.0f beside a hot bar, %.0f in fill of 500 °C", alone, beside, warm)
	}
}

// A fire that was lit five minutes ago heats slower than one that has burnt long, and
// a burner at the side heats one flat first.
func TestStateOfTheFire(t *testing.T) {
	steps := func(in string) string {
		return "\n[[step]]\ndo = \"heat\"\nin = \"" + in + "\"\nuntil = \"800 C at core\"\n"
	}
	hot, cold, side := worked(t, true, o1Flat, steps("forge")), worked(t, true, o1Flat, steps("cold fire")), worked(t, true, o1Flat, steps("side fire"))
	if a, b := hot.Steps[0].Seconds.Value, cold.Steps[0].Seconds.Value; b < 1.2*a {
		t.Errorf("800 °C in %.0f s from a hot fire, in %.0f from one just lit", a, b)
	}
	if a, b := hot.Steps[0].Seconds.Value, side.Steps[0].Seconds.Value; b > a {
		t.Errorf("800 °C in %.0f s, in %.0f with a flame that strikes", a, b)
	}
}

// What cannot be is told with its step.
func TestHandlingThatCannotBe(t *testing.T) {
	_, problems := route.Parse([]byte(kitchenKnife+companyShop+hardened+"[[step]]\ndo = \"quench\"\nin = \"plates\"\nunder = \"10 mm\"\n"), nil)
	if len(problems) == 0 || !strings.Contains(problems.Error(), "route.plates-are-no-bath") {
		t.Error(problems)
	}
}
