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
	after            *micro.Cells // the metal after the step that is tried
	still            bool         // it did not change
	changes          int          // steps in which it did
	most             limits       // of a step
	took             float64      // length of the last accepted step [s]
	cap              float64      // moment that no step may pass; 0: none [s]
	at               []float64    // temperatures at which the metal moves in the step that is tried [K]
	then             []float64    // temperatures after conduction, before the metal moves [K]
	glow             []float64    // heat that changes of the metal set free in the last step [W/kg]
	glowNext, source []float64
	loan             []float64  // as much of it as conduction is lent in the step that is tried [W/kg]
	room, roomNext   []float64  // what there is left to set free or take up [J/kg]
	cover            *cover     // what was laid on the surface; nil: nothing
	left             *departure // from the fire for the bath; nil: not yet
	out              *departure // from the bath, hot enough to be straightened; nil: not yet
	shell            shell      // the surface as conduction sees it
	bark             []float64  // room for what the skin is asked, per patch
	laps             laps
	over             bool // the route is at its end
	steps            int  // accepted time steps
	again            int  // rejected ones
}

// rim is the boundary as conduction sees it: the law of the surrounding over
// faces whose emissivity and scale the skin tells.
type rim struct {
	law   medium.Law
	faces medium.Faces
	scale []float64 // resistance of it on each face [m²K/W]
	thick bool      // it mattered much when the law was last asked
	inner []int     // faces of the middle plane: no heat crosses them
	q, dq []float64 // room for asking the law beside the march
	laps  laps
}

// thinScale is the share of the resistance to heat that scale may have and still be
// reckoned with by the slope of the law alone [–].
const thinScale = 0.03

// Fill implements conduction.Boundary. Scale in series with the law, q(T − qR),
// is taken to first order, q/(1 + R·dq), where it matters little: in air and in
// fires always. The law itself solves it where it matters much.
func (r *rim) Fill(q, dq, Ts []float64) {
	defer r.laps.to(r.laps.to(lawful))
	f := &r.faces
	f.T, f.R = Ts, nil
	if r.thick {
		f.R = r.scale
	}
	r.law.Fill(q, dq, f)
	for _, i := range r.inner {
		q[i], dq[i] = 0, 0
	}
	if r.thick {
		most := 0.0
		for i, R := range r.scale {
			if x := math.Abs(R * dq[i]); x > most { // dq is that behind the scale
				most = x
			}
		}
		r.thick = most > 0.5*thinScale
		return
	}
	for i, R := range r.scale {
		if x := R * dq[i]; x > thinScale || x < -thinScale {
			r.thick = true
			r.Fill(q, dq, Ts)
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
	laps    laps
}

// Fill implements conduction.Material. Martensite alone is not frozen: it forms by
// temperature and not by time, so its heat is part of the heat capacity.
func (s *steelOfCells) Fill(h, cp, k, T []float64) {
	defer s.laps.to(s.laps.to(looking))
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
	if o.Section && o.Station == 0 {
		o.Station = s.station()
	}
	p, err := newPiece(s, o, s.Solid, metal)
	if err != nil {
		return nil, err
	}
	bench, err := s.Shop.Start()
	if err != nil {
		return nil, &Error{Err: err}
	}
	if err := bench.Resume(o.Shop, o.Pause); err != nil {
		return nil, &Error{Text: "the shop is not the one that was kept: ", Err: err, Remedy: "work the piece before in this shop"}
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
	m.changes++
	m.next = &state{cells: s.cells.Clone(), skin: s.skin.Clone()}
	n := m.mesh.Len()
	for _, a := range []*[]float64{&m.was, &m.then, &m.at, &m.source, &m.glowNext, &m.loan, &m.roomNext} {
		*a = make([]float64, n)
	}
	for _, a := range []*[]float64{&m.glow, &m.room} {
		if *a = append(make([]float64, 0, n), *a...); len(*a) != n {
			*a = make([]float64, n)
		}
	}
	f := &m.mesh.Faces
	nf := f.Len()
	m.rim.scale, m.rim.inner = make([]float64, nf), m.inner
	m.rim.q, m.rim.dq = make([]float64, nf), make([]float64, nf)
	m.bark = make([]float64, len(m.outer))
	m.shell.make(len(m.outer))
	m.rim.faces = medium.Faces{
		Eps: make([]float64, nf), Wet: make([]float64, nf),
		X: m.lengthwise(), Y: f.Y, Z: f.Z, NX: f.NX, NY: f.NY, NZ: f.NZ, Thick: m.thickness(),
		Height: m.size.Width, Perimeter: m.size.Perimeter, Area: m.size.Area,
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
	f.stay.follow(f.bench)
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
		was, err := m.bench.Find(e.Name())
		if err != nil {
			continue
		}
		room := roomOf(m.bench)
		switch x := e.(type) {
		case *shop.Pool:
			if old, ok := was.(*shop.Pool); ok {
				x.T += old.T - old.StartTemperature(room)
			}
		case *shop.Clamp:
			if old, ok := was.(*shop.Clamp); ok {
				x.T += old.T - old.StartTemperature(room)
			}
		}
	}
	bench.Since(m.bench)
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

func (m *March) stageNow() *Stage { return &m.setup.Stages[m.index] }
