// Package shop is the equipment that a smith has, with its calibration and its
// state: a forge warms up and sags when it is loaded, a bath warms with every
// blade, an oven is off by so much and swings, a bed of ash stores heat, a room
// fills with fumes.
//
// [Shop] is plain data: what is known of each thing, in SI, with a band, or not
// known. [Shop.Start] brings it to life as a [Bench] of [Equipment], which hands
// out surface laws of package medium that fit its present state and is advanced
// by exactly the heat that the steel gave or took.
//
// The package judges equipment that stands. It holds no plan for building any.
package shop

import (
	"fmt"
	"strings"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/unit"
)

// Estimate is a quantity that may be known with a band, or not at all. The zero
// value says "don't know": the default of the kind of equipment stands in, with
// a wider band.
type Estimate struct {
	unit.Band
	Known bool
}

// About returns an estimate with an 80 % band of ± half.
func About(v, half float64) Estimate { return Estimate{unit.PlusMinus(v, half), true} }

// Exactly returns an estimate without a band.
func Exactly(v float64) Estimate { return Estimate{unit.Exactly(v), true} }

// Or returns the band, or the given default where nothing is known.
func (e Estimate) Or(v, half float64) unit.Band {
	if !e.Known {
		return unit.PlusMinus(v, half)
	}
	return e.Band
}

// Shop is what one has. All in SI: K, m, m³, kg, s, kg/s, W.
type Shop struct {
	Name   string
	Demo   bool // invented for demonstration
	Room   Room
	Forges []Forge
	Ovens  []Oven
	Baths  []Bath
	Boxes  []Box
	Plates []Plate
	Fans   []Fan

	Torches []Torch
}

// Room is the room that the work is done in.
type Room struct {
	Air      Estimate // temperature [K]; not known: 20 ± 8 °C
	Volume   Estimate // [m³]
	Exchange Estimate // air moved through it by fan or doors [m³/s]
	Caught   Estimate // part of the flue that a hood takes away, 0 to 1; not known: no hood
	Outdoors bool
}

// Fan is moving air at the piece.
type Fan struct {
	Name  string
	Speed Estimate // [m/s]
}

// Piece is what equipment has to know of the steel put in it.
type Piece struct {
	Length, Width, Thickness float64 // over all [m]
	Height                   float64 // vertical extent while it hangs or lies in air [m]; 0: Width
	Perimeter                float64 // of the cross section [m]; 0: from width and thickness
	Area                     float64 // surface [m²]; 0: from the sizes
	Mass                     float64 // [kg]
	Lying                    bool    // a bar on its side, not a blade on edge
}

func (p Piece) height() float64 {
	switch {
	case p.Height > 0:
		return p.Height
	case p.Width > 0:
		return p.Width
	}
	return 0.025
}

func (p Piece) perimeter() float64 {
	if p.Perimeter > 0 {
		return p.Perimeter
	}
	return 2 * (p.Width + p.Thickness)
}

func (p Piece) area() float64 {
	if p.Area > 0 {
		return p.Area
	}
	return p.perimeter()*p.Length + 2*p.Width*p.Thickness
}

func (p Piece) orientation() medium.Orientation {
	if p.Lying {
		return medium.Lying
	}
	return medium.Upright
}

// Equipment is one thing of the shop at work.
//
// Law returns the surface law that holds for a step of dt [s] from now. It stays
// valid, and the same memory, until the next call of any method but Fill.
// Advance moves the state by dt after the steel in it gave off joules (negative:
// took them up). Save appends the whole state to dst, Restore takes it back and
// returns what is left of src.
type Equipment interface {
	Name() string
	Law(p *Piece, dt float64) medium.Law
	Atmosphere() medium.Atmosphere
	Advance(dt, joules float64)
	Temperature() float64 // what a true probe in it reads [K]
	Save(dst []float64) []float64
	Restore(src []float64) []float64
	Clone() Equipment
}

// Adjustable is equipment with a dial or a valve. Set takes what the smith sets
// or holds it at [K]: the reading of the dial for an oven, the temperature at the
// place of the piece for a forge.
type Adjustable interface{ Set(T float64) error }

// Bench is the shop at work: all equipment in its present state.
type Bench struct {
	list []Equipment
	idle []float64 // when each was left alone [s]; unused: not yet in use
}

// Start brings the shop to life. It gives every problem of the shop at once.
func (s *Shop) Start() (*Bench, error) {
	if problems := s.Check(); len(problems) > 0 {
		return nil, problems
	}
	air := s.Room.Air.Or(20+medium.CelsiusZero, 8).Value
	b := &Bench{list: []Equipment{newOpen(AirName, air, 0)}}
	for _, f := range s.Fans {
		b.list = append(b.list, newOpen(f.Name, air, f.Speed.Or(4, 1.5).Value))
	}
	for _, f := range s.Forges {
		b.list = append(b.list, newFire(f, air))
	}
	for _, o := range s.Ovens {
		b.list = append(b.list, newChamber(o, air))
	}
	for _, x := range s.Baths {
		b.list = append(b.list, newPool(x, air))
	}
	for _, x := range s.Boxes {
		b.list = append(b.list, newBurial(x, air))
	}
	for _, x := range s.Plates {
		b.list = append(b.list, newClamp(x, air))
	}
	for _, x := range s.Torches {
		b.list = append(b.list, newFlare(x, air))
	}
	b.idle = make([]float64, len(b.list))
	for i := range b.idle {
		b.idle[i] = unused
	}
	return b, nil
}

// AirName is the name of the open air of the shop, which is always there.
const AirName = "air"

// Find returns the equipment of this name, or an error that lists what there is.
func (b *Bench) Find(name string) (Equipment, error) {
	for _, e := range b.list {
		if strings.EqualFold(e.Name(), strings.TrimSpace(name)) {
			return e, nil
		}
	}
	var have []string
	for _, e := range b.list {
		have = append(have, e.Name())
	}
	return nil, fmt.Errorf("shop: no equipment is called %q; there is %s", name, strings.Join(have, ", "))
}

// All returns the equipment in the order of the shop, the open air first.
func (b *Bench) All() []Equipment { return b.list }

// Clone returns a bench that lives on its own.
func (b *Bench) Clone() *Bench {
	c := &Bench{list: make([]Equipment, len(b.list)), idle: append([]float64(nil), b.idle...)}
	for i, e := range b.list {
		c.list[i] = e.Clone()
	}
	return c
}

// Save appends the state of all equipment to dst.
func (b *Bench) Save(dst []float64) []float64 {
	for _, e := range b.list {
		at := len(dst)
		dst = e.Save(append(dst, 0))
		dst[at] = float64(len(dst) - at - 1)
	}
	return dst
}

// Restore takes back what [Bench.Save] of the same shop wrote.
func (b *Bench) Restore(src []float64) error {
	for _, e := range b.list {
		if len(src) == 0 || int(src[0]) >= len(src) || src[0] < 0 {
			return fmt.Errorf("shop: saved state ends at %s: it belongs to another shop", e.Name())
		}
		n := int(src[0])
		if left := e.Restore(src[1 : 1+n]); len(left) != 0 {
			return fmt.Errorf("shop: saved state does not fit %s: it belongs to another shop", e.Name())
		}
		src = src[1+n:]
	}
	if len(src) != 0 {
		return fmt.Errorf("shop: saved state has %d numbers too many: it belongs to another shop", len(src))
	}
	return nil
}
