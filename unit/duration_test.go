package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestParseDuration(t *testing.T) {
	for text, s := range map[string]float64{
		"90 s": 90, "10-minute soak": 600, "an hour and a half": 5400, "two and a half hours": 9000, "1 h 30 min": 5400, "1h30m": 5400, "half an hour": 1800,
		"a ten count": 10, "count of ten": 0, "a minute": 60, "ten seconds": 10, "2 h": 7200, "twenty-five minutes": 1500, "1.5 hours": 5400, "1 min, 30 s": 90,
	} {
		got, err := ParseDuration(text)
		if s == 0 {
			if err == nil {
				t.Errorf("%q was read as %v", text, got)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		near(t, text, float64(got), s, 1e-9)
	}
	b, err := ParseDurationBand("5-10 min")
	if err != nil || b != (Band{450, 300, 600}) {
		t.Errorf("5-10 min: %v, %v", b, err)
	}
	for _, text := range []string{"30", "-5 s", "5 lb", "1 s 2 h", "100 days", "2:30"} {
		if got, err := ParseDuration(text); err == nil {
			t.Errorf("%q was read as %v s", text, float64(got))
		}
	}
}

func TestParseRepeat(t *testing.T) {
	for text, want := range map[string]Repeat{
		"two hours twice": {2, 7200}, "2×2h": {2, 7200}, "2 x 2 h": {2, 7200}, "2 h x 2": {2, 7200}, "three times 10 min": {3, 600}, "twice for an hour": {2, 3600},
		"2 h": {1, 7200}, "1 h, twice": {2, 3600}, "2 h each, twice": {2, 7200}, "once 2 h": {1, 7200}, "3x an hour and a half": {3, 5400}, "10 min, 3 times": {3, 600},
	} {
		got, err := ParseRepeat(text)
		if err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "2 x 2", "twice", "0 x 2 h", "1.5 x 2 h", "99 x 2 h", "2 h twice twice", "2 h 2 h"} {
		if got, err := ParseRepeat(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func TestDurationReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Duration(math.Exp(rapid.Float64Range(math.Log(0.3), math.Log(2e6)).Draw(t, "ln s")))
		if rapid.Bool().Draw(t, "whole minutes") {
			d = Duration(60 * rapid.IntRange(0, 3000).Draw(t, "min"))
		}
		back, err := ParseDuration(d.Exact(Metric))
		if err != nil || math.Abs(float64(back-d)) > 1e-9*float64(d) {
			t.Fatalf("%v printed %q read %v, %v", float64(d), d.Exact(Metric), float64(back), err)
		}
		shown, err := ParseDuration(d.Text(Metric))
		if err != nil || math.Abs(float64(shown-d)) > 0.126*float64(d)+0.26 { // steps of 5 s begin at 20 s
			t.Fatalf("%v shown %q read %v, %v", float64(d), d.Text(Metric), float64(shown), err)
		}
		r := Repeat{rapid.IntRange(1, 5).Draw(t, "times"), Duration(math.Round(float64(d)))}
		if got, err := ParseRepeat(r.Exact(Metric)); err != nil || got != r {
			t.Fatalf("%v printed %q read %v, %v", r, r.Exact(Metric), got, err)
		}
	})
}

// 5 s below two minutes, whole minutes above ten.
func TestDurationText(t *testing.T) {
	for s, want := range map[float64]string{0.28: "0.5 s", 2: "2 s", 8.2: "8 s", 33: "35 s", 119: "2 min", 133: "2 min 15 s", 640: "11 min", 5400: "1 h 30 min", 7200: "2 h"} {
		if got := Duration(s).Text(Metric); got != want {
			t.Errorf("%g s: %q, want %q", s, got, want)
		}
	}
}
