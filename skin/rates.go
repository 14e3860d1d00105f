package skin

import (
	"math"
	"reflect"
	"sync"

	"github.com/heatwright/heatwright/steel"
)

const (
	gasConstant = 8.314  // [J/mol K]
	kelvin      = 273.15 // 0 °C [K]
	firstT      = 300    // rate tables begin here [K]
	lastT       = 1750   // and end here; hotter is taken as this [K]
	tooCold     = 350    // nothing grows below [K]
	hot         = 900    // carbon does not leave below [K]
)

// rates holds what the surface of one steel does per second, tabulated every
// kelvin so that no step takes an exponential. Linear interpolation errs by less
// than 0.2 % of a rate.
type rates struct {
	comp   steel.Composition
	carbon float64   // of the bar [wt %]
	film   []float64 // k4, fourth-power law of temper films [m⁴/s]
	scale  []float64 // kp, parabolic law of scale thickness [m²/s]
	diff   []float64 // carbon in austenite at half of what is dissolved of the bar's [m²/s]
	full   []float64 // carbon of austenite beside carbide [wt %]
	ae1    float64   // austenite begins [K]
}

// known keeps the rates of the last steels: whoever types at a job comes back to
// the same ones, and every march asks twice. Rates are not changed by use.
var known = struct {
	sync.Mutex
	rates map[knownKey]*rates
}{rates: map[knownKey]*rates{}}

type knownKey struct {
	comp   steel.Composition
	limits Limits // by identity
}

// mostKnown are kept; beyond it all are forgotten.
const mostKnown = 64

// ratesOf returns the rates of a steel.
func ratesOf(comp steel.Composition, limits Limits) *rates {
	if limits != nil && reflect.TypeOf(limits).Kind() != reflect.Pointer {
		return newRates(comp, limits)
	}
	known.Lock()
	defer known.Unlock()
	key := knownKey{comp, limits}
	r := known.rates[key]
	if r == nil {
		if len(known.rates) >= mostKnown {
			clear(known.rates)
		}
		r = newRates(comp, limits)
		known.rates[key] = r
	}
	return r
}

func newRates(comp steel.Composition, limits Limits) *rates {
	n := lastT - firstT + 1
	r := &rates{comp: comp, carbon: comp[steel.C], film: make([]float64, n), scale: make([]float64, n), diff: make([]float64, n), full: make([]float64, n), ae1: ae1(comp)}
	if limits != nil {
		start, end := limits.Ae1()
		r.ae1 = (start + end) / 2
	}
	for i := range n {
		T := float64(firstT + i)
		r.film[i] = filmRate(T - alloyShift(comp))
		r.scale[i] = scaleRate(T, comp)
		r.full[i] = carbideSide(comp, T)
		if limits != nil && T > hot {
			r.full[i] = limits.CarbideSide(T)
			if r.full[i] >= 0.999*r.carbon {
				r.full[i] = max(r.full[i], carbideSide(comp, T)) // all is dissolved; what more there is room for
			}
		}
		r.diff[i] = agren(T, min(r.carbon, r.full[i])/2)
	}
	return r
}

// at interpolates a rate table.
func at(table []float64, T float64) float64 {
	x := T - firstT
	if x <= 0 {
		return table[0]
	}
	i := int(x)
	if i >= len(table)-1 {
		return table[len(table)-1]
	}
	f := x - float64(i)
	return table[i] + f*(table[i+1]-table[i])
}

// Fitted by skin/fit to the temper colors that five published tables name for a
// few minutes of heat: 16.5 nm after 300 s at 503.15 K, growing as the fourth
// root of time. The exponent is weakly held: it makes a color of five minutes
// come after an hour some 35 K lower, and steel kept for hours at 205 °C go on to
// brown and purple, as two published texts say.
const (
	filmNm     = 16.5   // [nm]
	filmTime   = 300.0  // [s]
	filmAt     = 503.15 // [K]
	filmEnergy = 137500 // [J/mol], four times that of the thickness
)

// filmRate returns k4 of dx/dt = k4/(4x³) for a clean surface of plain steel in
// air at T [K], in m⁴/s: growth between logarithmic and parabolic, as oxide
// films on iron between 25 and 400 °C show (gulbransen-1942).
func filmRate(T float64) float64 {
	x := filmNm * 1e-9
	return x * x * x * x / filmTime * math.Exp(-filmEnergy/gasConstant*(1/T-1/filmAt))
}

// alloyShift returns by how many kelvin the films of this steel lag behind those
// of plain carbon steel: 8 K per % Cr and 6 K per % Si, 150 K at most (from
// memory: stainless steels color some 100 to 150 K later).
func alloyShift(c steel.Composition) float64 { return min(150, 8*c[steel.Cr]+6*c[steel.Si]) }

// Oxygen taken up per area W [g/cm²] and what it makes: scale of 22.8 % oxygen
// and 5.7 g/cm³, from 3.35 g of iron of 7.87 g/cm³.
const (
	scalePerOxygen = 1 / (0.228 * 5.7) // thickness of scale [cm] per W
	metalPerOxygen = 3.35 / 7.87       // metal lost [cm] per W
	metalPerScale  = metalPerOxygen / scalePerOxygen
)

// Paidassi returns k_p [g² cm⁻⁴ s⁻¹] of pure iron in air or oxygen at T [K],
//
//	k_p = 6.1 exp(−169452/RT), 700 to 1250 °C
//
// so that the oxygen taken up is W = √(k_p t). Two independent determinations
// differ by 15 % at 1000 °C.
//
// Source: paidassi-1958 by way of chen-2003 (from memory).
func Paidassi(T float64) float64 { return 6.1 * math.Exp(-169452/(gasConstant*T)) }

// scaleRate returns kp of dx/dt = kp/(2x) for scale of this steel [m²/s]. Above
// 620 °C it is Paidassi's iron times the factor of the steel; below 540 °C, where
// scale holds no wüstite, 8 nm²/s at 673 K, which joins the films of tempering
// (the same activation energy, about a third of the rate).
func scaleRate(T float64, c steel.Composition) float64 {
	high := Paidassi(T) * scalePerOxygen * scalePerOxygen * 1e-4 * scaleFactor(c)
	Tc := T - alloyShift(c)
	low := 8e-18 * math.Exp(-170000/gasConstant*(1/Tc-1/673.15))
	if low > high {
		low = high
	}
	f := smooth((T - (540 + kelvin)) / 80)
	return math.Exp((1-f)*math.Log(low) + f*math.Log(high))
}

// scaleFactor returns how much slower than iron a steel scales, as a factor on
// k_p: 0.65 for plain steels (0.5 to 0.8), and by silicon and chromium down to a
// third of that (from memory; the factor of a spring or bearing steel is 0.3 to 0.6).
func scaleFactor(c steel.Composition) float64 {
	return 0.65 / (1 + 0.8*max(0, c[steel.Si]-0.3) + 0.4*max(0, c[steel.Cr]-0.3))
}

func smooth(x float64) float64 {
	x = min(1, max(0, x))
	return x * x * (3 - 2*x)
}

// agren returns the diffusivity of carbon in austenite [m²/s] at T [K] and
// carbon c [wt %], 700 to 1250 °C and 0 to 2 %:
//
//	D = 4.53e-7 [1 + y(1−y)·8339.9/T] exp[−(1/T − 2.221e-4)(17767 − 26436y)], y = x/(1−x)
//
// with x the mole fraction. Three published formulas agree within 15 %.
//
// Source: agren-1986 (from memory).
func agren(T, c float64) float64 {
	x := c / 12.011 / (c/12.011 + (100-c)/55.845)
	y := x / (1 - x)
	return 4.53e-7 * (1 + y*(1-y)*8339.9/T) * math.Exp(-(1/T-2.221e-4)*(17767-26436*y))
}

// carbideSide returns the carbon that austenite holds beside carbide [wt %]:
//
//	24 exp(−3453/T), through 0.76 % at 727 and 2.11 % at 1148 °C (within 0.05 %)
//
// less 0.12 % per % Cr (from memory, 0.10 to 0.15), not under 0.35 %.
func carbideSide(c steel.Composition, T float64) float64 {
	return max(0.35, 24*math.Exp(-3453/T)-0.12*c[steel.Cr])
}

// ae1 returns where austenite begins [K]: the eutectoid of iron and carbon moved
// by the alloy terms of andrews-1965.
func ae1(c steel.Composition) float64 {
	return 727 + kelvin - 10.7*c[steel.Mn] - 16.9*c[steel.Ni] + 29.1*min(c[steel.Si], 2) + 16.9*min(c[steel.Cr], 4)
}
