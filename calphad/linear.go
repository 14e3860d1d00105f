package calphad

import "math"

// cholesky factors the symmetric n×n matrix a = LLᵀ in place (lower triangle).
// It reports false when a is not positive definite.
func cholesky(a []float64, n int) bool {
	for j := 0; j < n; j++ {
		row := a[j*n : j*n+j+1]
		d := row[j]
		for k := 0; k < j; k++ {
			d -= row[k] * row[k]
		}
		if !(d > 0) || math.IsInf(d, 0) {
			return false
		}
		d = math.Sqrt(d)
		row[j] = d
		for i := j + 1; i < n; i++ {
			ri := a[i*n : i*n+j+1]
			x := ri[j]
			for k := 0; k < j; k++ {
				x -= ri[k] * row[k]
			}
			ri[j] = x / d
		}
	}
	return true
}

// invertCholesky replaces inv by (LLᵀ)⁻¹, both triangles; l holds L.
func invertCholesky(inv, l []float64, n int) {
	// columns of L⁻¹ into the lower triangle of inv
	for j := 0; j < n; j++ {
		inv[j*n+j] = 1 / l[j*n+j]
		for i := j + 1; i < n; i++ {
			x := 0.0
			for k := j; k < i; k++ {
				x -= l[i*n+k] * inv[k*n+j]
			}
			inv[i*n+j] = x / l[i*n+i]
		}
	}
	// inv = L⁻ᵀ L⁻¹
	for i := 0; i < n; i++ {
		for j := 0; j <= i; j++ {
			x := 0.0
			for k := i; k < n; k++ {
				x += inv[k*n+i] * inv[k*n+j]
			}
			inv[j*n+i] = x // upper triangle: the lower one is still read
		}
	}
	for i := 0; i < n; i++ {
		for j := 0; j < i; j++ {
			inv[i*n+j] = inv[j*n+i]
		}
	}
}

// solve solves a·x = b in place of b by elimination with row pivots, after
// scaling the rows; a is n×n and is destroyed. It reports false when a is
// singular to rounding.
func solve(a, b []float64, n int) bool {
	for i := 0; i < n; i++ {
		m := 0.0
		for j := 0; j < n; j++ {
			m = max(m, math.Abs(a[i*n+j]))
		}
		if m == 0 || math.IsNaN(m) || math.IsInf(m, 0) {
			return false
		}
		m = 1 / m
		for j := 0; j < n; j++ {
			a[i*n+j] *= m
		}
		b[i] *= m
	}
	for c := 0; c < n; c++ {
		p := c
		for i := c + 1; i < n; i++ {
			if math.Abs(a[i*n+c]) > math.Abs(a[p*n+c]) {
				p = i
			}
		}
		if math.Abs(a[p*n+c]) < 1e-14 {
			return false
		}
		if p != c {
			for j := c; j < n; j++ {
				a[p*n+j], a[c*n+j] = a[c*n+j], a[p*n+j]
			}
			b[p], b[c] = b[c], b[p]
		}
		for i := c + 1; i < n; i++ {
			f := a[i*n+c] / a[c*n+c]
			if f == 0 {
				continue
			}
			for j := c + 1; j < n; j++ {
				a[i*n+j] -= f * a[c*n+j]
			}
			b[i] -= f * b[c]
		}
	}
	for i := n - 1; i >= 0; i-- {
		x := b[i]
		for j := i + 1; j < n; j++ {
			x -= a[i*n+j] * b[j]
		}
		b[i] = x / a[i*n+i]
		if math.IsNaN(b[i]) || math.IsInf(b[i], 0) {
			return false
		}
	}
	return true
}
