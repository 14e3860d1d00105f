package conduction

// The implicit matrix is the product of a factor for the cross-sections and one
// for the length,
//
//	(D + K_V + K_W) D⁻¹ (D + K_U) x = r,   D = m cp/(γ dt)
//
// The first couples the cells of a plane, the second those of a line. Solved in
// this order, what each passes on is exactly what its links and faces carry, so
// that the heat through the faces balances the cells to rounding.
//
// A plane costs its band per cell. Where there are more than widest cells
// through the thickness, it is split into (D + K_W) D⁻¹ (D + K_V) as well, so that the
// cost stays linear in cells: finer meshes than a route asks for, where long
// steps are then less exact.

// factor eliminates planes and lines for steps of dt.
func (f *Field) factor(dt float64) {
	w, m := &f.work, f.Mesh
	for c, mass := range f.Mass {
		w.d[c] = mass * w.cp[c] / (gamma * dt)
		if mass == 0 {
			w.d[c] = 1 // a hole: nothing flows, nothing changes
		}
	}
	if m.split3() {
		for d := range 3 {
			if !m.Flat || d != 0 {
				w.line[d].eliminate(w.d, stepOf(d, m.NJ, m.NK))
			}
		}
		return
	}
	if w.plane.col == nil { // at the first step of a new field
		w.plane = newPlane(m.Len(), m.NK)
	}
	n := m.NJ * m.NK
	for i := range m.NI {
		w.plane.eliminate(i*n, n, w.d, w.line[1].edge, w.line[2].edge, w.line[1].g, w.line[2].g)
	}
	if !m.Flat {
		w.line[0].eliminate(w.d, n)
	}
}

// widest is the largest number of cells through the thickness that is solved with the width at once.
const widest = 24

func (m *Mesh) split3() bool { return m.NK > widest && m.NJ > 1 }

// eliminate factors all lines of one direction, whose neighbors are off apart.
// The link past the end of a line conducts nothing, so that lines need no ends.
func (l *factored) eliminate(diag []float64, off int) {
	n := len(diag)
	g, edge, pivot, low, high := l.g[:n], l.edge[:n], l.pivot[:n], l.low[:n], l.high[:n]
	first := min(off, n)
	for c := range first {
		pivot[c] = 1 / (diag[c] + edge[c] + g[c])
		low[c] = 0
		high[c] = g[c] * pivot[c]
	}
	for c := first; c < n; c++ {
		b := g[c-off]
		pivot[c] = 1 / (diag[c] + edge[c] + g[c] + b*(1-high[c-off]))
		low[c] = b * pivot[c]
		high[c] = g[c] * pivot[c]
	}
}

// solve replaces x by the solution for right-hand side r of one direction.
func (l *factored) solve(x, r []float64, off int) {
	n := len(x)
	r, pivot, low, high := r[:n], l.pivot[:n], l.low[:n], l.high[:n]
	first := min(off, n)
	for c := range first {
		x[c] = r[c] * pivot[c]
	}
	for c := first; c < n; c++ {
		x[c] = r[c]*pivot[c] + low[c]*x[c-off]
	}
	for c := n - off - 1; c >= 0; c-- {
		x[c] += high[c] * x[c+off]
	}
}

// solve finds x of the stage from watts, and adds to flow what the change of
// the cells brings out through the faces.
func (f *Field) solve() {
	w, m := &f.work, f.Mesh
	n := m.NJ * m.NK
	if m.split3() {
		w.line[2].solve(w.x, w.watts, 1)
		f.leave(2)
		f.pass()
		w.line[1].solve(w.x, w.watts, m.NK)
		f.leave(1)
	} else {
		for i := range m.NI {
			w.plane.solve(w.x, w.watts, i*n, n)
		}
		f.leave(2)
		f.leave(1)
	}
	if m.Flat {
		return
	}
	f.pass()
	w.line[0].solve(w.x, w.watts, n)
	f.leave(0)
}

// pass makes what one factor found the right-hand side of the next.
func (f *Field) pass() {
	w := &f.work
	for c, x := range w.x {
		w.watts[c] = w.d[c] * x
	}
}

// leave adds to the flow of the faces at the ends of lines in one direction what the last factor lets out there.
func (f *Field) leave(d int) {
	w, m := &f.work, f.Mesh
	for _, i := range m.ends[d] {
		w.flow[i] += w.g[i] * w.x[m.outer[i].cell]
	}
}
