package unit

import (
	"math"
	"strconv"
)

// Temp is a reading of temperature [K]. It is joined to TempDiff by Add and Sub
// only, so that a step is never converted like a reading.
type Temp float64

// TempDiff is a step of temperature [K]: "30 degrees hotter".
type TempDiff float64

// Celsius returns the reading for a value in °C.
func Celsius(c float64) Temp { return Temp(c + 273.15) }

// Fahrenheit returns the reading for a value in °F.
func Fahrenheit(f float64) Temp { return Temp((f + 459.67) / 1.8) }

// C returns the reading in °C.
func (t Temp) C() float64 { return float64(t) - 273.15 }

// F returns the reading in °F.
func (t Temp) F() float64 { return float64(t)*1.8 - 459.67 }

// K returns the reading in K.
func (t Temp) K() float64 { return float64(t) }

// Add returns the reading that is d higher.
func (t Temp) Add(d TempDiff) Temp { return t + Temp(d) }

// Sub returns the step from u to t.
func (t Temp) Sub(u Temp) TempDiff { return TempDiff(t - u) }

// F returns the step in Fahrenheit degrees, K × 1.8 with nothing added.
func (d TempDiff) F() float64 { return float64(d) * 1.8 }

// K returns the step in kelvins, which are Celsius degrees.
func (d TempDiff) K() float64 { return float64(d) }

var temps = &measure{
	want: "a temperature",
	units: names(
		"°c c degc celsius centigrade degreesc degc. degreescelsius degreescentigrade degcelsius ºc ℃ °celsius", scale{factor: 1, offset: 273.15},
		"°f f degf fahrenheit degreesf degreesfahrenheit degfahrenheit ºf ℉ °fahrenheit", scale{factor: 1 / 1.8, offset: 459.67},
		"k kelvin kelvins", scale{factor: 1},
	),
	low: 170, high: 1975, // a little beyond what the message names, so that a rounded reading is read back
	limits:  "-100 to 1700 °C, -150 to 3090 °F",
	remedy:  `write it with its unit, as "1475 F" or "800 C"`,
	aboutSI: 15,
	tails:   tailSet("hot oven ° deg degree degrees"),
}

// ParseTemp reads a temperature: "1475 F", "800 °C", "fifteen hundred F". The
// default, "F" or "C", stands in for a missing unit; without one a bare number is refused.
func ParseTemp(text string, def ...string) (Temp, error) {
	if err := notAStep(text); err != nil {
		return 0, err
	}
	v, err := temps.value(text, def)
	return Temp(v), err
}

// ParseTempBand reads a temperature with its width [K]: "1450-1500 F", "800 ± 10 C", "about 800 C" (±15 K).
func ParseTempBand(text string, def ...string) (Band, error) {
	if err := notAStep(text); err != nil {
		return Band{}, err
	}
	b, _, err := temps.read(text, def)
	return b, err
}

var (
	hotter = map[string]bool{"hotter": true, "warmer": true, "higher": true, "above": true, "over": true, "up": true, "more": true}
	cooler = map[string]bool{"cooler": true, "colder": true, "lower": true, "below": true, "under": true, "down": true, "less": true}
)

func notAStep(text string) error {
	tokens, _ := scan(text)
	for _, t := range tokens {
		if t.kind == 'w' && (hotter[t.text] || cooler[t.text]) && t.text != "over" && t.text != "under" {
			return &Error{Text: shown(text), Want: temps.want, Why: "it is a step, not a reading", Remedy: "give the temperature itself"}
		}
	}
	return nil
}

var steps = &measure{
	want: "a difference of temperature",
	units: names(
		"°c c k degc celsius degreesc degreescelsius centigrade kelvin kelvins ºc ℃ c°", scale{factor: 1},
		"°f f degf fahrenheit degreesf degreesfahrenheit ºf ℉ f°", scale{factor: 1 / 1.8},
	),
	low: -1800, high: 1800,
	limits:  "1800 K up or down",
	remedy:  `write it with its unit, as "25 F hotter" or "15 C"`,
	aboutSI: 5, about: 0.2,
}

// ParseTempDiff reads a difference: "25 F hotter", "15 K", "30 degrees cooler"
// with a default. Steps are scaled, never shifted.
func ParseTempDiff(text string, def ...string) (TempDiff, error) {
	tokens, why := scan(text)
	if why != "" {
		return 0, steps.fail(text, why)
	}
	sign := 1.0
	kept := ""
	for _, t := range tokens {
		switch {
		case t.kind == 'w' && hotter[t.text], t.kind == 'w' && t.text == "by":
		case t.kind == 'w' && cooler[t.text]:
			sign = -1
		case t.kind == 'w' && (t.text == "degrees" || t.text == "degree" || t.text == "deg" || t.text == "°"):
		default:
			kept += t.text
			if t.kind != '-' && t.kind != '+' {
				kept += " "
			}
		}
	}
	v, err := steps.value(kept, def)
	if err != nil {
		if e, ok := err.(*Error); ok { //nolint:errorlint // made two lines above, never wrapped
			e.Text = shown(text)
		}
		return 0, err
	}
	return TempDiff(sign * v), nil
}

// Text returns the reading as a smith can use it: to 5 °C or 10 °F.
func (t Temp) Text(s System) string {
	if s == Imperial {
		return strconv.FormatFloat(toStep(t.F(), 10), 'f', -1, 64) + " °F"
	}
	return strconv.FormatFloat(toStep(t.C(), 5), 'f', -1, 64) + " °C"
}

// Both returns the reading in the user's unit with the other one behind it: "1470 °F (800 °C)".
func (t Temp) Both(s System) string { return t.Text(s) + " (" + t.Text(s.Other()) + ")" }

// Exact returns the reading with all the digits it needs to be read back.
func (t Temp) Exact(s System) string {
	if s == Imperial {
		return shortest(t.F()) + " °F"
	}
	return shortest(t.C()) + " °C"
}

// Text returns the step to 5 K or 10 °F, small ones to 1.
func (d TempDiff) Text(s System) string {
	v, step, name := float64(d), 5.0, " °C"
	if s == Imperial {
		v, step, name = d.F(), 10, " °F"
	}
	if math.Abs(v) < 4*step {
		step = 1
	}
	return strconv.FormatFloat(toStep(v, step), 'f', -1, 64) + name
}

// Exact returns the step with all the digits it needs to be read back.
func (d TempDiff) Exact(s System) string {
	if s == Imperial {
		return shortest(d.F()) + " °F"
	}
	return shortest(float64(d)) + " K"
}
