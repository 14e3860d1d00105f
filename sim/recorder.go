package sim

import (
	"math"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// reading is what a zone shows at one moment.
type reading struct {
	T      float64 // [K]
	pull   float64 // on a magnet, 1 = cold ferrite
	left   float64 // ferrite, pearlite, bainite, martensite [–]
	aus    float64 // austenite and retained austenite [–]
	mart   float64
	solved float64 // how far the carbon is in solution [–]
	film   float64 // on a spot that was brightened before the temper [m]
}

// recorder writes the history of a march. Its own slices grow; what it read of
// the last step it keeps for telling signs.
type recorder struct {
	opts    Options
	series  Series
	steps   []Step
	signs   []Sign
	was, is []reading
	seen    map[seen]bool
	peak    Peak
	baseM   []float64 // martensite of each zone when the stage began
	at      []float64 // room for the temperatures of the zones [K]
	atLast  []float64 // temperatures at the last recorded moment [K]
	lastAt  float64
	bright  *skin.Skin  // a spot of each zone, polished when it comes from the bath: temper colors are read there
	spots   *skin.State // as it is now
	guess   *skin.State // as it would be after a step that is tried
	jacket  []int8      // per face: 0 not in film boiling yet, 1 under a jacket, 2 it has collapsed
	q, dq   []float64
	ready   float64   // when every zone had come to heat; NaN before
	hard    []float64 // hardness of each zone, read when the metal had changed
	hardAt  int       // so many times
}

type seen struct {
	name SignName
	zone int
	step int
}

func newRecorder(p *piece, o Options) *recorder {
	n := len(p.mesh.Parts)
	r := &recorder{opts: o, was: make([]reading, n), is: make([]reading, n), seen: map[seen]bool{}, baseM: make([]float64, n), atLast: make([]float64, n), at: make([]float64, n), hard: make([]float64, n), hardAt: -1}
	spots := make([]skin.Patch, n)
	for i := range spots {
		spots[i] = skin.Patch{Steel: p.setup.Steel, Half: 1e-3, Finish: skin.Polished}
	}
	r.bright = skin.New(spots)
	r.spots, r.guess = r.bright.Start(), r.bright.Start()
	for i := range p.mesh.Parts {
		r.series.Zones = append(r.series.Zones, ZoneSeries{Name: p.mesh.Parts[i].Name})
	}
	return r
}

func (r *recorder) clone() *recorder {
	c := *r
	c.series = r.series.clone()
	c.steps = append([]Step(nil), r.steps...)
	c.signs = append([]Sign(nil), r.signs...)
	c.was, c.is = append([]reading(nil), r.was...), append([]reading(nil), r.is...)
	c.baseM, c.atLast = append([]float64(nil), r.baseM...), append([]float64(nil), r.atLast...)
	c.at = make([]float64, len(r.at))
	c.hard = append([]float64(nil), r.hard...)
	c.jacket = append([]int8(nil), r.jacket...)
	c.spots, c.guess = r.spots.Clone(), r.spots.Clone()
	c.seen = make(map[seen]bool, len(r.seen))
	for k, v := range r.seen {
		c.seen[k] = v
	}
	return &c
}

// stageIndex returns the index of the step in progress among Steps.
func (r *recorder) stageIndex() int { return len(r.steps) - 1 }

func (s Series) clone() Series {
	own := func(x []float64) []float64 { return append([]float64(nil), x...) }
	s.Time, s.Step, s.Bath = own(s.Time), append([]int(nil), s.Step...), own(s.Bath)
	s.Zones = append([]ZoneSeries(nil), s.Zones...)
	for i := range s.Zones {
		for _, x := range s.Zones[i].columns() {
			*x = own(*x)
		}
	}
	return s
}

func (z *ZoneSeries) columns() []*[]float64 {
	return []*[]float64{&z.Temperature, &z.Hardness, &z.Austenite, &z.Martensite, &z.Pearlite, &z.Bainite, &z.DissolvedC, &z.Grain, &z.Film, &z.Scale, &z.Magnet}
}

// read reads all zones of the march as it stands.
func (r *recorder) read(m *March) {
	T, c := m.now.field.T, m.now.cells
	f := &c.Fraction
	for z := range m.mesh.Parts {
		p := &m.mesh.Parts[z]
		x := reading{}
		for n, i := range p.Cell {
			w := p.Weight[n]
			x.T += w * T[i]
			aus, mart := f[steel.Austenite][i]+f[steel.RetainedAustenite][i], f[steel.Martensite][i]
			x.aus += w * aus
			x.mart += w * mart
			x.left += w * untransformed(c, i)
			x.pull += w * m.metal.PullCell(c, i, T[i])
			if aus > 0 {
				x.solved += w * m.metal.InSolution(c, i, T[i])
			}
		}
		x.film = r.spots.Oxide[z]
		r.is[z] = x
	}
}

// untransformed returns the share of a cell that is neither austenite nor carbide [–].
func untransformed(c *micro.Cells, i int) float64 {
	f := &c.Fraction
	return f[steel.Ferrite][i] + f[steel.Pearlite][i] + f[steel.Bainite][i] + f[steel.Martensite][i]
}

// begin opens the stage in progress.
func (r *recorder) begin(m *March) {
	st := m.stageNow()
	if st.Role == route.Quenching {
		r.spots = r.bright.Start()
	}
	r.read(m)
	copy(r.was, r.is)
	for z := range r.is {
		r.baseM[z] = r.is[z].mart
	}
	r.peak = Peak{Temperature: -kelvin}
	r.ready = math.NaN()
	r.jacket = nil
	s := Step{
		Name: st.Name, Verb: string(st.Verb), Role: roles[st.Role], JobStep: st.Step, Start: m.clock,
	}
	if s.Name == "" {
		s.Name = s.Verb
	}
	if st.Turns > 1 {
		s.Turn, s.Turns = st.Turn+1, st.Turns
	}
	if st.Role != route.Acting {
		s.Where = Where{Name: m.stay.place.Name(), Kind: kindOf(m.stay.place), Start: m.stay.placeWas - kelvin, Peak: m.stay.placeWas - kelvin}
	}
	r.steps = append(r.steps, s)
	r.rankCracks(m, true)
	r.keep(m)
}

// finish closes the stage in progress.
func (r *recorder) finish(m *March) {
	st := m.stageNow()
	s := &r.steps[len(r.steps)-1]
	s.End = m.clock
	s.Seconds = unit.Exactly(s.End - s.Start)
	s.Zones = m.zones()
	s.Peak = r.peak
	r.rankCracks(m, false)
	if r.opts.Fields != nil {
		r.opts.Fields(m.field())
	}
	if st.Role == route.Acting {
		s.Ending = "act"
		s.Reached = m.clock
		return
	}
	s.Reached = m.stay.reached
	s.Where.End = m.stay.place.Temperature() - kelvin
	s.Joules = m.stay.joules
	s.Ending = endings[st.Until.Kind]
	if st.Until.Kind == route.BySign || st.Until.Kind == route.ByColor {
		s.Ending = st.Until.Sign
	}
	r.keep(m)
}

var endings = map[route.EndKind]string{route.ByTime: "time", route.ByTemp: "temperature", route.AtHeat: "at heat"}

func kindOf(e shop.Equipment) string {
	switch x := e.(type) {
	case *shop.Pool:
		return string(x.Liquid)
	case *shop.Chamber:
		return string(x.Kind)
	case *shop.Fire:
		return string(x.Kind)
	case *shop.Burial:
		return x.Filling
	case *shop.Clamp:
		return "plate"
	case *shop.Flare:
		return "torch"
	}
	return "air"
}

// film returns the film on the bright spot of a zone [nm], a try of so many seconds
// past the last step.
func (r *recorder) film(m *March, zone int, tried float64) float64 {
	if tried <= 0 {
		return r.spots.Oxide[zone] * 1e9
	}
	for z := range m.mesh.Parts {
		r.at[z] = 0.5 * (r.is[z].T + m.mesh.Parts[z].Mean(m.now.field.T))
	}
	r.bright.Step(r.guess, r.spots, r.at, tried, m.stay.gas)
	return r.guess.Oxide[zone] * 1e9
}

// watch reads the march after an accepted step, tells signs, and keeps the
// moment in the series when enough has changed.
func (r *recorder) watch(m *March) {
	r.was, r.is = r.is, r.was
	if role := m.stageNow().Role; role == route.Tempering || role == route.Holding || role == route.Cooling {
		for z := range m.mesh.Parts {
			r.at[z] = 0.5 * (r.was[z].T + m.mesh.Parts[z].Mean(m.now.field.T))
		}
		r.bright.Step(r.spots, r.spots, r.at, m.took, m.stay.gas)
	}
	r.read(m)
	for z := range r.is {
		if t := r.is[z].T - kelvin; t > r.peak.Temperature {
			r.peak = Peak{m.mesh.Parts[z].Name, t, m.clock}
		}
	}
	if w := &r.steps[len(r.steps)-1].Where; w.Peak < m.stay.place.Temperature()-kelvin {
		w.Peak = m.stay.place.Temperature() - kelvin
	}
	r.tell(m)
	for r.opts.Fields != nil && len(r.opts.Moments) > 0 && m.clock >= r.opts.Moments[0] {
		f := m.field()
		f.Moment, r.opts.Moments = r.opts.Moments[0], r.opts.Moments[1:]
		r.opts.Fields(f)
	}
	if r.opts.NoSeries {
		return
	}
	moved := 0.0
	for z := range r.is {
		moved = math.Max(moved, math.Abs(r.is[z].T-r.atLast[z]))
		moved = math.Max(moved, 500*math.Abs(r.is[z].mart-r.was[z].mart))
	}
	if moved > 20 || m.clock-r.lastAt > 0.25*(m.clock-r.steps[len(r.steps)-1].Start)+60 {
		r.keep(m)
	}
}

// keep adds this moment to the series.
func (r *recorder) keep(m *March) {
	if r.opts.NoSeries {
		return
	}
	if n := len(r.series.Time); n > 0 && r.series.Time[n-1] == m.clock && r.series.Step[n-1] == len(r.steps)-1 {
		return
	}
	r.lastAt = m.clock
	r.series.Time = append(r.series.Time, m.clock)
	r.series.Step = append(r.series.Step, len(r.steps)-1)
	bath := m.now.field.T[0]
	if m.stay.place != nil {
		bath = m.stay.place.Temperature()
	}
	r.series.Bath = append(r.series.Bath, bath-kelvin)
	f := &m.now.cells.Fraction
	if r.hardAt != m.changes {
		r.hardAt = m.changes
		for z := range m.mesh.Parts {
			r.hard[z] = m.hardnessOf(&m.mesh.Parts[z])
		}
	}
	for z := range m.mesh.Parts {
		p := &m.mesh.Parts[z]
		s, x := &r.series.Zones[z], &r.is[z]
		r.atLast[z] = x.T
		for _, col := range []struct {
			to *[]float64
			v  float64
		}{
			{&s.Temperature, x.T - kelvin}, {&s.Hardness, r.hard[z]}, {&s.Austenite, x.aus}, {&s.Martensite, x.mart},
			{&s.Pearlite, p.Mean(f[steel.Pearlite])}, {&s.Bainite, p.Mean(f[steel.Bainite])}, {&s.DissolvedC, m.dissolved(p)},
			{&s.Grain, m.grain(p)}, {&s.Film, x.film * 1e9}, {&s.Magnet, x.pull},
		} {
			*col.to = append(*col.to, col.v)
		}
		scale := 0.0
		for _, i := range m.patches[z] {
			scale = math.Max(scale, m.now.skin.Oxide[i])
		}
		s.Scale = append(s.Scale, scale*1e6)
	}
}
