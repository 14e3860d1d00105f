package calphad

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// power is one basis function of temperature, T^n (ln T)^l.
type power struct{ n, l int }

// jet is a function of temperature with its first two derivatives at one T.
type jet struct{ v, d, dd float64 }

// at returns T^n (ln T)^l with both derivatives; lnT is passed in because every
// basis function needs it.
func (p power) at(T, lnT float64) jet {
	a := math.Pow(T, float64(p.n))
	n := float64(p.n)
	if p.l == 0 {
		return jet{a, n * a / T, n * (n - 1) * a / (T * T)}
	}
	l := float64(p.l)
	b := math.Pow(lnT, l)
	b1 := l * math.Pow(lnT, l-1) / T
	b2 := l*(l-1)*math.Pow(lnT, l-2)/(T*T) - b1/T
	a1, a2 := n*a/T, n*(n-1)*a/(T*T)
	return jet{a * b, a1*b + a*b1, a2*b + 2*a1*b1 + a*b2}
}

// polynomial is a sum of basis functions with coefficients [J/mol, K or μB].
type polynomial map[power]float64

func (p polynomial) plus(q polynomial, factor float64) polynomial {
	sum := make(polynomial, len(p)+len(q))
	for k, c := range p {
		sum[k] = c
	}
	for k, c := range q {
		sum[k] += factor * c
	}
	return sum
}

// times returns the product. It fails when the result leaves the bounds that a
// parameter of any published assessment keeps.
func (p polynomial) times(q polynomial) (polynomial, error) {
	if len(p)*len(q) > maxTerms*4 {
		return nil, fmt.Errorf("a product of %d and %d terms is longer than this reader takes", len(p), len(q))
	}
	product := make(polynomial, len(p)+len(q))
	second := sortedPowers(q)
	for _, a := range sortedPowers(p) { // in order: a sum must not depend on the order of a map
		for _, b := range second {
			k := power{a.n + b.n, a.l + b.l}
			if k.n > maxPower || k.n < -maxPower || k.l > 4 {
				return nil, fmt.Errorf("the power T^%d (ln T)^%d is outside what this reader takes", k.n, k.l)
			}
			product[k] += p[a] * q[b]
		}
	}
	return product, nil
}

// segment is a polynomial that holds from below to temperature high [K].
type segment struct {
	high float64
	p    polynomial
}

// curve is a piecewise function of temperature: it starts at low [K], segments
// in rising order. Outside its range the nearest segment goes on.
type curve struct {
	low      float64
	segments []segment
}

// on returns the polynomial that holds at temperature T [K].
func (c curve) on(T float64) polynomial {
	for _, s := range c.segments {
		if T < s.high {
			return s.p
		}
	}
	if n := len(c.segments); n > 0 {
		return c.segments[n-1].p
	}
	return nil
}

// value returns the curve at temperature T [K]. It serves checks and tests;
// equilibria use the compiled form.
func (c curve) value(T float64) float64 {
	lnT, sum := math.Log(T), 0.0
	for _, k := range sortedPowers(c.on(T)) {
		sum += c.on(T)[k] * k.at(T, lnT).v
	}
	return sum
}

func sortedPowers(p polynomial) []power {
	keys := make([]power, 0, len(p))
	for k := range p {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, comparePower)
	return keys
}

func comparePower(a, b power) int {
	if a.n != b.n {
		return a.n - b.n
	}
	return a.l - b.l
}

// breaks returns the inner temperatures [K] where the curve changes its
// polynomial, between low and high.
func (c curve) breaks(low, high float64) []float64 {
	var at []float64
	for i, s := range c.segments {
		if i+1 < len(c.segments) && s.high > low && s.high < high {
			at = append(at, s.high)
		}
	}
	return at
}

// basis numbers the powers of temperature that a set of curves needs, so that
// each is computed once for a temperature.
type basis struct {
	powers []power
	index  map[power]int
}

func newBasis(curves []curve) *basis {
	seen := map[power]bool{}
	for _, c := range curves {
		for _, s := range c.segments {
			for k := range s.p {
				seen[k] = true
			}
		}
	}
	b := &basis{index: map[power]int{}}
	for k := range seen {
		b.powers = append(b.powers, k)
	}
	slices.SortFunc(b.powers, comparePower)
	for i, k := range b.powers {
		b.index[k] = i
	}
	return b
}

// at fills dst with every basis function at temperature T [K].
func (b *basis) at(dst []jet, T float64) {
	lnT := math.Log(T)
	for i, p := range b.powers {
		dst[i] = p.at(T, lnT)
	}
}

// compiled is a curve as sparse coefficients over a basis.
type compiled struct {
	high  []float64 // upper end of each segment [K]
	first []int     // first coefficient of each segment, one more at the end
	slot  []int32
	coef  []float64
}

func (b *basis) compile(c curve) compiled {
	var k compiled
	for _, s := range c.segments {
		k.high = append(k.high, s.high)
		k.first = append(k.first, len(k.slot))
		for _, p := range sortedPowers(s.p) {
			if x := s.p[p]; x != 0 {
				k.slot = append(k.slot, int32(b.index[p]))
				k.coef = append(k.coef, x)
			}
		}
	}
	k.first = append(k.first, len(k.slot))
	return k
}

// at returns the curve at temperature T from the basis functions there.
func (k *compiled) at(T float64, values []jet) jet {
	i := 0
	for i+1 < len(k.high) && T >= k.high[i] {
		i++
	}
	var sum jet
	for j := k.first[i]; j < k.first[i+1]; j++ {
		b, c := &values[k.slot[j]], k.coef[j]
		sum.v += c * b.v
		sum.d += c * b.d
		sum.dd += c * b.dd
	}
	return sum
}

// sortedUnique sorts temperatures and drops repeats.
func sortedUnique(T []float64) []float64 {
	sort.Float64s(T)
	return slices.Compact(T)
}
