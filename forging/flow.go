// Package forging is the mechanics of hot work with hammer, power hammer and
// press: how hard hot steel is, what a blow does, how a bite spreads and
// lengthens, how much stock a finished shape needs and how bars are cut, and how
// many seconds a heat gives. It moves no temperature field and knows no grain:
// a pass of a real piece is marched by other packages.
//
// SI throughout. All results are estimates for planning a forging session: ±15 %
// on flow stress, a factor of 1.5 on the number of blows.
package forging

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

const (
	kelvin   = 273.15
	kgfPerMM = 9.80665e6 // one kgf/mm² [Pa]
)

// Shida returns the flow stress [Pa] of plain carbon steel with C wt % of carbon
// at T [K], true strain eps and strain rate r [1/s].
//
//	t = T/1000,  t_d = 0.95 (C + 0.41)/(C + 0.32)
//	σ = 9.807 σ_f f (r/10)^m MPa,  f = 1.3 (ε/0.2)^n − 0.3 (ε/0.2),  n = 0.41 − 0.07 C
//	t ≥ t_d: σ_f = 0.28 exp(5/t − 0.01/(C + 0.05)),  m = (−0.019 C + 0.126) t + 0.075 C − 0.05
//	t < t_d: σ_f = 0.28 q exp(5/t_d − 0.01/(C + 0.05)),
//	         q = 30 (C + 0.9) (t − 0.95 (C + 0.49)/(C + 0.42))² + (C + 0.06)/(C + 0.09),
//	         m = (0.081 C − 0.154) t − 0.019 C + 0.207 + 0.027/(C + 0.32)
//
// C 0.07–1.2, 700–1200 °C, ε ≤ 0.7, 0.1–100 /s. One rate factor. It agrees with
// [Misaka] within 11 % for 0.8 to 1.0 % C.
//
// Source: shida-1969 (from memory).
func Shida(C, T, eps, r float64) float64 {
	t := T / 1000
	td := 0.95 * (C + 0.41) / (C + 0.32)
	x := max(eps, 1e-4) / 0.2
	f := 1.3*math.Pow(x, 0.41-0.07*C) - 0.3*x
	sf, m := shidaBase(C, t, td)
	return kgfPerMM * sf * f * math.Pow(r/10, m)
}

func shidaBase(C, t, td float64) (sf, m float64) {
	if t >= td {
		return 0.28 * math.Exp(5/t-0.01/(C+0.05)), (-0.019*C+0.126)*t + 0.075*C - 0.05
	}
	d := t - 0.95*(C+0.49)/(C+0.42)
	q := 30*(C+0.9)*d*d + (C+0.06)/(C+0.09)
	return 0.28 * q * math.Exp(5/td-0.01/(C+0.05)), (0.081*C-0.154)*t - 0.019*C + 0.207 + 0.027/(C+0.32)
}

// Misaka returns the flow stress [Pa] by a second published relation.
//
//	σ = 9.807 exp(0.126 − 1.75 C + 0.594 C² + (2851 + 2968 C − 1120 C²)/T) ε^0.21 r^0.13 MPa
//
// 750–1200 °C. Source: misaka-1967 (from memory).
func Misaka(C, T, eps, r float64) float64 {
	return kgfPerMM * math.Exp(0.126-1.75*C+0.594*C*C+(2851+2968*C-1120*C*C)/T) * math.Pow(max(eps, 1e-4), 0.21) * math.Pow(r, 0.13)
}

// Stiffness returns how much harder alloy makes hot steel than carbon alone.
//
//	1 + 0.05 Cr + 0.1 Mo + 0.1 V + 0.03 (Mn − 0.5)
//
// Own line through the multipliers of the trade: 1.0 for plain steel, 1.15 for
// chromium spring and oil-hardening tool steel, 1.4 for 5 % chromium, 1.6–1.8 for
// 12 % chromium (from memory, ±10 %).
func Stiffness(c steel.Composition) float64 {
	return 1 + 0.05*c[steel.Cr] + 0.1*c[steel.Mo] + 0.1*c[steel.V] + 0.03*max(c[steel.Mn]-0.5, 0)
}

// Flow returns the flow stress [Pa] of a steel with its band, and notes where the
// relations are used outside their range.
func Flow(c steel.Composition, T, eps, r float64) (unit.Band, []cite.Note) {
	var notes []cite.Note
	C := c[steel.C]
	if C < 0.07 || C > 1.2 || T < 700+kelvin || T > 1200+kelvin || r > 100 || r < 0.1 || eps > 0.7 {
		notes = append(notes, cite.Note{Code: "forging.flow-outside-range", Source: "shida-1969", Args: []cite.Quantity{
			cite.Num("carbon", C, "wt%"), cite.Num("temperature", T, "K"), cite.Num("rate", r, "1/s"), cite.Num("strain", eps, "1"),
		}})
	}
	s := Stiffness(c) * Shida(min(max(C, 0.07), 1.2), min(max(T, 700+kelvin), 1250+kelvin), min(eps, 0.7), min(max(r, 0.1), 500))
	half := 0.15
	if len(notes) > 0 {
		half = 0.25
	}
	return unit.Band{Value: s, Low: s * (1 - half), High: s * (1 + half)}, notes
}

// meanOver returns the mean flow stress over a blow that goes from strain 0 to eps.
//
//	1/ε ∫ f dε = 1.3 x^n/(n + 1) − 0.15 x,  x = ε/0.2
func meanOver(c steel.Composition, T, eps, r float64) float64 {
	C := min(max(c[steel.C], 0.07), 1.2)
	s, _ := Flow(c, T, 0.2, r)
	x := min(max(eps, 1e-4), 0.7) / 0.2
	n := 0.41 - 0.07*C
	return s.Value * (1.3*math.Pow(x, n)/(n+1) - 0.15*x)
}
