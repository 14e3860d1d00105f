package route

import (
	"errors"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/unit"
)

// coldForging is the heat below which steel is not forged: black, it cracks under
// the hammer. Common practice: carbon steel no colder than a dull red.
const coldForging = unit.Temp(700 + 273.15)

// checkShaping looks at what a step says of the shape.
func (d *decoder) checkShaping(j *Job, i int, s *Step, path string) {
	missing := func(key, doc string) {
		d.at(path, "route.missing", cite.Txt("key", key), cite.Txt("doc", doc))
	}
	switch s.Do {
	case Forge:
		measured := s.Thickness.Is() || s.Width.Is()
		switch {
		case s.Into.Form != "" && (measured || s.From.Is() || s.Over.Is()):
			d.at(path, "route.two-passes")
		case !measured && (s.From.Is() || s.Over.Is()):
			missing("thickness", "or width: what the pass leaves of that stretch")
		case !s.Passes() && !s.Work.Is():
			missing("work", "time out of the fire in each heat; or say what the pass does: thickness, width, or a table into")
		}
		if s.Into.Form != "" {
			d.checkPieceAt(&s.Into, path+", into")
		}
		d.tooCold(j, s, path)
	case Bend:
		if s.In != "" && !s.Until.Is() {
			missing("until", "how hot it is bent: 800 C at core, magnet off")
		}
		if s.In == "" {
			for _, k := range []struct {
				key  string
				said bool
			}{{"until", s.Until.Is()}, {"at", s.At.Is()}, {"hold", s.Hold.Is()}, {"work", s.Work.Is()}} {
				if k.said {
					d.at(joined(path, k.key), "route.without", cite.Txt("key", k.key), cite.Txt("other", "in"))
				}
			}
		}
		if s.Angle.Is() && s.Angle.Value == 0 {
			d.at(joined(path, "angle"), "route.no-bend")
		}
	case Grind:
		if !s.Off.Is() && !s.Edge.Is() {
			d.at(path, "route.grind-nothing")
		}
		if form := j.PieceBefore(i).Form; s.Edge.Is() && form != Blade {
			d.at(joined(path, "edge"), "route.no-edge", cite.Txt("form", string(form)))
		}
	}
}

// tooCold tells of a pass on steel that does not come to a forging heat.
func (d *decoder) tooCold(j *Job, s *Step, path string) {
	cold := func(key string, t unit.Temp) {
		d.at(joined(path, key), "route.pass-cold", cite.Num("heat", float64(t), "K"), cite.Num("least", float64(coldForging), "K"))
	}
	switch top, ok := j.Shop.reach(s); {
	case !s.Passes():
	case s.Until.Kind == ByTemp && s.Until.Temp < coldForging:
		cold("until", s.Until.Temp)
	case s.At.Is() && s.At.Value < coldForging:
		cold("at", s.At.Value)
	case ok && top < coldForging && !s.At.Is():
		cold("in", top)
	}
}

// checkActs follows the body through the acts: what is drawn, drilled, bent or
// forged must go with the piece as it then is.
func (d *decoder) checkActs(j *Job) {
	_, _, err := j.Acts()
	var m *Misfit
	if !errors.As(err, &m) {
		return
	}
	path := numbered("step", m.Step)
	for _, e := range parts(m.Err) {
		var bad *shape.Problem
		switch {
		case !errors.As(e, &bad):
			d.at(path, "route.ground-away", cite.Txt("reason", e.Error()))
		case bad.Key == "off":
			d.at(joined(path, "off"), "route.ground-away", cite.Txt("reason", "it must be "+bad.Limits))
		case bad.Key == "angle" || bad.Low == bad.High:
			d.at(d.nearestPlace(path, m.Key), "route.act", cite.Txt("limits", bad.Limits), cite.Txt("remedy", bad.Remedy))
		case bad.High < bad.Low:
			d.at(d.nearestPlace(path, m.Key), "route.act", cite.Txt("remedy", bad.Remedy))
		default:
			d.at(d.nearestPlace(path, m.Key), "route.act-limits", cite.Num("low", bad.Low, "m"), cite.Num("high", bad.High, "m"), cite.Txt("remedy", bad.Remedy))
		}
	}
}

// nearestPlace returns the place of a key if it was written, else that of its step.
func (d *decoder) nearestPlace(path, key string) string {
	if at := joined(path, key); d.places[at] != nil {
		return at
	}
	return path
}
