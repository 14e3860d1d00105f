package conduction

// Field is the state of a body: what marches, and the room to march in. The
// slices keep their place for the life of the field.
type Field struct {
	Mesh *Mesh
	Mass []float64 // of each cell [kg]; 0 in a hole
	H    []float64 // specific enthalpy, the conserved unknown [J/kg]
	T    []float64 // temperature at frozen structure [K]; may be corrected from H between steps
	Ts   []float64 // surface temperature of each outer face [K]
	Out  []float64 // heat out through each outer face in the last step [J]

	te         []float64 // T then Ts: what skew terms index
	before     []float64 // H, te of before the last step
	took       float64   // length of the last step [s]; 0: none yet
	tookBefore float64   // and of the one before it
	work       work
	Iterations int // surface iterations allowed per stage
}

// work is the room that a step needs; nothing is allocated while marching.
type work struct {
	h, cp, k    []float64    // properties at the stage
	te          []float64    // temperatures at the stage, cells then faces
	watts       []float64    // net heat into each cell
	x           []float64    // solution of the stage, γ dt k/cp [K]
	x1, cp1     []float64    // solution and heat capacity of the first stage
	hot         []float64    // enthalpy of the second stage
	bend, bent  []float64    // by how much the last step bent, and the one before it: dt² T″ γ/2 [K]
	slope       [3][]float64 // differences of temperature per cell, by direction [K]
	d           []float64    // m cp/(γ dt), the diagonal [W/K]
	line        [3]factored
	plane       plane
	q, dq, next []float64 // by face: the law, and the surface temperature it leads to
	flow, g, p1 []float64 // by face: heat out, implicit conductance, first stage's heat out
}

// factored is the tridiagonal factor of one direction.
type factored struct {
	g     []float64 // implicit conductance of inner links [W/K]
	edge  []float64 // and of the outer faces at the ends of the line
	pivot []float64 // reciprocal
	low   []float64 // g of the link before × pivot
	high  []float64 // g of the link after × pivot
}

// NewField returns a body at one temperature t [K], of the given density [kg/m³],
// with the enthalpy that the material has there.
func NewField(m *Mesh, density, t float64, mat Material) *Field {
	n, nf := m.Len(), m.Faces.Len()
	f := &Field{Mesh: m, Iterations: 6}
	f.Mass, f.H, f.Out = make([]float64, n), make([]float64, n), make([]float64, nf)
	f.te = make([]float64, n+nf)
	f.T, f.Ts = f.te[:n:n], f.te[n:]
	f.before = make([]float64, 2*n+nf)
	for c, v := range m.Volume {
		f.Mass[c] = density * v
	}
	for i := range f.te {
		f.te[i] = t
	}
	f.work.make(n, nf)
	mat.Fill(f.H, f.work.cp, f.work.k, f.T)
	return f
}

func (w *work) make(n, nf int) {
	cells := []*[]float64{&w.h, &w.cp, &w.k, &w.watts, &w.x, &w.x1, &w.cp1, &w.hot, &w.bend, &w.bent, &w.slope[0], &w.slope[1], &w.slope[2], &w.d}
	for i := range w.line {
		l := &w.line[i]
		cells = append(cells, &l.g, &l.edge, &l.pivot, &l.low, &l.high)
	}
	alongside(n, cells...)
	alongside(nf, &w.q, &w.dq, &w.next, &w.flow, &w.g, &w.p1)
	w.te = make([]float64, n+nf)
}

// alongside makes arrays of n in one block, each an odd number of cache lines after
// the other. Where each began on a page of its own, those that a loop runs through at
// once would all want the same few places of the nearest cache.
func alongside(n int, arrays ...*[]float64) {
	const line = 8 // floats
	pitch := ((n+line-1)/line | 1) * line
	block := make([]float64, pitch*len(arrays))
	for i, a := range arrays {
		*a = block[i*pitch : i*pitch+n : i*pitch+n]
	}
}

// Undo takes back the last Step.
func (f *Field) Undo() {
	copy(f.H, f.before)
	copy(f.te, f.before[len(f.H):])
	f.work.bend, f.work.bent = f.work.bent, f.work.bend
	f.took = f.tookBefore
	f.tookBefore = 0
}

// Corrected tells the field that its temperatures were was before they were read
// from the enthalpy anew: the surfaces follow.
func (f *Field) Corrected(was []float64) {
	for i := range f.Ts {
		c := f.Mesh.outer[i].cell
		f.Ts[i] += (f.T[c] - was[c]) * f.follows(i)
	}
}

// Energy returns Σ m H of the body [J].
func (f *Field) Energy() float64 {
	sum := 0.0
	for c, m := range f.Mass {
		sum += m * f.H[c]
	}
	return sum
}

// State is a field's numbers, for a snapshot: H, then T, then Ts, then Mass.
type State []float64

// Save appends the state to dst and returns it; pass nil or a used State[:0].
func (f *Field) Save(dst State) State {
	dst = append(dst, f.H...)
	dst = append(dst, f.te...)
	return append(dst, f.Mass...)
}

// Restore puts back a state of a field of the same mesh.
func (f *Field) Restore(s State) {
	n := len(f.H)
	if len(s) != 2*n+len(f.te) {
		panic("conduction: the state is of another mesh")
	}
	copy(f.H, s)
	copy(f.te, s[n:])
	copy(f.Mass, s[n+len(f.te):])
	f.Forget()
}

// Forget tells the field that what surrounds it has changed at once: how the last
// step bent says nothing about the next.
func (f *Field) Forget() { f.took = 0 }

// Clone returns a field that shares only the mesh.
func (f *Field) Clone() *Field {
	c := *f
	n, nf := len(f.H), len(f.Ts)
	c.Mass, c.H, c.Out = append([]float64(nil), f.Mass...), append([]float64(nil), f.H...), append([]float64(nil), f.Out...)
	c.te = append([]float64(nil), f.te...)
	c.T, c.Ts = c.te[:n:n], c.te[n:]
	c.before = append([]float64(nil), f.before...)
	c.work = work{}
	c.work.make(n, nf)
	copy(c.work.bend, f.work.bend)
	copy(c.work.bent, f.work.bent)
	return &c
}
