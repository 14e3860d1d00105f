package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// 1 lb = 0.45359237 kg and 1 US gallon = 231 in³ exactly; a UK gallon is
// 4.54609 L exactly; 1 psi = 6894.757 Pa.
func TestParseBulk(t *testing.T) {
	mass := func(s string) (float64, error) { v, err := ParseMass(s); return float64(v), err }
	volume := func(s string) (float64, error) { v, err := ParseVolume(s); return v.Liters(), err }
	pressure := func(s string) (float64, error) { v, err := ParsePressure(s); return float64(v), err }
	gas := func(s string) (float64, error) { v, err := ParseGasRate(s); return float64(v) * 3600, err }
	carbon := func(s string) (float64, error) { return ParseCarbon(s) }
	bevel := func(s string) (float64, error) { v, err := ParseBevel(s); return v.Degrees(), err }
	angle := func(s string) (float64, error) { v, err := ParseAngle(s); return v.Degrees(), err }
	for _, c := range []struct {
		read func(string) (float64, error)
		text string
		want float64
	}{
		{mass, "2-1/2 lb", 1.133980925}, {mass, "2 lb 3 oz", 0.992233}, {mass, "20-lb bottle", 9.0718474}, {mass, "25 kg", 25}, {mass, "320 g", 0.32}, {mass, "55 lb ram", 24.947580},
		{volume, "5-gal bucket", 18.92705892}, {volume, "5 gal", 18.92705892}, {volume, "2 quarts", 1.892705892}, {volume, "5 UK gal", 22.73045}, {volume, "1 gal (UK)", 0},
		{volume, "19 litre", 19}, //nolint:misspell // European spelling is read too
		{volume, "19 L", 19}, {volume, "five gallons", 18.92705892}, {volume, "1 US gallon", 3.785411784},
		{pressure, "10 psi", 68947.57293}, {pressure, "0.7 bar", 70000}, {pressure, "50 mbar", 5000}, {pressure, "11 in WC", 2739.978},
		{gas, "0.6 kg/h", 0.6}, {gas, "1.3 lb/h", 0.58967008},
		{carbon, "95-point", 0.95}, {carbon, "95 points", 0.95}, {carbon, "0.95 %", 0.95}, {carbon, "95-point carbon steel", 0.95},
		{bevel, "15 a side", 15}, {bevel, "15 dps", 15}, {bevel, "30° total", 15}, {bevel, "15° per side", 15}, {bevel, "20 deg/side", 20}, {bevel, "15", 0}, {bevel, "0 a side", 0},
		{angle, "90°", 90}, {angle, "15 deg", 15}, {angle, "90", 0},
	} {
		got, err := c.read(c.text)
		if c.want == 0 {
			if err == nil {
				t.Errorf("%q was read as %v", c.text, got)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		near(t, c.text, got, c.want, 1e-6*c.want)
	}
}

func TestParseGrit(t *testing.T) {
	for text, want := range map[string]Grit{"120 grit": {120, false}, "P400": {400, true}, "P 80": {80, true}, "36-grit belt": {36, false}} {
		got, err := ParseGrit(text)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
		if back, err := ParseGrit(got.Text(Metric)); err != nil || back != got {
			t.Errorf("%q prints %q reads %v, %v", text, got.Text(Metric), back, err)
		}
	}
	for _, text := range []string{"", "120", "P", "fine", "2 grit", "12.5 grit", "P120 P120"} {
		if got, err := ParseGrit(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func TestBulkReadsBack(t *testing.T) {
	type printed interface {
		Text(System) string
		Exact(System) string
	}
	rapid.Check(t, func(t *rapid.T) {
		s := System(rapid.IntRange(0, 1).Draw(t, "system"))
		x := math.Exp(rapid.Float64Range(math.Log(0.01), math.Log(900)).Draw(t, "ln x"))
		check := func(p printed, x float64, read func(string) (float64, error)) {
			back, err := read(p.Exact(s))
			if err != nil || math.Abs(back-x) > 1e-9*x {
				t.Fatalf("%v printed %q read %v, %v", x, p.Exact(s), back, err)
			}
			shown, err := read(p.Text(s))
			if err != nil || math.Abs(shown-x) > 0.051*x {
				t.Fatalf("%v shown %q read %v, %v", x, p.Text(s), shown, err)
			}
		}
		check(Mass(x), x, func(s string) (float64, error) { v, err := ParseMass(s); return float64(v), err })
		check(Volume(x/1000), x/1000, func(s string) (float64, error) { v, err := ParseVolume(s); return float64(v), err })
		check(Pressure(x*1e4), x*1e4, func(s string) (float64, error) { v, err := ParsePressure(s); return float64(v), err })
		check(GasRate(x/3600), x/3600, func(s string) (float64, error) { v, err := ParseGasRate(s); return float64(v), err })
	})
}
