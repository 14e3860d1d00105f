package shop

import (
	"math"

	"github.com/heatwright/heatwright/medium"
)

// Bath is a tank of quenching liquid.
type Bath struct {
	Name        string
	Liquid      medium.Quenchant
	Volume      Estimate // [m³]; not known: 12 L for oil, 20 L for water
	Depth       Estimate // of the liquid [m]; not known: not checked
	Temperature Estimate // when work starts [K]; not known: the room for water, 40 °C for oil
	Limit       Estimate // where one stops to let it cool [K]
	Flash       Estimate // flash point of the oil, open cup [K]; not known: low end of its class
	Salt        Estimate // in brine [mass %]; not known: 8
	Vigor       Estimate // the shop's own factor on heat transfer; not known: 1 with the band of the class
	Wets        Estimate // speed of the wetting front from edges and tips [m/s]: 5–30 mm/s in oil, 10–100 in water, from memory; not known: at once
	VigorThin   Estimate // a further factor on edges under 1 mm, which no probe resolves; not known: 1
	Stir        medium.Stir
	Lid         bool
	Own         *medium.Generator // a curve measured in this bath
}

// flash points by class [°C]: open cup, low end of the range met, from memory; only the
// vegetable oil's was read (315–330 °C, text of a safety sheet).
var flashPoints = map[medium.Quenchant][2]float64{
	medium.FastOil: {135, 175}, medium.MediumOil: {150, 190}, medium.SlowOil: {180, 230},
	medium.HotOil: {250, 290}, medium.VegetableOil: {315, 330},
}

// FlashPoint returns the flash point that counts [K]: as told, or the low end of
// the class. ok is false for liquids that do not burn.
func (b *Bath) FlashPoint() (T float64, ok bool) {
	if b.Flash.Known {
		return b.Flash.Low, true
	}
	f, burns := flashPoints[b.Liquid]
	return f[0] + medium.CelsiusZero, burns
}

// StartTemperature returns the bath's temperature when work starts [K].
func (b *Bath) StartTemperature(room float64) float64 {
	if b.Temperature.Known {
		return b.Temperature.Value
	}
	switch b.Liquid {
	case medium.Water, medium.Brine:
		return room
	case medium.HotOil:
		return 120 + medium.CelsiusZero
	}
	return 40 + medium.CelsiusZero
}

// liquidOf gives density [kg/m³] at 20 °C and heat capacity [J/kgK] at T [K].
// Mineral oil 1.9–2.2 kJ/kgK rising with temperature (from memory, ±5 %), density
// 860–920; water and brine by the handbooks (from memory).
func liquidOf(k medium.Quenchant, T float64) (rho, cp float64) {
	switch k {
	case medium.Water:
		return 998, 4190
	case medium.Brine:
		return 1055, 3850
	case medium.VegetableOil:
		return 918, 1950 + 2.2*(T-313)
	}
	return 880, 1950 + 3.0*(T-313)
}

// Pool is a bath at work: it warms by exactly the heat it is given and cools
// through its surface and walls.
type Pool struct {
	Bath
	T                float64 // [K]
	room             float64
	mass             float64 // [kg]
	loss             float64 // conductance to the room [W/K]
	law              *medium.Liquid
	above            *medium.Air
	piece            Piece
	stir             medium.Stir
	tau              float64
	front            float64
	wash             bool
	Heater           float64 // [W], as set
	hottest, coldest float64 // so far [K]
}

func newPool(b Bath, room float64) *Pool {
	p := &Pool{Bath: b, room: room, T: b.StartTemperature(room), stir: b.Stir}
	v := b.volume()
	rho, _ := liquidOf(b.Liquid, p.T)
	p.mass = rho * v
	// A tank half again as deep as wide: area of surface and walls, 10 W/m²K to the room.
	side := math.Cbrt(v / 1.5)
	surface := side*side*2 + 6*side*side
	if b.Lid {
		surface -= 0.5 * side * side
	}
	p.loss = 10 * surface
	p.hottest, p.coldest = p.T, p.T
	return p
}

func (b *Bath) volume() float64 {
	if b.Liquid.Aqueous() {
		return b.Volume.Or(0.020, 0.008).Value
	}
	return b.Volume.Or(0.012, 0.005).Value
}

// Name implements [Equipment].
func (p *Pool) Name() string { return p.Bath.Name }

// Law implements [Equipment]. Faces.Wet says what is under.
func (p *Pool) Law(piece *Piece, _ float64) medium.Law {
	if p.law == nil || p.piece != *piece {
		if p.above == nil || p.piece != *piece {
			p.above = medium.StillAir(p.room, piece.height(), piece.orientation())
		}
		p.law = medium.Immersion{
			Kind: p.Liquid, T: p.T, Salt: p.Salt.Or(8, 2).Value, Stir: p.stir, Vigor: p.Vigor.Or(1, 0.25).Value,
			Thin: p.VigorThin.Or(1, 0).Value, Own: p.Own, Tau: p.tau, Front: p.front, Wash: p.wash, Above: p.above,
		}.Law()
		p.piece = *piece
	}
	p.law.Warm(p.T)
	return p.law
}

// Move says how the piece is moved in the bath, and what is assumed of its first
// contact (see [medium.Immersion]).
func (p *Pool) Move(stir medium.Stir, tau, front float64) {
	if stir != p.stir || tau != p.tau || front != p.front {
		p.stir, p.tau, p.front, p.law = stir, tau, front, nil
	}
}

// Wash says whether a thin coat of clay lies on the piece.
func (p *Pool) Wash(there bool) {
	if there != p.wash {
		p.wash, p.law = there, nil
	}
}

// Atmosphere implements [Equipment].
func (p *Pool) Atmosphere() medium.Atmosphere { return medium.UnderBath }

// Advance implements [Equipment].
//
//	m c(T) dT = joules − G (T − room) dt + heater dt
//
// The loss is integrated exactly over dt for the linear law, so a night of
// cooling is one step.
func (p *Pool) Advance(dt, joules float64) {
	_, c := liquidOf(p.Liquid, p.T)
	// Heat capacity at the middle of the rise, so that the heat is the integral of c.
	T := p.T
	for range 3 {
		_, cm := liquidOf(p.Liquid, 0.5*(p.T+T))
		c = cm
		T = p.T + joules/(p.mass*c)
	}
	p.T = T
	if dt > 0 {
		rest := p.room + p.Heater/p.loss
		p.T = rest + (p.T-rest)*math.Exp(-p.loss*dt/(p.mass*c))
	}
	p.hottest, p.coldest = max(p.hottest, p.T), min(p.coldest, p.T)
}

// Temperature implements [Equipment].
func (p *Pool) Temperature() float64 { return p.T }

// Mass returns the mass of the liquid [kg].
func (p *Pool) Mass() float64 { return p.mass }

// FlashMargin returns how far the hottest moment so far stayed below the flash
// point [K]; ok is false for liquids that do not burn.
func (p *Pool) FlashMargin() (margin float64, ok bool) {
	f, burns := p.FlashPoint()
	return f - p.hottest, burns
}

// Save implements [Equipment].
func (p *Pool) Save(dst []float64) []float64 {
	return append(dst, p.T, p.hottest, p.coldest, float64(p.stir), p.tau, p.front, p.Heater)
}

// Restore implements [Equipment].
func (p *Pool) Restore(src []float64) []float64 {
	p.T, p.hottest, p.coldest, p.Heater = src[0], src[1], src[2], src[6]
	p.Move(medium.Stir(src[3]), src[4], src[5])
	return src[7:]
}

// Clone implements [Equipment].
func (p *Pool) Clone() Equipment {
	c := *p
	c.law = nil
	return &c
}
