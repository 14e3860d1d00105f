package route

import (
	"errors"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/shape"
)

// check looks at what several keys say together. It tells of every
// contradiction, at the key that the smith would change.
func (d *decoder) check(j *Job) {
	d.checkPieceAt(&j.Piece, "piece")
	for i := range j.Steel {
		path := "steel"
		if d.places["steel 1"] != nil {
			path = numbered("steel", i)
		}
		d.checkMetal(&j.Steel[i], path, len(j.Steel) > 1)
	}
	if j.Shop.File == "" {
		d.checkShop(&j.Shop, "shop")
	}
	d.checkAim(j)
	d.checkSteps(j)
	if len(*d.problems) == 0 {
		d.checkBody(&j.Piece)
	}
	if len(*d.problems) == 0 {
		d.checkActs(j)
	}
}

// checkBody asks package shape whether the piece can be built, which knows
// limits that no single key has.
func (d *decoder) checkBody(p *Piece) {
	_, err := p.Solid()
	for _, e := range parts(err) {
		args := []cite.Quantity{cite.Txt("reason", e.Error())}
		var bad *shape.Problem
		if errors.As(e, &bad) {
			args = []cite.Quantity{cite.Txt("reason", bad.Key), cite.Txt("limits", bad.Limits), cite.Txt("remedy", bad.Remedy)}
		}
		d.at("piece", "route.shape", args...)
	}
}

// parts returns the errors that were joined into one.
func parts(err error) []error {
	if err == nil {
		return nil
	}
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		return many.Unwrap()
	}
	return []error{err}
}

func (d *decoder) checkPieceAt(p *Piece, where string) {
	d.checkStock(p, where)
	if p.Form != Blade {
		return
	}
	thicker := func(path string, edge, spine Length) {
		if edge.Is() && spine.Is() && edge.Value > spine.Value {
			d.at(path, "route.edge-thicker-than-spine", cite.Txt("edge", edge.Text), cite.Txt("spine", spine.Text))
		}
	}
	thicker(where+", edge", p.Edge, p.Spine)
	if p.SpineTip.Is() {
		thicker(where+", edge", p.Edge, p.SpineTip)
		if p.SpineTip.Value > p.Spine.Value {
			d.at(where+", spine_tip", "route.tip-thicker-than-heel", cite.Txt("tip", p.SpineTip.Text), cite.Txt("heel", p.Spine.Text))
		}
	}
	if p.Spine.Is() && p.Width.Is() && p.Spine.Value > p.Width.Value {
		d.at(where+", spine", "route.spine-thicker-than-width", cite.Txt("spine", p.Spine.Text), cite.Txt("width", p.Width.Text))
	}
	if p.Bevel.Is() && p.Width.Is() && p.Bevel.Value > p.Width.Value {
		d.at(where+", bevel", "route.bevel-higher-than-width", cite.Txt("bevel", p.Bevel.Text), cite.Txt("width", p.Width.Text))
	}
	before := -1.0
	for i, s := range p.Stations {
		path := numbered(where+", station", i)
		thicker(joined(path, "edge"), s.Edge, s.Spine)
		at := float64(s.At.Value)
		if p.Length.Is() && s.At.Value > p.Length.Value {
			d.at(joined(path, "at"), "route.station-past-tip", cite.Txt("length", p.Length.Text))
		} else if s.At.Is() && at <= before {
			d.at(joined(path, "at"), "route.stations-not-in-order")
		}
		before = at
	}
}

// checkStock asks for the measures that hang on another key than the form.
func (d *decoder) checkStock(p *Piece, where string) {
	need := func(key, doc string, there bool) {
		if !there {
			d.at(where+", "+key, "route.missing", cite.Txt("key", key), cite.Txt("doc", doc))
		}
	}
	switch {
	case p.Form == Chisel && p.Stock == string(Flat), p.Form == Hammer && p.Stock == string(Flat):
		if p.Form == Hammer {
			d.at(where+", stock", "route.not-one-of", cite.Txt("words", "round, square, hex, octagon"))
			return
		}
		need("width", "of the flat", p.Width.Is())
		need("thickness", "of the flat", p.Thickness.Is())
	case p.Form == Punch && p.Stock == string(Flat):
		d.at(where+", stock", "route.not-one-of", cite.Txt("words", "round, square, hex, octagon"))
	case p.Form == Chisel && p.Stock != "":
		need("across", "across the flats; of a round its diameter", p.Across.Is())
	case p.Form == Spring && !p.Wire.Is():
		need("width", "of the leaf", p.Width.Is())
		need("middle", "of a leaf: thickness in the middle; of a coil give wire instead", p.Middle.Is())
	}
}

// Zones of each kind of piece, in the words of the trade.
var (
	bladeZones = []string{"edge", "spine", "core", "tip", "heel", "tang"}
	barZones   = []string{"surface", "core", "end"}
	toolZones  = map[Form][]string{
		Chisel: {"edge", "taper", "shank", "struck end"}, Punch: {"point", "taper", "shank", "struck end"},
		Drawknife: {"edge", "spine", "core", "left tang", "right tang"}, Froe: {"edge", "spine", "core", "eye"},
		Hatchet: {"edge", "blade", "eye", "poll"}, Hammer: {"face", "core", "eye", "peen"},
	}
)

// Zones returns the names of the zones of a piece, which endings and aims use.
func (p Piece) Zones() []string {
	switch {
	case toolZones[p.Form] != nil:
		return toolZones[p.Form]
	case p.Form == Spring && p.Wire.Is():
		return barZones[:2]
	case p.Form != Blade:
		return barZones
	case p.Tang.Length.Is():
		return bladeZones
	}
	return bladeZones[:len(bladeZones)-1]
}

func (d *decoder) zone(j *Job, zone, path string) {
	zones := j.Zones()
	if zone == "" || j.Finished().Form == "" || slices.Contains(zones, zone) {
		return
	}
	near := nearest(zone, zones)
	d.at(path, "route.no-such-zone", cite.Txt("zone", zone), cite.Txt("near", near), cite.Txt("zones", strings.Join(zones, ", ")))
}

func (d *decoder) checkAim(j *Job) {
	for _, w := range j.Aim.Hardness {
		d.zone(j, w.Zone, joined("aim, hardness", w.Zone))
	}
}

// checkShop tells of equipment that bears the same name twice.
func (d *decoder) checkShop(s *Shop, path string) {
	seen := map[string]bool{}
	for _, e := range s.equipment() {
		name := folded(e.name)
		if name == "" {
			continue
		}
		if seen[name] || name == Air {
			d.at(joined(joined(path, e.path), "name"), "route.name-twice", cite.Txt("name", e.name))
		}
		seen[name] = true
	}
	if len(*d.problems) > 0 {
		return
	}
	kit := s.Kit()
	for _, p := range kit.Check() {
		where, _, _ := strings.Cut(p.Error(), "; ")
		d.at(joined(path, d.pathOf(s, p.Where)), "route.shop-limits", cite.Txt("reason", strings.TrimPrefix(where, "shop: ")), cite.Txt("remedy", p.Remedy))
	}
}

// pathOf finds the equipment that a problem of package shop speaks of: "bath oil 1".
func (d *decoder) pathOf(s *Shop, where string) string {
	_, name, _ := strings.Cut(where, " ")
	if e, ok := s.find(name); ok && e.gear != isAir {
		return e.path
	}
	return where
}

func folded(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }
