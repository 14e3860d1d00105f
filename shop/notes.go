package shop

import (
	"slices"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
)

// Assumed returns what had to be assumed of the equipment of these names because
// the shop does not know it. No names: all of it.
func (s *Shop) Assumed(names ...string) []cite.Note {
	var notes []cite.Note
	say := func(code, where string, source cite.Key, args ...cite.Quantity) {
		notes = append(notes, cite.Note{Code: code, Where: where, Source: source, Args: args})
	}
	used := func(n string) bool {
		return len(names) == 0 || slices.ContainsFunc(names, func(x string) bool { return strings.EqualFold(strings.TrimSpace(x), n) })
	}
	room := s.Room.Air.Or(20+zero, 8).Value
	for i := range s.Forges {
		f := &s.Forges[i]
		if !used(f.Name) {
			continue
		}
		if !f.Holds.Known {
			_, low, high := f.HoldsBand()
			say("shop.fire-heat-assumed", f.Name, "common-practice", cite.Num("low", low, "K"), cite.Num("high", high, "K"))
		}
		if f.Flame == "" && f.Kind == GasForge {
			say("shop.flame-not-measured", f.Name, "niosh-co")
		}
	}
	for i := range s.Ovens {
		if o := &s.Ovens[i]; used(o.Name) && !o.Offset.Known {
			_, _, high := o.OffsetBand()
			say("shop.oven-not-checked", o.Name, "common-practice", cite.Num("half", high, "K-step"))
		}
	}
	for i := range s.Baths {
		b := &s.Baths[i]
		if !used(b.Name) {
			continue
		}
		if !b.Volume.Known {
			say("shop.bath-volume-assumed", b.Name, "common-practice", cite.Num("volume", b.volume(), "m³"))
		}
		if !b.Temperature.Known {
			say("shop.bath-temperature-assumed", b.Name, "common-practice", cite.Num("temperature", b.StartTemperature(room), "K"))
		}
		if f, burns := b.FlashPoint(); burns && !b.Flash.Known {
			say("shop.flash-point-assumed", b.Name, "common-practice", cite.Num("flash point", f, "K"))
		}
	}
	for i := range s.Boxes {
		if b := &s.Boxes[i]; used(b.Name) && !b.Moisture.Known {
			say("shop.filling-taken-dry", b.Name, "common-practice", cite.Txt("filling", b.Filling))
		}
	}
	for i := range s.Plates {
		if p := &s.Plates[i]; used(p.Name) && !p.Joint.Known {
			b := p.JointBand()
			say("shop.joint-assumed", p.Name, "common-practice", cite.Num("half", b.High/b.Value-1, "1"))
		}
	}
	for i := range s.Torches {
		if t := &s.Torches[i]; used(t.Name) {
			say("shop.torch-assumed", t.Name, "common-practice", cite.Num("share", caught, "1"))
		}
	}
	return notes
}

// Happened returns what weakens the answer because of what the equipment went
// through: a bath outside the range that its curve holds for. Flash points and
// limits are hazards, and told by package safety.
func (b *Bench) Happened() []cite.Note {
	var notes []cite.Note
	for _, e := range b.list {
		p, ok := e.(*Pool)
		if !ok {
			continue
		}
		low, high := medium.BathRange(p.Liquid)
		T := p.hottest
		switch {
		case p.coldest < low-1:
			T = p.coldest
		case p.hottest <= high+1:
			continue
		}
		notes = append(notes, cite.Note{Code: "medium.bath-outside-range", Where: p.Name(), Source: "totten-1993", Args: []cite.Quantity{
			cite.Num("temperature", T, "K"), cite.Num("low", low, "K"), cite.Num("high", high, "K"),
		}})
	}
	return notes
}
