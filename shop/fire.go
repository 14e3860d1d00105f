package shop

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/unit"
)

// Fire is a forge at work. A gas forge carries its heat balance:
//
//	fuel · LHV · available(Tg, air) = A h(Tg, Tw) + steel's share from the gas
//	A h(Tg, Tw) = A q(lining) + σ F A_open (Tw⁴ − T_room⁴) + steel's share from the wall
//
// The lining is stepped cell by cell. The smith holds the place of the piece at
// a temperature by the valve; when full gas is not enough the walls sag. A muffle
// or a solid fuel hearth is one thermal mass that comes back to what it holds.
//
// Held against the wall losses of four linings at 1200 °C, and common practice
// for the time to heat; ±30 % on fuel and time, mostly from the lining's
// properties, which are from memory.
type Fire struct {
	Forge
	set      float64 // wanted at the place of the piece [K]
	wallT    float64 // face of the lining [K]
	gasT     float64 // gas in the chamber [K]
	rate     float64 // fuel now [kg/s]
	burnt    float64 // fuel so far [kg]
	lift     float64 // place of the piece over wall [K]
	room     float64
	lining   *wall
	burn     Burn
	gas      medium.Atmosphere
	avail    [avSteps + 1]float64 // available heat over gas temperature
	area     float64
	open     float64
	most     float64 // full gas [kg/s]
	least    float64
	law      medium.Enclosure
	capacity float64 // of a muffle or hearth [J/K]
}

const (
	avFrom, avStep, avSteps = 250.0, 50.0, 60
	toWallH                 = 60.  // gas to wall, convection [W/m²K], from memory
	toWallEps               = 0.12 // gas to wall, radiation: 10–20 cm of flue, from memory
	fromGas                 = 0.25 // share of the steel's heat that the gas gives
	doorView                = 0.75 // how black the opening looks from inside
	valve                   = 5.   // time in which the hand at the valve follows what the eye sees [s], own estimate
)

func newFire(f Forge, room float64) *Fire {
	holds, _, _ := f.HoldsBand()
	air, _, _ := f.air()
	if f.Fuel == "" {
		f.Fuel = Propane
	}
	x := &Fire{Forge: f, room: room, burn: NewBurn(f.Fuel, air), gas: Atmosphere(f.Fuel, air), lining: newWall(f.lining(), room)}
	x.lining.room = room
	x.area, x.open = f.chamber()
	for i := range x.avail {
		x.avail[i] = x.burn.Available(avFrom + avStep*float64(i))
	}
	x.capacity = x.area * 12000
	x.settle(holds)
	defer x.light()
	// Full gas as told; a forge is known to hold what it holds, so never less than that with a tenth to spare.
	x.most = max(f.Gas.Or(1.6*x.rate, 0.5*x.rate).Value, 1.1*x.rate)
	x.least = 0.5 * min(f.GasLow.Or(0.25*x.most, 0.1*x.most).Value, x.rate) // the valve closes further than the usual low
	return x
}

// gasFired says whether the heat balance of the chamber is carried.
func (f *Fire) gasFired() bool { return f.Kind == GasForge }

// Name implements [Equipment].
func (f *Fire) Name() string { return f.Forge.Name }

// Set implements [Adjustable]: the temperature held at the place of the piece,
// with a fire that has burnt long, unless the shop says when it was lit. See Light for a cold one and Hold for turning
// the valve.
func (f *Fire) Set(T float64) error {
	if err := f.Hold(T); err != nil {
		return err
	}
	if f.hot() {
		f.settle(T)
	}
	return nil
}

// Hold changes what is held at the place of the piece [K] without waiting for it.
func (f *Fire) Hold(T float64) error {
	if !(T >= 400+zero && T <= 1400+zero) {
		return Problem{Where: "forge " + f.Forge.Name, What: "temperature", Value: T, Unit: "K", Low: 400 + zero, High: 1400 + zero,
			Remedy: "give what the piece sees at its place, for example 820 °C for hardening or 1150 °C for forging"}
	}
	f.set = T
	return nil
}

// hot reports whether the fire has burnt long, as far as the shop says.
func (f *Fire) hot() bool { return !f.Lit.Known }

// Light starts the day: lining and chamber are as cold as the room.
func (f *Fire) Light() {
	for i := range f.lining.T {
		f.lining.T[i] = f.room
	}
	f.wallT, f.gasT, f.lift, f.rate, f.burnt = f.room, f.room, 0, 0, 0
}

// settle puts the fire at the steady state that holds T at the place of the piece.
func (f *Fire) settle(T float64) {
	f.set, f.wallT = T, T
	if !f.gasFired() {
		f.gasT = T
		if f.Kind == CokeHearth || f.Kind == CharcoalFire {
			f.gasT = T + 100
		}
		f.rate = f.Gas.Or(0.5/3600, 0.2/3600).Value
		return
	}
	for range 30 {
		loss, _ := f.lining.settle(f.wallT)
		need := f.area*loss + f.throughDoor(f.wallT)
		f.gasT = f.gasFor(need/f.area, f.wallT)
		f.rate = need / (fuels[f.Fuel].lower * f.available(f.gasT))
		f.lift = f.place() - f.wallT
		next := T - f.lift
		if math.Abs(next-f.wallT) < 1e-6 {
			break
		}
		f.wallT = next
	}
}

func (f *Fire) throughDoor(T float64) float64 {
	r2 := f.room * f.room
	return medium.Sigma * doorView * f.open * (T*T*T*T - r2*r2)
}

func (f *Fire) available(T float64) float64 {
	u := min(max((T-avFrom)/avStep, 0), avSteps-1e-9)
	i := int(u)
	return f.avail[i] + (u-float64(i))*(f.avail[i+1]-f.avail[i])
}

// toWall returns the flux from gas to wall [W/m²] and its derivative by the gas temperature.
func toWall(Tg, Tw float64) (q, dq float64) {
	r, dr := toWallEps*medium.Sigma*(Tg*Tg*Tg*Tg-Tw*Tw*Tw*Tw), 4*toWallEps*medium.Sigma*Tg*Tg*Tg
	return toWallH*(Tg-Tw) + r, toWallH + dr
}

// gasFor returns the gas temperature that gives the wall a flux q [W/m²].
func (f *Fire) gasFor(q, Tw float64) float64 {
	T := Tw + q/200
	for range 30 {
		v, d := toWall(T, Tw)
		move := (v - q) / d
		if T -= move; math.Abs(move) < 1e-9 {
			break
		}
	}
	return T
}

// gasAt returns the gas temperature at a fuel rate [kg/s] over a wall at Tw,
// with steel taking its share [W]. The balance falls steadily with the gas
// temperature, so that Newton steps from the last one find it.
func (f *Fire) gasAt(rate, Tw, steel float64) float64 {
	p := rate * fuels[f.Fuel].lower
	T := max(f.gasT, Tw)
	for range 60 {
		q, dq := toWall(T, Tw)
		u := min(max((T-avFrom)/avStep, 0), avSteps-1e-9)
		k := int(u)
		slope := (f.avail[k+1] - f.avail[k]) / avStep
		move := (p*f.available(T) - f.area*q - fromGas*steel) / (p*slope - f.area*dq)
		T = min(max(T-move, 200), avFrom+avStep*avSteps)
		if math.Abs(move) < 1e-7 {
			break
		}
	}
	return T
}

// Law implements [Equipment]. The opening is seen as a cold part of the wall.
func (f *Fire) Law(p *Piece, _ float64) medium.Law {
	f.law = f.enclosure()
	f.law.Share = min(p.area()/f.area, 0.5)
	f.law.Toward, f.law.Asymmetry = [3]float64{0, 0, 1}, f.OneSide
	if f.OneSide > 0 {
		f.law.Hot, f.law.HotView = f.gasT, toWallEps
	}
	return &f.law
}

func (f *Fire) enclosure() medium.Enclosure {
	flow := 60.
	switch f.Kind {
	case Muffle:
		flow = 15
	case CokeHearth, CharcoalFire:
		flow = 100
	}
	seen := f.wallT
	if f.gasFired() {
		part := f.open / (f.area + f.open)
		seen = math.Pow((1-part)*math.Pow(f.wallT, 4)+part*math.Pow(f.room, 4), 0.25)
	}
	return medium.Enclosure{Wall: seen, Gas: f.gasT, H: f.Flow.Or(flow, 0.3*flow).Value}
}

// place returns where a small oxidized piece would settle [K].
func (f *Fire) place() float64 {
	e := f.enclosure()
	T := e.Wall
	for range 50 {
		q := 0.8*medium.Sigma*(T*T*T*T-math.Pow(e.Wall, 4)) + e.H*(T-e.Gas)
		move := q / (3.2*medium.Sigma*T*T*T + e.H)
		if T -= move; math.Abs(move) < 1e-9 {
			break
		}
	}
	return T
}

// Atmosphere implements [Equipment].
func (f *Fire) Atmosphere() medium.Atmosphere {
	switch f.Kind {
	case Muffle:
		return medium.MuffleAir
	case CokeHearth, CharcoalFire:
		return medium.Neutral
	}
	return f.gas
}

// Advance implements [Equipment].
func (f *Fire) Advance(dt, joules float64) {
	if !f.gasFired() {
		f.wallT += joules / f.capacity
		back := (f.set - f.wallT) * -math.Expm1(-dt/120)
		f.wallT += min(back, slowRise*dt)
		f.gasT = f.wallT
		f.burnt += f.rate * dt
		return
	}
	if dt <= 0 {
		return
	}
	steel := -joules / dt
	slope, base := f.lining.respond(dt)
	// What gas holds the place at its temperature?
	want := f.set - f.lift
	fire := f.area*(slope*want-base) + f.throughDoor(want) + (1-fromGas)*steel
	Tg := f.gasFor(fire/f.area, want)
	rate := (fire + fromGas*steel) / (fuels[f.Fuel].lower * max(f.available(Tg), 0.02))
	limited := true
	switch {
	case Tg > 2300 || rate > f.most:
		rate = f.most
	case rate < f.least:
		rate = f.least
	default:
		limited = false
	}
	if f.rate = rate; limited {
		f.wallT = f.faceAt(rate, steel, slope, base)
		f.gasT = f.gasAt(rate, f.wallT, steel)
	} else {
		f.wallT, f.gasT = want, Tg
	}
	f.lining.step(dt, slope*f.wallT-base)
	f.burnt += rate * dt
	f.lift += (f.place() - f.wallT - f.lift) * math.Min(0.5, 1-math.Exp(-dt/valve))
}

// faceAt solves the balance of the wall for its temperature at a fuel rate:
// secant steps inside a bracket.
func (f *Fire) faceAt(rate, steel, slope, base float64) float64 {
	balance := func(T float64) float64 {
		q, _ := toWall(f.gasAt(rate, T, steel), T)
		return f.area*(q-slope*T+base) - f.throughDoor(T) - (1-fromGas)*steel
	}
	lo, hi := 150.0, 2600.0 // balance is positive at lo, negative at hi
	a := min(max(f.wallT, lo+1), hi-1)
	fa := balance(a)
	b := a + 1
	for range 60 {
		fb := balance(b)
		if fb > 0 {
			lo = b
		} else {
			hi = b
		}
		next := b - fb*(b-a)/(fb-fa)
		if !(next > lo && next < hi) {
			next = 0.5 * (lo + hi)
		}
		a, fa, b = b, fb, next
		if math.Abs(b-a) < 1e-7 {
			break
		}
	}
	return b
}

// Temperature implements [Equipment]: at the place of the piece.
func (f *Fire) Temperature() float64 {
	if !f.gasFired() {
		return f.wallT
	}
	return f.place()
}

// Wall returns the temperature of the face of the lining [K].
func (f *Fire) Wall() float64 { return f.wallT }

// GasTemperature returns the temperature of the gas in the chamber [K].
func (f *Fire) GasTemperature() float64 { return f.gasT }

// Rate returns the fuel being burnt [kg/s].
func (f *Fire) Rate() float64 { return f.rate }

// Burnt returns the fuel burnt so far [kg].
func (f *Fire) Burnt() float64 { return f.burnt }

// OpenDoor sets the open area of door and ends [m²]: wide while a long bar is in,
// a brick in front of it while it soaks.
func (f *Fire) OpenDoor(area float64) { f.open = max(area, 0) }

// Session returns the fuel of an evening [kg] with the band of the model: from
// lighting a cold forge to T [K], then at work for some time [s] while steel takes
// up joules in all.
func (f *Fire) Session(T, working, joules float64) unit.Band {
	seconds, fuel, ok := f.FromCold(T)
	if !ok {
		fuel = f.most * seconds
	}
	x := f.Clone().(*Fire)
	if x.Hold(T) != nil || working <= 0 {
		return unit.Band{Value: fuel, Low: fuel / 1.3, High: fuel * 1.3}
	}
	x.settle(T)
	x.burnt = 0
	const n = 60
	for range n {
		x.Advance(working/n, -joules/n)
	}
	fuel += x.burnt
	return unit.Band{Value: fuel, Low: fuel / 1.3, High: fuel * 1.3}
}

// slowRise is how fast a pipe or a hearth comes up from cold [K/s]: 25 min to 800 °C; common practice.
const slowRise = 780. / 1500

// FromCold returns the time [s] and the fuel [kg] from lighting until the place
// of the piece is at T [K], full gas, empty chamber; ok is false when it does not
// get there within four hours. For a muffle, coke or charcoal the time is common
// practice, 25 min to 800 °C, and carries a factor of 1.5.
func (f *Fire) FromCold(T float64) (seconds, fuel float64, ok bool) {
	if !f.gasFired() {
		seconds = max(T-f.room, 0) / slowRise
		return seconds, seconds * f.rate, true
	}
	x := f.Clone().(*Fire)
	x.Light()
	if x.Hold(min(T+30, 1400+zero)) != nil {
		return 0, 0, false
	}
	for t := 0.0; t < 4*3600; t += 10 {
		x.Advance(10, 0)
		if x.place() >= T {
			return t + 10, x.burnt, true
		}
	}
	return 4 * 3600, x.burnt, false
}

// light begins with a cold lining, and lets the time pass that the shop says it has burnt.
func (f *Fire) light() {
	if !f.Lit.Known {
		return
	}
	set := f.set
	f.Light()
	f.set = set
	f.burnFor(f.Lit.Value)
}

// burnFor lets an empty fire burn for a time [s].
func (f *Fire) burnFor(seconds float64) {
	const step = 10
	for t := 0.0; t < seconds; t += step {
		f.Advance(min(step, seconds-t), 0)
	}
}

// Save implements [Equipment].
func (f *Fire) Save(dst []float64) []float64 {
	dst = append(dst, f.set, f.wallT, f.gasT, f.rate, f.burnt, f.lift, f.lining.stored, f.lining.lost, f.open)
	return append(dst, f.lining.T...)
}

// Restore implements [Equipment].
func (f *Fire) Restore(src []float64) []float64 {
	f.set, f.wallT, f.gasT, f.rate, f.burnt, f.lift = src[0], src[1], src[2], src[3], src[4], src[5]
	f.lining.stored, f.lining.lost = src[6], src[7]
	f.open = src[8]
	n := copy(f.lining.T, src[9:])
	return src[9+n:]
}

// Clone implements [Equipment].
func (f *Fire) Clone() Equipment {
	c := *f
	c.lining = f.lining.clone()
	return &c
}

func celsius(T float64) string { return fmt.Sprintf("%.0f °C", T-medium.CelsiusZero) }
