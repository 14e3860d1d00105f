package shop

import "github.com/heatwright/heatwright/medium"

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
	Lit     Estimate // how long ago it was lit cold when the first piece goes in [s]; not known: hot through
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

// air returns the share of the air for complete burning that the flame is set to,
// with its band. Rich is 12 to 29 % too little air (3 to 8 % CO in the flue);
// a flame that nobody has measured may be any of the three.
func (f *Forge) air() (value, low, high float64) {
	switch f.Flame {
	case LeanFlame:
		return 1.12, 1.05, 1.25
	case NeutralFlame:
		return 1.0, 0.93, 1.05
	case RichFlame:
		return 0.82, 0.71, 0.88
	}
	return 0.97, 0.75, 1.12
}

// chamber returns the inner area of the lining and the open area [m²].
func (f *Forge) chamber() (lining, opening float64) {
	l, w, h := f.Length.Or(0.4, 0.1).Value, f.Width.Or(0.18, 0.04).Value, f.Height.Or(0.15, 0.04).Value
	opening = f.Opening.Or(0.3*w*h, 0.1*w*h).Value
	if f.Through && !f.Opening.Known {
		opening *= 2
	}
	return 2*(l*w+l*h+w*h) - opening, opening
}

func (f *Forge) lining() []Layer {
	if len(f.Lining) > 0 {
		return f.Lining
	}
	return []Layer{{"hard face", 0.006}, {"fiber", 0.050}}
}
