package route

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/unit"
)

// shaped is a job whose steps change the shape in every way. Invented sizes.
const shaped = `format = 1
name = "hook"

[piece]
form = "flat"
length = "100 mm"
width = "25 mm"
thickness = "6 mm"

[steel]
grade = "1084"
condition = "hot-rolled"

[shop]
air = "20 C"

[[shop.forge]]
name = "forge"
kind = "gas"
holds = "1150 C"

[[shop.plate]]
name = "anvil"
kind = "anvil"

[[step]]
do = "forge"
in = "forge"
until = "1050 C at core"
over = "30 mm"
thickness = "4 mm"
width = "12 mm"
times = 3

[[step]]
do = "drill"
from = "80 mm"
across = "8 mm"
diameter = "5 mm"

[[step]]
do = "grind"
off = "0.2 mm"

[[step]]
do = "bend"
from = "10 mm"
over = "15 mm"
angle = "35 deg"
way = "hard"

[[step]]
do = "bend"
in = "forge"
until = "900 C at core"
from = "60 mm"
over = "15 mm"
angle = "-20 deg"
`

func mustParse(t *testing.T, text string) Job {
	t.Helper()
	job, problems := Parse([]byte(text), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return job
}

// The body follows the steps: its volume is that of the bar less hole and chips,
// its stretch is left as the pass says, and a later step begins with what an earlier one left (derived).
func TestActsFollowTheBody(t *testing.T) {
	job := mustParse(t, shaped)
	start, acts, err := job.Acts()
	if err != nil {
		t.Fatal(err)
	}
	if len(acts) != 3+1+1+2 {
		t.Fatalf("%d acts", len(acts))
	}
	bar := 100e-3 * 25e-3 * 6e-3
	if v := start.Solid.Volume(); math.Abs(v/bar-1) > 1e-9 {
		t.Errorf("the bar has %g m³", v)
	}
	drawn := acts[2].To
	if v := drawn.Volume(); math.Abs(v/bar-1) > 1e-3 {
		t.Errorf("drawing changed the volume by %.2g", v/bar-1)
	}
	if thick, wide := drawn.Largest(0, 0.05); math.Abs(thick-4e-3) > 1e-6 || math.Abs(wide-12e-3) > 1e-6 {
		t.Errorf("the pass leaves %.4g × %.4g mm", wide*1e3, thick*1e3)
	}
	// 30 mm of 150 mm² become 48 mm²: 93.75 mm, less the shoulder that the hammer's edge leaves.
	if l := drawn.Length(); l < 0.155 || l > 0.165 {
		t.Errorf("drawn to %.4g m", l)
	}
	drilled := acts[3].To
	if v := drawn.Volume() - drilled.Volume(); math.Abs(v/(math.Pi/4*25e-6*6e-3)-1) > 0.06 && math.Abs(v/(math.Pi/4*25e-6*4e-3)-1) > 0.06 {
		t.Errorf("the hole takes %g m³", v)
	}
	if z := acts[6].To; len(z.Voids) != 1 || z.Volume() >= acts[3].To.Volume() {
		t.Error("hole or grinding was lost on the way")
	}
	if a, b := acts[5].Act, acts[6].Act; a != shape.Bending || b != shape.Bending {
		t.Errorf("%s and %s", a, b)
	}
	roles := []Role{}
	for _, s := range job.Stages() {
		if s.Step == 4 {
			roles = append(roles, s.Role)
			if s.Role == Working && s.On != "anvil" {
				t.Errorf("bent on %q", s.On)
			}
		}
	}
	if d := cmp.Diff(roles, []Role{Heating, Working, Acting, Working}); d != "" {
		t.Error(d)
	}
}

// A bar that becomes a blade has from the first step on the zones of the blade,
// where their metal lies; sheet and aims speak of these.
func TestZonesOfTheFormThatItEndsWith(t *testing.T) {
	text := strings.Replace(shaped, "over = \"30 mm\"\nthickness = \"4 mm\"\nwidth = \"12 mm\"\n", "", 1)
	text, _, _ = strings.Cut(text, "[[step]]\ndo = \"drill\"")
	text += "[step.into]\nform = \"blade\"\nlength = \"190 mm\"\nwidth = \"25 mm\"\nspine = \"4 mm\"\nedge = \"1.5 mm\"\ntang = { length = \"60 mm\", width = \"12 mm\", thickness = \"4 mm\" }\n"
	text += "\n[[step]]\ndo = \"grind\"\nedge = \"0.8 mm\"\n"
	job := mustParse(t, text)
	if d := cmp.Diff(job.Zones(), bladeZones); d != "" {
		t.Fatal(d)
	}
	start, acts, err := job.Acts()
	if err != nil {
		t.Fatal(err)
	}
	bodies := []*shape.Solid{start.Solid}
	for i, a := range acts {
		bodies = append(bodies, a.To)
		if a.From != bodies[i] {
			t.Errorf("act %d does not begin with the body before", i+1)
		}
	}
	for i, s := range bodies {
		if len(s.Zones) != len(bladeZones) {
			t.Errorf("body %d has %d zones", i, len(s.Zones))
		}
		if edge, ok := s.Zone("edge"); !ok || !(edge.Boxes[0].V0 > 0.5 && edge.Boxes[0].V1 > 0.999) {
			t.Errorf("body %d: edge at %v", i, edge)
		}
		if tang, ok := s.Zone("tang"); !ok || tang.Boxes[0].U0 != 0 || tang.Boxes[0].U1 > 0.5 {
			t.Errorf("body %d: tang at %v", i, tang)
		}
	}
	if e := bodies[len(bodies)-1].Across(bodies[len(bodies)-1].Cut, 1, 1).Z * 2; math.Abs(e-0.8e-3) > 1e-6 {
		t.Errorf("the edge is ground to %.4g mm", e*1e3)
	}
	if p := job.PieceBefore(1); p.Form != Blade || p.Edge.Text != "1.5 mm" || job.Finished().Edge.Text != "0.8 mm" {
		t.Errorf("measures: %+v", p)
	}
	l := func(mm float64, text string) Length { return Length{Text: text, Value: unit.MM(mm)} }
	for n := range 2 {
		if n == 1 { // sections of its own, in tables inside the step's table
			job.Steps[0].Into.Stations = []Station{{l(60, "60 mm"), l(25, "25 mm"), l(4, "4 mm"), l(1.5, "1.5 mm")}, {l(140, "140 mm"), l(25, "25 mm"), l(4, "4 mm"), l(1.5, "1.5 mm")}}
		}
		again, problems := Parse(Write(job), nil)
		if d := cmp.Diff(job, again); d != "" || len(problems) > 0 {
			t.Error(d, problems)
		}
	}
}

// What the piece does not bear is told at its key, with limits where there are any.
func TestActsThatCannotBe(t *testing.T) {
	const drawn = "over = \"30 mm\"\nthickness = \"4 mm\"\nwidth = \"12 mm\"\n"
	into := func(length, more string) string {
		return "[step.into]\nform = \"blade\"\nlength = \"" + length + "\"\nwidth = \"25 mm\"\nspine = \"4 mm\"\nedge = \"1.5 mm\"\n" + more
	}
	for _, c := range []struct{ name, was, is, code, key string }{
		{"a hole past the end", `from = "80 mm"`, `from = "400 mm"`, "route.act-limits", "step 2, from"},
		{"a hole over the end", `from = "80 mm"`, `from = "1 mm"`, "route.act-limits", "step 2, from"},
		{"a hole beside the piece", `across = "8 mm"`, `across = "24 mm"`, "route.act-limits", "step 2, across"},
		{"a hole wider than it", "across = \"8 mm\"\ndiameter = \"5 mm\"", `diameter = "26 mm"`, "route.act-limits", "step 2, diameter"},
		{"a hole of no size", `diameter = "5 mm"`, `diameter = "0 mm"`, "route.outside", "step 2, diameter"},
		{"a hole without a size", `diameter = "5 mm"`, ``, "route.missing", "step 2"},
		{"a bend of more than half a turn", `angle = "35 deg"`, `angle = "200 deg"`, "route.outside", "step 4, angle"},
		{"a bend without a unit", `angle = "35 deg"`, `angle = "35"`, "route.no-unit", "step 4, angle"},
		{"a bend of nothing", `angle = "35 deg"`, `angle = "0 deg"`, "route.no-bend", "step 4, angle"},
		{"a bend that folds", "over = \"15 mm\"\nangle = \"35 deg\"", "over = \"3 mm\"\nangle = \"35 deg\"", "route.act-limits", "step 4, over"},
		{"a bend past the end", "from = \"60 mm\"\nover = \"15 mm\"", "from = \"60 mm\"\nover = \"300 mm\"", "route.act-limits", "step 5, over"},
		{"a way that is none", `way = "hard"`, `way = "up"`, "route.not-one-of", "step 4, way"},
		{"a hot bend that never ends", "in = \"forge\"\nuntil = \"900 C at core\"\nfrom", "in = \"forge\"\nfrom", "route.missing", "step 5"},
		{"a cold bend with a heat", "angle = \"35 deg\"", "angle = \"35 deg\"\nat = \"900 C\"", "route.without", "step 4, at"},
		{"drawn to a thirtieth", `thickness = "4 mm"`, `thickness = "0.2 mm"`, "route.act-limits", "step 1, thickness"},
		{"upset fourfold", `width = "12 mm"`, `width = "100 mm"`, "route.act-limits", "step 1, width"},
		{"a negative thickness", `thickness = "4 mm"`, `thickness = "-4 mm"`, "route.no-quantity", "step 1, thickness"},
		{"a stretch longer than it", `over = "30 mm"`, `over = "300 mm"`, "route.act-limits", "step 1, over"},
		{"a stretch that begins behind it", `over = "30 mm"`, `from = "300 mm"`, "route.act-limits", "step 1, from"},
		{"a stretch that is left as it was", drawn, "over = \"30 mm\"\n", "route.missing", "step 1"},
		{"neither pass nor time", drawn, "", "route.missing", "step 1"},
		{"a pass in a cold fire", `until = "1050 C at core"`, `until = "500 C at core"`, "route.pass-cold", "step 1, until"},
		{"a stretch and a form at once", "times = 3\n", "times = 3\n" + into("150 mm", ""), "route.two-passes", "step 1"},
		{"metal that is not there", drawn + "times = 3\n", into("400 mm", ""), "route.act-limits", "step 1, into, length"},
		{"metal left over", drawn + "times = 3\n", into("60 mm", ""), "route.act-limits", "step 1, into, length"},
		{"a form that cannot be", drawn + "times = 3\n", into("150 mm", "bevel = \"40 mm\"\n"), "route.bevel-higher-than-width", "step 1, into, bevel"},
		{"a form without its measures", drawn + "times = 3\n", "[step.into]\nform = \"blade\"\nlength = \"150 mm\"\n", "route.missing", "step 1, into, width"},
		{"an eye forged in one pass", drawn + "times = 3\n", "[step.into]\nform = \"hammer\"\nlength = \"42 mm\"\nacross = \"20 mm\"\nbody = \"20 mm\"\neye = \"10 mm\"\neye_wide = \"7 mm\"\neye_at = \"20 mm\"\npeen_width = \"18 mm\"\npeen_thick = \"10 mm\"\n", "route.act", "step 1, into, form"},
		{"ground through where it was drawn", `off = "0.2 mm"`, `off = "2.1 mm"`, "route.ground-away", "step 3, off"},
		{"an edge on a bar", `off = "0.2 mm"`, `edge = "0.2 mm"`, "route.no-edge", "step 3, edge"},
	} {
		if !strings.Contains(shaped, c.was) {
			t.Fatalf("%s: %q is not in the job", c.name, c.was)
		}
		_, problems := Parse([]byte(strings.Replace(shaped, c.was, c.is, 1)), nil)
		found := false
		for _, p := range problems {
			if p.Key == "step 1, into, length" { // the limits that are told are those that go
				for _, end := range []string{"low", "high"} {
					q, _ := p.Arg(end)
					mm := strings.Replace(strings.Replace(shaped, c.was, c.is, 1), p.Value, unit.Length(q.Value).Exact(unit.Metric), 1)
					if _, still := Parse([]byte(mm), nil); len(still) > 0 && math.Abs(q.Value) > 0 {
						t.Errorf("%s: %s of %.4g m is refused: %v", c.name, end, q.Value, still)
					}
				}
			}
			found = found || p.Code == c.code && (p.Key == c.key || strings.HasPrefix(p.Key, c.key+",") && c.code == "route.missing") && p.Line > 0
			if p.Code == "route.act-limits" {
				low, _ := p.Arg("low")
				high, _ := p.Arg("high")
				if !(low.Value < high.Value) || low.Value < 0 {
					t.Errorf("%s: limits %g to %g", c.name, low.Value, high.Value)
				}
			}
		}
		if !found {
			t.Errorf("%s: want %s at %s, got %v", c.name, c.code, c.key, problems)
		}
	}
}

// A drawn edge that would be thinner than a mesh can hold is refused (thinnest of package shape).
func TestPassThatLeavesAFoil(t *testing.T) {
	job := mustParse(t, right)
	job.Piece.Edge = Length{Text: "0.1 mm", Value: 0.1e-3}
	job.Steps = append([]Step{{Do: Forge, In: "pipe", Until: Ending{Kind: BySign, Sign: MagnetOff}, Shaping: Shaping{Thickness: Length{Text: "0.9 mm", Value: 0.9e-3}}}}, job.Steps...)
	_, _, err := job.Acts()
	var m *Misfit
	if !errors.As(err, &m) || m.Key != "thickness" || m.Step != 0 {
		t.Fatalf("an edge of 0.03 mm: %v", err)
	}
	var bad *shape.Problem
	if !errors.As(err, &bad) || bad.Low <= 0.9e-3 {
		t.Errorf("0.9 mm is too thin, and limits begin at %g", bad.Low)
	}
	job.Steps[0].Thickness = Length{Text: "just enough", Value: unit.Length(bad.Low * 1.001)}
	if _, _, err = job.Acts(); err != nil {
		t.Errorf("what the limits allow is refused: %v", err)
	}
}
