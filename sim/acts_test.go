package sim

import (
	"context"
	"math"
	"strings"
	"testing"
)

// Laws of the acts, whatever the constants of the models are. All pieces invented.

const forgeBench = `[shop]
air = "20 C"
[[shop.forge]]
name = "forge"
kind = "gas"
holds = "1150 C"
[[shop.oven]]
name = "kiln"
kind = "kiln"
[[shop.bath]]
name = "oil"
kind = "fast oil"
volume = "20 L"
[[shop.plate]]
name = "anvil"
kind = "anvil"
`

const squareBar = "[piece]\nform = \"square\"\nlength = \"80 mm\"\nacross = \"12 mm\"\n[steel]\ngrade = \"1084\"\ncondition = \"normalized\"\n"

const drawnOut = "[[step]]\ndo = \"forge\"\nin = \"forge\"\nuntil = \"1050 C at core\"\nthickness = \"7 mm\"\nwidth = \"9 mm\"\nwork = \"10 s\"\n"

const intoBlade = `[[step]]
do = "forge"
in = "forge"
until = "1050 C at core"
times = 3
work = "14 s"
[step.into]
form = "blade"
length = "130 mm"
width = "24 mm"
spine = "4 mm"
edge = "2 mm"
tang = { length = "50 mm", width = "12 mm", thickness = "4 mm" }
`

func acted(t *testing.T, steps string, o Options) *History {
	t.Helper()
	job := parseAt(t, squareBar, forgeBench, steps)
	o.Quick, o.NoSeries = true, true
	h, err := Run(context.Background(), job, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// Every act on every kind of mesh: the march balances to rounding what each act
// checks to 1e-9 itself, zones keep their names and no result is off the scale.
func TestActsMarch(t *testing.T) {
	drill := "[[step]]\ndo = \"drill\"\nfrom = \"20 mm\"\ndiameter = \"3 mm\"\n"
	bendCold := "[[step]]\ndo = \"bend\"\nfrom = \"15 mm\"\nover = \"25 mm\"\nangle = \"20 deg\"\n"
	bendHot := "[[step]]\ndo = \"bend\"\nin = \"forge\"\nuntil = \"900 C at core\"\nfrom = \"30 mm\"\nover = \"20 mm\"\nangle = \"-30 deg\"\nway = \"hard\"\n"
	grind := "[[step]]\ndo = \"grind\"\noff = \"0.3 mm\"\n"
	hard := heat("815 C", "5 min") + carry("1 s") + quench("oil")
	for name, steps := range map[string]string{
		"draw":                  drawnOut + hard,
		"into a blade":          intoBlade + grind + hard + temper("200 C", "1 h", 1),
		"drill":                 drill + hard,
		"drill, grind, bend":    drill + grind + bendCold + hard,
		"bend hot the hard way": bendHot + hard,
		"all":                   drawnOut + cold + drill + bendHot + grind + hard + temper("200 C", "1 h", 1),
	} {
		for _, o := range []Options{{Section: true, Across: 8, Through: 6}, {Along: 14, Across: 6, Through: 4}} {
			h := acted(t, steps, o)
			b := h.Balance
			for of, x := range map[string]float64{"energy": b.Energy, "carbon": b.Carbon, "iron": b.Iron, "fractions": b.Fractions} {
				if x > 1e-9 {
					t.Errorf("%s, %s: %s off by %.2g", name, h.Mesh.Mode, of, x)
				}
			}
			first := h.Steps[0].Zones
			for _, s := range h.Steps {
				for i, z := range s.Zones {
					if z.Name != first[i].Name {
						t.Fatalf("%s: zones %v and %v", name, first[i].Name, z.Name)
					}
					if v := z.Temperature.Value + z.HardnessHV.Value + z.Grain.Value; math.IsNaN(v) || z.Temperature.Value < 0 || z.Temperature.Value > 1150 || z.HardnessHV.Value < 100 || z.HardnessHV.Value > 1000 {
						t.Errorf("%s: after %s %s stands at %.0f °C with %.0f HV", name, s.Name, z.Name, z.Temperature.Value, z.HardnessHV.Value)
					}
				}
			}
			if end := h.Zones[0].Constituents; end.Hardened() < 0.5 {
				t.Errorf("%s, %s: a thin bar of 1084 from oil has %.2f martensite", name, h.Mesh.Mode, end.Hardened())
			}
		}
	}
}

// An act takes no time and gives no heat to the shop; zones stay between the coldest and the
// hottest that there was, but for the work of the hammer: some 150 MPa times a strain of about 1 is 30 K.
func TestAnActMovesMetal(t *testing.T) {
	h := acted(t, intoBlade, Options{Along: 14, Across: 6, Through: 4})
	for i, s := range h.Steps {
		if s.Role != Acting {
			continue
		}
		if s.End != s.Start || s.Joules != 0 {
			t.Errorf("the act took %g s and %g J", s.End-s.Start, s.Joules)
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, z := range h.Steps[i-1].Zones {
			low, high = math.Min(low, z.Temperature.Value), math.Max(high, z.Temperature.Value)
		}
		for _, z := range s.Zones {
			if z.Temperature.Value < low-1 || z.Temperature.Value > high+45 {
				t.Errorf("%s at %.0f °C after the act, %.0f to %.0f before", z.Name, z.Temperature.Value, low, high)
			}
		}
	}
}

// The work of a pass warms the metal: at 1000 °C steel of 1084 flows at some 100 MPa, so
// that a strain of ln 2 is worth about 13 K (σε/ρc, own derivation).
func TestWorkWarms(t *testing.T) {
	h := acted(t, drawnOut, Options{Section: true, Across: 6, Through: 4})
	for i, s := range h.Steps {
		if s.Role != Acting {
			continue
		}
		a, b := in(h.Steps[i-1].Zones, "core").Temperature.Value, in(s.Zones, "core").Temperature.Value
		if strain := math.Log(12 * 12 / 63.); b-a < 8*strain || b-a > 40*strain {
			t.Errorf("a strain of about %.2f warmed the core by %.1f K", strain, b-a)
		}
	}
}

// The drawn piece is thinner and cools faster than the bar it was; the pass makes its grain
// finer than that of a bar that only lay there as long, and spreads its scale thinner.
func TestDrawnPieceIsThinner(t *testing.T) {
	o := Options{Section: true, Across: 8, Through: 6}
	still := strings.NewReplacer("thickness = \"7 mm\"\n", "", "width = \"9 mm\"\n", "").Replace(drawnOut)
	a, b := acted(t, still, o), acted(t, drawnOut, o)
	x, y := zone(t, a, "core"), zone(t, b, "core")
	if y.Temperature.Value >= x.Temperature.Value-5 {
		t.Errorf("drawn it cools to %.0f °C in the time, undrawn to %.0f", y.Temperature.Value, x.Temperature.Value)
	}
	if y.Grain.Value >= 0.95*x.Grain.Value {
		t.Errorf("grain %.0f µm after drawing, %.0f without", y.Grain.Value, x.Grain.Value)
	}
	if p, q := zone(t, a, "surface"), zone(t, b, "surface"); q.Decarb.Value >= p.Decarb.Value {
		t.Errorf("lean skin of %.3f mm after drawing, %.3f without", q.Decarb.Value, p.Decarb.Value)
	}
	if a.Mesh.Mass != b.Mesh.Mass && math.Abs(b.Mesh.Mass/a.Mesh.Mass-1) > 2e-3 {
		t.Errorf("mass %g and %g", a.Mesh.Mass, b.Mesh.Mass)
	}
}

// Section and whole tell the same of a blade under the hammer: within the 3 K that
// the two may differ by elsewhere.
func TestForgedSectionAgreesWithWhole(t *testing.T) {
	if testing.Short() {
		t.Skip()
	}
	a := acted(t, intoBlade, Options{Section: true})
	b := acted(t, intoBlade, Options{})
	for i, s := range a.Steps {
		if s.Role != Acting || i+1 < len(a.Steps) && a.Steps[i+1].Role == Acting {
			continue
		}
		for _, name := range []string{"core", "spine"} {
			x, y := in(s.Zones, name).Temperature.Value, in(b.Steps[i].Zones, name).Temperature.Value
			if math.Abs(x-y) > 3 {
				t.Errorf("turn %d: %s at %.0f °C in section, %.0f in the whole", s.Turn, name, x, y)
			}
		}
	}
}

func in(zones []Zone, name string) Zone {
	for _, z := range zones {
		if z.Name == name {
			return z
		}
	}
	return Zone{}
}

// What a smith should hear: too hard to drill, too hard to bend cold, the blue
// heat, a pass on cold metal; and not a word where all is well.
func TestActsAreMinded(t *testing.T) {
	hard := heat("815 C", "5 min") + carry("1 s") + quench("oil") + cold
	drill := "[[step]]\ndo = \"drill\"\nfrom = \"40 mm\"\ndiameter = \"3 mm\"\n"
	bend := "[[step]]\ndo = \"bend\"\nfrom = \"25 mm\"\nover = \"30 mm\"\nangle = \"10 deg\"\n"
	blue := heat("300 C", "1 min") + bend
	late := strings.Replace(drawnOut, "work = \"10 s\"", "work = \"3 min\"", 1)
	for _, c := range []struct{ steps, code string }{
		{hard + drill, "sim.too-hard-to-drill"},
		{drill + hard, "sim.crack-holes sim.crack-untempered"},
		{hard + bend, "sim.bent-hard"},
		{bend + hard, ""},
		{blue, "sim.bent-blue"},
		{late, "sim.forged-cold"},
		{drawnOut, ""},
	} {
		for _, o := range []Options{{Section: true, Across: 8, Through: 6}, {Along: 14, Across: 6, Through: 4}} {
			h := acted(t, c.steps, o)
			var said []string
			for _, n := range h.Notes {
				if strings.HasPrefix(n.Code, "sim.") {
					said = append(said, n.Code)
				}
			}
			if got := strings.Join(said, " "); got != c.code {
				t.Errorf("%s: want %q, heard %q of\n%s", h.Mesh.Mode, c.code, got, c.steps)
			}
		}
	}
}

// Blows that the job does not time are timed by their number: more metal to
// move takes longer, never longer than the heat lasts, and too few heats are told of.
func TestBlowsAreTimed(t *testing.T) {
	pass := func(thick string, times int) string {
		s := strings.NewReplacer("work = \"10 s\"\n", "", "width = \"9 mm\"\n", "", "7 mm", thick).Replace(drawnOut)
		return strings.Replace(s, "in = \"forge\"", "in = \"forge\"\ntimes = "+string(rune('0'+times)), 1)
	}
	worked := func(h *History) float64 {
		sum := 0.0
		for _, s := range h.Steps {
			if s.Role == Working {
				sum += s.End - s.Start
			}
		}
		return sum
	}
	o := Options{Section: true, Across: 6, Through: 4}
	little, much := acted(t, pass("11.5 mm", 2), o), acted(t, pass("10 mm", 2), o)
	if a, b := worked(little), worked(much); !(a >= 2*leastWork && b > a) {
		t.Errorf("%.1f s at the anvil for little, %.1f s for much", a, b)
	}
	told := func(h *History) bool {
		for _, n := range h.Notes {
			if n.Code == "sim.more-heats" {
				return true
			}
		}
		return false
	}
	if !told(acted(t, pass("4 mm", 1), o)) {
		t.Error("a bar drawn to a fifth of its section in one heat, and nothing was said")
	}
	if told(acted(t, pass("10 mm", 9), o)) {
		t.Error("nine heats for a little drawing are said to be too few")
	}
}

// Equipment is held to the piece as it is when it goes in: a bar that fits the
// kiln and is then drawn out fits it in the heat before, and no more in the heat after.
func TestFitsAsItThenIs(t *testing.T) {
	short := strings.Replace(forgeBench, "kind = \"kiln\"", "kind = \"kiln\"\nlength = \"100 mm\"", 1)
	told := func(steps string) bool {
		job := parseAt(t, squareBar, short, steps)
		h, err := Run(context.Background(), job, Options{Section: true, Quick: true, NoSeries: true, Across: 6, Through: 4}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range h.Notes {
			if n.Code == "shop.longer-than-the-oven" {
				return true
			}
		}
		return false
	}
	if told(heat("815 C", "1 min") + drawnOut) {
		t.Error("80 mm do not fit 100 mm, as if it had been drawn before")
	}
	if !told(drawnOut + heat("815 C", "1 min")) {
		t.Error("183 mm fit 100 mm")
	}
}
