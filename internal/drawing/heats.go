package drawing

import (
	"math"
	"slices"
	"sort"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/sim"
)

// Heats draws the heat strip of a whole run as an eye saw it: the steps side by
// side, each as wide as the others however long it took, the piece down. An hour
// in the oven and two seconds to the oil are both to be looked at.
func Heats(h *sim.History, s *shape.Solid, eye *color.Eye, sc color.Scales, wide, high int) *color.Drawing {
	line := places(h, s)
	if len(line) == 0 || len(h.Series.Time) == 0 {
		return nil
	}
	strip := &color.History{}
	for k, l := range line {
		// A zone that lies at an end of the line reaches to the end.
		at := l.at
		if len(line) > 1 && k == 0 {
			at = 0
		}
		if len(line) > 1 && k == len(line)-1 {
			at = 1
		}
		strip.Place, strip.Names = append(strip.Place, at), append(strip.Names, l.name)
	}
	slot := slots(h)
	hottest := make([]float64, len(h.Steps))
	for i, t := range h.Series.Time {
		step := h.Series.Step[i]
		if step < 0 || step >= len(h.Steps) || slot[step] < 0 {
			continue
		}
		stage := h.Steps[step]
		at := slot[step] + min(1, max(0, (t-stage.Start)/max(1e-9, stage.End-stage.Start)))
		if n := len(strip.Time); n > 0 && at <= strip.Time[n-1] {
			at = math.Nextafter(strip.Time[n-1], math.Inf(1))
		}
		strip.Time = append(strip.Time, at)
		inside := math.Inf(1) // the core has no skin: it is seen through that of its neighbors
		for _, l := range line {
			if l.name != "core" {
				inside = min(inside, oxide(&h.Series.Zones[l.zone], i))
			}
		}
		for _, l := range line {
			z := &h.Series.Zones[l.zone]
			strip.T = append(strip.T, z.Temperature[i]+273.15)
			hottest[step] = max(hottest[step], z.Temperature[i]+273.15)
			if l.name == "core" {
				strip.Film = append(strip.Film, inside)
			} else {
				strip.Film = append(strip.Film, oxide(z, i))
			}
		}
	}
	for i, stage := range h.Steps {
		if slot[i] >= 0 {
			lines := []string{stage.Name, sc.Time(stage.End - stage.Start), "≤ " + sc.Temperature(hottest[i])}
			strip.Ticks = append(strip.Ticks, color.Tick{At: slot[i], Lines: lines})
		}
	}
	if len(strip.Time) < 2 {
		return nil
	}
	var lines []float64
	for _, T := range []float64{600, 700, 800, 900, 1000, 1100} {
		lines = append(lines, T+273.15)
	}
	return eye.DrawStrip(strip, wide, high, sc, lines)
}

// oxide returns the oxide on a zone [nm].
func oxide(z *sim.ZoneSeries, i int) float64 { return max(z.Film[i], 1000*z.Scale[i]) }

// slots gives each stage that lasts a place on the strip, 0, 1, 2 …; −1 to those
// that take no time.
func slots(h *sim.History) []float64 {
	slot, n := make([]float64, len(h.Steps)), 0.0
	for i, s := range h.Steps {
		slot[i] = -1
		if s.End-s.Start > 0.05 && slices.Contains(h.Series.Step, i) {
			slot[i] = n
			n++
		}
	}
	return slot
}

type linePlace struct {
	name string
	zone int
	at   float64
}

// places puts the zones in a row: from spine to edge where the piece has them,
// else from the core to the surface.
func places(h *sim.History, s *shape.Solid) []linePlace {
	var line []linePlace
	index := map[string]int{}
	for i, z := range h.Series.Zones {
		index[z.Name] = i
	}
	for _, name := range []string{"spine", "core", "edge"} {
		i, ok := index[name]
		z, has := s.Zone(name)
		if ok && has && len(z.Boxes) > 0 {
			line = append(line, linePlace{name, i, 0.5 * (z.Boxes[0].V0 + z.Boxes[0].V1)})
		}
	}
	if len(line) >= 2 {
		sort.SliceStable(line, func(a, b int) bool { return line[a].at < line[b].at })
		return line
	}
	line = nil
	for k, name := range []string{"core", "surface"} {
		if i, ok := index[name]; ok {
			line = append(line, linePlace{name, i, float64(k)})
		}
	}
	return line
}
