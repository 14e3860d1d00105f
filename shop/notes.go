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
	return notes
}

// Flash margins [K]: an alarm is due within 28 K of the flash point (50 °F, the
// rule for quench tanks of wac-296-835); 60 K is kept in a small shop (common practice).
const (
	FlashAlarm  = 28.
	FlashMargin = 60.
)

// Happened returns what the equipment went through that the smith has to know: a
// bath that came near its flash point, over its limit or outside what its curve
// holds for.
func (b *Bench) Happened() []cite.Note {
	var notes []cite.Note
	for _, e := range b.list {
		if p, ok := e.(*Pool); ok {
			notes = append(notes, p.happened()...)
		}
	}
	return notes
}

func (p *Pool) happened() []cite.Note {
	var notes []cite.Note
	hottest := cite.Num("hottest", p.hottest, "K")
	if p.margin() < FlashMargin {
		code := "shop.bath-close-to-flash"
		if p.margin() < FlashAlarm {
			code = "shop.bath-at-flash-alarm"
		}
		f, _ := p.FlashPoint()
		notes = append(notes, cite.Note{Code: code, Where: p.Name(), Source: "wac-296-835", Args: []cite.Quantity{hottest, cite.Num("flash point", f, "K"), cite.Num("margin", p.margin(), "K-step")}})
	}
	if p.Limit.Known && p.hottest > p.Limit.Value {
		notes = append(notes, cite.Note{Code: "shop.bath-over-limit", Where: p.Name(), Source: "common-practice", Args: []cite.Quantity{hottest, cite.Num("limit", p.Limit.Value, "K")}})
	}
	if low, high := medium.BathRange(p.Liquid); p.hottest > high+1 || p.coldest < low-1 {
		T := p.hottest
		if p.coldest < low-1 {
			T = p.coldest
		}
		notes = append(notes, cite.Note{Code: "medium.bath-outside-range", Where: p.Name(), Source: "totten-1993", Args: []cite.Quantity{cite.Num("temperature", T, "K"), cite.Num("low", low, "K"), cite.Num("high", high, "K")}})
	}
	return notes
}

func (p *Pool) margin() float64 {
	m, burns := p.FlashMargin()
	if !burns {
		return 1e3
	}
	return m
}
