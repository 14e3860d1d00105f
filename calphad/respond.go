package calphad

import "math"

// tiny is the smallest site fraction that is carried: below it a constituent
// has no weight in any sum, and its logarithm still exists.
const tiny = 1e-30

// respond fills o.e with the response of the site fractions to forces at fixed
// sums on every sublattice,
//
//	Δy = E·f,  E = C − CBᵀ(BCBᵀ)⁻¹BC,  C = (H + σBᵀB)⁻¹
//
// with H the second derivatives and B the site sums; σ changes nothing on the
// allowed steps and makes C exist wherever the phase is locally stable. Where it
// is not (inside a miscibility gap) H is stiffened by its ideal part until it
// is, and respond returns false: steps still go down, convergence is linear.
func (p *phase) respond(o *parts, s *values, y []float64) bool {
	n := p.n
	if n == 0 {
		return true
	}
	RT := R * s.T
	l := o.w[:n*n]
	stiffer := 0.0
	for {
		copy(l, o.h)
		for i := range y {
			l[i*n+i] += stiffer * RT * p.site[i] / y[i]
		}
		for k := 0; k+1 < len(p.first); k++ {
			sigma := 1e4 * RT * p.site[p.first[k]]
			for i := p.first[k]; i < p.first[k+1]; i++ {
				for j := p.first[k]; j < p.first[k+1]; j++ {
					l[i*n+j] += sigma
				}
			}
		}
		if cholesky(l, n) || stiffer > 1e6 {
			break
		}
		stiffer = 5*stiffer + 0.1
	}
	invertCholesky(o.e, l, n)
	p.project(o)
	return stiffer == 0
}

// project removes from o.e, which holds C, the parts that would change a
// sublattice's sum: one sublattice after another, which is exact because each
// update keeps the earlier ones.
func (p *phase) project(o *parts) {
	n := p.n
	e, c := o.e, o.w[n*n:n*n+n]
	for k := 0; k+1 < len(p.first); k++ {
		lo, hi := p.first[k], p.first[k+1]
		total := 0.0
		for i := 0; i < n; i++ {
			x := 0.0
			for j := lo; j < hi; j++ {
				x += e[i*n+j]
			}
			c[i] = x
			if i >= lo && i < hi {
				total += x
			}
		}
		if !(total > 0) {
			continue
		}
		for i := 0; i < n; i++ {
			f := c[i] / total
			for j := 0; j < n; j++ {
				e[i*n+j] -= f * c[j]
			}
		}
	}
}

// shift moves site fractions by t·dy and keeps them positive: a small fraction
// moves by its logarithm, which is exact for a trace, and each sublattice is
// brought back to its sum of one.
func (p *phase) shift(dst, y, dy []float64, t float64) {
	for k := 0; k+1 < len(p.first); k++ {
		sum := 0.0
		for i := p.first[k]; i < p.first[k+1]; i++ {
			d := t * dy[i]
			x := y[i] + d
			r := d / y[i]
			switch {
			case d < 0 && r < -0.1:
				x = y[i] * math.Exp(max(r, -12))
			case r > 0.1 && y[i] < 0.01:
				x = min(y[i]*math.Exp(min(r, 40)), max(0.05, x))
			}
			x = min(max(x, tiny), 1)
			dst[i] = x
			sum += x
		}
		for i := p.first[k]; i < p.first[k+1]; i++ {
			dst[i] /= sum
		}
	}
}
