package forging

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Session is the forging of one piece from a bar.
type Session struct {
	Steel  steel.Composition
	Forged *shape.Solid // as it leaves the anvil, before soft work and grinding
	Bar    Section
	Heat   Heat
	Hammer Hammer
	Soak   float64 // in the fire for each heat [s]; 0: a minute, and one for each 3.5 mm of the bar (common practice)
	Fire   float64 // scale against a lean fire: 1 lean, 0.4 rich; 0: 0.7
	Crop   float64 // part of the volume cut off and thrown away
}

// Plan is what a session takes.
type Plan struct {
	Volume  float64   // of the forged shape [m³]
	Loss    float64   // by scale and crop, as a part of it
	Cut     float64   // length of bar [m]
	Heats   unit.Band // with one for straightening
	Blows   unit.Band
	Seconds unit.Band // of work in one heat
	Minutes unit.Band // at the fire and anvil in all, the fire hot
	Notes   []cite.Note
}

// Plan lays out a session: the work along the piece, the heats it takes, the scale
// those heats cost, and the bar that is left after them.
//
//	W = ∫ Q σ A ln(A₀/A)/(1 − S) dx
//
// Parts thicker than the bar have to be upset: an error when they are more than a
// twentieth thicker. Band: a factor of 1.5 on blows and heats.
//
// Source: own derivation from the balance of work and the constancy of volume.
func (s Session) Plan() (Plan, error) {
	if err := s.Bar.check(); err != nil {
		return Plan{}, err
	}
	h := s.Hammer
	if !(h.Mass > 0 && h.Speed > 0 && h.Anvil > 0 && h.Face > 0 && h.Rate > 0) {
		return Plan{}, fmt.Errorf("forging: hammer %q needs mass, speed, rate, face and anvil above zero", h.Name)
	}
	heat := s.Heat
	heat.Blows = h.Rate
	T := 0.5 * (heat.From + heat.To)
	bar, volume, length := s.Bar.Area(), s.Forged.Volume(), s.Forged.Length()

	const parts = 64
	work, thick := 0.0, 0.0
	sliced := 0.0
	for i := range parts {
		k := s.Forged.Section((float64(i) + 0.5) / parts)
		sliced += k.Area() * length / parts
		thick = math.Max(thick, k.Area())
	}
	if thick > 1.05*bar {
		return Plan{}, fmt.Errorf("forging: the piece has %.0f mm² at its thickest, the bar %.0f mm²: take a thicker bar, or upset that part first", 1e6*thick, 1e6*bar)
	}
	var flow Blow
	for i := range parts {
		k := s.Forged.Section((float64(i) + 0.5) / parts)
		a := math.Min(k.Area(), bar)
		if a <= 0 {
			continue
		}
		side := math.Sqrt(math.Sqrt(a * bar)) // of the bar halfway
		x, err := h.Strike(s.Steel, T, Bite{h.Face, side, side})
		if err != nil {
			return Plan{}, err
		}
		if i == parts/2 {
			flow = x
		}
		sigma := meanOver(s.Steel, T, x.Strain, x.Rate)
		work += Constraint(h.Face, side) * sigma * a * length / parts * math.Log(bar/a) / (1 - Spread(h.Face, side)) * volume / sliced
	}
	p := Plan{Volume: volume}
	_, p.Notes = Flow(s.Steel, T, flow.Strain, flow.Rate)
	mean := Section{Width: math.Sqrt(volume / length), Height: math.Sqrt(volume / length)}
	var err error
	if p.Seconds, err = heat.Seconds(s.Steel, mean); err != nil {
		return Plan{}, err
	}
	blows := work / (h.Efficiency(Rebound(T)) * h.Energy() * well)
	p.Blows = unit.Band{Value: blows, Low: blows / 1.5, High: blows * 1.5}
	heats := func(blows, seconds float64) float64 { return 1 + math.Ceil(blows/(seconds*h.Rate)-1e-9) }
	p.Heats = unit.Band{Value: heats(blows, p.Seconds.Value), Low: heats(p.Blows.Low, p.Seconds.High), High: heats(p.Blows.High, p.Seconds.Low)}

	soak, fire := s.Soak, s.Fire
	if soak == 0 {
		thin := s.Bar.Width
		if s.Bar.Height > 0 {
			thin = math.Min(thin, s.Bar.Height)
		}
		soak = 60 + 60*thin/0.0035
	}
	if fire == 0 {
		fire = 0.7
	}
	// Each heat takes its skin off the surface that the bar has halfway; it is hot
	// enough to scale for about half of its time in the fire.
	surface := s.Bar.Perimeter() * volume / bar
	if end := s.Forged.Surface(); end > 0 {
		surface = 0.5 * (surface + end)
	}
	p.Loss = p.Heats.Value*fire*ScaleLoss(heat.From-50, soak/2)*surface/volume + s.Crop
	if p.Loss > 0.6 {
		return Plan{}, fmt.Errorf("forging: %.0f heats would burn %.0f %% of the piece to scale: take a bar nearer to the shape, a heavier hammer or a rich fire", p.Heats.Value, 100*p.Loss)
	}
	if p.Cut, err = Stock(volume, p.Loss, bar); err != nil {
		return Plan{}, err
	}
	each := func(n, seconds float64) float64 { return n * (soak + seconds + 20) / 60 } // 20 s to and from the fire
	p.Minutes = unit.Band{Value: each(p.Heats.Value, p.Seconds.Value), Low: each(p.Heats.Low, p.Seconds.Low), High: each(p.Heats.High, p.Seconds.High)}
	return p, nil
}
