package route

import (
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/unit"
)

// quantity is what the walkers need of a Given of any kind.
type quantity interface {
	set(text string) error
	clear()
	keep(text string) // right or wrong, without a value
	text() string
	si() (float64, bool) // false where the kind has no single number to hold against limits
	want() (what, example string)
}

func (g *Given[T]) clear() { *g = Given[T]{} }

func (g *Given[T]) keep(text string) { *g = Given[T]{Text: text} }

func (g *Given[T]) text() string { return g.Text }

func (g *Given[T]) si() (float64, bool) {
	switch v := any(g.Value).(type) {
	case unit.Temp:
		return float64(v), true
	case unit.TempDiff:
		return float64(v), true
	case unit.Length:
		return float64(v), true
	case unit.Duration:
		return float64(v), true
	case unit.Volume:
		return float64(v), true
	case unit.Mass:
		return float64(v), true
	case unit.GasRate:
		return float64(v), true
	case unit.Angle:
		return float64(v), true
	case Speed:
		return float64(v), true
	case Flow:
		return float64(v), true
	case Share:
		return float64(v), true
	case Power:
		return float64(v), true
	case Climb:
		return float64(v), true
	}
	return 0, false
}

// want names the kind of quantity and gives an example of it.
func (g *Given[T]) want() (what, example string) {
	switch any(g.Value).(type) {
	case unit.Temp:
		return "temperature", "1475 F"
	case unit.TempDiff:
		return "temperature step", "15 K"
	case unit.Length:
		return "length", "1/8 in"
	case unit.Duration:
		return "time", "10 min"
	case unit.Volume:
		return "volume", "20 L"
	case unit.Mass:
		return "mass", "6 kg"
	case unit.HardnessBand:
		return "hardness", "58-60 HRC"
	case unit.GasRate:
		return "gas rate", "1.4 kg/h"
	case unit.Angle:
		return "angle", "30 deg"
	case Speed:
		return "speed of air", "3 m/s"
	case Flow:
		return "flow of air", "1800 m3/h"
	case Share:
		return "share", "8 %"
	case Power:
		return "power", "3.6 kW"
	case Climb:
		return "rate of temperature", "100 K/h"
	}
	panic("route: no such kind of quantity")
}

func (g *Given[T]) set(text string) error {
	var err error
	switch v := any(&g.Value).(type) {
	case *unit.Temp:
		*v, err = unit.ParseTemp(text)
	case *unit.TempDiff:
		*v, err = unit.ParseTempDiff(text)
	case *unit.Length:
		*v, err = unit.ParseLength(strings.TrimLeft(text, "Øø⌀ "))
	case *unit.Duration:
		*v, err = unit.ParseDuration(text)
	case *unit.Volume:
		*v, err = unit.ParseVolume(text)
	case *unit.Mass:
		*v, err = unit.ParseMass(text)
	case *unit.HardnessBand:
		*v, err = unit.ParseHardness(text)
	case *unit.Angle:
		*v, err = unit.ParseAngle(text)
	case *unit.GasRate:
		*v, err = unit.ParseGasRate(text)
	case *Speed:
		var x float64
		x, err = scaled(text, "a speed of air", speeds)
		*v = Speed(x)
	case *Flow:
		var x float64
		x, err = scaled(text, "a flow of air", flows)
		*v = Flow(x)
	case *Share:
		var x float64
		x, err = scaled(text, "a share", shares)
		*v = Share(x)
	case *Power:
		var x float64
		x, err = scaled(text, "a power", powers)
		*v = Power(x)
	case *Climb:
		var x float64
		x, err = scaled(text, "a rate of temperature", climbs)
		*v = Climb(x)
	default:
		panic("route: no such kind of quantity")
	}
	g.Text = text
	return err
}

// bareNumber reports whether a text is a number without a unit.
func bareNumber(text string) bool {
	_, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return err == nil
}

// Speed is a speed of air [m/s].
type Speed float64

// Flow is a flow of air [m³/s].
type Flow float64

// Share is a part of a whole [–].
type Share float64

// Power is a power [W].
type Power float64

// Climb is a rise or fall of temperature [K/s].
type Climb float64

var (
	shares = map[string]float64{"%": 0.01, "percent": 0.01}
	powers = map[string]float64{"kW": 1000, "W": 1, "BTU/h": 0.29307107, "Btu/h": 0.29307107}
	climbs = map[string]float64{
		"K/h": 1. / 3600, "C/h": 1. / 3600, "°C/h": 1. / 3600, "F/h": 5. / 9 / 3600, "°F/h": 5. / 9 / 3600,
		"K/min": 1. / 60, "C/min": 1. / 60, "°C/min": 1. / 60, "F/min": 5. / 9 / 60, "°F/min": 5. / 9 / 60,
	}
	speeds = map[string]float64{"mm/s": 0.001, "in/s": 0.0254, "m/s": 1, "km/h": 1 / 3.6, "mph": 0.44704, "ft/s": 0.3048, "ft/min": 0.00508, "fpm": 0.00508}
	flows  = map[string]float64{"m3/h": 1. / 3600, "m³/h": 1. / 3600, "m3/s": 1, "m³/s": 1, "L/s": 0.001, "l/s": 0.001, "cfm": 0.0004719474, "ft3/min": 0.0004719474}
)

// scaled reads a number with one of the units.
func scaled(text, want string, units map[string]float64) (float64, error) {
	t := strings.TrimSpace(text)
	for name, factor := range units {
		number, ok := strings.CutSuffix(t, name)
		if !ok {
			continue
		}
		if x, err := strconv.ParseFloat(strings.TrimSpace(number), 64); err == nil {
			return x * factor, nil
		}
	}
	return 0, &unit.Error{Text: text, Want: want, Why: "its number or unit cannot be read"}
}
