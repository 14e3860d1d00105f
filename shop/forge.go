package shop

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/medium"
)

// ForgeKind is a class of fire.
type ForgeKind string

// The fires that are known.
const (
	GasForge     ForgeKind = "gas forge"
	Muffle       ForgeKind = "muffle" // a tube or pipe heated from outside
	CokeHearth   ForgeKind = "coke hearth"
	CharcoalFire ForgeKind = "charcoal fire"
)

// Flame is how the burner is set.
type Flame string

// The flames. Nobody hears the difference between neutral and a little rich: not
// known counts as rich where carbon monoxide is concerned.
const (
	LeanFlame    Flame = "lean"
	NeutralFlame Flame = "neutral"
	RichFlame    Flame = "rich"
)

// Fuel of a gas forge.
type Fuel string

// The fuels.
const (
	Propane    Fuel = "propane"
	NaturalGas Fuel = "natural gas"
)

// Layer is one layer of a lining, from the fire outward.
type Layer struct {
	Material  string  // a name of [LiningNames]
	Thickness float64 // [m]
}

// Forge is a fire.
type Forge struct {
	Name    string
	Kind    ForgeKind
	Fuel    Fuel
	Flame   Flame    // "" : not known
	Holds   Estimate // temperature at the place of the piece, at work [K]; not known: by kind
	Swing   Estimate // half of what it swings [K]
	Gas     Estimate // fuel burnt at work [kg/s]
	GasLow  Estimate // and turned down [kg/s]
	Length  Estimate // chamber [m]
	Width   Estimate
	Height  Estimate
	Opening Estimate // open area of the door and ends [m²]
	Through bool     // open at both ends: longer pieces pass through
	Lining  []Layer  // nil: 50 mm of fiber with a hard face
	Flow    Estimate // convection to the steel [W/m²K]; not known: 60 in a muffle or chamber, 120 in a direct flame
	OneSide float64  // how much more a side toward the burner gets, as a part of the convection
}

// places by kind: temperature at work and its band, swing, gas above wall [K], convection [W/m²K].
func (f *Forge) defaults() (holds, band, swing, above, flow float64) {
	switch f.Kind {
	case Muffle:
		return 820 + medium.CelsiusZero, 25, 12, 0, 20
	case CokeHearth, CharcoalFire:
		return 1200 + medium.CelsiusZero, 100, 60, 100, 100
	}
	return 1180 + medium.CelsiusZero, 60, 20, 150, 60
}

// HoldsBand returns the working temperature with its band [K].
func (f *Forge) HoldsBand() (value, low, high float64) {
	holds, band, _, _, _ := f.defaults()
	b := f.Holds.Or(holds, band)
	return b.Value, b.Low, b.High
}

// Fire is a forge at work.
type Fire struct {
	Forge
	T     float64 // inner wall [K]
	set   float64 // held at the place of the piece [K]
	room  float64
	law   medium.Enclosure
	out   *medium.Air
	piece Piece
	mass  float64 // of the hot face of the lining [J/K]
}

func newFire(f Forge, room float64) *Fire {
	holds, _, _ := f.HoldsBand()
	l, w, h := f.Length.Or(0.4, 0.1).Value, f.Width.Or(0.18, 0.04).Value, f.Height.Or(0.15, 0.04).Value
	area := 2 * (l*w + l*h + w*h)
	return &Fire{Forge: f, T: holds, set: holds, room: room, mass: area * 12000}
}

// Name implements [Equipment].
func (f *Fire) Name() string { return f.Forge.Name }

// Set implements [Adjustable]: the temperature held at the place of the piece, with the fire settled there.
func (f *Fire) Set(T float64) error {
	if T > 1400+medium.CelsiusZero || T < 300+medium.CelsiusZero {
		return Problem{Where: "forge " + f.Forge.Name, What: "temperature", Value: T, Unit: "K", Low: 573, High: 1673,
			Remedy: "give what the piece sees at its place, for example 820 °C for hardening or 1150 °C for forging"}
	}
	f.set, f.T = T, T
	return nil
}

// Law implements [Equipment].
func (f *Fire) Law(p *Piece, _ float64) medium.Law {
	_, _, _, above, flow := f.defaults()
	f.law = medium.Enclosure{
		Wall: f.T, Gas: f.T + above*math.Min(1, f.T/1450), H: f.Flow.Or(flow, 0.3*flow).Value,
		Asymmetry: f.OneSide, Toward: [3]float64{0, 0, 1},
	}
	if f.OneSide > 0 {
		f.law.Hot, f.law.HotView = f.T+above, 0.1
	}
	return &f.law
}

// Atmosphere implements [Equipment].
func (f *Fire) Atmosphere() medium.Atmosphere {
	switch {
	case f.Kind == Muffle:
		return medium.MuffleAir
	case f.Flame == LeanFlame:
		return medium.Lean
	case f.Flame == RichFlame:
		return medium.Rich
	}
	return medium.Neutral
}

// Advance implements [Equipment].
func (f *Fire) Advance(dt, joules float64) {
	f.T += joules / f.mass
	f.T = f.set + (f.T-f.set)*math.Exp(-dt/120)
}

// Temperature implements [Equipment].
func (f *Fire) Temperature() float64 { return f.T }

// Save implements [Equipment].
func (f *Fire) Save(dst []float64) []float64 { return append(dst, f.T, f.set) }

// Restore implements [Equipment].
func (f *Fire) Restore(src []float64) []float64 { f.T, f.set = src[0], src[1]; return src[2:] }

// Clone implements [Equipment].
func (f *Fire) Clone() Equipment { c := *f; return &c }

func celsius(T float64) string { return fmt.Sprintf("%.0f °C", T-medium.CelsiusZero) }
