package unit

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A reading is converted with its zero, a step is only scaled.
func ExampleTemp_Both() {
	t, _ := ParseTemp("1475 F")
	hotter := t.Add(must(ParseTempDiff("25 F hotter")))
	fmt.Println(t.Both(Imperial), "·", hotter.Both(Metric))
	// Output:
	// 1480 °F (800 °C) · 815 °C (1500 °F)
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, tol)
	}
}

func TestParseTemp(t *testing.T) {
	// The relation °F = 1.8 °C + 32 is exact by definition.
	for text, c := range map[string]float64{
		"1475 F": 801.6667, "1475°F": 801.6667, "1475f": 801.6667, "800 C": 800, "800°C": 800, "800 deg C": 800, "1073.15 K": 800,
		"fifteen hundred F": 815.5556, "fourteen seventy-five F": 801.6667, "400 F oven": 204.4444, "-40 F": -40, "−20 °C": -20,
		"802,5 C": 802.5, "800 degrees C": 800, "205 celsius": 205,
	} {
		got, err := ParseTemp(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		near(t, text, got.C(), c, 1e-3)
	}
}

func TestParseTempRefuses(t *testing.T) {
	for _, text := range []string{
		"", "1475", "1500°", "hot", "1,475 F", "25 F hotter", "800 C 800 C", "800 mm", "5000 C", "-300 C", "1450-1500 F", "about 1500 F",
		"NaN C", "1e3 C", "800 C\x00", "0x20 F", "++5 C", "800 C or so", "9999999999999999999999999999 C",
	} {
		got, err := ParseTemp(text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q was read as %v", text, got)
			continue
		}
		if e.Want == "" || e.Why == "" || e.Remedy == "" {
			t.Errorf("%q: the error lacks a part: %+v", text, e)
		}
	}
	if _, err := ParseTemp("1475"); !NeedsUnit(err) {
		t.Errorf("1475 lacks a unit, and the error says %v", err)
	}
	if got, err := ParseTemp("1475", "F"); err != nil || math.Abs(got.F()-1475) > 1e-9 {
		t.Errorf("1475 with default F: %v, %v", got, err)
	}
}

func TestParseTempBand(t *testing.T) {
	for text, want := range map[string]Band{
		"1450-1500 F": {801.67, 787.78, 815.56}, "800 ± 10 C": {800, 790, 810}, "about 800 C": {800, 785, 815}, "790 to 815 °C": {802.5, 790, 815},
	} {
		b, err := ParseTempBand(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		near(t, text, b.Value-273.15, want.Value, 0.01)
		near(t, text+" low", b.Low-273.15, want.Low, 0.01)
		near(t, text+" high", b.High-273.15, want.High, 0.01)
	}
}

func TestParseTempDiff(t *testing.T) {
	for text, k := range map[string]float64{
		"25 F hotter": 25 / 1.8, "30 C cooler": -30, "15 K": 15, "-5 C": -5, "20 °F below": -20 / 1.8, "by 10 C": 10,
	} {
		got, err := ParseTempDiff(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		near(t, text, got.K(), k, 1e-9)
	}
	if _, err := ParseTempDiff("25 degrees hotter"); !NeedsUnit(err) {
		t.Errorf("25 degrees hotter says no scale, and the error is %v", err)
	}
	if got, err := ParseTempDiff("25 degrees hotter", "F"); err != nil || math.Abs(got.F()-25) > 1e-9 {
		t.Errorf("25 degrees hotter by default F: %v, %v", got, err)
	}
}

func TestTempReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := System(rapid.IntRange(0, 1).Draw(t, "system"))
		x := Temp(rapid.Float64Range(174, 1972).Draw(t, "T"))
		back, err := ParseTemp(x.Exact(s))
		if err != nil || math.Abs(float64(back-x)) > 1e-8 {
			t.Fatalf("%v printed %q read %v, %v", float64(x), x.Exact(s), float64(back), err)
		}
		shown, err := ParseTemp(x.Text(s))
		if err != nil || math.Abs(float64(shown-x)) > 2.78 {
			t.Fatalf("%v shown %q read %v, %v", float64(x), x.Text(s), float64(shown), err)
		}
		d := TempDiff(rapid.Float64Range(-900, 900).Draw(t, "d"))
		dBack, err := ParseTempDiff(d.Exact(s))
		if err != nil || math.Abs(float64(dBack-d)) > 1e-8 {
			t.Fatalf("%v printed %q read %v, %v", float64(d), d.Exact(s), float64(dBack), err)
		}
	})
}
