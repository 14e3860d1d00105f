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
	for i := range n {
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

// solve puts into x the solution for right-hand side r, both of all cells, in the
// plane of the cells from..from+n.
func (p *plane) solve(x, r []float64, from, n int) {
	b := p.band
	w := b + 1
	a := p.col[from*w : (from+n)*w]
	x, r = x[from:from+n], r[from:from+n]
	copy(x, r)
	for i, y := range x {
		m := min(b, n-1-i)
		to := x[i+1:][:m]
		for k, l := range a[i*w+1:][:m] {
			to[k] -= l * y
		}
	}
	for i := n - 1; i >= 0; i-- {
		m := min(b, n-1-i)
		sum := x[i] * a[i*w]
		of := x[i+1:][:m]
		for k, l := range a[i*w+1:][:m] {
			sum -= l * of[k]
		}
		x[i] = sum
	}
}
