package shop

import "github.com/heatwright/heatwright/medium"

// Plate is a pair of plates that a piece is clamped between, or a block that it
// is laid on: aluminum, copper or steel.
type Plate struct {
	Name        string
	Metal       string   // "aluminum", "copper", "steel"
	Mass        Estimate // of all that touches [kg]; not known: 4 kg
	Joint       Estimate // conductance of the joint [W/m²K]; not known: 1500 ± 600
	Temperature Estimate // [K]; not known: the room
	OneSide     bool     // a block under the piece, not a pair
}

var plateCp = map[string]float64{"aluminum": 920, "copper": 390, "steel": 480} // J/kgK, handbook values from memory

// Clamp is a plate at work: one thermal mass.
type Clamp struct {
	Plate
	T     float64 // [K]
	room  float64
	law   medium.Contact
	one   medium.Patchwork
	air   *medium.Air
	piece Piece
}

func newClamp(p Plate, room float64) *Clamp {
	return &Clamp{Plate: p, T: p.Temperature.Or(room, 5).Value, room: room}
}

func (c *Clamp) capacity() float64 { return c.Mass.Or(4, 1.5).Value * plateCp[c.Metal] }

// Name implements [Equipment].
func (c *Clamp) Name() string { return c.Plate.Name }

// Set implements [Adjustable]: the temperature of the plate or block before the piece comes [K].
func (c *Clamp) Set(T float64) error {
	if T < 250 || T > 1400 {
		return Problem{Where: "plate " + c.Plate.Name, What: "temperature", Value: T, Unit: "K", Low: 250, High: 1400, Remedy: "give the temperature of the plate or block itself"}
	}
	c.T = T
	return nil
}

// Law implements [Equipment]: the two flat sides touch, the narrow ones see air.
func (c *Clamp) Law(p *Piece, _ float64) medium.Law {
	c.law = medium.Contact{T: c.T, H: c.Joint.Or(1500, 600).Value}
	if c.air == nil || c.piece != *p {
		c.air, c.piece = medium.StillAir(c.room, p.height(), p.orientation()), *p
		c.one.Parts = nil
	}
	if c.one.Parts == nil {
		c.one.Parts = []medium.Part{{Region: medium.Region{Looking: [3]float64{0, 0, -1}}, Law: &c.law}}
		if !c.OneSide {
			c.one.Parts = append(c.one.Parts, medium.Part{Region: medium.Region{Looking: [3]float64{0, 0, 1}}, Law: &c.law})
		}
		c.one.Else = c.air
	}
	return &c.one
}

// Atmosphere implements [Equipment].
func (c *Clamp) Atmosphere() medium.Atmosphere { return medium.OpenAir }

// Advance implements [Equipment].
func (c *Clamp) Advance(_, joules float64) { c.T += joules / c.capacity() }

// Temperature implements [Equipment].
func (c *Clamp) Temperature() float64 { return c.T }

// Save implements [Equipment].
func (c *Clamp) Save(dst []float64) []float64 { return append(dst, c.T) }

// Restore implements [Equipment].
func (c *Clamp) Restore(src []float64) []float64 { c.T = src[0]; return src[1:] }

// Clone implements [Equipment].
func (c *Clamp) Clone() Equipment {
	d := *c
	d.one = medium.Patchwork{}
	return &d
}
