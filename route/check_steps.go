package route

import (
	"slices"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/unit"
)

// places in which each verb can be done, and what a smith calls them.
var placesOf = map[Verb]struct {
	gears []gear
	words string
}{
	Forge:     {[]gear{isForge, isOven}, "a fire or an oven"},
	Normalize: {[]gear{isForge, isOven}, "a fire or an oven"},
	Anneal:    {[]gear{isForge, isOven}, "a fire or an oven"},
	Bend:      {[]gear{isForge, isOven, isTorch}, "a fire, an oven or a torch"},
	Heat:      {[]gear{isForge, isOven, isPlate, isTorch}, "a fire, an oven, a plate or a torch"},
	Relieve:   {[]gear{isOven, isForge}, "an oven or a fire"},
	Temper:    {[]gear{isOven, isPlate, isTorch}, "an oven, a hot block or plate, or a torch"},
	Quench:    {[]gear{isBath, isPlate}, "a bath or plates"},
	Bury:      {[]gear{isBox}, "a box"},
	Cool:      {[]gear{isAir, isFan, isPlate}, "air, a fan, or a plate"},
}

func (d *decoder) checkSteps(j *Job) {
	hot := false
	for i := range j.Steps {
		s := &j.Steps[i]
		path := numbered("step", i)
		d.checkPlace(j, s, path)
		d.checkEnding(j, s, path)
		d.checkHandling(j, s, path)
		d.checkShaping(j, i, s, path)
		switch s.Do {
		case Heat, Forge:
			hot = true
		case Bend:
			hot = hot || s.Hot()
		case Quench:
			if !hot {
				d.at(joined(path, "do"), "route.quench-before-heat")
			}
			// Out while it is hot, it may go in again: after seconds, or at a heat.
			hot = s.Until.Kind == ByTime || s.Until.Kind == ByTemp && s.Until.Temp > unit.Celsius(80) || s.Under.Is() && !s.UnderFor.Is()
		case Carry:
			if !hot {
				d.at(joined(path, "do"), "route.nothing-hot", cite.Txt("verb", string(s.Do)))
			}
		case Normalize, Anneal, Relieve, Temper:
			hot = false
		}
	}
	d.checkCoats(j)
	d.checkGround(j)
}

// checkGround follows the shape through the grinding: what is taken off must be there.
func (d *decoder) checkGround(j *Job) {
	p := j.Piece
	if !p.Thick().Is() {
		return
	}
	for i, s := range j.Steps {
		if s.Acts() && s.Do != Grind {
			return // from here on the body tells
		}
		if s.Do != Grind {
			continue
		}
		next, err := p.Ground(s)
		if err != nil {
			d.at(numbered("step", i), "route.ground-away", cite.Txt("reason", err.Error()))
			return
		}
		p = next
	}
}

func (d *decoder) checkPlace(j *Job, s *Step, path string) {
	if d.noShop {
		return
	}
	if s.In != "" {
		d.place(j, s, s.In, joined(path, "in"))
	}
	if s.Then == "" || folded(s.Then) == OvenOff || folded(s.Then) == Air {
		return
	}
	e, ok := j.Shop.find(s.Then)
	switch {
	case !ok:
		d.noSuchPlace(&j.Shop, s.Then, joined(path, "then"))
	case e.gear != isBox && e.gear != isFan:
		d.at(joined(path, "then"), "route.wrong-place", cite.Txt("verb", string(s.Do)), cite.Txt("name", s.Then), cite.Txt("want", "air, a box, or oven off"))
	}
}

func (d *decoder) place(j *Job, s *Step, name, path string) {
	lower := folded(name)
	for _, o := range notOffered {
		if _, known := j.Shop.find(name); !known && o.names(lower) {
			d.at(path, o.code)
			return
		}
	}
	e, ok := j.Shop.find(name)
	want := placesOf[s.Do]
	switch {
	case !ok:
		d.noSuchPlace(&j.Shop, name, path)
	case s.Do == Temper && e.gear == isBath:
		d.at(path, hotOil)
	case !slices.Contains(want.gears, e.gear):
		d.at(path, "route.wrong-place", cite.Txt("verb", string(s.Do)), cite.Txt("name", name), cite.Txt("want", want.words))
	case e.gear == isOven && s.At.Is():
		if most := j.Shop.Ovens[e.i].Most; most.Is() && s.At.Value > most.Value {
			d.at(strings.TrimSuffix(path, "in")+"at", "route.oven-cannot", cite.Txt("name", name), cite.Txt("most", most.Text))
		}
	case e.gear == isOven && d.places[strings.TrimSuffix(path, "in")+"at"] == nil:
		d.at(path, "route.oven-not-set", cite.Txt("name", name))
	}
}

func (d *decoder) noSuchPlace(s *Shop, name, path string) {
	var names []string
	for _, e := range s.equipment() {
		names = append(names, e.name)
	}
	near := nearest(name, names)
	d.at(path, "route.no-such-place", cite.Txt("name", name), cite.Txt("near", near), cite.Txt("names", strings.Join(names, ", ")))
}

// upward tells whether a verb ends on the way up.
func upward(v Verb) bool {
	return v == Heat || v == Forge || v == Bend || v == Normalize || v == Anneal || v == Relieve || v == Temper
}

// checkEnding tells of endings that would not come.
func (d *decoder) checkEnding(j *Job, s *Step, path string) {
	d.oneEnding(j, s, s.Until, upward(s.Do), joined(path, "until"))
	d.oneEnding(j, s, s.To, false, joined(path, "to"))
	if s.Until.Kind != ByTemp || !upward(s.Do) {
		return
	}
	if top, ok := j.Shop.reach(s); ok && s.Until.Temp >= top {
		d.at(joined(path, "until"), "route.never-reached", cite.Txt("name", s.In), cite.Num("top", float64(top), "K"))
	}
}

func (d *decoder) oneEnding(j *Job, s *Step, e Ending, up bool, path string) {
	d.zone(j, e.Zone, path)
	down := e.Kind == BySign && e.Sign != MagnetOff && e.Sign != ShadowOff
	rising := e.Kind == BySign && !down
	if e.Kind == ByColor && s.Do != Temper && s.Do != Cool {
		d.at(path, "route.ending-not-here", cite.Txt("ending", e.Text), cite.Txt("verb", string(s.Do)))
		return
	}
	if up && down || !up && (rising || e.Kind == AtHeat && s.Do != Relieve) {
		d.at(path, "route.ending-not-here", cite.Txt("ending", e.Text), cite.Txt("verb", string(s.Do)))
	}
}

// reach returns the temperature that the place of a step holds [K], where that is known.
func (s *Shop) reach(step *Step) (unit.Temp, bool) {
	if step.At.Is() {
		return step.At.Value, true
	}
	if f, ok := s.Forge(step.In); ok && f.Holds.Is() {
		return f.Holds.Value, true
	}
	return 0, false
}
