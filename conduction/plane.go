package conduction

// plane is the factored matrix of one cross-section, D + K_V + K_W, symmetric
// with a band as wide as a row of cells through the thickness. Both directions
// across are implicit at once: a long step in a thin piece, where heat has long
// evened out, leaves no trace of having been split.
//
// Column p holds the reciprocal pivot, then the entries of L below it.
type plane struct {
	band int
	col  []float64 // (band+1) per cell
}

func newPlane(cells, band int) plane {
	return plane{band, make([]float64, cells*(band+1))}
}

// eliminate factors the plane of the cells from..from+n. gw and gv are the
// conductances to the next cell through and across, diag what is on the diagonal besides.
func (p *plane) eliminate(from, n int, diag, edgeV, edgeW, gv, gw []float64) {
	b := p.band
	w := b + 1
	a := p.col[from*w : (from+n)*w]
	clear(a)
	for i := range n {
		c := from + i
		a[i*w] += diag[c] + edgeV[c] + edgeW[c] + gv[c] + gw[c]
		if i+1 < n {
			a[i*w+1] -= gw[c]
			a[(i+1)*w] += gw[c]
		}
		if i+b < n {
			a[i*w+b] -= gv[c]
			a[(i+b)*w] += gv[c]
		}
	}
	from = 0
	switch b {
	case usual:
		from = eliminateUsual(a, n)
	case halved:
		from = eliminateHalved(a, n)
	}
	for i := from; i < n; i++ {
		col := a[i*w : i*w+w]
		pivot := 1 / col[0]
		col[0] = pivot
		m := min(b, n-1-i)
		for j := 1; j <= m; j++ {
			x := col[j]
			if x == 0 {
				continue
			}
			l := x * pivot
			to := a[(i+j)*w:][:m-j+1]
			for k, y := range col[j:][:m-j+1] {
				to[k] -= l * y
			}
		}
		for j := 1; j <= m; j++ {
			col[j] *= pivot
		}
	}
}

// usual is the band of Section and Whole, halved that of their half where both
// faces are alike. Their loops are unrolled: they are what a smith waits for.
const (
	usual  = 8
	halved = 4
)

type (
	column = [usual + 1]float64
	short  = [halved + 1]float64
)

func columnAt(a []float64, i int) *column { return (*column)(a[i*(usual+1):]) }
func shortAt(a []float64, i int) *short   { return (*short)(a[i*(halved+1):]) }

// eliminateHalved is eliminateUsual for a band of 4.
func eliminateHalved(a []float64, n int) int {
	for i := range n - halved {
		c := shortAt(a, i)
		pivot := 1 / c[0]
		c0, c1, c2, c3 := c[1], c[2], c[3], c[4]
		l := c0 * pivot
		t := shortAt(a, i+1)
		t[0] -= l * c0
		t[1] -= l * c1
		t[2] -= l * c2
		t[3] -= l * c3
		c[1] = l
		l = c1 * pivot
		t = shortAt(a, i+2)
		t[0] -= l * c1
		t[1] -= l * c2
		t[2] -= l * c3
		c[2] = l
		l = c2 * pivot
		t = shortAt(a, i+3)
		t[0] -= l * c2
		t[1] -= l * c3
		c[3] = l
		l = c3 * pivot
		shortAt(a, i+4)[0] -= l * c3
		c[4] = l
		c[0] = pivot
	}
	return n - halved
}

// eliminateUsual does the work of eliminate for all columns that have a whole
// band below them, and returns the first that has not.
func eliminateUsual(a []float64, n int) int {
	for i := range n - usual {
		c := columnAt(a, i)
		pivot := 1 / c[0]
		c0, c1, c2, c3, c4, c5, c6, c7 := c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8]
		l := c0 * pivot
		t := columnAt(a, i+1)
		t[0] -= l * c0
		t[1] -= l * c1
		t[2] -= l * c2
		t[3] -= l * c3
		t[4] -= l * c4
		t[5] -= l * c5
		t[6] -= l * c6
		t[7] -= l * c7
		c[1] = l
		l = c1 * pivot
		t = columnAt(a, i+2)
		t[0] -= l * c1
		t[1] -= l * c2
		t[2] -= l * c3
		t[3] -= l * c4
		t[4] -= l * c5
		t[5] -= l * c6
		t[6] -= l * c7
		c[2] = l
		l = c2 * pivot
		t = columnAt(a, i+3)
		t[0] -= l * c2
		t[1] -= l * c3
		t[2] -= l * c4
		t[3] -= l * c5
		t[4] -= l * c6
		t[5] -= l * c7
		c[3] = l
		l = c3 * pivot
		t = columnAt(a, i+4)
		t[0] -= l * c3
		t[1] -= l * c4
		t[2] -= l * c5
		t[3] -= l * c6
		t[4] -= l * c7
		c[4] = l
		l = c4 * pivot
		t = columnAt(a, i+5)
		t[0] -= l * c4
		t[1] -= l * c5
		t[2] -= l * c6
		t[3] -= l * c7
		c[5] = l
		l = c5 * pivot
		t = columnAt(a, i+6)
		t[0] -= l * c5
		t[1] -= l * c6
		t[2] -= l * c7
		c[6] = l
		l = c6 * pivot
		t = columnAt(a, i+7)
		t[0] -= l * c6
		t[1] -= l * c7
		c[7] = l
		l = c7 * pivot
		columnAt(a, i+8)[0] -= l * c7
		c[8] = l
		c[0] = pivot
	}
	return n - usual
}

// solve puts into x the solution for right-hand side r, both of all cells, in the
// plane of the cells from..from+n.
func (p *plane) solve(x, r []float64, from, n int) {
	b := p.band
	w := b + 1
	a := p.col[from*w : (from+n)*w]
	x, r = x[from:from+n], r[from:from+n]
	copy(x, r)
	first := 0
	switch b {
	case halved:
		first = n - halved
		for i := range first {
			c, t := shortAt(a, i), (*short)(x[i:])
			y := t[0]
			t[1] -= c[1] * y
			t[2] -= c[2] * y
			t[3] -= c[3] * y
			t[4] -= c[4] * y
		}
	case usual:
		first = n - usual
		for i := range first {
			c, t := columnAt(a, i), (*column)(x[i:])
			y := t[0]
			t[1] -= c[1] * y
			t[2] -= c[2] * y
			t[3] -= c[3] * y
			t[4] -= c[4] * y
			t[5] -= c[5] * y
			t[6] -= c[6] * y
			t[7] -= c[7] * y
			t[8] -= c[8] * y
		}
	}
	for i := first; i < n; i++ {
		y := x[i]
		m := min(b, n-1-i)
		to := x[i+1:][:m]
		for k, l := range a[i*w+1:][:m] {
			to[k] -= l * y
		}
	}
	for i := n - 1; i >= first; i-- {
		m := min(b, n-1-i)
		sum := x[i] * a[i*w]
		of := x[i+1:][:m]
		for k, l := range a[i*w+1:][:m] {
			sum -= l * of[k]
		}
		x[i] = sum
	}
	if b == halved {
		for i := first - 1; i >= 0; i-- {
			c, t := shortAt(a, i), (*short)(x[i:])
			t[0] = (t[0]*c[0] - c[4]*t[4]) - c[3]*t[3] - c[2]*t[2] - c[1]*t[1]
		}
		return
	}
	for i := first - 1; i >= 0; i-- {
		c, t := columnAt(a, i), (*column)(x[i:])
		// What was found last comes last, so that the rest need not wait for it.
		t[0] = (t[0]*c[0] - c[8]*t[8] - c[7]*t[7]) - (c[6]*t[6] + c[5]*t[5]) - (c[4]*t[4] + c[3]*t[3]) - c[2]*t[2] - c[1]*t[1]
	}
}
