package medium

import "math"

// A curve is a function of temperature tabulated on a uniform grid as cubics
// that join with their first derivative. Between grid points it keeps the shape
// of its data: no overshoot where the data are monotone. Outside the grid it
// goes on as a straight line.
type curve struct {
	lo, inv float64 // first grid temperature [K], cells per kelvin
	c       [][4]float64
}

// at returns value and slope at T [K].
func (t *curve) at(T float64) (v, dv float64) {
	u := (T - t.lo) * t.inv
	if !(u >= 0) { // below the grid; what is not a number stays one
		c := &t.c[0]
		return c[0] + u*c[1], c[1] * t.inv
	}
	i := int(min(u, 1e9))
	if i >= len(t.c) {
		c := &t.c[len(t.c)-1]
		s := u - float64(len(t.c))
		d := c[1] + 2*c[2] + 3*c[3]
		return c[0] + c[1] + c[2] + c[3] + s*d, d * t.inv
	}
	c := &t.c[i]
	s := u - float64(i)
	return c[0] + s*(c[1]+s*(c[2]+s*c[3])), (c[1] + s*(2*c[2]+s*3*c[3])) * t.inv
}

// tabulate samples f from lo to hi [K] in n cells.
func tabulate(lo, hi float64, n int, f func(T float64) float64) *curve {
	step := (hi - lo) / float64(n)
	x := make([]float64, n+1)
	y := make([]float64, n+1)
	for i := range x {
		x[i] = lo + float64(i)*step
		y[i] = f(x[i])
	}
	m := slopes(x, y)
	t := &curve{lo: lo, inv: 1 / step, c: make([][4]float64, n)}
	for i := range t.c {
		d := y[i+1] - y[i]
		a, b := m[i]*step, m[i+1]*step
		t.c[i] = [4]float64{y[i], a, 3*d - 2*a - b, a + b - 2*d}
	}
	return t
}

// slopes returns the derivative at each point of (x, y) that keeps the shape of
// the data: zero at a turning point, else the weighted harmonic mean of the two
// neighboring chords.
//
// Source: fritsch-butland-1984.
func slopes(x, y []float64) []float64 {
	n := len(x)
	m := make([]float64, n)
	if n == 2 {
		m[0] = (y[1] - y[0]) / (x[1] - x[0])
		m[1] = m[0]
		return m
	}
	for i := 1; i < n-1; i++ {
		h0, h1 := x[i]-x[i-1], x[i+1]-x[i]
		d0, d1 := (y[i]-y[i-1])/h0, (y[i+1]-y[i])/h1
		if d0*d1 > 0 {
			w0, w1 := 2*h1+h0, h1+2*h0
			m[i] = (w0 + w1) / (w0/d0 + w1/d1)
		}
	}
	m[0] = endSlope(x[1]-x[0], x[2]-x[1], (y[1]-y[0])/(x[1]-x[0]), (y[2]-y[1])/(x[2]-x[1]))
	k := n - 1
	m[k] = endSlope(x[k]-x[k-1], x[k-1]-x[k-2], (y[k]-y[k-1])/(x[k]-x[k-1]), (y[k-1]-y[k-2])/(x[k-1]-x[k-2]))
	return m
}

// endSlope is the three-point formula, limited so that the shape is kept.
func endSlope(h0, h1, d0, d1 float64) float64 {
	m := ((2*h0+h1)*d0 - h0*d1) / (h0 + h1)
	if m*d0 <= 0 {
		return 0
	}
	if d0*d1 <= 0 && math.Abs(m) > 3*math.Abs(d0) {
		return 3 * d0
	}
	return m
}

// shaped returns the shape-preserving cubic through (x, y), x rising, held
// constant outside.
func shaped(x, y []float64) func(float64) float64 {
	m := slopes(x, y)
	return func(t float64) float64 {
		n := len(x)
		if t <= x[0] {
			return y[0]
		}
		if t >= x[n-1] {
			return y[n-1]
		}
		i := 0
		for t > x[i+1] {
			i++
		}
		h := x[i+1] - x[i]
		s := (t - x[i]) / h
		d := y[i+1] - y[i]
		a, b := m[i]*h, m[i+1]*h
		return y[i] + s*(a+s*((3*d-2*a-b)+s*(a+b-2*d)))
	}
}
