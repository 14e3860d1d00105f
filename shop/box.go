package shop

import (
	"math"

	"github.com/heatwright/heatwright/medium"
)

// Box is a box or drum of loose filling in which hot steel is buried.
type Box struct {
	Name        string
	Filling     string   // a name of [medium.FillingNames]
	Volume      Estimate // [m³]; not known: 20 L
	Temperature Estimate // [K]; not known: the room
	Moisture    Estimate // kg of water per kg of filling; not known: 0.01
	Companion   Estimate // mass of a hot bar laid beside the piece [kg]; not known: none
	CompanionT  Estimate // its temperature when it goes in [K]; not known: 850 °C
}

// Burial is a box at work: empty, or with one piece and what it warmed.
type Burial struct {
	Box
	room  float64
	bed   *medium.Bed
	piece Piece
	law   medium.Contact
}

func newBurial(b Box, room float64) *Burial { return &Burial{Box: b, room: room} }

// Name implements [Equipment].
func (b *Burial) Name() string { return b.Box.Name }

// Law implements [Equipment]. The bed answers within the step: its own warming
// during dt is in the slope of the law.
func (b *Burial) Law(p *Piece, dt float64) medium.Law {
	if b.bed == nil || b.piece != *p {
		b.bury(p)
	}
	b.law.Slope, b.law.Base = b.bed.Respond(max(dt, 1e-3))
	return &b.law
}

func (b *Burial) bury(p *Piece) {
	m, ok := medium.FindFilling(b.Filling)
	if !ok {
		panic("shop: filling " + b.Filling + " was not checked")
	}
	r0 := p.perimeter() / (2 * math.Pi)
	if r0 <= 0 {
		r0 = 0.005
	}
	// A box about as high as wide; the piece in its middle.
	reach := max(0.5*math.Cbrt(b.Volume.Or(0.020, 0.01).Value)-r0, 0.02)
	b.bed = medium.NewBed(m, medium.BedShape{Radius: r0, Reach: reach}, b.Box.Temperature.Or(b.room, 5).Value, b.Moisture.Or(0.01, 0.01).Value)
	b.bed.Room = b.room
	if c := b.Companion.Or(0, 0).Value; c > 0 {
		b.bed.Accompany(650*c, b.CompanionT.Or(850+medium.CelsiusZero, 40).Value, 0.01, p.area())
	}
	b.piece = *p
}

// Atmosphere implements [Equipment].
func (b *Burial) Atmosphere() medium.Atmosphere { return medium.InBed }

// Advance implements [Equipment].
func (b *Burial) Advance(dt, joules float64) {
	if b.bed == nil || dt <= 0 {
		return
	}
	b.bed.Step(dt, joules/b.piece.area())
}

// Temperature implements [Equipment]: of the bed at the piece.
func (b *Burial) Temperature() float64 {
	if b.bed == nil {
		return b.Box.Temperature.Or(b.room, 5).Value
	}
	return b.bed.T[0]
}

// Bed returns the bed around the piece, nil while the box is empty.
func (b *Burial) Bed() *medium.Bed { return b.bed }

// Empty takes the piece out; the filling is stirred and cold for the next.
func (b *Burial) Empty() { b.bed, b.piece = nil, Piece{} }

// Save implements [Equipment].
func (b *Burial) Save(dst []float64) []float64 {
	if b.bed == nil {
		return append(dst, 0)
	}
	p := b.piece
	lying := 0.0
	if p.Lying {
		lying = 1
	}
	dst = append(dst, 1, p.Length, p.Width, p.Thickness, p.Height, p.Perimeter, p.Area, p.Mass, lying)
	return b.bed.Save(dst)
}

// Restore implements [Equipment].
func (b *Burial) Restore(src []float64) []float64 {
	if src[0] == 0 {
		b.Empty()
		return src[1:]
	}
	p := Piece{Length: src[1], Width: src[2], Thickness: src[3], Height: src[4], Perimeter: src[5], Area: src[6], Mass: src[7], Lying: src[8] == 1}
	if b.bed == nil || b.piece != p {
		b.bury(&p)
	}
	return b.bed.Restore(src[9:])
}

// Clone implements [Equipment].
func (b *Burial) Clone() Equipment {
	c := *b
	if b.bed != nil {
		c.bed = b.bed.Clone()
	}
	return &c
}
