package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/unit"
)

// Quantity prints a quantity for this reader. How is empty, "both" for the
// other unit behind it, "percent" for a fraction, or "roundly" for a time to whole
// minutes, from twenty minutes to five, from two hours to half hours, rounded up.
func (s Style) Quantity(q cite.Quantity, how string) string {
	if q.Text != "" || q.Unit == "" {
		return q.Text
	}
	both := func(first, second string) string {
		if how == "both" && first != second {
			return first + " (" + second + ")"
		}
		return first
	}
	switch q.Unit {
	case "K":
		t := unit.Temp(q.Value)
		return both(t.Text(s.Units), t.Text(s.Units.Other()))
	case "K-step":
		d := unit.TempDiff(q.Value)
		return both(d.Text(s.Units), d.Text(s.Units.Other()))
	case "m":
		l := unit.Length(q.Value)
		return both(l.Text(s.Units), l.Text(s.Units.Other()))
	case "s":
		if how == "roundly" && q.Value > 120 && q.Value < 7200 {
			step := 60.0
			if q.Value > 1200 {
				step = 300
			}
			return strconv.Itoa(int(step/60*math.Ceil(q.Value/step))) + " min"
		}
		if how == "roundly" && q.Value >= 7200 {
			return halves(math.Ceil(q.Value/1800)/2) + " h"
		}
		return s.Seconds(q.Value)
	case "kg":
		m := unit.Mass(q.Value)
		return both(m.Text(s.Units), m.Text(s.Units.Other()))
	case "m³", "m3":
		v := unit.Volume(q.Value)
		return both(v.Text(s.Units), v.Text(s.Units.Other()))
	case "HRC":
		return strconv.Itoa(int(math.Round(q.Value))) + " HRC"
	case "HV":
		return strconv.Itoa(int(math.Round(q.Value/5)*5)) + " HV"
	case "wt%", "%":
		return strings.TrimSuffix(strconv.FormatFloat(q.Value, 'f', 2, 64), ".00") + " %"
	case "ppm":
		step := math.Pow(10, math.Max(0, math.Floor(math.Log10(math.Max(1, q.Value)))-1)) // two digits
		return strconv.FormatFloat(step*math.Round(q.Value/step), 'f', 0, 64) + " ppm"
	case "byte":
		return fmt.Sprintf("%.1f MB", q.Value/1e6)
	case "1", "–":
		if how == "percent" {
			return strconv.Itoa(int(math.Round(q.Value*100))) + " %"
		}
		return strconv.FormatFloat(q.Value, 'g', 3, 64)
	}
	return strconv.FormatFloat(q.Value, 'g', 3, 64) + " " + q.Unit
}

// Seconds prints a time with the digits that a person can keep.
func (s Style) Seconds(sec float64) string { return unit.Duration(sec).Text(s.Units) }

// TimeRange prints a time with its band in one unit that a person can keep:
// "95–115 s", "2–2½ min", "5½–6½ h"; "about 2 min" where the band is narrower
// than its step.
func (s Style) TimeRange(low, value, high float64) string {
	step, per, name := 5.0, 1.0, " s"
	switch {
	case high < 20:
		step = 1
	case high < 120:
	case high < 600:
		step, per, name = 30, 60, " min"
	case high < 7200:
		step, per, name = 60, 60, " min"
		if high > 1800 {
			step = 300
		}
	default:
		step, per, name = 1800, 3600, " h"
	}
	a, b := math.Floor(low/step)*step, math.Ceil(high/step)*step
	if b-a <= step && value > 0 {
		return "about " + halves(math.Max(1, math.Round(value/step))*step/per) + name
	}
	if a == 0 {
		return "up to " + halves(b/per) + name
	}
	return halves(a/per) + "–" + halves(b/per) + name
}

// halves prints a multiple of one half: 2½.
func halves(x float64) string {
	whole, part := math.Modf(x)
	text := strconv.Itoa(int(whole))
	if part < 0.25 {
		return text
	}
	if whole == 0 {
		text = ""
	}
	return text + "½"
}

// Range prints low to high in one unit: "0.4–0.6 mm", "5–8 s".
func (s Style) Range(low, high float64, u string) string {
	a := s.Quantity(cite.Num("", low, u), "")
	b := s.Quantity(cite.Num("", high, u), "")
	if a == b {
		return a
	}
	if x, unitA, ok := strings.Cut(a, " "); ok {
		if _, unitB, ok := strings.Cut(b, " "); ok && unitA == unitB {
			return x + "–" + b
		}
	}
	return a + " to " + b
}

// Likelihood says a probability as a smith would bet: "9 in 10".
func Likelihood(p float64) string {
	n := int(math.Round(p * 10))
	switch {
	case p >= 0.955:
		return "19 in 20"
	case n == 0:
		return "less than 1 in 20"
	case n == 10:
		return "9 in 10"
	}
	return strconv.Itoa(n) + " in 10"
}

// Degree is the word for a likelihood.
func Degree(p float64) string {
	switch {
	case p >= 0.85:
		return "likely"
	case p >= 0.65:
		return "more likely than not"
	case p >= 0.35:
		return "may"
	case p >= 0.15:
		return "unlikely"
	}
	return "very unlikely"
}
