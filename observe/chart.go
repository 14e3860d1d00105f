package observe

import (
	"math"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// TemperRow is one line of a smith's chart of temper colors.
type TemperRow struct {
	Word   color.Temper
	Screen color.RGB
	T      unit.Band // [K]: middle of the word, and its ends with what people differ by
}

// TemperChart returns the temper colors of clean steel after so many seconds at
// one temperature, from faint straw to grey.
func TemperChart(c steel.Composition, seconds float64) []TemperRow {
	var rows []TemperRow
	for w := color.FaintStraw; w < color.NumTempers; w++ {
		r := TemperColor{Word: w, Steel: c, Seconds: seconds}.Read()
		if w == color.GreyFilm {
			r.High = math.Inf(1) // the word has no end
		}
		rows = append(rows, TemperRow{Word: w, Screen: color.FilmColor(w.Film().Value, color.FilmLook{}).Screen(), T: r.Widen(r.Half)})
	}
	return rows
}

// HeatRow is one line of a smith's chart of glow.
type HeatRow struct {
	Word   color.Heat
	Screen color.RGB
	T      unit.Band // [K]
	Shades float64   // above magnet-off; how bright beside something that the smith can see
}

// burns is where steel for edges and springs begins to melt [K]: 1370 °C with 1 %
// carbon, 1430 with 0.5 (iron-carbon diagram). No word of a chart goes beyond it.
const burns = 1400 + kelvin

// HeatChart returns the heats as they look in one light, from the first glow to
// white, or as far as there is steel to be seen: up to where it begins to melt [K];
// 0 where nobody knows of which steel it is.
func HeatChart(e *color.Eye, magnetOff, melts float64) []HeatRow {
	burns := float64(burns)
	if melts > 0 {
		burns = min(burns, melts)
	}
	var rows []HeatRow
	for h := color.FaintRed; h < color.NumHeats; h++ {
		b, ok := e.Band(h)
		if !ok {
			continue
		}
		if h == color.White {
			if b.High-b.Low < 2*color.People+100 {
				continue // beyond the heats that this package sees
			}
			b.Value, b.High = min(b.Low+color.People+60, burns), math.Inf(1) // the word has no end
		} else if b.High > burns {
			b.High = burns
			b.Value = min(b.Value, (b.Low+burns)/2)
		}
		if b.Low >= burns-color.People {
			break // in this light it melts before it looks so
		}
		rows = append(rows, HeatRow{Word: h, Screen: e.See(b.Value, 1e6), T: b, Shades: e.Shades(b.Value, magnetOff)})
	}
	return rows
}

// ToldApart says whether two temperatures [K] look different to this eye: side by
// side (a twentieth in brightness, or a step of color), or one after the other
// from memory (a whole shade).
func ToldApart(e *color.Eye, a, b float64, fromMemory bool) bool {
	if max(a, b) < e.Threshold() {
		return false
	}
	shades := math.Abs(e.Shades(max(a, e.Threshold()), max(b, e.Threshold())))
	if fromMemory {
		return shades >= 1
	}
	return shades >= 0.09 || color.Difference(e.See(a, 1e6).Lab(), e.See(b, 1e6).Lab()) >= 3
}
