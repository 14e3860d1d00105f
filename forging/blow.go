package forging

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Hammer is what gives the blow: a hand hammer, a sledge, a power hammer.
type Hammer struct {
	Name  string
	Mass  float64 // of the head or ram [kg]
	Speed float64 // at the work [m/s]
	Rate  float64 // blows a second while it works
	Face  float64 // length of bar under the face [m]
	Anvil float64 // mass under the work [kg]
	Loose bool    // anvil badly bedded: a tenth to a fifth is lost
}

// Hammers of common practice: speeds of hand hammers 7–10 m/s, of a self-contained
// power hammer 5 m/s (from memory of makers' plates).
var (
	HandHammer  = Hammer{Name: "hand hammer", Mass: 1.2, Speed: 8.5, Rate: 1.3, Face: 0.015, Anvil: 90} // a crowned face or the anvil's edge bites short
	Sledge      = Hammer{Name: "sledge", Mass: 3.6, Speed: 10, Rate: 0.5, Face: 0.045, Anvil: 120}
	PowerHammer = Hammer{Name: "power hammer, 25 kg", Mass: 25, Speed: 4.6, Rate: 3.7, Face: 0.045, Anvil: 300}
)

// Energy returns the energy of a blow [J], m v²/2.
func (h Hammer) Energy() float64 { return 0.5 * h.Mass * h.Speed * h.Speed }

// Efficiency returns the part of a blow that goes into the work.
//
//	η = (1 − e²) M/(M + m)
//
// e is the rebound, see [Rebound]. Source: own derivation from momentum and energy.
func (h Hammer) Efficiency(e float64) float64 {
	eta := (1 - e*e) * h.Anvil / (h.Anvil + h.Mass)
	if h.Loose {
		eta *= 0.85
	}
	return eta
}

// Rebound returns the coefficient of restitution of a blow on steel at T [K]: 0.1–0.2
// yellow hot, 0.3–0.5 at dull red (from memory).
func Rebound(T float64) float64 {
	s := min(max((1150+kelvin-T)/450, 0), 1)
	return 0.15 + 0.35*s
}

// Constraint returns the factor Q on the work of a flat bite of length b over
// height h: friction holds a thin bite.
//
// b/h ≤ 1: 1.1, 2: 1.3, 4: 1.7, 8: 2.5, which is 1 + μ b/(2h) with sticking
// friction (own derivation; values from memory).
func Constraint(b, h float64) float64 {
	r := b / h
	switch {
	case r <= 1:
		return 1.1
	case r <= 2:
		return 1.1 + 0.2*(r-1)
	}
	return 1.3 + 0.2*(r-2)
}

// Bite is the piece of bar under the face.
type Bite struct{ Length, Width, Height float64 } // [m]

// Blow is what one blow does.
type Blow struct {
	Strain float64 // ln(h/h')
	Height float64 // after it [m]
	Width  float64 // after it [m]
	Longer float64 // length after over before
	Warms  float64 // heating by the work [K]
	Rate   float64 // strain rate [1/s]
}

// Strike returns what one blow does to a bite of steel at T [K].
//
//	η E = Q σ b w h ln(h/h')
//
// σ is the mean over the blow. A strain of more than 0.35 (30 % in height) is cut
// off: no smith hits so hard that the bar folds.
//
// Source: own derivation from the balance of work.
func (h Hammer) Strike(c steel.Composition, T float64, b Bite) (Blow, error) {
	if !(b.Length > 0 && b.Width > 0 && b.Height > 0) {
		return Blow{}, fmt.Errorf("forging: a bite of %g × %g × %g m has no volume; give length, width and height", b.Length, b.Width, b.Height)
	}
	work := h.Efficiency(Rebound(T)) * h.Energy()
	volume := b.Length * b.Width * b.Height
	r := h.rate(b.Height)
	strain := 0.03
	for range 60 {
		next := work / (Constraint(b.Length, b.Height*math.Exp(-strain/2)) * meanOver(c, T, strain, r) * volume)
		next = min(next, 0.35)
		if math.Abs(next-strain) < 1e-9 {
			break
		}
		strain = 0.5 * (strain + next)
	}
	s := Spread(b.Length, b.Width)
	x := Blow{Strain: strain, Height: b.Height * math.Exp(-strain), Rate: r}
	x.Width = b.Width * math.Exp(s*strain)
	x.Longer = math.Exp((1 - s) * strain)
	x.Warms = Warming(meanOver(c, T, strain, r), strain)
	return x, nil
}

// rate returns the mean strain rate of a blow [1/s]: a hammer stopped by an even
// force has two thirds of its speed in the mean over its way.
func (h Hammer) rate(height float64) float64 { return 2. / 3 * h.Speed / height }

// Warming returns the heating of steel by plastic work [K]: 0.95 σ ε/(ρ c), with
// ρ c of hot steel 5.1 MJ/m³K.
//
// Source: own derivation; nearly all plastic work becomes heat (common practice).
func Warming(sigma, eps float64) float64 { return 0.95 * sigma * eps / 5.1e6 }
