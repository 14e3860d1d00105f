package forging

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Draw is a length of bar to be drawn out.
type Draw struct {
	Steel  steel.Composition
	From   Section
	To     Section
	Length float64 // of From [m]
	Heat   Heat
	Hammer Hammer
}

// Effort is what drawing takes.
type Effort struct {
	Longer  float64   // length after over before
	Joules  float64   // work in the steel
	Blows   unit.Band // on the work
	Seconds unit.Band // a heat gives
	Heats   unit.Band
	Notes   []cite.Note
}

// Effort returns blows and heats for drawing out.
//
//	W = Q σ V ln(A₀/A₁)/(1 − S)
//
// The strain in height is more than that in section, because S of it goes into
// width and has to come back when the bar is turned. Blows land well seven times
// in ten (common practice). Band: a factor of 1.5.
//
// Source: own derivation from the balance of work.
func (d Draw) Effort() (Effort, error) {
	for _, s := range []Section{d.From, d.To} {
		if err := s.check(); err != nil {
			return Effort{}, err
		}
	}
	before, after := d.From.Area(), d.To.Area()
	if !(after < before) || !(d.Length > 0) {
		return Effort{}, fmt.Errorf("forging: drawing %.0f mm² to %.0f mm²: the section has to become smaller; for thicker, upset", 1e6*before, 1e6*after)
	}
	h := d.Hammer
	if !(h.Mass > 0 && h.Speed > 0 && h.Anvil > 0 && h.Face > 0 && h.Rate > 0) {
		return Effort{}, fmt.Errorf("forging: hammer %q needs mass, speed, rate, face and anvil above zero", h.Name)
	}
	side := math.Sqrt(math.Sqrt(before * after)) // of the bar halfway
	T := 0.5 * (d.Heat.From + d.Heat.To)
	heat := d.Heat
	heat.Blows = h.Rate
	mid := Section{side, side}
	seconds, err := heat.Seconds(d.Steel, mid)
	if err != nil {
		return Effort{}, err
	}
	strike, err := h.Strike(d.Steel, T, Bite{h.Face, side, side})
	if err != nil {
		return Effort{}, err
	}
	_, notes := Flow(d.Steel, T, strike.Strain, strike.Rate)
	sigma := meanOver(d.Steel, T, strike.Strain, strike.Rate)
	s := Spread(h.Face, side)
	e := Effort{Longer: before / after, Seconds: seconds, Notes: notes}
	e.Joules = Constraint(h.Face, side) * sigma * before * d.Length * math.Log(before/after) / (1 - s)
	blows := e.Joules / (h.Efficiency(Rebound(T)) * h.Energy() * well)
	e.Blows = unit.Band{Value: blows, Low: blows / 1.5, High: blows * 1.5}
	heats := func(blows, seconds float64) float64 { return math.Ceil(blows/(seconds*h.Rate) - 1e-9) }
	e.Heats = unit.Band{
		Value: heats(blows, seconds.Value), Low: heats(e.Blows.Low, seconds.High), High: heats(e.Blows.High, seconds.Low),
	}
	return e, nil
}

// Accuracy returns what this package claims for itself.
func Accuracy() []cite.Accuracy {
	return []cite.Accuracy{
		{Model: "forging.flow", Quantity: "flow stress of hot steel", Half: 1.15, Factor: true, Covers: "C 0.07–1.2 %, 700–1200 °C, 0.1–100 /s, strain to 0.7", HeldTo: "two published relations agree within 11 % at 0.8–1.0 % C", Source: "shida-1969"},
		{Model: "forging.blows", Quantity: "number of blows", Half: 1.5, Factor: true, Covers: "drawing square bar", HeldTo: "a ruler test of blows on a bar of 25 mm: order of magnitude", Source: "own-derivation"},
		{Model: "forging.seconds", Quantity: "working seconds of a heat", Half: 1.25, Factor: true, Covers: "bars of 3 to 40 mm, on the anvil", HeldTo: "lumped cooling in air within 5 % of independent figures; contact from memory", Source: "own-derivation"},
	}
}
