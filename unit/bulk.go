package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Mass is a mass [kg].
type Mass float64

const pound = 0.45359237

var masses = &measure{
	want: "a mass",
	units: names(
		"kg kilogram kilograms kilo kilos", 1.0,
		"g gram grams gramme grammes", 1e-3, //nolint:misspell // European spelling is read too
		"lb lbs pound pounds", pound,
		"oz ounce ounces", pound/16,
		"t tonne tonnes", 1000.0,
	),
	low: 0, high: 1e5,
	limits:   "0 to 100 t",
	remedy:   `write it with its unit, as "1.1 kg" or "2-1/2 lb"`,
	about:    0.1,
	compound: true,
	tails:    tailSet("bottle hammer head ram cylinder tank"),
}

// ParseMass reads a mass: "1.1 kg", "2-1/2 lb", "2 lb 3 oz", "20-lb bottle".
func ParseMass(text string, def ...string) (Mass, error) {
	v, err := masses.value(text, def)
	return Mass(v), err
}

// Text returns the mass to two or three digits.
func (m Mass) Text(s System) string {
	kg := float64(m)
	switch {
	case s == Imperial && kg < pound:
		return figures(kg/pound*16, 2) + " oz"
	case s == Imperial:
		return figures(kg/pound, 3) + " lb"
	case kg < 0.9995:
		return figures(kg*1000, 3) + " g"
	}
	return figures(kg, 3) + " kg"
}

// Exact returns the mass with all the digits it needs to be read back.
func (m Mass) Exact(s System) string {
	if s == Imperial {
		return shortest(float64(m)/pound) + " lb"
	}
	return shortest(float64(m)) + " kg"
}

// Volume is a volume [m³].
type Volume float64

const (
	gallonUS = 3.785411784e-3
	gallonUK = 4.54609e-3
)

var volumes = &measure{
	want: "a volume",
	units: names(
		"l litre litres liter liters", 1e-3, //nolint:misspell // European spelling is read too
		"ml millilitre millilitres milliliter milliliters", 1e-6, //nolint:misspell // European spelling is read too
		"m³ m3 cubicmeters cubicmetres", 1.0,
		"cm³ cm3 cc", 1e-6,
		"gal gallon gallons galus gallonus gallonsus usgal usgallon usgallons usgals", gallonUS,
		"ukgal ukgallon ukgallons galuk gallonuk gallonsuk imperialgallon imperialgallons impgal", gallonUK,
		"qt quart quarts usqt usquart usquarts", gallonUS/4,
		"ukqt ukquart ukquarts quartsuk imperialquart imperialquarts", gallonUK/4,
		"pint pints uspint uspints", gallonUS/8,
		"ukpint ukpints imperialpint imperialpints", gallonUK/8,
		"cuft cubicfeet ft³", 0.028316846592,
	),
	low: 0, high: 1000,
	limits: "0 to 1000 m³",
	remedy: `write it with its unit, as "19 L", "5 gal" (US) or "5 UK gal"`,
	about:  0.1,
	tails:  tailSet("bucket tank drum pail can of oil water brine"),
}

// ParseVolume reads a volume: "19 L", "5-gal bucket", "2 quarts", "5 UK gal".
// A gallon or quart is the US one unless UK is said.
func ParseVolume(text string, def ...string) (Volume, error) {
	v, err := volumes.value(text, def)
	return Volume(v), err
}

// Liters returns the volume in liters.
func (v Volume) Liters() float64 { return float64(v) * 1000 }

// Text returns the volume to two digits, three above 100.
func (v Volume) Text(s System) string {
	if s == Imperial {
		return bulk(float64(v)/gallonUS) + " gal"
	}
	return bulk(v.Liters()) + " L"
}

// Exact returns the volume with all the digits it needs to be read back.
func (v Volume) Exact(s System) string {
	if s == Imperial {
		return shortest(float64(v)/gallonUS) + " gal"
	}
	return shortest(v.Liters()) + " L"
}

func bulk(v float64) string {
	if v >= 99.5 {
		return figures(v, 3)
	}
	return figures(v, 2)
}

// Pressure is a gauge pressure [Pa].
type Pressure float64

const psi = 6894.757293168

var pressures = &measure{
	want: "a pressure",
	units: names(
		"bar bars", 1e5, "mbar millibar millibars hpa", 100.0, "pa pascal", 1.0, "kpa", 1e3, "mpa", 1e6,
		"psi lb/in² lb/in2 lbs/in² psig", psi, "inwc iwc inh2o inwg", 249.08891,
	),
	low: 0, high: 1e9,
	limits: "0 to 10,000 bar",
	remedy: `write it with its unit, as "10 psi", "0.7 bar" or "50 mbar"`,
	about:  0.1,
}

// ParsePressure reads a pressure: "10 psi", "0.7 bar", "50 mbar", "11 in WC".
func ParsePressure(text string, def ...string) (Pressure, error) {
	v, err := pressures.value(text, def)
	return Pressure(v), err
}

// Text returns the pressure to two digits.
func (p Pressure) Text(s System) string {
	switch {
	case s == Imperial:
		return figures(float64(p)/psi, 2) + " psi"
	case p < 1e4:
		return figures(float64(p)/100, 2) + " mbar"
	}
	return figures(float64(p)/1e5, 2) + " bar"
}

// Exact returns the pressure with all the digits it needs to be read back.
func (p Pressure) Exact(s System) string {
	if s == Imperial {
		return shortest(float64(p)/psi) + " psi"
	}
	return shortest(float64(p)/1e5) + " bar"
}

// GasRate is the rate at which fuel is burned [kg/s].
type GasRate float64

var gasRates = &measure{
	want:   "a rate of gas",
	units:  names("kg/h kg/hr kgperhour kgh", 1/3600., "lb/h lb/hr lbs/h lbs/hr lbperhour poundsperhour poundsanhour", pound/3600, "g/s", 1e-3, "g/min", 1e-3/60),
	low:    0,
	high:   1,
	limits: "0 to 3600 kg/h",
	remedy: `write it as "0.6 kg/h" or "1.3 lb/h"`,
	about:  0.1,
}

// ParseGasRate reads a rate of fuel: "0.6 kg/h", "1.3 lb/h".
func ParseGasRate(text string, def ...string) (GasRate, error) {
	v, err := gasRates.value(text, def)
	return GasRate(v), err
}

// Text returns the rate to two digits.
func (g GasRate) Text(s System) string {
	if s == Imperial {
		return figures(float64(g)*3600/pound, 2) + " lb/h"
	}
	return figures(float64(g)*3600, 2) + " kg/h"
}

// Exact returns the rate with all the digits it needs to be read back.
func (g GasRate) Exact(s System) string {
	if s == Imperial {
		return shortest(float64(g)*3600/pound) + " lb/h"
	}
	return shortest(float64(g)*3600) + " kg/h"
}

var carbons = &measure{
	want:   "a carbon content",
	units:  names("% percent pct wt% w%", 1.0, "points point pt pts", 0.01),
	low:    0,
	high:   100,
	limits: "0 to 100 %",
	remedy: `write it as "0.95 %" or "95 points"`,
	about:  0.05,
	tails:  tailSet("carbon c steel"),
}

// ParseCarbon reads a carbon content [wt %]: "0.95 %", "95 points", "95-point steel".
func ParseCarbon(text string, def ...string) (float64, error) {
	v, err := carbons.value(text, def)
	return math.Round(v*1e9) / 1e9, err // 95 points are 0.95, not 0.9500000000000001
}

// Grit is a grade of abrasive. P grades (FEPA) and plain numbers (CAMI) part
// ways above 220: P400 is coarser than 400.
type Grit struct {
	Number int
	P      bool
}

// ParseGrit reads "120 grit", "P400", "36-grit belt".
func ParseGrit(text string, def ...string) (Grit, error) {
	bad := func(why string) error {
		return &Error{Text: shown(text), Want: "a grit", Why: why, Limits: "8 to 10000", Remedy: `write it as "120 grit" or "P120"`}
	}
	tokens, why := scan(text)
	if why != "" {
		return Grit{}, bad(why)
	}
	r := &reader{tokens: tokens}
	p := r.word("p")
	t := r.peek(0)
	if t.kind != 'n' || !t.whole {
		return Grit{}, bad(whyNumber)
	}
	r.at++
	r.sign('-')
	word := r.word("grit")
	r.word("belt", "paper", "stone")
	switch {
	case !r.done():
		return Grit{}, bad(fmt.Sprintf("%q makes no sense there", r.peek(0).text))
	case t.value < 8 || t.value > 10000:
		return Grit{}, bad("it lies outside what is possible here")
	case !p && !word && len(def) == 0:
		return Grit{}, bad(whyNoUnit)
	}
	p = p || !word && len(def) > 0 && strings.EqualFold(def[0], "p")
	return Grit{int(t.value), p}, nil
}

// Text returns "P120" or "120 grit".
func (g Grit) Text(System) string {
	if g.P {
		return "P" + strconv.Itoa(g.Number)
	}
	return strconv.Itoa(g.Number) + " grit"
}
