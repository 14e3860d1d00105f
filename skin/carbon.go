package skin

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

const (
	// Nodes is the number of carbon cells per patch.
	Nodes     = 22
	deepest   = 4e-3 // reach of the carbon grid in thick metal [m]
	firstCell = 4e-6 // thickness of the cell at the surface [m]

	underScale = 0.02 // carbon of the surface under growing scale [wt %]; 0.02 to 0.1 is published (birks-1970, from memory)
	transfer   = 1.5e-7
)

// grade returns Nodes+1 faces as fractions of the reach, growing by one ratio
// from firstCell; even where the metal is too thin for that.
func grade(reach float64) []float64 {
	f := make([]float64, Nodes+1)
	ratio := 1.0
	if reach > Nodes*firstCell {
		lo, hi := 1.0, 2.0
		for range 60 {
			ratio = (lo + hi) / 2
			if firstCell*(math.Pow(ratio, Nodes)-1)/(ratio-1) < reach {
				lo = ratio
			} else {
				hi = ratio
			}
		}
	}
	d := 1.0
	for i := 1; i <= Nodes; i++ {
		f[i] = f[i-1] + d
		d *= ratio
	}
	for i := range f {
		f[i] /= f[Nodes]
	}
	f[Nodes] = 1
	return f
}

// startCarbon fills the profile of patch i with the bar's carbon, less what its bark has lost.
func (s *Skin) startCarbon(st *State, i int) {
	p := s.patches[i]
	c := st.Carbon[i*Nodes : (i+1)*Nodes]
	edges := s.edges[i*(Nodes+1) : (i+1)*(Nodes+1)]
	width := p.Bark / ninety
	st.span[i] = width * width
	for j := range c {
		c[j] = p.Steel[steel.C]
		if p.Bark > 0 {
			c[j] *= math.Erf((edges[j] + edges[j+1]) / 2 * st.reach[i] / (2 * width))
		}
	}
}

// ninety is the depth to 90 % of the bar's carbon in units of √(Dt): erf(x/2) = 0.9.
const ninety = 2.3261744

// potential is what carbon diffuses down: the integral of D over the carbon that
// is dissolved, flat across two-phase fields where carbon sits in carbide or
// ferrite and austenite exchange places.
//
//	ferrite            Dα·C                     C < cα
//	ferrite+austenite  flat                     cα … cγα
//	austenite          + Dγ·(C − cγα)           cγα … cγθ
//	austenite+carbide  flat
//
// In plain austenite it is D·C, and the profile is the error function.
type potential struct {
	alpha, gamma   float64 // diffusivities [m²/s]
	ca, cga, cgt   float64 // limits of the fields [wt %]
	atA, atT, flat float64
}

// potentialAt returns the potential of a steel at T [K]. The ferrite side is that
// of iron and carbon from the steel's Ae1 to 912 °C: cγα a parabola (within
// 0.05 % C), cα a line.
// Carbon in ferrite: 6.2e-7 exp(−80000/RT) (from memory, textbook).
func (r *rates) potentialAt(T float64) potential {
	D := at(r.diff, T)
	p := potential{gamma: D, alpha: 6.2e-7 * math.Exp(-80000/(gasConstant*T)), flat: 1e-4 * D}
	if T >= r.ae1 {
		x := max(0, (912+kelvin-T)/(912+kelvin-r.ae1))
		p.ca = 0.0218 * x
		p.cgt = at(r.full, T)
		p.cga = min(p.cgt, 0.76*x*x)
	} else {
		// Carbon in ferrite beside cementite. Decarburization below 700 °C is left out
		// by common practice: scale grows over the metal faster than carbon leaves it.
		p.ca = 0.0218 * math.Exp(-4850*(1/T-1/r.ae1)) * smooth((T-hot)/(r.ae1-hot))
		p.cga, p.cgt = 1e9, 1e9
	}
	p.atA = p.alpha * p.ca
	p.atT = p.atA + p.flat*(p.cga-p.ca) + p.gamma*(p.cgt-p.cga)
	return p
}

// of returns the potential of carbon c and its slope.
func (p *potential) of(c float64) (phi, slope float64) {
	switch {
	case c <= p.ca:
		return p.alpha * c, p.alpha
	case c <= p.cga:
		return p.atA + p.flat*(c-p.ca), p.flat
	case c <= p.cgt:
		return p.atA + p.flat*(p.cga-p.ca) + p.gamma*(c-p.cga), p.gamma
	}
	return p.atT + p.flat*(c-p.cgt), p.flat
}

// settle applies the exposure that patch i has waited for: one implicit step of
// second order (two stages, Alexander's γ = 1 − √½) of the carbon profile on a
// grid that follows the receding surface,
//
//	∂C/∂t = ∂²Φ/∂x² + v ∂C/∂x
//
// with no flux through the mid-plane where the section is thin, and the bar's
// carbon coming in from below where it is thick. Finite volumes: what the cells
// lose is what State.Gone gains, to rounding.
func (s *Skin) settle(st *State, i int) { s.settleAt(st, i, i) }

// settleAt does so for the patch that lies at index i of st and is patch p of the piece.
func (s *Skin) settleAt(st *State, i, p int) {
	wait, waitT, eat := st.wait[i], st.waitT[i], st.eat[i]
	st.wait[i], st.waitT[i], st.eat[i] = 0, 0, 0
	first := s.first[p]
	// A caller's step of an hour is taken in parts that the profile can follow.
	parts := max(1, min(64, max(math.Ceil(2*wait/(st.span[i]+first*first)), math.Ceil(10*eat/min(st.half[i], 10*first)))))
	for range int(parts) {
		s.settlePart(st, i, p, wait/parts, waitT/parts, eat/parts, 0)
	}
}

// settlePart takes one step, or two halves of it where Newton's method does not
// come to rest at the corners of the potential.
func (s *Skin) settlePart(st *State, i, p int, wait, waitT, eat float64, halved int) {
	r := s.steels[s.of[p]]
	if eat >= st.half[i]-thinnest {
		return // burnt through
	}
	wasHalf, wasReach := st.half[i], st.reach[i]
	k := step{edges: s.edges[p*(Nodes+1) : (p+1)*(Nodes+1) : (p+1)*(Nodes+1)], carbon: st.gas[i], eat: eat, before: st.reach[i]}
	st.half[i] -= eat
	st.reach[i] = min(st.half[i], deepest)
	k.shrink = st.reach[i] - k.before
	k.below = (eat + k.shrink) * r.carbon
	if wait > 0 {
		k.phi = r.potentialAt(waitT / wait)
		k.tau = wait / k.phi.gamma
		k.phiS, _ = k.phi.of(k.carbon)
		if st.beta[i] > 0 {
			k.film = k.phi.gamma / st.beta[i]
		}
	}
	c := (*[Nodes]float64)(st.Carbon[i*Nodes:])
	k.weigh(c)
	var content, first, second [Nodes]float64 // carbon per cell, and what each stage brings to it
	for j := range Nodes {
		content[j] = c[j] * (k.edges[j+1] - k.edges[j]) * k.before
	}
	const γ = 1 - math.Sqrt2/2
	before := *c
	out1, ok1 := k.stage(c, &content, &first, γ, γ)
	for j := range Nodes {
		content[j] += (1 - γ) * first[j]
	}
	out2, ok2 := k.stage(c, &content, &second, γ, 1)
	if (!ok1 || !ok2) && halved < 10 {
		*c = before
		st.half[i], st.reach[i] = wasHalf, wasReach
		s.settlePart(st, i, p, wait/2, waitT/2, eat/2, halved+1)
		s.settlePart(st, i, p, wait/2, waitT/2, eat/2, halved+1)
		return
	}
	st.span[i] += wait
	for j := range Nodes {
		c[j] = (content[j] + γ*second[j]) / ((k.edges[j+1] - k.edges[j]) * st.reach[i])
	}
	st.Gone[i] += (1-γ)*out1 + γ*out2
}

// step is one exposure of one patch, ready to be solved.
type step struct {
	edges          []float64
	phi            potential
	tau            float64 // time over which it acts [s]
	phiS, carbon   float64 // potential and carbon held at the surface
	film           float64 // resistance of the gas, as a depth of metal [m]
	eat            float64 // metal lost [m]
	before, shrink float64 // reach of the grid before, and its change [m]
	below          float64 // carbon that comes in from under the grid [wt %·m]

	inner [Nodes]float64 // share of the inner neighbor in the carbon that a moving face sweeps up [–]
}

// weigh settles what the moving faces sweep up: the mean of both neighbors where
// diffusion is the faster, more and more of the
// inner one where the surface outruns it, so that no carbon piles up before it.
// The metal that burns takes its own carbon along in that case.
func (k *step) weigh(c *[Nodes]float64) {
	outer, P := k.carbon, k.phiS
	for j := range Nodes {
		p, _ := k.phi.of(c[j])
		span := k.edges[1]*k.before/2 + k.film
		rest := 0.0
		if j > 0 {
			span, rest = (k.edges[j+1]-k.edges[j-1])*k.before/2, 0.5
		}
		k.inner[j] = rest
		if sweep := (k.eat + k.edges[j]*k.shrink) * math.Abs(c[j]-outer); sweep > 0 {
			k.inner[j] = max(rest, 1-k.tau/span*math.Abs(p-P)/sweep)
		}
		outer, P = c[j], p
	}
}

// thinnest is the metal at which a patch counts as burnt through [m].
const thinnest = 2e-6

// stage solves size·C = content + γ·f(C) for C, with the grid where it stands
// after the share `at` of the step, fills f with what the whole step would bring
// to each cell at that C, and returns what it would take out of the surface.
func (k *step) stage(c, content, f *[Nodes]float64, γ, at float64) (surface float64, ok bool) {
	reach := k.before + at*k.shrink
	e := k.edges
	var size, g, h, P, dP, a, b, d, rhs [Nodes]float64
	for j := range Nodes {
		size[j] = (e[j+1] - e[j]) * reach
		h[j] = k.eat + e[j]*k.shrink // how far the face moves into the metal
		if j > 0 {
			g[j] = k.tau / ((e[j+1] - e[j-1]) * reach / 2)
		}
	}
	g[0] = k.tau / (e[1]*reach/2 + k.film)
	for j := range Nodes {
		P[j], dP[j] = k.phi.of(c[j])
	}
	for range 10 {
		fOut := g[0]*(P[0]-k.phiS) + k.eat*(k.inner[0]*c[0]+(1-k.inner[0])*k.carbon)
		b[0] = size[0] + γ*(g[0]*dP[0]+k.eat*k.inner[0])
		for j := range Nodes {
			fIn := k.below
			if j < Nodes-1 {
				in := k.inner[j+1]
				G, H := γ*g[j+1], γ*h[j+1]
				fIn = g[j+1]*(P[j+1]-P[j]) + h[j+1]*(c[j]+in*(c[j+1]-c[j]))
				b[j] += G*dP[j] - H*(1-in)
				d[j] = -G*dP[j+1] - H*in
				b[j+1] = size[j+1] + G*dP[j+1] + H*in
				a[j+1] = -G*dP[j] + H*(1-in)
			}
			rhs[j] = content[j] + γ*(fIn-fOut) - size[j]*c[j]
			fOut = fIn
		}
		solve(&a, &b, &d, &rhs)
		worst, bent := 0.0, false
		for j := range Nodes {
			c[j] += rhs[j]
			worst = max(worst, math.Abs(rhs[j]))
			was := dP[j]
			P[j], dP[j] = k.phi.of(c[j])
			bent = bent || dP[j] != was
		}
		if !bent || worst < 1e-6 {
			ok = true // no cell changed its field: the solution is exact
			break
		}
	}
	// What the step brings is taken from the fluxes, so that carbon closes whatever Newton left.
	surface = g[0]*(P[0]-k.phiS) + k.eat*(k.inner[0]*c[0]+(1-k.inner[0])*k.carbon)
	fOut := surface
	for j := range Nodes {
		fIn := k.below
		if j < Nodes-1 {
			fIn = g[j+1]*(P[j+1]-P[j]) + h[j+1]*(c[j]+k.inner[j+1]*(c[j+1]-c[j]))
		}
		f[j] = fIn - fOut
		fOut = fIn
	}
	return surface, ok
}

// solve overwrites rhs with the solution of a tridiagonal system (a below, b on, d above the diagonal).
func solve(a, b, d, rhs *[Nodes]float64) {
	inv := 1 / b[0]
	d[0] *= inv
	rhs[0] *= inv
	for j := 1; j < Nodes; j++ {
		inv = 1 / (b[j] - a[j]*d[j-1])
		d[j] *= inv
		rhs[j] = (rhs[j] - a[j]*rhs[j-1]) * inv
	}
	for j := Nodes - 2; j >= 0; j-- {
		rhs[j] -= d[j] * rhs[j+1]
	}
}

// view is one patch as it would be with its waiting exposure applied: readings
// look at it, and the state stays as it is.
type view struct {
	State
	numbers [Nodes + 9]float64
}

func (s *Skin) look(v *view, st *State, i int) {
	n := v.numbers[:]
	v.Carbon, n = n[:Nodes:Nodes], n[Nodes:]
	for k, pair := range [9]struct {
		to   *[]float64
		from []float64
	}{
		{&v.Gone, st.Gone}, {&v.reach, st.reach}, {&v.half, st.half}, {&v.span, st.span}, {&v.wait, st.wait},
		{&v.waitT, st.waitT}, {&v.eat, st.eat}, {&v.gas, st.gas}, {&v.beta, st.beta},
	} {
		*pair.to = n[k : k+1 : k+1]
		n[k] = pair.from[i]
	}
	copy(v.Carbon, st.Carbon[i*Nodes:(i+1)*Nodes])
	if v.wait[0] > 0 || v.eat[0] > 0 {
		s.settleAt(&v.State, 0, i)
	}
}
