package micro

import "math"

// A progress variable S grows at a rate that depends on temperature and
// composition alone; the transformed share X(S) is read from a table. That makes
// the step exact for a constant rate, and the law additive over any history.

const sigmoidSteps = 1024

// sigmoid is X(S) on a uniform grid, 0 ≤ S ≤ end.
type sigmoid struct {
	end, perStep float64
	x            [sigmoidSteps + 1]float64
}

// at returns X at progress s.
func (g *sigmoid) at(s float64) float64 {
	p := s * g.perStep
	if p >= sigmoidSteps {
		return 1
	}
	i := int(p)
	w := p - float64(i)
	return g.x[i] + w*(g.x[i+1]-g.x[i])
}

// inverse returns the progress at which X is x.
func (g *sigmoid) inverse(x float64) float64 {
	lo, hi := 0.0, g.end
	for range 50 {
		mid := (lo + hi) / 2
		if g.at(mid) < x {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// liSigmoid is the law of Li et al.:
//
//	S(X) = ∫₀^X dx / (x^{0.4(1−x)} (1−x)^{0.4x})
//
// with S(0.01) = 0.1043, S(0.5) = 1.026, S(0.99) = 1.947. Source: li-1998.
var liSigmoid = newLiSigmoid()

func newLiSigmoid() *sigmoid {
	// dX/dS = g(X) is integrated over u with X = u^{1/0.6}, which takes out the
	// root at X = 0; by symmetry X → 1−X the upper half mirrors the lower.
	const n = 20000
	s := make([]float64, n+1) // S at X = (k/n)·½, k-th point in u
	xs := make([]float64, n+1)
	umax := math.Pow(0.5, 0.6)
	f := func(u float64) float64 { // dS/du
		x := math.Pow(u, 1/0.6)
		if x == 0 {
			return 1 / 0.6
		}
		g := math.Pow(x, 0.4*(1-x)) * math.Pow(1-x, 0.4*x)
		return math.Pow(x, 0.4) / (0.6 * g)
	}
	du := umax / n
	for k := 1; k <= n; k++ {
		u := float64(k) * du
		s[k] = s[k-1] + du/6*(f(u-du)+4*f(u-du/2)+f(u))
		xs[k] = math.Pow(u, 1/0.6)
	}
	half := s[n]
	g := &sigmoid{end: 2 * half, perStep: sigmoidSteps / (2 * half)}
	k := 0
	for i := 0; i <= sigmoidSteps/2; i++ {
		want := half * float64(i) / (sigmoidSteps / 2)
		for k < n-1 && s[k+1] < want {
			k++
		}
		w := (want - s[k]) / (s[k+1] - s[k])
		g.x[i] = xs[k] + w*(xs[k+1]-xs[k])
		g.x[sigmoidSteps-i] = 1 - g.x[i]
	}
	return g
}

// cubicSigmoid is X = 1 − exp(−S³), Avrami's law with exponent 3.
var cubicSigmoid = newAvrami(3)

// pearliteSigmoid is that of pearlite.
var pearliteSigmoid = newAvrami(pearliteN)

// newAvrami returns X = 1 − exp(−Sⁿ), taken to its end at X = 0.99966.
func newAvrami(n float64) *sigmoid {
	end := math.Pow(8, 1/n)
	g := &sigmoid{end: end, perStep: sigmoidSteps / end}
	for i := range g.x {
		s := end * float64(i) / sigmoidSteps
		g.x[i] = -math.Expm1(-math.Pow(s, n)) / -math.Expm1(-8)
	}
	return g
}
