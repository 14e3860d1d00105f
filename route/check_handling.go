package route

import (
	"slices"

	"github.com/heatwright/heatwright/cite"
)

// checkHandling looks at what holds, touches and covers the piece in a step.
func (d *decoder) checkHandling(j *Job, s *Step, path string) {
	d.checkCompany(j, s, path)
	d.checkPlunge(j, s, path)
	d.checkEdge(j, s, path)
	if s.Do == Temper && d.places[joined(path, "hold")] == nil && d.places[joined(path, "until")] == nil { // what is there and wrong is told already
		d.at(path, "route.missing", cite.Txt("key", "hold"), cite.Txt("doc", "time kept there once the piece is at heat; on a block, a plate or under a torch, until"))
	}
	if s.Grip.Is() && s.Tongs == "" {
		d.at(joined(path, "grip"), "route.without", cite.Txt("key", "grip"), cite.Txt("other", "tongs"))
	}
	if d.noShop {
		return
	}
	at, known := j.Shop.find(s.In)
	if !known {
		return
	}
	if s.Rise.Is() && at.gear != isOven {
		d.at(joined(path, "rise"), "route.only-in-an-oven", cite.Txt("key", "rise"), cite.Txt("name", s.In))
	}
	if s.Fall.Is() && (at.gear != isOven || folded(s.Then) != OvenOff) {
		d.at(joined(path, "fall"), "route.fall-needs-oven-off", cite.Txt("name", s.In))
	}
	if s.Touches != "" && at.gear != isPlate && at.gear != isTorch {
		d.at(joined(path, "touches"), "route.nothing-touches", cite.Txt("name", s.In))
	}
	if s.Inside.Is() && j.Piece.Length.Is() && s.Inside.Value > j.Piece.Length.Value+j.Piece.Tang.Length.Value {
		d.at(joined(path, "inside"), "route.longer-than-piece", cite.Txt("length", j.Piece.Length.Text))
	}
	if at.gear == isPlate && s.Do == Temper && s.Until.Kind == NoEnd {
		d.at(path, "route.missing", cite.Txt("key", "until"), cite.Txt("doc", "what ends it on a block or plate: 280 C at spine"))
	}
	if at.gear == isTorch && s.Until.Kind != ByTemp && s.Until.Kind != ByTime && s.Until.Kind != ByColor {
		d.at(path, "route.torch-needs-end", cite.Txt("name", s.In))
	}
}

// bar reports whether the piece is a bar, which has no edge.
func (p Piece) bar() bool { _, is := barForms[p.Form]; return is || p.Form == Spring }

// checkEdge tells of words that speak of an edge where there is none.
func (d *decoder) checkEdge(j *Job, s *Step, path string) {
	if !j.Piece.bar() {
		return
	}
	for key, there := range map[string]bool{"bare": s.Bare.Is(), "edge_in": s.EdgeIn != "", "first": s.First == EdgeSide || s.First == SpineSide} {
		if there {
			d.at(joined(path, key), "route.no-edge-here", cite.Txt("form", string(j.Piece.Form)))
		}
	}
}

// checkCoats follows what lies on the piece through the steps.
func (d *decoder) checkCoats(j *Job) {
	foil, hot := false, false
	for i := range j.Steps {
		s := &j.Steps[i]
		path := numbered("step", i)
		switch s.Do {
		case Coat:
			if hot {
				d.at(joined(path, "do"), "route.coat-hot")
			}
			foil = s.With == FoilCoat
		case Strip:
			foil = false
		case Heat, Forge:
			hot = true
		case Quench:
			if _, bath := j.Shop.Bath(s.In); bath && foil {
				d.at(joined(path, "in"), "route.foil-in-bath", cite.Txt("name", s.In))
			}
			hot = false
		case Normalize, Anneal, Relieve, Temper, Cool, Bury:
			hot = false
		}
	}
}

// checkCompany asks that what touches the piece is in the shop, and is what it is taken for.
func (d *decoder) checkCompany(j *Job, s *Step, path string) {
	if d.noShop {
		return
	}
	want := func(key, name, words string, gears ...gear) {
		if name == "" {
			return
		}
		e, ok := j.Shop.find(name)
		switch {
		case !ok:
			d.noSuchPlace(&j.Shop, name, joined(path, key))
		case !slices.Contains(gears, e.gear):
			d.at(joined(path, key), "route.wrong-company", cite.Txt("key", key), cite.Txt("name", name), cite.Txt("want", words))
		}
	}
	want("tongs", s.Tongs, "tongs of the shop", isTongs)
	want("on", s.On, "an anvil or dies of the shop", isPlate)
	want("edge_in", s.EdgeIn, "a bath of the shop", isBath)
	if b, ok := j.Shop.Bath(s.EdgeIn); ok && b.Kind != "water" && b.Kind != "brine" {
		d.at(joined(path, "edge_in"), "route.edge-in-oil", cite.Txt("name", s.EdgeIn))
	}
	if e, ok := j.Shop.find(s.In); ok && s.EdgeIn != "" && e.gear != isPlate && e.gear != isTorch {
		d.at(joined(path, "edge_in"), "route.edge-in-needs-block", cite.Txt("name", s.In))
	}
	if p, ok := j.Shop.Plate(s.On); ok && p.Kind != "anvil" && p.Kind != "dies" {
		d.at(joined(path, "on"), "route.wrong-company", cite.Txt("key", "on"), cite.Txt("name", s.On), cite.Txt("want", "an anvil or dies of the shop"))
	}
}

// checkPlunge looks at how a piece goes under.
func (d *decoder) checkPlunge(j *Job, s *Step, path string) {
	if s.UnderFor.Is() && !s.Under.Is() {
		d.at(joined(path, "under_for"), "route.without", cite.Txt("key", "under_for"), cite.Txt("other", "under"))
	}
	if s.Under.Is() && s.Do != Quench && s.EdgeIn == "" {
		d.at(joined(path, "under"), "route.without", cite.Txt("key", "under"), cite.Txt("other", "edge_in"))
	}
	if s.Do != Quench || d.noShop {
		return
	}
	p, plates := j.Shop.Plate(s.In)
	if plates && (s.First != "" || s.Under.Is() || s.Motion != "") {
		d.at(joined(path, "in"), "route.plates-are-no-bath", cite.Txt("name", p.Name))
	}
	switch {
	case !s.Under.Is():
	case (s.First == EdgeSide || s.First == SpineSide) && j.Piece.Width.Is() && (j.Piece.OnEdge() || j.Piece.bar()) && s.Under.Value > j.Piece.Width.Value:
		d.at(joined(path, "under"), "route.longer-than-piece", cite.Txt("length", j.Piece.Width.Text))
	case s.First == "" && j.Piece.Length.Is() && s.Under.Value > j.Piece.Length.Value+j.Piece.Tang.Length.Value:
		d.at(joined(path, "under"), "route.longer-than-piece", cite.Txt("length", j.Piece.Length.Text))
	}
}
