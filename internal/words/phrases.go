package words

import (
	"math"
	"strconv"

	"github.com/heatwright/heatwright/cite"
)

// Times says how often, nothing for once: "twice", "3 times".
func Times(n int) string {
	switch {
	case n <= 1:
		return ""
	case n == 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

// ShadeStep is what an eye that is used to the dark tells apart as one shade of
// glow [K]. Source: common practice.
const ShadeStep = 30

// Shades says a step of temperature as steps of glow above a known one.
func (s Style) Shades(kelvins float64) string {
	n := int(math.Round(kelvins / ShadeStep))
	switch {
	case n <= 0:
		return s.Of("jobsheet.shade-same").Say
	case n == 1:
		return s.Of("jobsheet.shade-one").Say
	}
	return s.Of("jobsheet.shades", cite.Txt("n", strconv.Itoa(n))).Say
}
