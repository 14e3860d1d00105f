package shop

import (
	"math"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/unit"
)

// PlateKind is a class of solid that touches the piece.
type PlateKind string

// The solids that touch a piece.
const (
	Pair  PlateKind = "pair"  // two plates that it is clamped between
	Block PlateKind = "block" // what it is laid on, or laid on it, hot or cold
	Anvil PlateKind = "anvil" // what it is worked on by hand
	Dies  PlateKind = "dies"  // of a press or a power hammer
	Jaws  PlateKind = "tongs" // what holds it
)

// Pressing is how hard a solid touches.
type Pressing string

// The ways of pressing; "" is the usual one of the kind.
const (
	Clamped Pressing = "clamped"
	ByHand  Pressing = "by hand"
	LaidOn  Pressing = "laid on"
)

// Plate is solid metal that touches the piece: a pair of plates, a block, an
// anvil, dies, the jaws of tongs.
type Plate struct {
	Name        string
	Kind        PlateKind
	Metal       string   // "aluminum", "copper", "steel"
	Mass        Estimate // of all that touches [kg]; not known: by kind
	Pressed     Pressing
	Joint       Estimate // conductance of the joint, over time [W/m²K]; not known: by kind and pressing
	Temperature Estimate // [K]; not known: the room
}

// OneSide says whether it touches the piece from one side only.
func (p *Plate) OneSide() bool { return p.Kind == Block || p.Kind == Anvil }

// JointBand returns the conductance of the joint over time with its band [W/m²K]:
// clamped flat ground plates 1000–2500, hand-pressed or slightly warped 300–800,
// scaled steel that lies on a block 300–800, all from memory. On an anvil the bar
// lies two thirds of the time and is struck once or twice a second, each blow 4 ms
// at 4000–10 000; of dies about a third of the time under pressure. Jaws touch about a third of
// what they cover.
func (p *Plate) JointBand() unit.Band {
	value, half := 1500., 600.
	switch {
	case p.Kind == Anvil:
		value, half = 400, 170
	case p.Kind == Dies:
		value, half = 700, 350
	case p.Kind == Jaws:
		value, half = 160, 80
	case p.Pressed == LaidOn, p.Kind == Block && p.Pressed == "":
		value, half = 500, 200
	case p.Pressed == ByHand:
		value, half = 550, 250
	}
	return p.Joint.Or(value, half)
}

func (p *Plate) mass() float64 {
	switch p.Kind {
	case Block:
		return p.Mass.Or(3, 1).Value
	case Anvil, Dies:
		return p.Mass.Or(50, 20).Value
	case Jaws:
		return p.Mass.Or(0.25, 0.1).Value
	}
	return p.Mass.Or(4, 1.5).Value
}

var plateCp = map[string]float64{"aluminum": 920, "copper": 390, "steel": 480} // J/kgK, handbook values from memory

var plateDensity = map[string]float64{"aluminum": 2700, "copper": 8900, "steel": 7850} // kg/m³, likewise

// Clamp is a plate at work: one thermal mass, which gives the room what it is
// warmer by.
type Clamp struct {
	Plate
	T     float64 // [K]
	room  float64
	skin  float64 // its surface [m²]
	law   medium.Contact
	one   medium.Patchwork
	air   *medium.Air
	piece Piece
}

// StartTemperature returns how warm it is before the piece comes [K].
func (p *Plate) StartTemperature(room float64) float64 { return p.Temperature.Or(room, 5).Value }

func newClamp(p Plate, room float64) *Clamp {
	c := &Clamp{Plate: p, T: p.StartTemperature(room), room: room}
	side := math.Cbrt(p.mass() / plateDensity[p.Metal]) // as a cube; a plate has twice as much, half of it under the piece
	c.skin = 6 * side * side
	return c
}

func (c *Clamp) capacity() float64 { return c.mass() * plateCp[c.Metal] }

// Name implements [Equipment].
func (c *Clamp) Name() string { return c.Plate.Name }

// Set implements [Adjustable]: the temperature of the plate or block before the piece comes [K].
func (c *Clamp) Set(T float64) error {
	if !(T >= 250 && T <= 1400) {
		return Problem{Where: "plate " + c.Plate.Name, What: "temperature", Value: T, Unit: "K", Low: 250, High: 1400, Remedy: "give the temperature of the plate or block itself"}
	}
	c.T = T
	return nil
}

// Touch returns the law of a face that it touches.
func (c *Clamp) Touch() medium.Law {
	c.law = medium.Contact{T: c.T, H: c.JointBand().Value}
	return &c.law
}

// Law implements [Equipment]: the flat sides touch, of a block one, the narrow ones see air.
func (c *Clamp) Law(p *Piece, _ float64) medium.Law {
	c.Touch()
	if c.air == nil || c.piece != *p {
		c.air, c.piece = medium.StillAir(c.room, p.height(), p.orientation()), *p
		c.one.Parts = nil
	}
	if c.one.Parts == nil {
		c.one.Parts = []medium.Part{{Region: medium.Region{Looking: [3]float64{0, 0, -1}}, Law: &c.law}}
		if !c.OneSide() {
			c.one.Parts = append(c.one.Parts, medium.Part{Region: medium.Region{Looking: [3]float64{0, 0, 1}}, Law: &c.law})
		}
		c.one.Else = c.air
	}
	return &c.one
}

// Atmosphere implements [Equipment].
func (c *Clamp) Atmosphere() medium.Atmosphere { return medium.OpenAir }

// Advance implements [Equipment]:
//
//	C dT = joules − A (10 + ε σ 4 Tm³) (T − room) dt
//
// with the loss of a gray surface, 0.8, and still air, in one exponential.
func (c *Clamp) Advance(dt, joules float64) {
	c.T += joules / c.capacity()
	if dt <= 0 {
		return
	}
	h := 10 + 0.8*medium.Sigma*(c.T*c.T+c.room*c.room)*(c.T+c.room)
	c.T = c.room + (c.T-c.room)*math.Exp(-c.skin*h*dt/c.capacity())
}

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
