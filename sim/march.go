package sim

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// state is everything about the piece that a step changes.
type state struct {
	field *conduction.Field
	cells *micro.Cells
	skin  *skin.State
}

func (s *state) clone() *state {
	return &state{field: s.field.Clone(), cells: s.cells.Clone(), skin: s.skin.Clone()}
}

// March is one piece on its route. It holds the piece at one moment; Step, Until
// and Finish carry it on, Fork makes a second march from here that goes its own
// way. A march is used by one goroutine at a time; its forks by any others.
type March struct {
	*piece                        // what no step changes
	now              *state       // the piece at this moment, or at the end of the step that is tried
	next             *state       // cells and skin after the step that is tried; its field is not used
	bench            *shop.Bench  // the equipment in its present state
	clock            float64      // time of the history [s]
	dt               float64      // length of the next try [s]
	books            books        // what went in and out
	index            int          // of the stage in progress
	stay             stay         // the stage in progress
	log              *recorder    // nil in a fork that only looks ahead
	rim              rim          // boundary of the piece
	steel            steelOfCells // the steel as conduction sees it
	was              []float64    // temperatures before the step that is tried, per cell [K]
	metalIs          activity
	most             limits    // of a step
	took             float64   // length of the last accepted step [s]
	cap              float64   // moment that no step may pass; 0: none [s]
	then             []float64 // temperatures after conduction, before the metal moves [K]
	glow             []float64 // heat that changes of the metal set free in the last step [W/kg]
	glowNext, source []float64
	left             *departure // from the fire for the bath; nil: not yet
	out              *departure // from the bath, hot enough to be straightened; nil: not yet
	bark             []float64  // room for what the skin is asked, per patch
	over             bool       // the route is at its end
	steps            int        // accepted time steps
	again            int        // rejected ones
}

// rim is the boundary as conduction sees it: the law of the surrounding over
// faces whose emissivity and scale the skin tells.
type rim struct {
	law   medium.Law
	faces medium.Faces
	scale []float64 // resistance of it on each face [m²K/W]
	inner []int     // faces of the middle plane: no heat crosses them
}

// thinScale is the share of the resistance to heat that scale may have and still be
// reckoned with by the slope of the law alone [–].
const thinScale = 0.03

// Fill implements conduction.Boundary. Scale in series with the law, q(T − qR),
// is taken to first order, q/(1 + R·dq), where it matters little: in air and in
// fires always. The law itself solves it where it matters much.
func (r *rim) Fill(q, dq, Ts []float64) {
	f := &r.faces
	f.T, f.R = Ts, nil
	r.law.Fill(q, dq, f)
	for _, i := range r.inner {
		q[i], dq[i] = 0, 0
	}
	for i, R := range r.scale {
		if x := R * dq[i]; x > thinScale || x < -thinScale {
			f.R = r.scale
			r.law.Fill(q, dq, f)
			for _, i := range r.inner {
				q[i], dq[i] = 0, 0
			}
			return
		}
	}
	for i, R := range r.scale {
		x := 1 / (1 + R*dq[i])
		q[i] *= x
		dq[i] *= x
	}
}

// steelOfCells is the steel as conduction sees it: a mixture of constituents
// that is frozen for the step.
type steelOfCells struct {
	metal   *micro.Metal
	thermal *steel.Thermal
	cells   *micro.Cells
	dt      float64 // of the step that is tried [s]
}

// Fill implements conduction.Material. Martensite alone is not frozen: it forms by
// temperature and not by time, so its heat is part of the heat capacity.
func (s *steelOfCells) Fill(h, cp, k, T []float64) {
	s.metal.Fill(h, cp, k, T, s.cells)
	for i, t := range T {
		if t > 720 {
			continue
		}
		if df, slope := s.metal.MartensiteBelow(s.cells, i, t, s.dt); slope < 0 {
			carbon := s.cells.Carbon[i]
			heat := s.thermal.Enthalpy(steel.Martensite, t, carbon) - s.thermal.Enthalpy(steel.Austenite, t, carbon)
			h[i] += df * heat
			cp[i] += slope * heat
		}
	}
}

// March lays the piece on the bench, before the first stage.
func (s *Setup) March(o Options) (*March, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	metal, err := s.metal()
	if err != nil {
		return nil, err
	}
	p, err := newPiece(s, o, s.Solid, metal)
	if err != nil {
		return nil, err
	}
	bench, err := s.Shop.Start()
	if err != nil {
		return nil, &Error{Err: err}
	}
	air, err := bench.Find(shop.AirName)
	if err != nil {
		return nil, fmt.Errorf("sim: %w", err)
	}
	m := &March{piece: p, bench: bench, index: -1, most: usual}
	m.take(p.start(air.Temperature()))
	m.log = newRecorder(p, o)
	m.books.open(m)
	return m, m.enter()
}

// take makes s the piece of this moment and makes room for trying steps.
func (m *March) take(s *state) {
	m.now = s
	m.next = &state{cells: s.cells.Clone(), skin: s.skin.Clone()}
	n := m.mesh.Len()
	for _, a := range []*[]float64{&m.was, &m.then, &m.source, &m.glowNext} {
		*a = make([]float64, n)
	}
	m.glow = append(make([]float64, 0, n), m.glow...)
	if len(m.glow) != n {
		m.glow = make([]float64, n)
	}
	f := &m.mesh.Faces
	nf := f.Len()
	m.rim.scale, m.rim.inner = make([]float64, nf), m.inner
	m.bark = make([]float64, 3*len(m.outer))
	m.rim.faces = medium.Faces{
		Eps: make([]float64, nf), Wet: make([]float64, nf),
		X: f.X, Y: f.Y, Z: f.Z, NX: f.NX, NY: f.NY, NZ: f.NZ,
		Height: m.size.Width, Perimeter: m.size.Perimeter, Area: m.size.Area,
	}
}

// wrap tells the boundary what the skin is like now.
func (m *March) wrap() {
	n := len(m.outer)
	T, eps, scale := m.bark[:n], m.bark[n:2*n], m.bark[2*n:]
	for k, i := range m.outer {
		T[k] = m.now.field.Ts[i]
	}
	m.coat.Emissivity(eps, m.now.skin, T)
	m.coat.Resistance(scale, m.now.skin)
	for k, i := range m.outer {
		m.rim.faces.Eps[i], m.rim.scale[i] = eps[k], scale[k]
	}
	switch {
	case !m.stay.wetting:
		m.rim.faces.Wet = nil
	case m.rim.faces.Wet == nil:
		m.rim.faces.Wet = make([]float64, m.mesh.Faces.Len())
	}
}

// Clock returns the time of the history [s].
func (m *March) Clock() float64 { return m.clock }

// Over reports whether the route is at its end.
func (m *March) Over() bool { return m.over }

// Stage returns the index of the stage in progress.
func (m *March) Stage() int { return m.index }

// Fork returns a march that stands where m stands and goes on by itself. Both
// go exactly as m alone would have gone.
func (m *March) Fork() *March {
	f := *m
	f.take(m.now.clone())
	f.wrap()
	f.bench = m.bench.Clone()
	if m.stay.place != nil {
		f.stay.place, _ = f.bench.Find(m.stay.place.Name())
	}
	if m.log != nil {
		f.log = m.log.clone()
	}
	return &f
}

// Vary returns a fork of a march that stands at the beginning of a stage, which
// goes on as another setup of the same piece says: a faster oil, a hotter oven,
// a steel that turns to pearlite sooner. The structure that the piece has by now
// and the warmth of the baths stay.
func (m *March) Vary(s *Setup, o Options) (*March, error) {
	if m.clock != m.stay.start || m.over {
		return nil, fmt.Errorf("sim: a march is varied at the beginning of a stage")
	}
	metal, err := s.metal()
	if err != nil {
		return nil, err
	}
	f := m.Fork()
	p := *m.piece
	o.Section, o.Station = p.opts.Section, p.opts.Station
	p.setup, p.metal, p.opts = s, metal, o
	f.piece = &p
	bench, err := s.Shop.Start()
	if err != nil {
		return nil, &Error{Err: err}
	}
	for _, e := range bench.All() {
		pool, ok := e.(*shop.Pool)
		if !ok {
			continue
		}
		if was, err := m.bench.Find(pool.Name()); err == nil {
			if old, ok := was.(*shop.Pool); ok {
				pool.T += old.T - old.StartTemperature(roomOf(m.bench))
			}
		}
	}
	f.bench = bench
	if f.log != nil {
		f.log.opts = o
		f.log.steps = f.log.steps[:len(f.log.steps)-1]
	}
	f.books.open(f)
	f.books.out, f.index = 0, f.index-1
	return f, f.enter()
}

func roomOf(b *shop.Bench) float64 {
	if air, err := b.Find(shop.AirName); err == nil {
		return air.Temperature()
	}
	return 20 + kelvin
}

// Snapshot is a march at one moment, kept.
type Snapshot struct{ march *March }

// Snapshot keeps the march as it stands: field, metal, skin, shop and history.
func (m *March) Snapshot() Snapshot { return Snapshot{m.Fork()} }

// Restore puts the march back to a snapshot of it or of a fork of it.
func (m *March) Restore(s Snapshot) { *m = *s.march.Fork() }

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
	m.rim.law = m.stay.place.Law(&m.size, dt)
	if m.stay.wetting {
		for i, d := range m.along {
			m.rim.faces.Wet[i] = m.clock + dt - m.stay.start - d/dipSpeed
		}
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
		if T > 720 { // below it the heat of martensite is part of the heat capacity
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
	if _, fire := s.place.(*shop.Fire); !fire || s.owedTime >= fireStep {
		m.settleUp()
	}
}

// settleUp gives the equipment what it has not been told of.
func (m *March) settleUp() {
	if s := &m.stay; s.owedTime > 0 {
		s.place.Advance(s.owedTime, s.owedHeat)
		s.owedTime, s.owedHeat = 0, 0
	}
}

// accept keeps what was tried. The equipment gets exactly the joules that left the steel.
func (m *March) accept(dt, joules float64) {
	m.glow, m.glowNext = m.glowNext, m.glow
	m.now.cells, m.next.cells = m.next.cells, m.now.cells
	m.now.skin, m.next.skin = m.next.skin, m.now.skin
	m.warm(dt, joules*m.share)
	m.books.enter(joules)
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

func (m *March) stageNow() *Stage { return &m.setup.Stages[m.index] }
