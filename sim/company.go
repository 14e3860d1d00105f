package sim

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/shop"
)

// company is one thing that touches a part of the surface beside what surrounds
// the piece: tongs, a block, an anvil, water at the edge, the air outside the
// door. It is given exactly the heat that leaves through that part.
type company struct {
	with   shop.Equipment
	joules float64 // through its faces in this step, of the whole piece [J]
	all    float64 // and in the stage
}

const (
	usualGrip = 0.025 // of tongs [m]; common practice
	edgeStand = 0.010 // an edge in water while the spine is drawn [m]; common practice
	level     = 0.7   // cosine from which a face lies flat on what it is laid on
)

// joinCompany sets up what touches the piece in a stage.
func (m *March) joinCompany(st *Stage) error {
	s := &m.stay
	s.around, s.size = s.place, m.size
	s.pieces = math.Max(1, float64(st.Pieces))
	s.size.Area *= s.pieces
	s.company, s.mosaic = nil, medium.Mosaic{}
	if clamp, ok := s.place.(*shop.Clamp); ok {
		if err := m.touched(st, clamp); err != nil {
			return err
		}
	}
	if flare, ok := s.place.(*shop.Flare); ok {
		flare.Point(m.torched(st.Touches))
	}
	if inside := m.inside(st); inside > 0 {
		s.out = m.outside(wellInside * inside)
		err := m.meet(st, shop.AirName, func(i int) bool { return m.along[i] > inside })
		if err != nil {
			return err
		}
	}
	if st.On != "" && st.Role == route.Working {
		if err := m.meet(st, st.On, m.side(m.workedOn(st.On))); err != nil {
			return err
		}
	}
	if st.EdgeIn != "" {
		up, deep := m.heights(route.EdgeSide), float64(st.Under.Or(edgeStand))
		if err := m.meet(st, st.EdgeIn, func(i int) bool { return up[i] <= deep }); err != nil {
			return err
		}
	}
	if st.Tongs == "" {
		return nil
	}
	far, _, _ := m.solid.At(1, 0.5, 0)
	near, _, _ := m.solid.At(0, 0.5, 0)
	grip := far - near - float64(st.Grip.Or(usualGrip))
	f := &m.mesh.Faces
	return m.meet(st, st.Tongs, func(i int) bool { return m.along[i] >= grip && math.Abs(f.NZ[i]) > level })
}

// touched puts the piece on a block or between plates: the air is around it.
func (m *March) touched(st *Stage, clamp *shop.Clamp) error {
	air, err := m.bench.Find(shop.AirName)
	if err != nil {
		return fmt.Errorf("sim: %w", err)
	}
	m.stay.around = air
	side := st.Touches
	switch {
	case side != "":
	case clamp.Kind == shop.Pair || clamp.Kind == shop.Dies:
		side = route.FlatSides
	case m.size.Lying:
		side = route.FlatSide
	default:
		side = route.SpineSide
	}
	return m.meet(st, clamp.Name(), m.side(side))
}

// workedOn returns the side that anvil or dies touch.
func (m *March) workedOn(name string) string {
	if e, err := m.bench.Find(name); err == nil {
		if c, ok := e.(*shop.Clamp); ok && c.Kind == shop.Dies {
			return route.FlatSides
		}
	}
	return route.FlatSide
}

// meet gives the faces that are picked to a thing of the shop; later ones win.
func (m *March) meet(st *Stage, name string, picked func(i int) bool) error {
	e, err := m.bench.Find(name)
	if err != nil {
		return &Error{Step: st.Name, Err: err}
	}
	if name != shop.AirName {
		m.bench.Rejoin(name, m.clock)
	}
	s := &m.stay
	if s.mosaic.Which == nil {
		s.mosaic.Which = make([]int8, m.mesh.Faces.Len())
	}
	s.company = append(s.company, company{with: e})
	n := int8(len(s.company))
	for i := range s.mosaic.Which {
		if picked(i) {
			s.mosaic.Which[i] = n
		}
	}
	s.mosaic.Laws = make([]medium.Law, n+1)
	return nil
}

// side picks the faces of a side of the piece.
func (m *March) side(name string) func(i int) bool {
	f := &m.mesh.Faces
	on := func(side conduction.Side) func(int) bool {
		return func(i int) bool { return f.Side[i] == side }
	}
	switch name {
	case route.SpineSide:
		return on(conduction.Spine)
	case route.EdgeSide:
		if m.solid.EndOn {
			return on(conduction.End)
		}
		return on(conduction.Edge)
	case route.EndSide:
		return on(conduction.Start)
	case route.FlatSides:
		return func(i int) bool { return math.Abs(f.NZ[i]) > level }
	}
	return func(i int) bool { return f.NZ[i] < -level }
}

// torched returns a place on the line that a torch is moved along, and the way from there to it.
func (m *March) torched(side string) (at, toward [3]float64) {
	v, w, dir := 0.0, 0.0, [3]float64{0, -1, 0}
	switch {
	case side == route.EdgeSide:
		v, dir = 1, [3]float64{0, 1, 0}
	case side == route.FlatSide || side == "" && m.size.Lying:
		v, w, dir = 0.5, 1, [3]float64{0, 0, 1}
	}
	p := m.solid.Across(m.solid.Cut, v, w)
	if m.spineUp() {
		dir[1] = -dir[1]
	}
	return [3]float64{0, p.Y, p.Z}, dir
}

// spineUp tells whether Y grows from the edge to the spine.
func (p *piece) spineUp() bool {
	return p.solid.Across(p.solid.Cut, 0, 0).Y > p.solid.Across(p.solid.Cut, 1, 0).Y
}

// inside returns how much of the piece is in the fire, from the tip; 0 for all.
func (m *March) inside(st *Stage) float64 {
	if st.Inside.Is() {
		return float64(st.Inside.Value)
	}
	var room shop.Estimate
	switch x := m.stay.place.(type) {
	case *shop.Fire:
		if !x.Through {
			room = x.Length
		}
	case *shop.Chamber:
		room = x.Length
	}
	if room.Known && room.Value < m.size.Length {
		return room.Value
	}
	return 0
}

// goesIn returns the piece as the equipment of a stage has to take it: the part
// that goes in, of the body that it then is.
func (m *March) goesIn(st *Stage, body *shape.Solid) *shop.Piece {
	size := m.size
	size.Length, size.Width, size.Thickness = body.Extent()
	switch {
	case st.Inside.Is():
		size.Length = float64(st.Inside.Value)
	case st.Under.Is() && !st.UnderFor.Is() && st.Role == route.Quenching:
		size.Length, size.Width = float64(st.Under.Value), float64(st.Under.Value)
	}
	return &size
}

// wellInside is the share of what is in the fire that an ending looks at: the rest lies at
// the door, and what sticks out draws its heat away. Common practice.
const wellInside = 0.8

// outside marks the cells farther from the tip than reach [m]; nil where all or none are.
func (m *March) outside(reach float64) []bool {
	far, _, _ := m.solid.At(1, 0.5, 0)
	here, _, _ := m.solid.At(m.mesh.Fineness.At, 0.5, 0)
	out := make([]bool, m.mesh.Len())
	n := 0
	for c, x := range m.mesh.X {
		if m.mesh.Flat {
			x = here
		}
		if out[c] = far-x > reach; out[c] {
			n++
		}
	}
	if n == 0 || n == len(out) {
		return nil
	}
	return out
}

// sticksOut tells whether a cell lies outside the fire.
func (s *stay) sticksOut(cell int) bool { return s.out != nil && s.out[cell] }

// meanInside returns the mean of a zone over what of it lies in the fire; of all of it
// where none does.
func (m *March) meanInside(zone int, T []float64) float64 {
	p := &m.mesh.Parts[zone]
	if m.stay.out == nil {
		return p.Mean(T)
	}
	sum, share := 0.0, 0.0
	for n, c := range p.Cell {
		if !m.stay.out[c] {
			sum += p.Weight[n] * T[c]
			share += p.Weight[n]
		}
	}
	if share < 1e-9 {
		return p.Mean(T)
	}
	return sum / share
}

// station returns where along the piece a cross-section stands for it: where the shape
// says or, when only a part of it is heated or goes under, in the middle of that part; 0: where
// the shape says.
func (s *Setup) station() float64 {
	length := s.Solid.Length()
	reach := length
	for i := range s.Stages {
		st := &s.Stages[i]
		if st.Inside.Is() {
			reach = math.Min(reach, float64(st.Inside.Value))
		}
		if st.Under.Is() && !st.UnderFor.Is() && st.Role == route.Quenching && (st.First == "" || st.First == "tip") {
			reach = math.Min(reach, float64(st.Under.Value))
		}
		for k := range s.Shop.Forges {
			if f := &s.Shop.Forges[k]; f.Name == st.In && !f.Through && f.Length.Known {
				reach = math.Min(reach, f.Length.Value)
			}
		}
		for k := range s.Shop.Ovens {
			if o := &s.Shop.Ovens[k]; o.Name == st.In && o.Length.Known {
				reach = math.Min(reach, o.Length.Value)
			}
		}
	}
	x0, _, _ := s.Solid.At(s.Solid.Cut, 0.5, 0)
	far, _, _ := s.Solid.At(1, 0.5, 0)
	if s.Solid.EndOn || far-x0 <= wellInside*reach {
		return 0
	}
	return s.Solid.U(far - 0.5*reach)
}

// heights returns how far each face stands above the lowest point of the piece
// when it is held with a side down [m].
func (m *March) heights(first string) []float64 {
	if first == "" || first == "tip" || first == route.EdgeSide && m.solid.EndOn {
		return m.along
	}
	f := &m.mesh.Faces
	down := func(i int) float64 { return -f.Z[i] }
	if first != route.FlatSide {
		sign := 1.0
		if m.spineUp() != (first == route.SpineSide) {
			sign = -1
		}
		down = func(i int) float64 { return sign * f.Y[i] }
	}
	lowest := math.Inf(-1)
	for i := range f.Z {
		lowest = math.Max(lowest, down(i))
	}
	up := make([]float64, f.Len())
	for i := range up {
		up[i] = lowest - down(i)
	}
	return up
}

// law returns the surface law of the stage for a step of dt from now.
func (m *March) law(dt float64) medium.Law {
	s := &m.stay
	base := s.around.Law(&s.size, dt)
	if len(s.company) == 0 {
		return base
	}
	s.mosaic.Laws[0] = base
	for n := range s.company {
		switch x := s.company[n].with.(type) {
		case *shop.Clamp:
			s.mosaic.Laws[n+1] = x.Touch()
		default:
			s.mosaic.Laws[n+1] = x.Law(&m.size, dt)
		}
	}
	return &s.mosaic
}

// dealOut gives each thing that touches the piece its heat, and returns what is
// left for what surrounds it: of all pieces that are in there together [J].
func (m *March) dealOut(dt, joules float64) float64 {
	s := &m.stay
	if len(s.company) > 0 {
		for i, which := range s.mosaic.Which {
			if which > 0 {
				s.company[which-1].joules += m.now.field.Out[i] * m.share
			}
		}
		for n := range s.company {
			c := &s.company[n]
			c.with.Advance(dt, c.joules)
			joules -= c.joules
			c.all += c.joules
			c.joules = 0
		}
	}
	return joules * s.pieces
}

// leaveCompany notes when each thing is left alone.
func (m *March) leaveCompany() {
	m.bench.Leave(m.stay.place.Name(), m.clock)
	for _, c := range m.stay.company {
		m.bench.Leave(c.with.Name(), m.clock)
	}
}

// follow lets a stay that was copied to another bench hold the equipment of that one.
func (s *stay) follow(b *shop.Bench) {
	if s.place == nil {
		return
	}
	around := s.around.Name()
	s.place, _ = b.Find(s.place.Name())
	s.around, _ = b.Find(around)
	old := s.company
	s.company = nil
	for _, c := range old {
		c.with, _ = b.Find(c.with.Name())
		s.company = append(s.company, c)
	}
	s.mosaic.Laws = make([]medium.Law, len(s.mosaic.Laws))
}

// plunge is how the piece goes under in a bath.
type plunge struct {
	up    []float64 // height of each face above what goes in first [m]
	under float64   // how much of it goes under first [m]; 0: all
	then  float64   // when the rest follows [s] after the first touch; 0: never
}

// away returns how far each face is from where wetting begins, the edge or the tip [m].
func (m *March) away() []float64 {
	edge := m.heights(route.EdgeSide)
	away := make([]float64, len(edge))
	for i := range away {
		away[i] = edge[i]
		if !m.mesh.Flat {
			away[i] = math.Min(edge[i], m.along[i])
		}
	}
	return away
}

func (m *March) plungeOf(st *Stage) plunge {
	return plunge{m.heights(st.First), float64(st.Under.Value), float64(st.UnderFor.Value)}
}

// wet fills the time that each face has been under, t seconds after the first
// touch; −1 where it is not.
func (p *plunge) wet(dst []float64, t float64) {
	for i, up := range p.up {
		switch {
		case p.under == 0 || up <= p.under:
			dst[i] = t - up/dipSpeed
		case p.then > 0 && t >= p.then:
			dst[i] = t - p.then - (up-p.under)/dipSpeed
		default:
			dst[i] = -1
		}
	}
}

// thickness returns how thick the piece is at each face [m].
func (p *piece) thickness() []float64 {
	thick := make([]float64, p.mesh.Faces.Len())
	for i, c := range p.mesh.Faces.Cell {
		thick[i] = 2 * p.half(c)
	}
	return thick
}
