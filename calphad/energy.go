package calphad

import "math"

// R is the gas constant of the assessments [J/(mol K)]; the current value is
// 8.314462618, and the difference is below every assessment's error.
const R = 8.31451

// parts holds the Gibbs energy of one phase at one point, per mole of formula
// units [J/mol], with its derivatives.
type parts struct {
	G, GT, GTT float64   // and first and second derivative in T [J/(mol K)], [J/(mol K²)]
	g          []float64 // ∂G/∂y_i
	gT         []float64 // ∂²G/∂y_i∂T
	h          []float64 // ∂²G/∂y_i∂y_j, n×n, both triangles
	e          []float64 // response to forces at fixed site sums, n×n: see respond
	tc, bm     []float64 // gradients of Curie temperature and moment
	tch, bmh   []float64 // their second derivatives
	w          []float64 // scratch
}

func newParts(n int) *parts {
	return &parts{g: make([]float64, n), gT: make([]float64, n), h: make([]float64, n*n), e: make([]float64, n*n),
		tc: make([]float64, n), bm: make([]float64, n), tch: make([]float64, n*n), bmh: make([]float64, n*n), w: make([]float64, n*n+4*n+16)}
}

// depth of an evaluation.
type depth int

const (
	valueOnly  depth = iota
	gradient         // and g
	curvature        // and h
	inHeat           // and GT, gT
	inHeatDeep       // and GTT
)

// energy fills o with the Gibbs energy of the phase at site fractions y and the
// temperature of the state:
//
//	G = Σ groups + RT Σ a y ln y + G_magnetic   [J per mole of formula units]
//
// Source: sundman-1981 for the model, hillert-jarl-1978 for magnetism.
func (p *phase) energy(o *parts, s *values, y []float64, d depth) {
	n := p.n
	var g, h []float64
	if d >= gradient {
		g = o.g
		clear(g)
	}
	if d >= curvature {
		h = o.h
		clear(h)
	}
	o.G = sumGroups(p.g, s.v, y, g, h, n)
	RT := R * s.T
	mix := 0.0
	for i, x := range y {
		l := math.Log(x)
		mix += p.site[i] * x * l
		if d >= gradient {
			g[i] += RT * p.site[i] * (l + 1)
		}
		if d >= curvature {
			h[i*n+i] += RT * p.site[i] / x
		}
		if d >= inHeat {
			o.gT[i] = R * p.site[i] * (l + 1)
		}
	}
	o.G += RT * mix
	if d >= inHeat {
		o.GT = sumGroups(p.g, s.d, y, o.gT, nil, n) + R*mix
	}
	if d >= inHeatDeep {
		o.GTT = sumGroups(p.g, s.dd, y, nil, nil, n)
	}
	if p.factor != 0 && len(p.tc) > 0 && len(p.bm) > 0 {
		p.magnetic(o, s, y, d)
	}
	if d >= curvature {
		for i := 0; i < n; i++ {
			for j := 0; j < i; j++ {
				h[i*n+j] = h[j*n+i]
			}
		}
	}
}

// sumGroups adds up the groups with the parameters L; it adds the gradient to g
// and the second derivatives to the upper triangle of h where they are not nil.
func sumGroups(list []group, L, y, g, h []float64, n int) float64 {
	total := 0.0
	var part [8]float64
	for q := range list {
		gr := &list[q]
		F, F1, F2 := 0.0, 0.0, 0.0
		var slope [3]float64
		switch gr.kind {
		case 0:
			F = L[gr.par]
		case 1:
			d := y[gr.lin[0]] - y[gr.lin[1]]
			for k := gr.k - 1; k >= 0; k-- {
				F2 = F2*d + 2*F1
				F1 = F1*d + F
				F = F*d + L[gr.par+k]
			}
			slope = [3]float64{F1, -F1, 0}
		case 2:
			a, b, c := L[gr.par], L[gr.par+1], L[gr.par+2]
			yi, yj, yk := y[gr.lin[0]], y[gr.lin[1]], y[gr.lin[2]]
			third := (a + b + c) / 3
			F = a*yi + b*yj + c*yk + third*(1-yi-yj-yk)
			slope = [3]float64{a - third, b - third, c - third}
		}
		m := gr.m
		if gr.kind == 0 && (m == 2 || m == 3) { // nearly all end-members and most interactions
			total += F * product(gr, y, g, h, n, F)
			continue
		}
		M := 1.0
		for i := 0; i < m; i++ {
			part[i] = M
			M *= y[gr.idx[i]]
		}
		total += M * F
		if g == nil {
			continue
		}
		suffix := 1.0
		for i := m - 1; i >= 0; i-- {
			part[i] *= suffix // product of all but i
			suffix *= y[gr.idx[i]]
			g[gr.idx[i]] += part[i] * F
		}
		lins := 0
		if gr.kind > 0 {
			lins = int(gr.kind) + 1
			for i := 0; i < lins; i++ {
				g[gr.lin[i]] += M * slope[i]
			}
		}
		if h == nil {
			continue
		}
		for i := 0; i < m; i++ {
			vi := int(gr.idx[i])
			for j := i + 1; j < m; j++ {
				prod := F
				for k := 0; k < m; k++ {
					if k != i && k != j {
						prod *= y[gr.idx[k]]
					}
				}
				addUpper(h, n, vi, int(gr.idx[j]), prod)
			}
			for k := 0; k < lins; k++ {
				vk := int(gr.lin[k])
				x := part[i] * slope[k]
				if vk == vi {
					x *= 2
				}
				addUpper(h, n, vi, vk, x)
			}
		}
		if F2 != 0 {
			i, j := int(gr.lin[0]), int(gr.lin[1])
			h[i*n+i] += M * F2
			h[j*n+j] += M * F2
			addUpper(h, n, i, j, -M*F2)
		}
	}
	return total
}

// product returns the product of two or three site fractions and adds F times its
// derivatives, as sumGroups does for any number; idx rises.
func product(gr *group, y, g, h []float64, n int, F float64) float64 {
	i, j := int(gr.idx[0]), int(gr.idx[1])
	a, b := y[i], y[j]
	if gr.m == 2 {
		if g != nil {
			g[i] += F * b
			g[j] += F * a
		}
		if h != nil {
			h[i*n+j] += F
		}
		return a * b
	}
	k := int(gr.idx[2])
	c := y[k]
	if g != nil {
		g[i] += F * b * c
		g[j] += F * a * c
		g[k] += F * a * b
	}
	if h != nil {
		h[i*n+j] += F * c
		h[i*n+k] += F * b
		h[j*n+k] += F * a
	}
	return a * b * c
}

func addUpper(h []float64, n, i, j int, x float64) {
	if i <= j {
		h[i*n+j] += x
	} else {
		h[j*n+i] += x
	}
}

// magnetic adds the magnetic part
//
//	G = RT ln(β+1) f(T/Tc)   [J per mole of formula units]
//
// with Tc [K] and β [μB] from the groups; a negative Tc or β is divided by the
// antiferromagnetic factor. Source: hillert-jarl-1978 (after Inden).
func (p *phase) magnetic(o *parts, s *values, y []float64, d depth) {
	n := p.n
	var tg, bg, th, bh []float64
	if d >= gradient {
		tg, bg = o.tc, o.bm
		clear(tg)
		clear(bg)
	}
	if d >= curvature {
		th, bh = o.tch, o.bmh
		clear(th)
		clear(bh)
	}
	tc, bm := sumGroups(p.tc, s.v, y, tg, th, n), sumGroups(p.bm, s.v, y, bg, bh, n)
	ts, bs := 1.0, 1.0
	if tc < 0 {
		ts = 1 / p.factor
	}
	if bm < 0 {
		bs = 1 / p.factor
	}
	tc, bm = tc*ts, bm*bs
	if tc < 1e-3 || bm < 1e-9 {
		return
	}
	tau := s.T / tc
	f, f1, f2 := inden(tau, p.short)
	RT, l := R*s.T, math.Log1p(bm)
	o.G += RT * l * f
	if d < gradient {
		return
	}
	// derivatives of G in Tc and β
	tt := -tau / tc // ∂τ/∂Tc
	gt := RT * l * f1 * tt
	gb := RT * f / (1 + bm)
	for i := range tg {
		tg[i] *= ts
		bg[i] *= bs
		o.g[i] += gt*tg[i] + gb*bg[i]
	}
	if d >= curvature {
		gtt := RT * l * (f2*tt*tt + f1*2*tau/(tc*tc))
		gtb := RT * f1 * tt / (1 + bm)
		gbb := -gb / (1 + bm)
		for i := 0; i < n; i++ {
			for j := i; j < n; j++ {
				k := i*n + j
				o.h[k] += gt*ts*th[k] + gb*bs*bh[k] + gtt*tg[i]*tg[j] + gtb*(tg[i]*bg[j]+tg[j]*bg[i]) + gbb*bg[i]*bg[j]
			}
		}
	}
	if d >= inHeat {
		o.GT += R * l * (f + tau*f1)
		gtT := R * l * tt * (2*f1 + tau*f2)
		gbT := R * (f + tau*f1) / (1 + bm)
		for i := range tg {
			o.gT[i] += gtT*tg[i] + gbT*bg[i]
		}
	}
	if d >= inHeatDeep {
		o.GTT += R * l * (2*f1 + tau*f2) / tc
	}
}

// inden returns the magnetic function f(τ) of Hillert and Jarl with its first
// and second derivative; p is the fraction of the magnetic enthalpy that is
// absorbed above the Curie temperature.
//
//	τ ≤ 1: f = 1 − [79/(140pτ) + 474/497 (1/p − 1)(τ³/6 + τ⁹/135 + τ¹⁵/600)]/D
//	τ > 1: f = −[τ⁻⁵/10 + τ⁻¹⁵/315 + τ⁻²⁵/1500]/D
//	D = 518/1125 + 11692/15975 (1/p − 1)
//
// Source: hillert-jarl-1978.
func inden(tau, p float64) (f, f1, f2 float64) {
	q := 1/p - 1
	D := 518.0/1125 + 11692.0/15975*q
	if tau <= 1 {
		a, b := 79/(140*p), 474.0/497*q
		t3 := tau * tau * tau
		t9 := t3 * t3 * t3
		t15 := t9 * t3 * t3
		f = 1 - (a/tau+b*(t3/6+t9/135+t15/600))/D
		f1 = -(-a/(tau*tau) + b*(t3/2+t9/15+t15/40)/tau) / D
		f2 = -(2*a/t3 + b*(t3+t9*8/15+t15*14/40)/(tau*tau)) / D
		return f, f1, f2
	}
	i := 1 / tau
	i5 := i * i * i * i * i
	i15 := i5 * i5 * i5
	i25 := i15 * i5 * i5
	f = -(i5/10 + i15/315 + i25/1500) / D
	f1 = (i5/2 + i15/21 + i25/60) * i / D
	f2 = -(i5*3 + i15*16/21 + i25*26/60) * i * i / D
	return f, f1, f2
}
