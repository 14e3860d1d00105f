package color

import (
	"math"
	"strings"
	"testing"
)

// Chromaticity and luminance of a black body. Temperatures of illuminant A and
// the points of the Planckian locus: own computation with an independent program
// from the same constants; illuminant A is 0.4476, 0.4074 by the standard
// (cie-018-2019).
func TestPlanckianLocus(t *testing.T) {
	for _, row := range []struct{ T, x, y, L float64 }{
		{773.15, 0.6851, 0.3143, 0.002989}, {798.15, 0.6815, 0.3177, 0.007563}, {873.15, 0.6708, 0.3280, 0.09052},
		{1000, 0.6527, 0.3445, 2.686}, {1073.15, 0.6425, 0.3534, 13.4}, {1200, 0.6250, 0.3675, 139.3},
		{1373.15, 0.6020, 0.3836, 1739}, {1573.15, 0.5765, 0.3977, 1.647e4}, {2000, 0.5267, 0.4133, 4.638e5}, {2856, 0.4475, 0.4074, 1.975e7},
	} {
		g := Glow(row.T, 1)
		x, y := g.Chromaticity()
		if math.Abs(x-row.x) > 1e-4 || math.Abs(y-row.y) > 1e-4 || math.Abs(g[1]/row.L-1) > 1e-3 {
			t.Errorf("%v K: x %.4f y %.4f L %.4g, want %v %v %v", row.T, x, y, g[1], row.x, row.y, row.L)
		}
	}
	if x, y := Glow(2856, 1).Chromaticity(); math.Abs(x-0.4476) > 5e-4 || math.Abs(y-0.4074) > 5e-4 {
		t.Errorf("illuminant A: %.4f, %.4f, the standard has 0.4476, 0.4074", x, y)
	}
	// Published points of the locus of the 1931 observer, as any table of correlated
	// color temperature has them (from memory): 1000 K 0.6528, 0.3444; 2000 K 0.5267, 0.4133; 3000 K 0.4369, 0.4041.
	for _, row := range [][3]float64{{1000, 0.6528, 0.3444}, {2000, 0.5267, 0.4133}, {3000, 0.4369, 0.4041}} {
		if x, y := Glow(row[0], 1).Chromaticity(); math.Abs(x-row[1]) > 5e-4 || math.Abs(y-row[2]) > 5e-4 {
			t.Errorf("%v K: %.4f, %.4f, published %v, %v", row[0], x, y, row[1], row[2])
		}
	}
	if x, y := daylight().XYZ().Chromaticity(); math.Abs(x-0.3127) > 1e-4 || math.Abs(y-0.3290) > 1e-4 {
		t.Errorf("D65: %.4f, %.4f, the standard has 0.3127, 0.3290", x, y)
	}
}

// Luminance of a black body near the Draper point: 0.0076 cd/m² at 525 °C, where
// bodies begin to glow for an eye in the dark (draper-1847). Our threshold for
// scaled steel lies under it in the dark and over it beside a 20 lx lamp.
func TestDraperPoint(t *testing.T) {
	if L := Glow(Draper, 1)[1]; math.Abs(L-7.56e-3) > 1e-4 {
		t.Errorf("luminance at the Draper point %.2e", L)
	}
	pitch := NewEye(Light{"pitch dark", "", 0, 10}, NoGlasses).Threshold()
	lamp := NewEye(Dark, NoGlasses).Threshold()
	if !(pitch < Draper && Draper < lamp) {
		t.Errorf("thresholds %.0f and %.0f °C do not bracket Draper's 525", pitch-kelvin, lamp-kelvin)
	}
}

// Thresholds by light with a contrast of 4 %, an independent computation from the
// same rule (own derivation), °C.
func TestThresholdsByLight(t *testing.T) {
	last := 0.0
	for _, row := range []struct{ lux, want float64 }{
		{0, 478}, {1, 502}, {20, 589}, {100, 643}, {500, 705}, {1000, 734}, {5000, 808}, {20000, 881}, {60000, 946},
	} {
		got := NewEye(Light{"test", "", row.lux, 100}, NoGlasses).Threshold() - kelvin
		if math.Abs(got-row.want) > 1.5 {
			t.Errorf("%v lx: glow seen from %.0f °C, want %v", row.lux, got, row.want)
		}
		if got <= last {
			t.Errorf("%v lx: threshold does not rise with the light", row.lux)
		}
		last = got
	}
}

// The old list of red heat by light, as an eye finds it in a hole where the light
// does not fall (pocket-book-heats). Two of its rows set the law (HoleThreshold);
// those of twilight and daylight follow from it, with 10 and 1000 lx for lights that
// the list only names.
func TestThresholdsInAHole(t *testing.T) {
	for _, row := range []struct {
		light     string
		lux, want float64
		within    float64
	}{
		{"dark", 0, 400, 1}, {"twilight", 10, 474, 13}, {"daylight", 1000, 525, 5}, {"sunlight", 60000, 581, 1},
	} {
		listed := false
		for _, p := range PublishedHeats() {
			listed = listed || p.Source == "pocket-book-heats" && strings.Contains(p.Printed, row.light) && p.From == row.want
		}
		if !listed {
			t.Errorf("%s: the list has no %v °C", row.light, row.want)
		}
		eye := NewEye(Light{"hole " + row.light, "", row.lux, 100}, NoGlasses)
		got := eye.HoleThreshold() - kelvin
		t.Logf("%s, %v lx: %.0f °C, listed %v; open steel %.0f", row.light, row.lux, got, row.want, eye.Threshold()-kelvin)
		if math.Abs(got-row.want) > row.within {
			t.Errorf("%s, %v lx: %.1f °C, listed %v", row.light, row.lux, got, row.want)
		}
		if got >= eye.Threshold() {
			t.Errorf("%s: open steel is seen before a hole", row.light)
		}
	}
}

// Screen colors of scaled steel computed by an independent program from the same
// rule, within two steps of 255 (tables are read to half a step).
func TestSeenColors(t *testing.T) {
	for _, row := range []struct {
		light Light
		Tc    float64
		want  RGB
	}{
		{Dark, 600, RGB{66, 58, 58}}, {Dark, 700, RGB{123, 59, 57}}, {Dark, 750, RGB{179, 66, 53}}, {Dark, 850, RGB{253, 124, 48}}, {Dark, 950, RGB{255, 229, 108}},
		{Dim, 700, RGB{0x40, 0x36, 0x36}}, {Dim, 800, RGB{0x6f, 0x39, 0x35}}, {Dim, 850, RGB{0x99, 0x40, 0x32}}, {Dim, 900, RGB{0xc8, 0x51, 0x2c}},
		{Dim, 1000, RGB{0xfd, 0x94, 0x31}}, {Dim, 1100, RGB{0xff, 0xe6, 0x5f}}, {Dim, 1200, RGB{0xff, 0xff, 0x9b}}, {Dim, 1300, RGB{0xff, 0xff, 0xd7}},
	} {
		got := NewEye(row.light, NoGlasses).See(row.Tc+kelvin, 1e5)
		if apart(got, row.want) > 2 {
			t.Errorf("%s, %v °C: %v, want %v", row.light.Name, row.Tc, got, row.want)
		}
	}
}

func apart(a, b RGB) float64 {
	d := func(x, y uint8) float64 { return math.Abs(float64(x) - float64(y)) }
	return max(d(a.R, b.R), d(a.G, b.G), d(a.B, b.B))
}

// Words never go backward as steel gets hotter, in any light, through any glasses.
func TestHeatsComeInOrder(t *testing.T) {
	for _, l := range Lights() {
		for _, g := range AllGlasses() {
			e := NewEye(l, g)
			last := NoGlow
			for Tc := 300.0; Tc < 1500; Tc += 2 {
				h := e.HeatOf(Tc + kelvin)
				if h < last {
					t.Fatalf("%s, %s: %v after %v at %v °C", l.Name, g.Name, h, last, Tc)
				}
				last = h
			}
		}
	}
}

// In brighter light the same word means hotter steel: in the sun by 200 °C and
// more against a workshop, in a dark shop by about 125 °C less.
func TestLightShiftsTheWord(t *testing.T) {
	at := func(l Light) float64 {
		low, high, ok := NewEye(l, NoGlasses).Ends(Cherry)
		if !ok {
			t.Fatalf("no cherry in %s light", l.Name)
		}
		return (low + high) / 2
	}
	dim := at(Dim)
	for _, row := range []struct {
		l         Light
		low, high float64
	}{{Dark, -145, -100}, {Shade, 15, 40}, {Daylight, 80, 130}, {Sun, 200, 300}} {
		if d := at(row.l) - dim; d < row.low || d > row.high {
			t.Errorf("cherry in %s light is %.0f K above that of a workshop, want %v to %v", row.l.Name, d, row.low, row.high)
		}
	}
}

// The band of a word in unknown light must hold at least 80 % of what the
// published charts that were read print for it; each author's words must come in
// our order. The corners between the words were set on these charts (heatEnds):
// this says how well they fit.
func TestBandsCoverThePublishedCharts(t *testing.T) {
	in, n := 0, 0
	last := map[string]Heat{}
	for _, p := range PublishedHeats() {
		if p.Word == "" {
			continue
		}
		h, ok := ParseHeat(p.Word)
		if !ok {
			t.Fatalf("%+v names no heat", p)
		}
		if b := HeatBand(h); p.ReadBy != "from memory" { // of a recalled chart the order counts, and no figure
			n++
			if T := (p.From+p.To)/2 + kelvin; T >= b.Low && T <= b.High {
				in++
			} else {
				t.Logf("outside: %s, %q at %.0f °C, %v is %.0f–%.0f", p.Source, p.Printed, T-kelvin, h, b.Low-kelvin, b.High-kelvin)
			}
		}
		if h < last[string(p.Source)] {
			t.Errorf("%s: %q comes before what was cooler", p.Source, p.Printed)
		}
		last[string(p.Source)] = h
	}
	t.Logf("%d of %d rows", in, n)
	if n < 30 || float64(in) < 0.8*float64(n) {
		t.Errorf("the bands hold %d of %d rows", in, n)
	}
	for h := FaintRed; h < White; h++ {
		if HeatBand(h).Value >= HeatBand(h+1).Value {
			t.Errorf("%v is not below %v", h, h+1)
		}
	}
}

// A shade is 25 K near 750 °C; light does not change it.
func TestShades(t *testing.T) {
	e, s := NewEye(Dim, NoGlasses), NewEye(Sun, NoGlasses)
	if n := e.Shades(775+kelvin, 750+kelvin); math.Abs(n-1) > 0.03 {
		t.Errorf("25 K at 750 °C are %.2f shades", n)
	}
	if a, b := e.Shades(800+kelvin, 740+kelvin), s.Shades(800+kelvin, 740+kelvin); a != b {
		t.Errorf("shades differ with the light: %v, %v", a, b)
	}
	if T := e.Brighter(745+kelvin, e.Shades(800+kelvin, 745+kelvin)); math.Abs(T-800-kelvin) > 0.01 {
		t.Errorf("there and back: %v °C", T-kelvin)
	}
}

// Awkward cases: colder and hotter than the tables, no film, endless film.
func TestSeeingNeverFails(t *testing.T) {
	for _, l := range Lights() {
		e := NewEye(l, NoGlasses)
		for _, T := range []float64{0, 200, 599.99, 600, 673, 773.15, 1899.9, 1900, 5000} {
			for _, nm := range []float64{-1, 0, 2.5, 129, 259.9, 260, 1499, 1e6} {
				_ = e.See(T, nm)
			}
		}
	}
	if c := NewEye(Dim, NoGlasses).See(293, 42); c.B < c.R {
		t.Errorf("a blue film looks %v", c)
	}
}

func BenchmarkSee(b *testing.B) {
	e := NewEye(Dim, NoGlasses)
	for b.Loop() {
		e.See(1100, 1e5)
	}
}
