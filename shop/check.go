package shop

import (
	"fmt"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
)

// Problem is something that the smith can put right: where it is, what was
// given, what is possible, and what to do.
type Problem struct {
	Where     string  // "bath oil 1"
	What      string  // "temperature"
	Value     float64 // in the SI unit of Unit
	Unit      string  // "K", "m", "m³", …; "" for a word
	Word      string  // the value when it is a word
	Low, High float64
	Allowed   []string // when it is a word
	Remedy    string
}

// Error implements error.
func (p Problem) Error() string {
	if p.Unit == "" {
		return fmt.Sprintf("shop: %s: %s %q: possible are %s; %s", p.Where, p.What, p.Word, strings.Join(p.Allowed, ", "), p.Remedy)
	}
	return fmt.Sprintf("shop: %s: %s %s: limits %s to %s; %s", p.Where, p.What, p.show(p.Value), p.show(p.Low), p.show(p.High), p.Remedy)
}

func (p Problem) show(v float64) string {
	if p.Unit == "K" {
		return celsius(v)
	}
	return fmt.Sprintf("%.4g %s", v, p.Unit)
}

// Problems is all that is wrong with a shop.
type Problems []Problem

// Error implements error.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, x := range p {
		lines[i] = x.Error()
	}
	return strings.Join(lines, "\n")
}

type checker struct {
	problems Problems
	where    string
}

func (c *checker) in(what string, e Estimate, unit string, low, high float64, remedy string) {
	if !e.Known {
		return
	}
	for _, v := range []float64{e.Value, e.Low, e.High} {
		if !(v >= low && v <= high) { // also catches NaN
			c.problems = append(c.problems, Problem{Where: c.where, What: what, Value: v, Unit: unit, Low: low, High: high, Remedy: remedy})
			return
		}
	}
}

func (c *checker) word(what, word string, allowed []string, remedy string) {
	if !slices.Contains(allowed, word) {
		c.problems = append(c.problems, Problem{Where: c.where, What: what, Word: word, Allowed: allowed, Remedy: remedy})
	}
}

const zero = medium.CelsiusZero

// Check returns every problem of the shop's data; an empty list is a shop that
// can work.
func (s *Shop) Check() Problems {
	c := &checker{where: "room"}
	c.in("air", s.Room.Air, "K", zero-30, zero+60, "give the temperature of the shop")
	c.in("volume", s.Room.Volume, "m³", 5, 1e5, "length × width × height of the room")
	c.in("exchange", s.Room.Exchange, "m³/s", 0, 100, "air that the fan moves")
	c.in("caught", s.Room.Caught, "", 0, 1, "part of the fumes that the hood takes")
	names := map[string]bool{AirName: true}
	name := func(kind, n string) {
		c.where = kind + " " + n
		if n == "" || names[strings.ToLower(n)] {
			c.problems = append(c.problems, Problem{Where: c.where, What: "name", Word: n, Allowed: []string{"a name of its own"}, Remedy: "give each thing a different name"})
		}
		names[strings.ToLower(n)] = true
	}
	for i := range s.Fans {
		name("fan", s.Fans[i].Name)
		c.in("speed", s.Fans[i].Speed, "m/s", 0, 80, "air speed at the piece")
	}
	for i := range s.Forges {
		name("forge", s.Forges[i].Name)
		s.Forges[i].check(c)
	}
	for i := range s.Ovens {
		name("oven", s.Ovens[i].Name)
		s.Ovens[i].check(c)
	}
	for i := range s.Baths {
		name("bath", s.Baths[i].Name)
		s.Baths[i].check(c)
	}
	for i := range s.Boxes {
		name("box", s.Boxes[i].Name)
		s.Boxes[i].check(c)
	}
	for i := range s.Plates {
		name("plate", s.Plates[i].Name)
		c.word("kind", string(s.Plates[i].Kind), []string{string(Pair), string(Block), string(Anvil), string(Dies), string(Jaws)}, "say what it is")
		c.word("metal", s.Plates[i].Metal, []string{"aluminum", "copper", "steel"}, "name the metal of the plate")
		c.in("temperature", s.Plates[i].Temperature, "K", zero-30, zero+1000, "the temperature of the plate or block itself")
		if p := &s.Plates[i]; p.Metal == "aluminum" {
			c.in("temperature", p.Temperature, "K", zero-30, zero+550, "aluminum softens and melts: take a steel block")
		}
		c.in("mass", s.Plates[i].Mass, "kg", 0.05, 500, "weigh it")
		c.in("joint", s.Plates[i].Joint, "W/m²K", 50, 10000, "leave it out if you don't know")
	}
	for i := range s.Torches {
		name("torch", s.Torches[i].Name)
		c.in("power", s.Torches[i].Power, "W", 100, 50e3, "a kilogram of propane in an hour is 12.9 kW")
		c.in("spot", s.Torches[i].Spot, "m", 0.003, 0.2, "width of the flame where it strikes")
	}
	return c.problems
}

func (f *Forge) check(c *checker) {
	c.word("kind", string(f.Kind), []string{string(GasForge), string(Muffle), string(CokeHearth), string(CharcoalFire)}, "say what it is")
	c.in("working temperature", f.Holds, "K", zero+400, zero+1400, "the temperature where the piece lies")
	c.in("fuel", f.Gas, "kg/s", 0.01/3600, 50./3600, "weigh the bottle before and after an evening")
	c.in("fuel turned down", f.GasLow, "kg/s", 0.005/3600, f.Gas.Or(50./3600, 0).High, "turned down it burns less than at work")
	c.in("length", f.Length, "m", 0.05, 5, "measure the chamber")
	c.in("width", f.Width, "m", 0.02, 3, "measure the chamber")
	c.in("height", f.Height, "m", 0.02, 3, "measure the chamber")
	if l, w, h := f.Length.Or(0.4, 0).Value, f.Width.Or(0.18, 0).Value, f.Height.Or(0.15, 0).Value; f.Opening.Known {
		c.in("opening", f.Opening, "m²", 0, 2*w*h+l*w, "the opening cannot be larger than the ends of the chamber: width × height of the gap that is left")
	}
	for _, l := range f.Lining {
		c.word("lining", l.Material, LiningNames(), "name the nearest")
		c.in("lining", Exactly(l.Thickness), "m", 0.001, 0.5, "measure the layer")
	}
}

func (o *Oven) check(c *checker) {
	c.word("kind", string(o.Kind), []string{string(Kiln), string(Kitchen), string(Toaster)}, "say what it is")
	d := o.defaults()
	c.in("offset", o.Offset, "K-step", -100, 100, "true temperature less dial; have the oven checked")
	c.in("swing", o.Swing, "K-step", 0, 100, "half of what it swings")
	c.in("most", o.Most, "K", zero+80, zero+1350, "the hottest it goes")
	c.in("power", o.Power, "W", 200, 50e3, "it stands on the plate of the oven")
	c.in("dial", o.Dial, "K", zero+20, o.Most.Or(d.most, 0).High, "set it lower, or use the forge")
}

func (b *Bath) check(c *checker) {
	var kinds []string
	for _, k := range medium.Quenchants() {
		kinds = append(kinds, string(k))
	}
	c.word("liquid", string(b.Liquid), kinds, "name the nearest class; molten salt, lead and sub-zero liquids are not offered")
	c.in("volume", b.Volume, "m³", 0.0005, 20, "measure the tank")
	c.in("depth", b.Depth, "m", 0.02, 5, "depth of the liquid")
	freeze, boil := b.freezes(), zero+95
	if f, burns := b.FlashPoint(); burns {
		c.in("temperature", b.Temperature, "K", freeze, f-28, "keep the oil at least 28 K below its flash point: cool it or take more oil")
		c.in("limit", b.Limit, "K", freeze, f-28, "the limit has to stay 28 K below the flash point")
	} else {
		c.in("temperature", b.Temperature, "K", freeze, boil, "below freezing there is ice, near boiling there is no quench: bring it to 15–40 °C")
		c.in("limit", b.Limit, "K", freeze, boil, "above this there is no quench")
	}
	c.in("salt", b.Salt, "%", 0, 26, "kilograms of salt in 100 kg of brine")
	c.in("vigor", b.Vigor, "times", 0.2, 4, "leave it out until it was calibrated")
	c.in("wetting", b.Wets, "m/s", 0.0002, 1, "leave it out")
	c.in("vigor on thin edges", b.VigorThin, "times", 0.2, 4, "leave it out")
}

// freezes returns where the liquid stops being one [K]: water 0 °C, 8 % brine −5 °C, oils 0 °C (they thicken).
func (b *Bath) freezes() float64 {
	if b.Liquid == medium.Brine {
		return zero - 0.6*min(b.Salt.Or(8, 0).Value, 23)
	}
	return zero
}

func (b *Box) check(c *checker) {
	c.word("filling", b.Filling, medium.FillingNames(), "name the nearest")
	c.in("volume", b.Volume, "m³", 0.0005, 5, "measure the box")
	c.in("moisture", b.Moisture, "kg/kg", 0, 1, "dry it: a damp bed quenches")
	c.in("companion", b.Companion, "kg", 0, 50, "weigh the hot bar")
	c.in("companion temperature", b.CompanionT, "K", zero+50, zero+1250, "how hot the bar is when it goes in")
	c.in("temperature", b.Temperature, "K", zero-40, zero+700, "temperature of the fill when the piece goes in")
}

// Takes says whether a piece fits: not longer than the forge, unless it is open
// at both ends or only a part is heated.
func (f *Forge) Takes(p *Piece) error {
	l := f.Length.Or(0, 0)
	if f.Length.Known && !f.Through && p.Length > l.High {
		return Problem{Where: "forge " + f.Name, What: "length of the piece", Value: p.Length, Unit: "m", Low: 0, High: l.High,
			Remedy: "heat it in parts, open the far end, or use a longer fire"}
	}
	return nil
}

// Takes says whether a piece fits into the oven.
func (o *Oven) Takes(p *Piece) error {
	if o.Length.Known && p.Length > o.Length.High {
		return Problem{Where: "oven " + o.Name, What: "length of the piece", Value: p.Length, Unit: "m", Low: 0, High: o.Length.High,
			Remedy: "lay it across the corner, or use a longer oven"}
	}
	return nil
}

// Takes says whether the piece goes under, hung by one end: its length and 50 mm
// of liquid above it have to fit, with 50 mm of sludge below. across is a piece
// that is laid in flat.
func (b *Bath) Takes(p *Piece, across bool) error {
	if !b.Depth.Known {
		return nil
	}
	need := p.Length
	if across {
		need = p.height()
	}
	if room := b.Depth.Low - 0.1; need > room {
		return Problem{Where: "bath " + b.Name, What: "depth for the piece", Value: need, Unit: "m", Low: 0, High: max(room, 0),
			Remedy: "hot steel that stands out of oil lights it: take a deeper bath, or lay the piece in edge first along the tank"}
	}
	return nil
}

// Set and the checks above speak of what is offered. Refused tells what is not.

// Refusal is something that this program does not offer, with the reason and the way it offers instead.
type Refusal struct{ Asked, Code, Reason, Offered string }

// Error implements error.
func (r Refusal) Error() string {
	return fmt.Sprintf("shop: %s is not offered: %s; instead: %s", r.Asked, r.Reason, r.Offered)
}

var refusals = []struct {
	words []string
	Refusal
}{
	{[]string{"lead"}, Refusal{"", "shop.no-lead", "molten lead poisons by its fume and dust and throws metal when damp steel enters", "an oven for tempering, oil or brine for hardening"}},
	{[]string{"salt pot", "salt bath", "molten salt", "nitrate", "nitrite", "chloride salt", "saltbath"}, Refusal{"", "shop.no-salt", "molten salt bursts out when anything damp enters, and nitrates feed fire and run away when overheated", "an oven or a muffle for heating and tempering, a martempering oil for a mild quench"}},
	{[]string{"dry ice", "nitrogen", "sub-zero", "subzero", "cryo", "freezer"}, Refusal{"", "shop.no-sub-zero", "cold liquids burn, displace the air and burst closed vessels", "less soak or a lower hardening heat, so that less austenite is retained, and a second temper"}},
	{[]string{"hot oil temper", "temper in oil", "tempering oil", "fryer", "frying"}, Refusal{"", "shop.no-oil-temper", "oil held at tempering heat is near its flash point and nobody watches it for hours", "an oven, with the clock started when the piece is at heat"}},
}

// Refused returns the refusal that a name of equipment or medium calls for, nil if none.
func Refused(name string) error {
	n := strings.ToLower(name)
	for _, r := range refusals {
		for _, w := range r.words {
			if strings.Contains(n, w) {
				x := r.Refusal
				x.Asked = name
				return x
			}
		}
	}
	return nil
}

// Fits returns notes where a piece does not fit the equipment of this name: it
// sticks out of the fire or the oven, or out of the liquid when it is hung in by
// one end, or across when it goes in on its side.
func (s *Shop) Fits(name string, p *Piece, across bool) []cite.Note {
	same := func(n string) bool { return strings.EqualFold(n, strings.TrimSpace(name)) }
	note := func(code string, have float64) []cite.Note {
		return []cite.Note{{Code: code, Where: name, Source: "common-practice", Args: []cite.Quantity{cite.Num("length", p.Length, "m"), cite.Num("room", have, "m")}}}
	}
	for i := range s.Forges {
		if f := &s.Forges[i]; same(f.Name) && f.Takes(p) != nil {
			return note("shop.longer-than-the-fire", f.Length.High)
		}
	}
	for i := range s.Ovens {
		if o := &s.Ovens[i]; same(o.Name) && o.Takes(p) != nil {
			return note("shop.longer-than-the-oven", o.Length.High)
		}
	}
	for i := range s.Baths {
		if b := &s.Baths[i]; same(b.Name) && b.Takes(p, across) != nil {
			return note("shop.longer-than-the-bath-is-deep", b.Depth.Low)
		}
	}
	return nil
}
