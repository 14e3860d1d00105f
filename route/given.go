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
	text() string
	si() (float64, bool) // false where the kind has no single number to hold against limits
	want() (what, example string)
}

func (g *Given[T]) clear() { *g = Given[T]{} }

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
		*v, err = unit.ParseLength(text)
	case *unit.Duration:
		*v, err = unit.ParseDuration(text)
	case *unit.Volume:
		*v, err = unit.ParseVolume(text)
	case *unit.Mass:
		*v, err = unit.ParseMass(text)
	case *unit.HardnessBand:
		*v, err = unit.ParseHardness(text)
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
