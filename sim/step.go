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

// lent is the share of it that the next step is given in advance: all of it would
// ring where a cell's change begins or ends.
const lent = 0.7

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
	copy(m.was, field.T)
	m.rim.law = m.law(dt)
	if m.stay.wetting {
		m.stay.plunge.wet(m.rim.faces.Wet, m.clock+dt-m.stay.start)
	}
	m.steel = steelOfCells{m.metal, m.thermal, m.now.cells, dt}
	for i, w := range m.glow {
		m.source[i] = w * field.Mass[i]
	}
	report := field.Step(dt, &m.steel, &m.rim, m.source)
	for i, w := range m.glow {
		field.H[i] -= w * dt
	}
	change := m.settle(dt)
	for i, T := range field.T {
		m.glowNext[i] = 0
		if T > 720 || m.metalIs == tempering { // cooler and changing, the heat of martensite is part of the heat capacity
			m.glowNext[i] = lent * (m.glow[i] + roughCp/dt*(T-m.then[i]))
		}
	}
	Ts := m.bark[:len(m.outer)]
	for k, i := range m.outer {
		Ts[k] = field.Ts[i]
	}
	m.coat.Step(m.next.skin, m.now.skin, Ts, dt, m.stay.gas)
	e := effort{err: report.Error / m.most.err, fraction: change.MaxFraction / m.most.cell}
	if change.MaxFraction > 0.5*m.most.fraction {
		e.fraction = math.Max(e.fraction, m.turnover()/m.most.fraction)
	}
	for _, i := range m.rind {
		e.rise = math.Max(e.rise, math.Abs(field.T[i]-m.was[i]))
	}
	switch {
	case m.metalIs == resting && change.MaxFraction < 1e-4:
		e.rise /= m.most.rest
		e.err *= m.most.err / m.most.errRest
	case m.metalIs == tempering:
		e.rise /= m.most.temper
		e.err *= m.most.err / m.most.errTemper
	default:
		e.rise /= m.most.rise
		if change.MaxFraction < 0.1*m.most.fraction {
			e.rise /= m.most.calm
		}
		switch {
		case m.stay.wetting:
			e.err *= m.most.err / m.most.errWet
		case dt > longStep:
			e.err *= m.most.err / m.most.errTemper
		}
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
	unsettled     = 0.7
	unsettledCold = 4
)

// settle moves the metal over dt and gives the enthalpy its temperatures.
func (m *March) settle(dt float64) micro.Change {
	T, H := m.now.field.T, m.now.field.H
	copy(m.then, T)
	change := m.metal.Step(m.next.cells, m.now.cells, T, dt)
	m.metal.Temperature(T, H, m.next.cells)
	redo := false
	ae1, _ := m.metal.Limits().Ae1()
	for i, at := range m.then {
		d := math.Abs(T[i] - at)
		if d > unsettledCold || d > unsettled && at > ae1 {
			T[i], _ = m.metal.Settle(m.next.cells, m.now.cells, i, at, T[i], H[i], dt)
			redo = true
		}
	}
	if redo {
		change.MaxFraction = m.mostChanged()
	}
	return change
}

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
	m.now.cells, m.next.cells = m.next.cells, m.now.cells
	m.now.skin, m.next.skin = m.next.skin, m.now.skin
	m.warm(dt, m.dealOut(dt, joules*m.share))
	m.books.enter(joules)
	m.loseCarbon(m.next.skin)
	m.stay.joules += joules * m.share
	m.clock += dt
	m.took = dt
	m.steps++
	m.wrap()
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
			if ripple := refused > 0 && e.err > slack && e.err < m.most.ripple && math.Max(e.rise, e.fraction) <= slack &&
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
		if m.stay.waiting && m.stay.gap(m, m.next.cells) >= 0 {
			if dt, joules, err = m.land(dt, joules); err != nil {
				return err
			}
		}
		m.accept(dt, joules)
		m.dt = next
		break
	}
	if m.log != nil {
		m.log.watch(m)
		m.takeOut()
	}
	return m.turn()
}

// land shortens a step at whose end the ending of the stage is met to the moment
// at which it is met. The last try stands.
func (m *March) land(dt, joules float64) (float64, float64, error) {
	lo, hi := 0.0, dt
	gLo, gHi := m.stay.last, m.stay.gap(m, m.next.cells)
	for range 24 {
		if hi-lo < 1e-6*math.Max(hi, 1e-3) || gHi < m.stay.fine {
			break
		}
		mid := 0.5 * (lo + hi)
		if w := -gLo / (gHi - gLo); w > 0.02 && w < 0.98 {
			mid = lo + math.Min(1, w*1.02)*(hi-lo)
		}
		m.undo()
		_, j, err := m.try(mid)
		if err != nil {
			return 0, 0, err
		}
		if g := m.stay.gap(m, m.next.cells); g >= 0 {
			hi, gHi, joules = mid, g, j
		} else {
			lo, gLo = mid, g
		}
		if lo == mid { // the last try fell short: stand on the far side
			m.undo()
			if _, joules, err = m.try(hi); err != nil {
				return 0, 0, err
			}
			gHi = m.stay.gap(m, m.next.cells)
		}
	}
	return hi, joules, nil
}
