package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Length is a length [m].
type Length float64

const inch = 0.0254

// MM returns the length for a value in millimeters.
func MM(mm float64) Length { return Length(mm / 1000) }

// Inch returns the length for a value in inches.
func Inch(in float64) Length { return Length(in * inch) }

// MM returns the length in millimeters.
func (l Length) MM() float64 { return float64(l) * 1000 }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l) / inch }

var lengths = &measure{
	want: "a length",
	units: names(
		"mm millimeter millimeters millimetre millimetres", 1e-3, //nolint:misspell // European spelling is read too
		"cm centimeter centimeters centimetre centimetres", 1e-2, //nolint:misspell // European spelling is read too
		"m meter meters metre metres", 1.0, //nolint:misspell // European spelling is read too
		"µm um micron microns μm", 1e-6,
		"in inch inches", inch,
		"ft foot feet", 12*inch,
		"thou thousandth thousandths", inch/1000,
	),
	low: 0, high: 100,
	limits:   "0 to 100 m",
	remedy:   `write it with its unit, as "3 mm" or "1/8 in"`,
	about:    0.05,
	tails:    tailSet("long wide thick deep tall high bar stock diameter"),
	compound: true,
	// Nobody writes a millimeter as a fraction: 3/16 is inches everywhere.
	impliedBy: func(n number) string {
		if n.fraction && binary(n.value) {
			return "in"
		}
		return ""
	},
}

// binary tells whether v is a whole number of 64ths.
func binary(v float64) bool { return v*64 == math.Trunc(v*64) }

// ParseLength reads a length: "3 mm", "1-1/2 in", "1½\"", "5 ft 6 in", "3/32",
// "35 thou", "quarter inch". A bare fraction of 64ths is inches; other bare numbers need the default.
func ParseLength(text string, def ...string) (Length, error) {
	v, err := lengths.value(text, def)
	return Length(v), err
}

// Text returns the length as a smith can measure it: 0.01 mm below half a
// millimeter, 0.05 to a whole one, 0.1 mm to 20 mm, 1 mm above; sixty-fourths of an inch, sixteenths above 2,
// thousandths below 1/32 and between the marks below 1/8.
func (l Length) Text(s System) string {
	if s == Imperial {
		return l.imperial()
	}
	mm := l.MM()
	switch a := math.Abs(mm); {
	case a != 0 && a < 0.0995:
		return strconv.FormatFloat(toStep(mm*1000, 1), 'f', -1, 64) + " µm"
	case a < 0.495:
		return strconv.FormatFloat(toStep(mm, 0.01), 'f', 2, 64) + " mm"
	case a < 0.975:
		return strconv.FormatFloat(toStep(mm, 0.05), 'f', 2, 64) + " mm"
	case a < 19.95:
		return trimZero(strconv.FormatFloat(toStep(mm, 0.1), 'f', 1, 64)) + " mm"
	case a < 1999.5:
		return strconv.FormatFloat(toStep(mm, 1), 'f', -1, 64) + " mm"
	default:
		return strconv.FormatFloat(toStep(mm/1000, 0.01), 'f', 2, 64) + " m"
	}
}

func (l Length) imperial() string {
	in := l.Inches()
	a := math.Abs(in)
	switch {
	case a < 1./32:
		return figures(in, 2) + " in"
	case a >= 48:
		whole := toStep(a, 1)
		text := fmt.Sprintf("%d ft", int(whole)/12)
		if rest := int(whole) % 12; rest != 0 {
			text += fmt.Sprintf(" %d in", rest)
		}
		return negative(in, text)
	}
	step := 1. / 64
	if a >= 2 {
		step = 1. / 16
	}
	n := math.Round(a / step)
	if a < 1./8 && math.Abs(n*step-a) > 0.002 { // a thin thing between two marks of the rule
		return figures(in, 2) + " in"
	}
	return negative(in, mixed(n*step)+" in")
}

func negative(v float64, text string) string {
	if v < 0 {
		return "-" + text
	}
	return text
}

// mixed writes a multiple of 1/64 as smiths do: 1-1/2.
func mixed(v float64) string {
	whole, part := math.Modf(v)
	over, under := int(math.Round(part*64)), 64
	if over == 64 {
		whole, over = whole+1, 0
	}
	for over != 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return strconv.Itoa(int(whole))
	case whole == 0:
		return fmt.Sprintf("%d/%d", over, under)
	}
	return fmt.Sprintf("%d-%d/%d", int(whole), over, under)
}

// Exact returns the length with all the digits it needs to be read back.
func (l Length) Exact(s System) string {
	if s == Imperial {
		return shortest(l.Inches()) + " in"
	}
	return shortest(l.MM()) + " mm"
}

// Both returns the length in the user's unit with the other one behind it.
func (l Length) Both(s System) string { return l.Text(s) + " (" + l.Text(s.Other()) + ")" }

func trimZero(s string) string { return strings.TrimSuffix(s, ".0") }
