package observe

import (
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Magnet is a magnet held to the steel. When it lets go depends on the steel:
// LetsGo comes from whoever knows it; the zero band is that of steels with
// 0.45 % carbon and more on heating, 730 to 760 °C. In steels with less carbon it
// is 770 °C, and in steels with much chromium it says nothing about hardening.
type Magnet struct {
	Holds  bool
	LetsGo unit.Band // [K]
}

// AtTemperature implements [Temperature].
func (m Magnet) AtTemperature(T float64) float64 {
	b := m.LetsGo
	if b == (unit.Band{}) {
		b = unit.Band{Value: 745 + kelvin, Low: 730 + kelvin, High: 760 + kelvin}
	}
	half := b.High - b.Value
	if T < b.Value {
		half = b.Value - b.Low
	}
	off := above(T, b.Value, max(half, 1))
	if m.Holds {
		return fallible(1 - off)
	}
	return fallible(off)
}

// Glow is a word for the color of hot steel. A nil Light is one that nobody told of.
type Glow struct {
	Word    color.Heat
	Light   *color.Light
	Glasses *color.Glasses
}

// AtTemperature implements [Temperature].
func (g Glow) AtTemperature(T float64) float64 {
	glasses := color.NoGlasses
	if g.Glasses != nil {
		glasses = *g.Glasses
	}
	if g.Light != nil {
		return fallible(wordIn(color.NewEye(*g.Light, glasses), g.Word, T))
	}
	lights := []color.Light{color.Dark, color.Dim, color.Shade}
	p := 0.0
	for _, l := range lights {
		p += wordIn(color.NewEye(l, glasses), g.Word, T) / float64(len(lights))
	}
	return fallible(p)
}

// wordIn returns how likely people in this light are to use the word for steel at T.
func wordIn(e *color.Eye, w color.Heat, T float64) float64 {
	low, high, ok := e.Ends(w)
	switch {
	case !ok:
		return 0
	case w == color.NoGlow:
		return above(-T, -high, color.People)
	case w == color.White:
		return above(T, low, color.People)
	}
	return within(T, low, high, color.People)
}

// Shadow is the dark band seen crossing the piece while it heats: steel changing
// inside and taking up heat. At is where this steel does so [K]; zero: 725 to 750 °C.
type Shadow struct {
	Passed bool // it has gone over and the color is even again
	At     unit.Band
}

// AtTemperature implements [Temperature].
func (s Shadow) AtTemperature(T float64) float64 {
	b := s.At
	if b == (unit.Band{}) {
		b = unit.Band{Value: 737 + kelvin, Low: 725 + kelvin, High: 752 + kelvin}
	}
	if s.Passed {
		return fallible(above(T, b.Value, (b.High-b.Low)/2))
	}
	return fallible(bell(T, b))
}

// TemperColor is the word for the film on clean steel after Seconds at its
// highest heat. It tells that temperature, not what the steel has now.
type TemperColor struct {
	Word    color.Temper
	Steel   steel.Composition
	Seconds float64
	Greasy  bool // oil, fingers, quench oil burnt on: films grow unevenly
}

// What a temper color is good for: people and polish differ by 12 K from straw to
// blue, and more at the pale end, as the published tables do; grease doubles it.
const (
	temperHalf = 12.0
	temperPale = 22.0
)

// AtTemperature implements [Temperature].
func (c TemperColor) AtTemperature(T float64) float64 { return c.Read().AtTemperature(T) }

// TemperRange is what a temper color says of the temperature [K].
type TemperRange struct {
	unit.Band         // middle and ends of the word
	Half      float64 // how far people and polish differ at either end
}

// AtTemperature implements [Temperature].
func (r TemperRange) AtTemperature(T float64) float64 {
	return fallible(within(T, r.Low, r.High, r.Half))
}

// Read works out the temperatures at which the film reaches the word in the time.
func (c TemperColor) Read() TemperRange {
	film := c.Word.Film()
	at := func(nm float64) float64 { return skin.FilmTemperature(c.Steel, nm, c.Seconds) }
	r := TemperRange{Band: unit.Band{Value: at(film.Value), Low: at(film.Low), High: at(film.High)}, Half: temperHalf}
	if c.Word <= color.FaintStraw || c.Word >= color.PaleBlue {
		r.Half = temperPale
	}
	if c.Greasy {
		r.Half *= 2
	}
	return r
}

// HandWarm is a piece that can just be held: 50 °C, within 10 (common practice).
type HandWarm struct{}

// AtTemperature implements [Temperature].
func (HandWarm) AtTemperature(T float64) float64 {
	return fallible(bell(T, unit.Band{Value: 50 + kelvin, Low: 40 + kelvin, High: 60 + kelvin}))
}

// Thermometer is a reading with what its maker or a check says of its error.
type Thermometer struct {
	Reading float64 // [K]
	Half    float64 // half width from the 10th to the 90th percentile [K]; 0: 5
}

// AtTemperature implements [Temperature].
func (r Thermometer) AtTemperature(T float64) float64 {
	half := r.Half
	if half <= 0 {
		half = 5
	}
	return fallible(bell(T, unit.PlusMinus(r.Reading, half)))
}
