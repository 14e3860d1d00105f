package forging

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Pass is any change of a body under the hammer.
type Pass struct {
	Steel  steel.Composition
	Change *shape.Change
	Heat   Heat
	Hammer Hammer
}

// Effort returns what a pass takes:
//
//	W = ∫ Q σ ε/(1 − S) dV
//
// with ε the equivalent strain of each cross-section from its width and mean
// thickness before to those after. For a square that stays one it is ln(A₀/A₁), as in [Draw]. Longer is
// of the whole body; Seconds are what a heat gives the body as it is halfway. Band: a factor of 1.5.
//
// Source: own derivation from the balance of work.
func (p Pass) Effort() (Effort, error) {
	h := p.Hammer
	if !(h.Mass > 0 && h.Speed > 0 && h.Anvil > 0 && h.Face > 0 && h.Rate > 0) {
		return Effort{}, fmt.Errorf("forging: hammer %q needs mass, speed, rate, face and anvil above zero", h.Name)
	}
	from, to := p.Change.From, p.Change.To
	T := 0.5 * (p.Heat.From + p.Heat.To)
	e := Effort{Longer: to.Length() / from.Length()}
	const parts = 64
	worked, side := 0.0, 0.0
	for i := range parts {
		u0, u1 := float64(i)/parts, float64(i+1)/parts
		u := (u0 + u1) / 2
		k, was := to.Section(u), from.Section(p.Change.U(u))
		x0, y0, z0 := to.At(u0, 0.5, 0)
		x1, y1, z1 := to.At(u1, 0.5, 0)
		volume := k.Area() * math.Sqrt((x1-x0)*(x1-x0)+(y1-y0)*(y1-y0)+(z1-z0)*(z1-z0))
		strain := p.Change.Strain(u)
		if strain < 0.005 || !(volume > 0) {
			continue
		}
		half := math.Sqrt(math.Sqrt(k.Area() * was.Area()))
		strike, err := h.Strike(p.Steel, T, Bite{h.Face, half, half})
		if err != nil {
			return Effort{}, err
		}
		if e.Joules == 0 {
			_, e.Notes = Flow(p.Steel, T, strike.Strain, strike.Rate)
		}
		sigma := meanOver(p.Steel, T, strike.Strain, strike.Rate)
		e.Joules += Constraint(h.Face, half) * sigma * strain / (1 - Spread(h.Face, half)) * volume
		worked += volume
		side += volume * half
	}
	if worked == 0 {
		return e, nil
	}
	heat := p.Heat
	heat.Blows = h.Rate
	side /= worked
	var err error
	if e.Seconds, err = heat.Seconds(p.Steel, Section{side, side}); err != nil {
		return Effort{}, err
	}
	blows := e.Joules / (h.Efficiency(Rebound(T)) * h.Energy() * well)
	e.Blows = unit.Band{Value: blows, Low: blows / 1.5, High: blows * 1.5}
	heats := func(blows, seconds float64) float64 { return math.Ceil(blows/(seconds*h.Rate) - 1e-9) }
	e.Heats = unit.Band{
		Value: heats(blows, e.Seconds.Value), Low: heats(e.Blows.Low, e.Seconds.High), High: heats(e.Blows.High, e.Seconds.Low),
	}
	return e, nil
}

// well is the share of blows that land as they should: common practice.
const well = 0.7
