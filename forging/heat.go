package forging

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Section is a bar while it is worked: a flat or square of Width × Height, or a
// round of diameter Width with Height 0.
type Section struct{ Width, Height float64 } // [m]

// Area returns the section [m²], Perimeter its rim [m].
func (s Section) Area() float64 {
	if s.Height == 0 {
		return math.Pi / 4 * s.Width * s.Width
	}
	return s.Width * s.Height
}

// Perimeter returns the rim of the section [m].
func (s Section) Perimeter() float64 {
	if s.Height == 0 {
		return math.Pi * s.Width
	}
	return 2 * (s.Width + s.Height)
}

func (s Section) check() error {
	if !(s.Width > 0) || s.Height < 0 || s.Width > 1 || s.Height > 1 {
		return fmt.Errorf("forging: a bar of %g × %g m: give a width and a height, or a diameter and no height", s.Width, s.Height)
	}
	return nil
}

// Heat is one heat at the anvil.
type Heat struct {
	From, To float64 // [K]
	Room     float64 // [K]; 0: 20 °C
	Eps      float64 // emissivity; 0: 0.8, scaled
	Blows    float64 // a second on the anvil; 0: it lies in air
	Anvil    float64 // temperature of anvil or dies [K]; 0: as the room
	Rest     float64 // part of the time that the bar lies on the anvil; 0 with blows: 0.5
}

// Conductance of a scaled bar on the anvil, resting and under a blow [W/m²K], and
// the time under pressure of one blow [s]. From memory, ±50 %.
const (
	restingH = 500.
	struckH  = 7000.
	struckT  = 0.005
)

// Seconds returns how long a bar may be worked: from the temperature out of the
// fire to the one where work has to stop, the bar as one lump.
//
// Good for bars whose core does not lag, up to about 40 mm. Band: ±15 % in air
// (emissivity), ±25 % on the anvil (its joint is from memory).
func (h Heat) Seconds(c steel.Composition, s Section) (unit.Band, error) {
	if err := s.check(); err != nil {
		return unit.Band{}, err
	}
	if h.Room == 0 {
		h.Room = 20 + kelvin
	}
	if !(h.From > h.To) || h.To < h.Room+100 || h.From > 1400+kelvin {
		return unit.Band{}, fmt.Errorf("forging: a heat from %.0f to %.0f °C: start above the end, between 150 and 1400 °C", h.From-kelvin, h.To-kelvin)
	}
	orientation, height := medium.Upright, s.Width
	if s.Height == 0 || s.Width < 3*s.Height {
		orientation, height = medium.Lying, max(s.Width, s.Height)*1.1
	}
	if s.Height == 0 {
		height = s.Width
	}
	air := medium.StillAir(h.Room, height, orientation)
	eps := h.Eps
	if eps == 0 {
		eps = 0.8
	}
	f := &medium.Faces{T: []float64{h.From}, Eps: []float64{eps}}
	q, dq := []float64{0}, []float64{0}
	props := steel.Properties(c)
	extra := h.onAnvil(s)
	anvil := h.Anvil
	if anvil == 0 {
		anvil = h.Room
	}
	seconds := 0.0
	for T := h.From; T > h.To; {
		f.T[0] = T
		air.Fill(q, dq, f)
		rate := (s.Perimeter()*q[0] + extra*(T-anvil)) / (s.Area() * props.Density(steel.Austenite, T) * props.HeatCapacity(steel.Austenite, T, c[steel.C]))
		dT := min(1.0, T-h.To)
		seconds += dT / rate
		T -= dT
		if T-h.To < 1e-9 {
			break
		}
	}
	half := 0.15
	if h.Blows > 0 {
		half = 0.25
	}
	return unit.Band{Value: seconds, Low: seconds * (1 - half), High: seconds * (1 + half)}, nil
}

// onAnvil returns what anvil and dies take for each kelvin and meter of bar [W/mK].
func (h Heat) onAnvil(s Section) float64 {
	if h.Blows <= 0 {
		return 0
	}
	rest := h.Rest
	if rest == 0 {
		rest = 0.5
	}
	touching := s.Width
	if s.Height == 0 {
		touching = 0.4 * s.Width // a round flattens a little
	}
	// Below: resting and struck. Above: the hammer, struck only. A bar is struck in one
	// place at a time, so the pressed parts are a quarter of its hot length.
	return touching * (restingH*rest + 0.25*2*struckH*struckT*h.Blows)
}
