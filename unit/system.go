package unit

import (
	"math"
	"strconv"
)

// System is the family of units that a person works in.
type System int

// The two systems. Imperial means inch, pound, °F, US gallon.
const (
	Metric System = iota
	Imperial
)

// Other returns the other system.
func (s System) Other() System { return 1 - s }

// String returns "metric" or "imperial".
func (s System) String() string {
	if s == Imperial {
		return "imperial"
	}
	return "metric"
}

func toStep(v, step float64) float64 {
	r := math.Round(v/step) * step
	if r == 0 {
		return 0 // never "-0"
	}
	return r
}

// shortest returns the digits of a value that has gone through a conversion:
// twelve of them hide the last bits that the conversion made up.
func shortest(v float64) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if math.Abs(r) < 1e-12 { // nothing that a shop measures
		return "0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// figures returns a value with that many significant digits, without an exponent.
func figures(v float64, digits int) string {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if r == 0 {
		return "0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
