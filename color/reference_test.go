package color

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// What two general-purpose libraries compute (reference/color, run by make
// reference; the results are kept): chromaticities, daylight, CIELAB and screen
// signals within 1e-4, reflectance of films within 1e-6. Daylight has 100 at
// 560 nm, so its 1e-4 is of that.
func TestAgainstGeneralPurposeLibraries(t *testing.T) {
	text, err := os.ReadFile("../reference/color/results.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	count, worst := map[string]int{}, map[string]float64{}
	for _, r := range rows[1:] {
		quantity, library := r[0], number(r[4])
		var ours float64
		within := 1e-4
		switch kind, part, _ := strings.Cut(quantity, "_"); kind {
		case "planck":
			x, y := Glow(number(r[1]), 1).Chromaticity()
			ours = map[string]float64{"x": x, "y": y}[part]
		case "d65":
			ours, within = DaylightPower()[(int(number(r[1]))-firstNm)/stepNm], 1e-2
		case "lab", "srgb":
			var v XYZ
			for i, f := range strings.Fields(r[1]) {
				v[i] = number(f)
			}
			l, s := v.Lab(), v.Signal()
			ours = map[string]float64{"L": l.L, "a": l.A, "b": l.B, "r": s[0], "g": s[1], "b of srgb": s[2]}[part]
			if quantity == "srgb_b" {
				ours = s[2]
			}
		case "film":
			var R Spectrum
			Film(&R, number(r[1]))
			ours, within = R[(int(number(r[2]))-firstNm)/stepNm], 1e-6
		default:
			t.Fatalf("unknown quantity %q", quantity)
		}
		kind, _, _ := strings.Cut(quantity, "_")
		count[kind]++
		worst[kind] = max(worst[kind], math.Abs(ours-library))
		if !(math.Abs(ours-library) <= within) {
			t.Errorf("%s %s %s: ours %v, library %v", quantity, r[1], r[2], ours, library)
		}
	}
	t.Logf("worst differences %v over %v", worst, count)
	if count["planck"] < 20 || count["film"] < 200 || count["d65"] != samples || count["lab"] < 12 || count["srgb"] < 12 {
		t.Errorf("too few rows: %v", count)
	}
}
