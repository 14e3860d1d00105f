package shop

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/medium"
)

// OvenKind is a class of oven.
type OvenKind string

// The ovens that are known.
const (
	Kiln    OvenKind = "kiln"         // electric, controlled, to hardening heat
	Kitchen OvenKind = "kitchen oven" // on and off, dial
	Toaster OvenKind = "toaster oven" // small, glowing elements close by
)

// Oven is a kiln or an oven.
type Oven struct {
	Name   string
	Kind   OvenKind
	Fan    bool
	Offset Estimate // true temperature minus dial [K]; not known: 0 with the band of the kind
	Swing  Estimate // half of what it swings [K]; not known: by kind
	Most   Estimate // the hottest it goes [K]; not known: by kind
	Power  Estimate // of the elements [W]
	Plate  Estimate // mass of a plate or tray of sand inside [kg]
	Length Estimate // inside [m]
	Dial   Estimate // where it stands when work starts [K]; not known: cold
}

type ovenDefaults struct {
	offset, swing, most, power, period, mass, loss, h float64
}

// by kind: band of the offset [K], swing [K], most [K], power [W], period of the
// swing [s], thermal mass as kg of brick or sheet [J/K], loss [W/K], still air
// coefficient [W/m²K]. From memory and common practice.
func (o *Oven) defaults() ovenDefaults {
	var d ovenDefaults
	switch o.Kind {
	case Kitchen:
		d = ovenDefaults{15, 12, 280 + medium.CelsiusZero, 2400, 420, 9000, 4.5, 10}
	case Toaster:
		d = ovenDefaults{20, 18, 250 + medium.CelsiusZero, 1300, 180, 2500, 3, 10}
	default:
		d = ovenDefaults{8, 4, 1250 + medium.CelsiusZero, 3000, 60, 12000, 1.6, 10}
	}
	if o.Fan {
		d.h = 30
		d.swing *= 0.6
	}
	d.mass += 500 * o.Plate.Or(0, 0).Value
	return d
}

// OffsetBand returns true temperature minus dial with its band [K].
func (o *Oven) OffsetBand() (value, low, high float64) {
	b := o.Offset.Or(0, o.defaults().offset)
	return b.Value, b.Low, b.High
}

// SwingBand returns half of the swing [K].
func (o *Oven) SwingBand() float64 { d := o.defaults(); return o.Swing.Or(d.swing, d.swing/2).Value }

// Chamber is an oven at work: one thermal mass that the elements heat with
// limited power, so that it sags when cold steel comes in, swings around its
// set-point, and cools when it is off.
type Chamber struct {
	Oven
	T     float64 // mean of walls and air [K]
	dial  float64 // [K], 0: off
	clock float64 // [s]
	room  float64
	def   ovenDefaults
	law   medium.Enclosure
	ramp  float64 // how fast the set-point moves to the dial [K/s]; 0: at once
	at    float64 // where the set-point is on its way [K]
	drawn float64 // energy from the mains [J]
	duty  float64 // share of their power that the elements gave in the last step [–]
}

// Elements of a kitchen or toaster oven glow at about 750 °C while they are on, and
// fill a twentieth of the view of a face that is turned to them (from memory, a
// factor of two). A plate or tray of sand under the piece hides them.
const (
	elementT    = 750 + medium.CelsiusZero
	elementView = 0.05
)

func newChamber(o Oven, room float64) *Chamber {
	c := &Chamber{Oven: o, T: room, room: room, def: o.defaults()}
	if o.Dial.Known {
		c.dial = o.Dial.Value
		c.T = c.target()
	}
	return c
}

// Name implements [Equipment].
func (c *Chamber) Name() string { return c.Oven.Name }

// Set implements [Adjustable]: the dial, and the oven is up to heat when the
// piece goes in. For a dial that is turned while the piece is in, see Turn.
func (c *Chamber) Set(dial float64) error {
	if err := c.Turn(dial); err != nil {
		return err
	}
	c.T = c.target()
	full := c.Power.Or(c.def.power, 0).Value
	c.duty = min(max(c.def.loss*(c.T-c.room)/full, 0), 1)
	return nil
}

// Turn moves the dial [K] without waiting for the oven; 0 switches it off.
func (c *Chamber) Turn(dial float64) error {
	most := c.Most.Or(c.def.most, 0).Value
	if dial > most+0.5 {
		return Problem{Where: "oven " + c.Oven.Name, What: "dial", Value: dial, Unit: "K", Low: 313, High: most,
			Remedy: fmt.Sprintf("set it to %.0f °C or less, or use the forge", most-medium.CelsiusZero)}
	}
	c.dial, c.ramp = dial, 0
	return nil
}

// Ramp turns the dial and lets the controller go there at a rate [K/s], up or
// down, from where the oven stands.
func (c *Chamber) Ramp(dial, rate float64) error {
	if err := c.Turn(dial); err != nil {
		return err
	}
	c.ramp, c.at = math.Abs(rate), c.T
	return nil
}

// Goal returns where the oven is going [K]: its temperature, or the end of its ramp.
func (c *Chamber) Goal() float64 {
	if c.ramp > 0 {
		return c.target()
	}
	return c.T
}

// Cool lets the oven stand as cold as the shop.
func (c *Chamber) Cool() { c.T = c.room }

// FromCold returns the time [s] and the energy [J] from switching on until the
// empty oven stands at a dial [K]; ok is false when its power does not get it there
// within six hours.
func (c *Chamber) FromCold(dial float64) (seconds, joules float64, ok bool) {
	x := *c
	x.T, x.drawn = x.room, 0
	if x.Turn(dial) != nil {
		return 0, 0, false
	}
	for t := 0.0; t < 6*3600; t += 10 {
		x.Advance(10, 0)
		if x.T >= x.target()-1 {
			return t + 10, x.drawn, true
		}
	}
	return 6 * 3600, x.drawn, false
}

func (c *Chamber) target() float64 {
	if c.dial == 0 {
		return c.room
	}
	return c.dial + c.Offset.Or(0, c.def.offset).Value
}

// OpenDoor lets air in for some seconds while pieces are laid in: the open front
// loses eight times what the closed oven does (own estimate).
func (c *Chamber) OpenDoor(seconds float64) {
	c.T = c.room + (c.T-c.room)*math.Exp(-8*c.def.loss*seconds/c.def.mass)
}

// Law implements [Equipment]. The swing enters as its mean over the step, so a
// long step feels none of it.
func (c *Chamber) Law(p *Piece, dt float64) medium.Law {
	w := 2 * math.Pi / c.def.period
	swing := 0.0
	if c.dial > 0 {
		s := c.SwingBand()
		if a := w * dt; a > 1e-6 {
			swing = s * (math.Cos(w*c.clock) - math.Cos(w*(c.clock+dt))) / a
		} else {
			swing = s * math.Sin(w*c.clock)
		}
	}
	c.law = medium.Enclosure{Wall: c.T + swing, Gas: c.T + swing, H: c.def.h}
	if c.Kind != Kiln && c.dial > 0 && !c.Fan && !c.Plate.Known {
		c.law.Hot, c.law.HotView, c.law.Toward = elementT, elementView*c.duty, [3]float64{0, 1, 0}
	}
	if most := 0.25; p.area() > 0.02 {
		c.law.Share = min(p.area()/0.3, most)
	}
	return &c.law
}

// Atmosphere implements [Equipment].
func (c *Chamber) Atmosphere() medium.Atmosphere { return medium.ClosedOven }

// Advance implements [Equipment]. The elements give what holds the set-point, up
// to their power.
func (c *Chamber) Advance(dt, joules float64) {
	if dt <= 0 {
		c.T += joules / c.def.mass
		return
	}
	full := c.Power.Or(c.def.power, 0.2*c.def.power).Value
	// Wanted: end the step on target, with the loss of the step's middle.
	target := c.target()
	if c.ramp > 0 && c.dial > 0 {
		if way := c.ramp * dt; math.Abs(target-c.at) > way {
			c.at += math.Copysign(way, target-c.at)
			target = c.at
		} else {
			c.ramp = 0
		}
	}
	need := 0.0
	if c.dial > 0 {
		need = c.def.mass*(target-c.T)/dt + c.def.loss*(0.5*(target+c.T)-c.room) - joules/dt
	}
	give := min(max(need, 0), full)
	c.duty = give / full
	rest := c.room + (give+joules/dt)/c.def.loss
	next := rest + (c.T-rest)*math.Exp(-c.def.loss*dt/c.def.mass)
	c.drawn += give * dt
	c.T = next
	c.clock += dt
}

// Temperature implements [Equipment].
func (c *Chamber) Temperature() float64 { return c.T }

// Drawn returns the energy taken from the mains so far [J].
func (c *Chamber) Drawn() float64 { return c.drawn }

// Save implements [Equipment].
func (c *Chamber) Save(dst []float64) []float64 {
	return append(dst, c.T, c.dial, c.clock, c.drawn, c.ramp, c.at, c.duty)
}

// Restore implements [Equipment].
func (c *Chamber) Restore(src []float64) []float64 {
	c.T, c.dial, c.clock, c.drawn, c.ramp, c.at, c.duty = src[0], src[1], src[2], src[3], src[4], src[5], src[6]
	return src[7:]
}

// Clone implements [Equipment].
func (c *Chamber) Clone() Equipment { d := *c; return &d }
