package calphad

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/heatwright/heatwright/steel"
	"gonum.org/v1/gonum/num/hyperdual"
)

// allElements is the system with every element of the embedded parameters.
func allElements(t testing.TB) *System {
	t.Helper()
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	var symbols []string
	for _, e := range db.params.Elements {
		if e.Symbol != "VA" {
			symbols = append(symbols, e.Symbol)
		}
	}
	sys, err := db.params.join(symbols, func(string) bool { return true })
	if err != nil {
		t.Fatal(err)
	}
	return sys
}

func randomSites(r *rand.Rand, p *phase) []float64 {
	y := make([]float64, p.n)
	for k := 0; k+1 < len(p.first); k++ {
		sum := 0.0
		for i := p.first[k]; i < p.first[k+1]; i++ {
			y[i] = math.Pow(r.Float64(), 3) + 1e-4
			sum += y[i]
		}
		for i := p.first[k]; i < p.first[k+1]; i++ {
			y[i] /= sum
		}
	}
	return y
}

// hyperEnergy is the Gibbs energy written a second time, plainly, over numbers
// that carry exact derivatives: no grouping, no Horner scheme, no chain rule by
// hand. It takes parameters from the state, and T as a plain number.
func hyperEnergy(p *phase, s *values, y []hyperdual.Number) hyperdual.Number {
	plain := func(x float64) hyperdual.Number { return hyperdual.Number{Real: x} }
	sum := func(list []group) hyperdual.Number {
		total := plain(0)
		for _, g := range list {
			product := plain(1)
			for i := 0; i < g.m; i++ {
				product = hyperdual.Mul(product, y[g.idx[i]])
			}
			factor := plain(0)
			switch g.kind {
			case 0:
				factor = plain(s.v[g.par])
			case 1:
				d := hyperdual.Sub(y[g.lin[0]], y[g.lin[1]])
				power := plain(1)
				for k := 0; k < g.k; k++ {
					factor = hyperdual.Add(factor, hyperdual.Mul(plain(s.v[g.par+k]), power))
					power = hyperdual.Mul(power, d)
				}
			case 2:
				rest := plain(1)
				for _, i := range g.lin {
					rest = hyperdual.Sub(rest, y[i])
				}
				for k, i := range g.lin {
					v := hyperdual.Add(y[i], hyperdual.Mul(plain(1.0/3), rest))
					factor = hyperdual.Add(factor, hyperdual.Mul(plain(s.v[g.par+k]), v))
				}
			}
			total = hyperdual.Add(total, hyperdual.Mul(product, factor))
		}
		return total
	}
	g := sum(p.g)
	for i := range y {
		g = hyperdual.Add(g, hyperdual.Mul(plain(R*s.T*p.site[i]), hyperdual.Mul(y[i], hyperdual.Log(y[i]))))
	}
	if p.factor == 0 || len(p.tc) == 0 || len(p.bm) == 0 {
		return g
	}
	tc, bm := sum(p.tc), sum(p.bm)
	if tc.Real < 0 {
		tc = hyperdual.Mul(tc, plain(1/p.factor))
	}
	if bm.Real < 0 {
		bm = hyperdual.Mul(bm, plain(1/p.factor))
	}
	if tc.Real < 1e-3 || bm.Real < 1e-9 {
		return g
	}
	tau := hyperdual.Mul(plain(s.T), hyperdual.Inv(tc))
	q := 1/p.short - 1
	D := 518.0/1125 + 11692.0/15975*q
	pow := func(n float64) hyperdual.Number { return hyperdual.PowReal(tau, n) }
	var f hyperdual.Number
	if tau.Real <= 1 {
		f = hyperdual.Mul(plain(79/(140*p.short)), pow(-1))
		for _, t := range []struct{ n, c float64 }{{3, 6}, {9, 135}, {15, 600}} {
			f = hyperdual.Add(f, hyperdual.Mul(plain(474.0/497*q/t.c), pow(t.n)))
		}
		f = hyperdual.Sub(plain(1), hyperdual.Mul(plain(1/D), f))
	} else {
		for _, t := range []struct{ n, c float64 }{{-5, 10}, {-15, 315}, {-25, 1500}} {
			f = hyperdual.Sub(f, hyperdual.Mul(plain(1/D/t.c), pow(t.n)))
		}
	}
	m := hyperdual.Mul(plain(R*s.T), hyperdual.Log(hyperdual.Add(plain(1), bm)))
	return hyperdual.Add(g, hyperdual.Mul(m, f))
}

// First and second derivatives in the site fractions agree with hyper-dual
// numbers, for every phase with every element.
func TestSiteDerivativesAgainstDualNumbers(t *testing.T) {
	sys := allElements(t)
	r := rand.New(rand.NewPCG(4, 2))
	w := newWork(sys)
	for _, T := range []float64{473.15, 999, 1184, 1500} {
		w.at(T)
		for at, p := range sys.phases {
			y := randomSites(r, p)
			o := newParts(p.n)
			s := w.state(at)
			p.energy(o, s, y, curvature)
			h := make([]hyperdual.Number, p.n)
			for i := range p.n {
				for j := i; j < p.n; j++ {
					for k := range y {
						h[k] = hyperdual.Number{Real: y[k]}
					}
					h[i].E1mag = 1
					h[j].E2mag = 1
					g := hyperEnergy(p, s, h)
					if d := math.Abs(g.Real - o.G); d > 1e-11*(1+math.Abs(o.G)) {
						t.Fatalf("%s at %g K: G %v, dual numbers %v", p.name, T, o.G, g.Real)
					}
					if d := math.Abs(g.E1mag - o.g[i]); d > 1e-10*(1e5+math.Abs(o.g[i])) {
						t.Errorf("%s at %g K: ∂G/∂y%d %v, dual numbers %v", p.name, T, i, o.g[i], g.E1mag)
					}
					if d := math.Abs(g.E1E2mag - o.h[i*p.n+j]); d > 1e-9*(1e5+math.Abs(o.h[i*p.n+j])) {
						t.Errorf("%s at %g K: ∂²G/∂y%d∂y%d %v, dual numbers %v", p.name, T, i, j, o.h[i*p.n+j], g.E1E2mag)
					}
				}
			}
		}
	}
}

// Derivatives in temperature agree with central differences of the energy and of
// its gradient, whose own error is about 1e-6 of their size.
func TestTemperatureDerivatives(t *testing.T) {
	sys := allElements(t)
	r := rand.New(rand.NewPCG(9, 9))
	const h = 0.05
	for _, T := range []float64{520, 960, 1100, 1400} {
		var w [3]*work
		for i := range w {
			w[i] = newWork(sys)
			w[i].at(T + h*float64(i-1))
		}
		for at, p := range sys.phases {
			y := randomSites(r, p)
			var o [3]*parts
			for i := range o {
				o[i] = newParts(p.n)
				p.energy(o[i], w[i].state(at), y, inHeatDeep)
			}
			if d := (o[2].G-o[0].G)/(2*h) - o[1].GT; math.Abs(d) > 1e-5*(1+math.Abs(o[1].GT)) {
				t.Errorf("%s at %g K: ∂G/∂T %v, difference %.3g", p.name, T, o[1].GT, d)
			}
			if d := (o[2].GT-o[0].GT)/(2*h) - o[1].GTT; math.Abs(d) > 1e-4*(0.01+math.Abs(o[1].GTT)) {
				t.Errorf("%s at %g K: ∂²G/∂T² %v, difference %.3g", p.name, T, o[1].GTT, d)
			}
			for i := range y {
				if d := (o[2].g[i]-o[0].g[i])/(2*h) - o[1].gT[i]; math.Abs(d) > 1e-4*(1+math.Abs(o[1].gT[i])) {
					t.Errorf("%s at %g K: ∂²G/∂y%d∂T %v, difference %.3g", p.name, T, i, o[1].gT[i], d)
				}
			}
		}
	}
}

// The magnetic function joins smoothly at the Curie temperature, and its
// derivatives follow its differences on both sides.
func TestMagneticFunction(t *testing.T) {
	for _, p := range []float64{0.28, 0.4} {
		below, b1, _ := inden(1-1e-9, p)
		above, a1, _ := inden(1+1e-9, p)
		if math.Abs(below-above) > 1e-8 || math.Abs(b1-a1) > 1e-6 {
			t.Errorf("p %g: at the Curie temperature f %v and %v, slope %v and %v", p, below, above, b1, a1)
		}
		for _, tau := range []float64{0.3, 0.9, 1.1, 2} {
			_, f1, f2 := inden(tau, p)
			const h = 1e-5
			up, u1, _ := inden(tau+h, p)
			down, d1, _ := inden(tau-h, p)
			if math.Abs((up-down)/(2*h)-f1) > 1e-6 || math.Abs((u1-d1)/(2*h)-f2) > 1e-4 {
				t.Errorf("p %g τ %g: slope %v, curvature %v do not follow f", p, tau, f1, f2)
			}
		}
	}
}

// Pure iron: the magnetic bcc is what the book calls α, fcc lies between 912 and
// 1394 °C, and it melts at 1538 °C (dinsdale-1991; the rounded values are
// textbook numbers).
func TestPureIron(t *testing.T) {
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	tr, err := db.Transitions(steel.Composition{})
	if err != nil {
		t.Fatal(err)
	}
	var at []float64
	for _, c := range tr.Changes {
		at = append(at, c.T-273.15)
	}
	want := []float64{912, 912, 1394, 1394, 1538, 1538}
	if len(at) != len(want) || !slices.IsSorted(at) {
		t.Fatalf("changes at %v, want %v", at, want)
	}
	for i := range want {
		if math.Abs(at[i]-want[i]) > 1 {
			t.Errorf("change %d at %.1f °C, want %g", i, at[i], want[i])
		}
	}
}
