package calphad

import "math"

// simplex finds the cheapest mixture of columns that adds up to a composition:
// a linear program with one row for each element.
type simplex struct {
	w      *work
	n      int
	basis  []int     // column of each corner, −1−e for the helper of element e
	amount []float64 // of each corner [mol of atoms]
	mu     []float64 // the plane through the corners [J/mol]
	a, r   []float64
}

// helperCost lifts the helper columns, pure elements, above every real one [J/mol].
const helperCost = 1e7

func newSimplex(w *work) *simplex {
	n := len(w.b)
	lp := &simplex{w: w, n: n, basis: make([]int, n), amount: make([]float64, n), mu: make([]float64, n), a: make([]float64, n*n), r: make([]float64, n)}
	for e := range lp.basis {
		lp.basis[e] = -1 - e
		lp.amount[e] = w.b[e] * (1 + 1e-4*float64(e+1)/float64(n)) // a little off, so that no corner has an amount of zero
	}
	return lp
}

// run pivots until no column lies below the plane.
func (lp *simplex) run() error {
	for pivot := 0; pivot < 2000; pivot++ {
		if !lp.price() {
			return errSingular
		}
		best, low := -1, -1e-7*R*lp.w.T
		for i := range lp.w.columns {
			c := &lp.w.columns[i]
			d := c.g
			for e, x := range c.x {
				d -= lp.mu[e] * x
			}
			if d < low {
				best, low = i, d
			}
		}
		if best < 0 || !lp.enter(best) {
			return nil
		}
	}
	return errSlow
}

func (lp *simplex) corner(i, e int) float64 {
	if c := lp.basis[i]; c >= 0 {
		return lp.w.columns[c].x[e]
	} else if -1-c == e {
		return 1
	}
	return 0
}

// price finds the plane through the corners.
func (lp *simplex) price() bool {
	for i := range lp.basis {
		for e := 0; e < lp.n; e++ {
			lp.a[i*lp.n+e] = lp.corner(i, e)
		}
		if c := lp.basis[i]; c >= 0 {
			lp.mu[i] = lp.w.columns[c].g
		} else {
			lp.mu[i] = helperCost
		}
	}
	return solve(lp.a, lp.mu, lp.n)
}

// enter brings a column in and puts the corner out that it exhausts first.
func (lp *simplex) enter(col int) bool {
	for e := 0; e < lp.n; e++ {
		for i := range lp.basis {
			lp.a[e*lp.n+i] = lp.corner(i, e)
		}
		lp.r[e] = lp.w.columns[col].x[e]
	}
	if !solve(lp.a, lp.r, lp.n) {
		return false
	}
	out, t := -1, math.Inf(1)
	for i, r := range lp.r {
		if r > 1e-11 {
			if q := lp.amount[i] / r; q < t {
				out, t = i, q
			}
		}
	}
	if out < 0 {
		return false
	}
	for i := range lp.amount {
		lp.amount[i] = max(lp.amount[i]-t*lp.r[i], 0)
	}
	lp.basis[out], lp.amount[out] = col, t
	return true
}
