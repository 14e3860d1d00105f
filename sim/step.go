package sim

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/steel"
)

// roughCp is the heat capacity by which the heat of the next step's changes is
// foretold [J/kgK]; what is foretold wrongly is put right within the step.
const roughCp = 700

// try marches the piece dt [s] on and returns what that did, with the heat out
// of the mesh [J]. In this order: conduction carries enthalpy at frozen
// structure; the metal changes at the temperatures that it then has; the same
// enthalpy gives the temperatures of the new structure, so that no joule is lost
// or made; the skin follows. undo takes it back, accept keeps it.
//
// Conduction is lent the heat that the last step's change set free, as a source,
// and gives it back before the metal moves: temperatures then run smoothly
// through a transformation, and the enthalpy is what it was.
func (m *March) try(dt float64) (effort, float64, error) {
	field := m.now.field
	m.stay.tried = dt
	copy(m.was, field.T)
	m.foresee(0.5 * dt)
	m.rim.law = m.law(dt)
	if m.stay.wetting {
		m.stay.plunge.wet(m.rim.faces.Wet, m.clock+0.5*dt-m.stay.start)
	}
	m.steel = steelOfCells{m.metal, m.thermal, m.now.cells, dt, m.laps}
	for i, w := range m.glow {
		if most := m.room[i] / dt; w > most {
			w = most
		} else if w < -most {
			w = -most
		}
		m.loan[i] = w
		m.source[i] = w * field.Mass[i]
	}
	was := m.laps.to(conducting)
	report := field.Step(dt, &m.steel, &m.rim, m.source)
	m.laps.to(turning)
	for i, w := range m.loan {
		field.H[i] -= w * dt
	}
	var change micro.Change
	var e effort
	if m.still = m.metalIs == resting && m.metal.Still(m.now.cells, field.T); m.still {
		m.after = m.now.cells
		clear(m.glowNext)
	} else {
		m.after = m.next.cells
		change = m.settle(dt)
		e.fraction, e.jump = change.MaxFraction/m.most.cell, m.lend(dt)
	}
	m.laps.to(was)
	if change.MaxFraction > 0.5*m.most.fraction {
		e.fraction = math.Max(e.fraction, m.turnover()/m.most.fraction)
	}
	for _, i := range m.rind {
		e.rise = math.Max(e.rise, math.Abs(field.T[i]-m.was[i]))
	}
	most := m.most.err
	switch {
	case m.stay.wetting:
		most = m.most.errWet
	case dt < longStep: // what is off in it evens out
	case m.metalIs == resting:
		most = m.most.errRest
	default:
		most = m.most.errTemper
	}
	e.err = math.Max(report.Kept, m.most.firstOrder*report.Error) / most
	switch {
	case m.metalIs == resting && change.MaxFraction < 1e-4:
		e.rise /= m.most.rest
	case m.metalIs == tempering:
		e.rise /= m.most.temper
	case change.MaxFraction < 0.1*m.most.fraction:
		e.rise /= m.most.rise * m.most.calm
	default:
		e.rise /= m.most.rise
	}
	if math.IsNaN(e.worst()) {
		return e, 0, fmt.Errorf("sim: not a number %g s into step %q", m.clock-m.stay.start, m.stageNow().Name)
	}
	return e, report.Joules, nil
}

// unsettled is how far the temperature that a cell moved at may be from the one it
// ends with [K]; beyond it the two are brought together. Only the change to
// austenite is driven by so few kelvins that it matters much.
const (
	unsettled     = 1.2
	unsettledCold = 4
)

// fewLeft is the share of ferrite and pearlite below which a cell above Ae1 is moved at
// the mean temperature of the step, for what is left of it takes up little heat [–].
const fewLeft = 0.02

// settle moves the metal over dt and gives the enthalpy its temperatures.
func (m *March) settle(dt float64) micro.Change {
	T, H := m.now.field.T, m.now.field.H
	copy(m.then, T)
	ae1, _ := m.metal.Limits().Ae1()
	low := m.now.cells.Lowest
	for i, t := range m.then {
		m.at[i] = t
		if t >= low[i] && (t < ae1 || untransformed(m.now.cells, i) < fewLeft) {
			// What goes with time goes at the mean temperature of the step. Martensite goes
			// by the last, and the change to austenite, driven by few kelvins, would ring.
			m.at[i] = 0.5 * (t + m.was[i])
		}
	}
	change := m.metal.Move(m.next.cells, m.now.cells, m.at, T, H, dt)
	redo := false
	for i, at := range m.then {
		d := math.Abs(T[i] - at)
		if d > unsettled && (at > ae1 || d > unsettledCold && m.at[i] == at) {
			T[i], _ = m.metal.Settle(m.next.cells, m.now.cells, i, m.at[i], T[i], H[i], dt)
			redo = true
		}
	}
	if redo {
		change.MaxFraction = m.mostChanged()
	}
	m.now.field.Corrected(m.then)
	return change
}

// lend reckons the heat that the next step is lent from what this one set free,
// and returns how far this one was lent wrongly, as a share of what it may be.
func (m *March) lend(dt float64) float64 {
	field := m.now.field
	f, low := &m.next.cells.Fraction, m.next.cells.Lowest
	most, sum := 0.0, 0.0
	for i, T := range field.T {
		d := T - m.then[i]
		if math.Abs(d) > most {
			most = math.Abs(d)
		}
		sum += d * field.Mass[i]
		g := 0.0
		if T > 720 || T >= low[i] { // the heat of martensite is part of the heat capacity
			g = m.loan[i] + roughCp/dt*d
			if aus := f[steel.Austenite][i]; g < 0 {
				m.roomNext[i] = heatOfHeating * (1 - aus - f[steel.RetainedAustenite][i] - f[steel.Carbide][i])
			} else {
				m.roomNext[i] = heatOfCooling * (aus + f[steel.RetainedAustenite][i] + 0.5*f[steel.Martensite][i])
			}
		}
		m.glowNext[i] = g
	}
	return math.Max(most/m.most.jump, math.Abs(sum)/m.meshMass/m.most.mean)
}

// What a change to austenite takes up and what one from it gives back at most [J/kg].
const (
	heatOfHeating = 85e3
	heatOfCooling = 110e3
)

// mostChanged returns the largest change of a constituent in any cell [–].
func (m *March) mostChanged() float64 {
	old, new := &m.now.cells.Fraction, &m.next.cells.Fraction
	most := 0.0
	for i, aus := range old[steel.Austenite] {
		most = math.Max(most, math.Abs(new[steel.Austenite][i]+new[steel.RetainedAustenite][i]-aus-old[steel.RetainedAustenite][i]))
	}
	for k := steel.Martensite; k < steel.NumConstituents; k++ {
		a, b := old[k], new[k][:len(old[k])]
		for i, x := range a {
			if d := b[i] - x; d > most || -d > most {
				most = math.Abs(d)
			}
		}
	}
	return most
}

// turnover returns the largest change of a constituent in the step that is tried,
// as a share of the piece [–].
func (m *March) turnover() float64 {
	var sum [steel.NumConstituents]float64
	mass := m.now.field.Mass
	for k := range sum {
		old, new := m.now.cells.Fraction[k][:len(mass)], m.next.cells.Fraction[k][:len(mass)]
		x := 0.0
		for i, w := range mass {
			x += w * (new[i] - old[i])
		}
		sum[k] = x
	}
	sum[steel.Austenite] += sum[steel.RetainedAustenite] // two names of one thing
	sum[steel.RetainedAustenite] = 0
	most := 0.0
	for _, x := range sum {
		most = math.Max(most, math.Abs(x))
	}
	return most / m.meshMass
}

// activity is what the metal can do before it is much hotter or colder.
type activity int8

const (
	changing  activity = iota // there is austenite, or martensite about to form
	tempering                 // hard structures that a long time or a higher temperature soften
	resting                   // nothing
)

// look finds out what the metal can do.
func (m *March) look() {
	m.metalIs = resting
	f := &m.now.cells.Fraction
	near, _ := m.metal.Limits().Ae1()
	near -= 40 // a long step would jump into the change
	aus, ret, mart := f[steel.Austenite], f[steel.RetainedAustenite], f[steel.Martensite]
	for i, T := range m.now.field.T {
		switch {
		case aus[i] > 1e-6, T > near, ret[i] > 1e-3 && T < m.now.cells.Lowest[i]+maxRise:
			m.metalIs = changing
			return
		case T > coldEnough && mart[i]+ret[i] > 1e-3:
			m.metalIs = tempering
		}
	}
}

// coldEnough is the temperature below which martensite does not change in the time of a step [K].
const coldEnough = 350

// undo takes back what was tried. Cells and skin of the present were not touched.
func (m *March) undo() { m.now.field.Undo() }

// fireStep is how long a fire is left before its lining is told of the heat that the
// steel took [s]: it weighs a hundred times the piece.
const fireStep = 0.25

// warm tells the equipment how long the step was and what heat it was given [J].
// A fire hears of it in lumps, every joule of it; a bath or a bed at once.
func (m *March) warm(dt, joules float64) {
	s := &m.stay
	s.owedTime += dt
	s.owedHeat += joules
	if _, fire := s.around.(*shop.Fire); !fire || s.owedTime >= fireStep {
		m.settleUp()
	}
}

// settleUp gives the equipment what it has not been told of.
func (m *March) settleUp() {
	if s := &m.stay; s.owedTime > 0 {
		s.around.Advance(s.owedTime, s.owedHeat)
		s.owedTime, s.owedHeat = 0, 0
	}
}

// accept keeps what was tried. The equipment gets exactly the joules that left the steel.
func (m *March) accept(dt, joules float64) {
	m.glow, m.glowNext = m.glowNext, m.glow
	m.room, m.roomNext = m.roomNext, m.room
	if !m.still {
		m.now.cells, m.next.cells = m.next.cells, m.now.cells
		m.changes++
	}
	Ts := m.bark[:len(m.outer)]
	for k, i := range m.outer {
		Ts[k] = 0.5 * (m.shell.T[k] + m.now.field.Ts[i])
	}
	was := m.laps.to(skinning)
	m.coat.Step(m.next.skin, m.now.skin, Ts, dt, m.stay.gas)
	m.laps.to(was)
	m.now.skin, m.next.skin = m.next.skin, m.now.skin
	m.warm(dt, m.dealOut(dt, joules*m.share))
	m.books.enter(joules)
	m.laps.to(skinning)
	m.loseCarbon(m.next.skin)
	m.laps.to(was)
	m.stay.joules += joules * m.share
	m.clock += dt
	m.took, m.stay.tried = dt, 0
	m.steps++
	m.laps.to(skinning)
	m.rewrap(dt)
	m.laps.to(was)
	m.look()
}

// Step makes one accepted time step, or one act, and goes on to the next stage
// where this one has ended.
func (m *March) Step() error {
	if m.over {
		return nil
	}
	limit := m.stay.end - m.clock
	if m.cap > m.clock {
		limit = math.Min(limit, m.cap-m.clock)
	}
	if rest := m.stay.start + m.stay.plunge.then - m.clock; rest > 0 { // the moment at which the rest goes under
		limit = math.Min(limit, rest)
	}
	dt := math.Min(m.dt, limit)
	if limit-dt < 1e-9*math.Max(1, m.clock) {
		dt = limit
	}
	var before effort // of the try that was refused, and its length [s]
	refused := 0.0
	for {
		e, joules, err := m.try(dt)
		if err != nil {
			return err
		}
		if e.worst() > slack && dt > leastDt {
			if ripple := refused > 0 && e.err > slack && e.err < m.most.ripple && math.Max(e.jump, math.Max(e.rise, e.fraction)) <= slack &&
				e.err > before.err*math.Pow(dt/refused, 1.3); !ripple {
				m.undo()
				m.again++
				before, refused = e, dt
				dt = e.next(dt)
				m.dt = dt
				continue
			}
			e.err = 0.5 // what is left of it goes by itself
		}
		next := e.next(dt)
		if dt < m.dt {
			next = math.Max(next, m.dt)
		}
		if m.stay.waiting && m.stay.gap(m, m.after) >= 0 {
			if dt, joules, err = m.land(dt, joules); err != nil {
				return err
			}
		}
		m.accept(dt, joules)
		m.dt = next
		break
	}
	defer m.laps.to(m.laps.to(recording))
	if m.log != nil {
		m.log.watch(m)
		m.takeOut()
	}
	return m.turn()
}

// land shortens a step at whose end the ending of the stage is met to the moment
// at which it is met: within fine past it. The last try stands. Between the ends of the
// step the gap is taken as straight, then through three points (inverse parabola); where neither
// comes nearer, the step is halved.
func (m *March) land(dt, joules float64) (float64, float64, error) {
	s := &m.stay
	aim := 0.4 * s.fine
	lo, hi := 0.0, dt
	gLo, gHi := s.last-aim, s.gap(m, m.after)-aim
	t3, g3 := math.NaN(), 0.0 // the end of the bracket that was given up last
	stands := true            // the last try is that of hi
	for range 30 {
		if gHi <= s.fine-aim || hi-lo < 1e-6*math.Max(hi, 1e-3) {
			break
		}
		mid := lo - gLo*(hi-lo)/(gHi-gLo)
		if !math.IsNaN(t3) && g3 != gLo && g3 != gHi {
			mid = lo*gHi*g3/((gLo-gHi)*(gLo-g3)) + hi*gLo*g3/((gHi-gLo)*(gHi-g3)) + t3*gLo*gHi/((g3-gLo)*(g3-gHi))
		}
		if w := (mid - lo) / (hi - lo); !(w > 1e-3 && w < 1-1e-3) {
			mid = 0.5 * (lo + hi)
		}
		m.undo()
		_, j, err := m.try(mid)
		if err != nil {
			return 0, 0, err
		}
		g := s.gap(m, m.after) - aim
		if stands = g >= -aim; stands { // the ending is met
			t3, g3 = hi, gHi
			hi, gHi, joules = mid, g, j
		} else {
			t3, g3 = lo, gLo
			lo, gLo = mid, g
		}
	}
	if !stands {
		m.undo()
		var err error
		if _, joules, err = m.try(hi); err != nil {
			return 0, 0, err
		}
	}
	return hi, joules, nil
}
