package medium

import "math"

// body is a plate or a cylinder cooled from its outside, cell by cell from the
// middle outward: for the standard probe and for checks of laws. The route of a
// real piece is marched by other packages.
type body struct {
	T, a, b, c, d []float64
	dr            float64
	face, volume  []float64 // per area of the surface [–], [m]
	rho           float64
	k, cp         *curve
	faces         Faces
	q, dq         []float64
}

// newBody returns n cells across half a thickness or radius [m]; power is 0 for
// a plate and 1 for a cylinder.
func newBody(n, power int, half, T, rho float64, k, cp *curve) *body {
	r := &body{dr: half / float64(n), rho: rho, k: k, cp: cp, q: make([]float64, 1), dq: make([]float64, 1)}
	r.T, r.a, r.b, r.c, r.d = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	r.face, r.volume = make([]float64, n), make([]float64, n)
	for i := range r.T {
		r.T[i] = T
		r.face[i], r.volume[i] = 1, r.dr
		if power == 1 {
			r.face[i] = float64(i) / float64(n)
			r.volume[i] = r.dr * (float64(i) + 0.5) / float64(n)
		}
	}
	r.faces.T = []float64{T}
	return r
}

// center extrapolates the middle from the two inner cells, where T goes as r².
func (r *body) center() float64 { return r.T[0] + (r.T[0]-r.T[1])/8 }

// mean returns the mean temperature by volume.
func (r *body) mean() float64 {
	sum, v := 0.0, 0.0
	for i, T := range r.T {
		sum += r.volume[i] * T
		v += r.volume[i]
	}
	return sum / v
}

// step advances by dt: implicit, properties of the step's start, Newton on the
// flux. It returns the heat given off [J/m²].
func (r *body) step(dt float64, l Law) float64 {
	n := len(r.T)
	half, _ := r.k.at(r.T[n-1])
	half /= r.dr / 2
	last := r.T[n-1]
	out := 0.0
	for range 12 {
		for i := range n {
			ci, _ := r.cp.at(r.T[i])
			r.a[i], r.c[i] = 0, 0
			r.b[i] = r.rho * ci * r.volume[i] / dt
			r.d[i] = r.b[i] * r.T[i]
		}
		for i := 1; i < n; i++ {
			ki, _ := r.k.at(0.5 * (r.T[i-1] + r.T[i]))
			g := ki * r.face[i] / r.dr
			r.b[i-1] += g
			r.b[i] += g
			r.c[i-1] = -g
			r.a[i] = -g
		}
		q, dq := r.surface(l, last, half)
		r.b[n-1] += dq
		r.d[n-1] -= q - dq*last
		before := last
		last = r.solve()
		out = dt * (q + dq*(last-before))
		if math.Abs(last-before) < 1e-6 {
			break
		}
	}
	copy(r.T, r.d)
	return out
}

// surface returns the flux out of a last cell of temperature T through the half
// cell and the law, and its derivative by T.
func (r *body) surface(l Law, T, half float64) (q, dq float64) {
	ts := &r.faces.T[0]
	for range 20 {
		l.Fill(r.q, r.dq, &r.faces)
		move := (r.q[0] - half*(T-*ts)) / (r.dq[0] + half)
		*ts -= move
		if math.Abs(move) < 1e-8 {
			break
		}
	}
	l.Fill(r.q, r.dq, &r.faces)
	return half * (T - *ts), r.dq[0] * half / (half + r.dq[0])
}

// solve leaves the new temperatures in d and returns that of the last cell.
func (r *body) solve() float64 {
	n := len(r.d)
	for i := 1; i < n; i++ {
		m := r.a[i] / r.b[i-1]
		r.b[i] -= m * r.c[i-1]
		r.d[i] -= m * r.d[i-1]
	}
	r.d[n-1] /= r.b[n-1]
	for i := n - 2; i >= 0; i-- {
		r.d[i] = (r.d[i] - r.c[i]*r.d[i+1]) / r.b[i]
	}
	return r.d[n-1]
}
