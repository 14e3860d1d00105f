package conduction

// The implicit matrix is the product of one factor per direction,
//
//	(D + K_W) D⁻¹ (D + K_V) D⁻¹ (D + K_U) x = r,   D = m cp/(γ dt)
//
// each of which couples the cells of a line alone. Solved in this order, what
// each factor passes on is exactly what its links and faces carry, so that the
// heat through the faces balances the cells to rounding.

// factor eliminates the lines of all three directions for steps of dt.
func (f *Field) factor(dt float64) {
	w, m := &f.work, f.Mesh
	for c, mass := range f.Mass {
		w.d[c] = mass * w.cp[c] / (gamma * dt)
		if mass == 0 {
			w.d[c] = 1 // a hole: nothing flows, nothing changes
		}
	}
	for d := range 3 {
		if !(m.Flat && d == 0) {
			w.line[d].eliminate(w.d, stepOf(d, m.NJ, m.NK))
		}
	}
}

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
	r := w.watts
	for d := 2; d >= 0; d-- {
		if m.Flat && d == 0 {
			break
		}
		w.line[d].solve(w.x, r, stepOf(d, m.NJ, m.NK))
		for i := range m.outer {
			if int(m.outer[i].dir) == d {
				w.flow[i] += w.g[i] * w.x[m.Faces.Cell[i]]
			}
		}
		for c, x := range w.x {
			r[c] = w.d[c] * x
		}
	}
}
