package unit

import (
	"math"
	"strings"
	"testing"
)

// Whatever is typed, a parser answers with a finite quantity inside its limits
// or with an error that is short enough to show.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"1475 F", "1-1/2", "1½ x ¼", "58-60 HRC", "two hours twice", "2×2h", "Ø16", "SW19", "about 60", "5' 6\"", "1,475", "a ten count", "-", "1/0", "½½", "x x x",
		"inch-and-a-half", "fifteen hundred", "HV0.5 753", "± 3", "..", "1..2", "°", "25 F hotter", "0,95 %", "20-lb bottle", strings.Repeat("9", 200), "\xff", "a a a a",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		finite := func(what string, err error, v ...float64) {
			if err != nil {
				if len(err.Error()) > 400 {
					t.Fatalf("%s of %q: the error is %d bytes long", what, text, len(err.Error()))
				}
				return
			}
			for _, x := range v {
				if math.IsNaN(x) || math.IsInf(x, 0) || math.Abs(x) > 1e10 {
					t.Fatalf("%s of %q is %v", what, text, x)
				}
			}
		}
		temp, err := ParseTemp(text, "F")
		finite("temperature", err, float64(temp))
		band, err := ParseTempBand(text)
		finite("temperature band", err, band.Value, band.Low, band.High)
		step, err := ParseTempDiff(text)
		finite("step", err, float64(step))
		l, err := ParseLength(text, "mm")
		finite("length", err, float64(l))
		d, err := ParseDuration(text)
		finite("time", err, float64(d))
		r, err := ParseRepeat(text)
		finite("repeat", err, float64(r.Each), float64(r.Times))
		s, err := ParseSection(text)
		finite("section", err, float64(s.Width), float64(s.Thickness))
		if err == nil && (s.Thickness <= 0 || s.Thickness > s.Width) {
			t.Fatalf("section of %q is %v", text, s)
		}
		h, err := ParseHardness(text, "HRC")
		finite("hardness", err, h.Band.Low, h.Band.High, h.HV().Low, h.HV().High)
		v, err := ParseVolume(text)
		finite("volume", err, float64(v))
		m, err := ParseMass(text)
		finite("mass", err, float64(m))
		p, err := ParsePressure(text)
		finite("pressure", err, float64(p))
		c, err := ParseCarbon(text)
		finite("carbon", err, c)
		a, err := ParseBevel(text)
		finite("bevel", err, float64(a))
		g, err := ParseGrit(text)
		finite("grit", err, float64(g.Number))
		gas, err := ParseGasRate(text)
		finite("gas", err, float64(gas))
	})
}
