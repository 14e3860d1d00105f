package conduction

import "math"

// gamma of the Rosenbrock method, 1 − 1/√2: L-stable with an exact matrix, and
// stable with factored ones since it is over 1/4.
const (
	gamma    = 1 - math.Sqrt2/2
	perGamma = 2 + math.Sqrt2 // 1/γ
)

// Step marches the body by dt [s] at frozen structure. source is heat set free
// in each cell [W], or nil. Field.Out then holds the joules that left by each face.
//
// With F(H) the heat into the cells and J its approximate derivative,
//
//	(1 − γ dt J) k₁ = F(H),   (1 − γ dt J) k₂ = F(H + dt k₁) − 2 k₁
//	H' = H + dt (3 k₁ + k₂)/2
//
// The estimate of the error is the distance from the first-order result
// H + dt k₁, so it errs on the safe side. The step always completes; a caller that does not like
// the report calls Undo and tries a shorter one.
//
// Source: verwer-1999, eq. 2.3 (as recalled; order and stability are tested here).
func (f *Field) Step(dt float64, mat Material, b Boundary, source []float64) Report {
	w, n := &f.work, len(f.H)
	copy(f.before, f.H)
	copy(f.before[n:], f.te)
	copy(w.te, f.te)
	T := w.te[:n]

	mat.Fill(w.h, w.cp, w.k, T)
	for c, m := range f.Mass {
		if m > 0 {
			T[c] += (f.H[c] - w.h[c]) / w.cp[c]
		}
	}
	f.heatIn(b, source, true)
	f.factor(dt)
	f.solve()
	copy(w.p1, w.flow)
	copy(w.x1, w.x)
	copy(w.cp1, w.cp)

	// Second stage at H + dt k₁, where x = γ dt k₁/cp.
	cp1, hot, H, d := w.cp1[:n], w.hot[:n], f.H[:n], w.d[:n]
	for c, x := range w.x1[:n] {
		x *= perGamma
		T[c] += x
		hot[c] = H[c] + cp1[c]*x
	}
	mat.Fill(w.h, w.cp, w.k, T)
	for c, m := range f.Mass {
		if m > 0 {
			T[c] += (hot[c] - w.h[c]) / w.cp[c]
		}
	}
	for i := range f.Ts {
		w.te[n+i] += w.x1[f.Mesh.outer[i].cell] * perGamma * f.follows(i)
	}
	f.heatIn(b, source, false)
	watts := w.watts[:n]
	for c, x := range w.x1[:n] {
		watts[c] -= 2 * d[c] * x
	}
	for i, p := range w.p1 {
		w.flow[i] -= 2 * p
	}
	f.solve()
	return f.finish(dt)
}

// keptShare is the error of the step that is kept, as a share of how much more it
// bends than the last one [–]. With u‴ steady, the bend dt² u″/2 grows by dt³ u‴/2, and
// the method is off by 0.04 dt³ u‴ where its matrix is exact: 0.08. Where the matrix is not, a few times that.
const keptShare = 0.25

// finish adds up the two stages.
func (f *Field) finish(dt float64) Report {
	w, n := &f.work, len(f.H)
	T := w.te[:n]
	w.bend, w.bent = w.bent, w.bend
	f.tookBefore, f.took = f.took, dt
	bend, bent := w.bend[:n], w.bent[:n]
	scale := 0.0
	if f.tookBefore > 0 {
		scale = dt / f.tookBefore
		scale *= scale
	}
	var r Report
	worst, kept, most, sum := 0.0, 0.0, 0.0, 0.0
	mass, x1, x2, cp1, cp, rise, now, H := f.Mass[:n], w.x1[:n], w.x[:n], w.cp1[:n], w.cp[:n], w.h[:n], f.T[:n], f.H[:n]
	for c, m := range mass {
		if m == 0 {
			continue
		}
		to1, all := cp1[c]*x1[c]*perGamma, cp1[c]*(1.5*x1[c]+0.5*x2[c])*perGamma
		H[c] += all
		up := (all - to1) / cp[c]
		rise[c] = up // what the surface follows
		t := T[c] + up
		e := x1[c] + x2[c]
		if d := math.Abs(e - scale*bent[c]); d > kept {
			kept = d
		}
		bend[c] = e
		if e = math.Abs(e); e > worst {
			worst = e
		}
		if e := math.Abs(t - now[c]); e > most {
			most = e
		}
		sum += t
		now[c] = t
	}
	r.Error, r.MaxChange = worst*perGamma/2, most
	if r.Kept = r.Error; f.tookBefore > 0 {
		r.Kept = math.Min(r.Error, keptShare*kept*perGamma/2*2*dt/(dt+f.tookBefore))
	}
	if math.IsNaN(sum) {
		r.Error, r.Kept, r.MaxChange = sum, sum, sum
	}
	for i := range f.Out {
		f.Out[i] = dt * (1.5*w.p1[i] + 0.5*w.flow[i])
		r.Joules += f.Out[i]
		f.Ts[i] = w.te[n+i] + rise[f.Mesh.outer[i].cell]*f.follows(i)
	}
	return r
}

// follows returns by how much the surface temperature of face i rises with that
// of its cell, so that the search for it starts close by.
func (f *Field) follows(i int) float64 {
	o := &f.Mesh.outer[i]
	u, law := f.work.k[o.cell]*o.a, o.area*f.work.dq[i]
	if law > 0 {
		return u / (u + law)
	}
	return 1
}

// heatIn fills watts with the net heat into each cell at the stage's
// temperatures, flow with the heat out of each face, and at the first stage the
// conductances that the matrix of both stages needs.
func (f *Field) heatIn(b Boundary, source []float64, first bool) {
	w, m := &f.work, f.Mesh
	n := len(f.H)
	T := w.te[:n]
	if source != nil {
		copy(w.watts, source)
	} else {
		clear(w.watts)
	}
	for d := range 3 {
		if m.lean[d] {
			central(w.slope[d], T, stepOf(d, m.NJ, m.NK))
			f.slopesAtEnds(d)
		}
	}
	f.surface(b, first)
	for d := range 3 {
		off := stepOf(d, m.NJ, m.NK)
		switch {
		case m.count(d) == 1:
		case m.skewed[d] == nil:
			across(w.watts, w.line[d].g, T, w.k, m.link[d], off)
		default:
			leaning(w.watts, w.line[d].g, T, w.k, m.link[d], m.skewed[d], w.slope[(d+1)%3], w.slope[(d+2)%3], off)
		}
	}
}

// across adds the heat that flows along one direction of the mesh, with the
// harmonic mean of the two conductivities, and keeps the implicit conductance in g.
func across(watts, g, T, k []float64, links []link, off int) {
	n := len(T) - off
	links, g = links[:n], g[:n]
	T1, k1, w1 := T[off:][:n], k[off:][:n], watts[off:][:n]
	T0, k0, w0 := T[:n], k[:n], watts[:n]
	for c := range links {
		k := 2 * k0[c] * k1[c] / (k0[c] + k1[c])
		flow := k * links[c].a * (T1[c] - T0[c])
		g[c] = k * links[c].stiff
		w0[c] += flow
		w1[c] -= flow
	}
}

// leaning is across for links that lean against the other two directions, in
// which temperature differs by p and q per cell.
func leaning(watts, g, T, k []float64, links []link, skews []skew, p, q []float64, off int) {
	n := len(T) - off
	links, skews, g = links[:n], skews[:n], g[:n]
	T1, k1, w1, p1, q1 := T[off:][:n], k[off:][:n], watts[off:][:n], p[off:][:n], q[off:][:n]
	T0, k0, w0, p0, q0 := T[:n], k[:n], watts[:n], p[:n], q[:n]
	for c := range links {
		k := 2 * k0[c] * k1[c] / (k0[c] + k1[c])
		flow := k * (links[c].a*(T1[c]-T0[c]) + skews[c].p*(p0[c]+p1[c]) + skews[c].q*(q0[c]+q1[c]))
		g[c] = k * links[c].stiff
		w0[c] += flow
		w1[c] -= flow
	}
}

// central fills the differences per cell in one direction; those at the ends of
// lines are put right by slopesAtEnds.
func central(dst, T []float64, off int) {
	n := len(T) - 2*off
	if n <= 0 {
		return
	}
	dst, hi, lo := dst[off:][:n], T[2*off:][:n], T[:n]
	for c := range dst {
		dst[c] = 0.5 * (hi[c] - lo[c])
	}
}

func (f *Field) slopesAtEnds(d int) {
	te, dst := f.work.te, f.work.slope[d]
	list := f.Mesh.slopes[d]
	for i := range list {
		e := &list[i]
		dst[e.cell] = e.w[0]*te[e.index[0]] + e.w[1]*te[e.index[1]] + e.w[2]*te[e.index[2]]
	}
}

// surface finds the temperature of each face, where what comes through the half
// cell leaves by the law, and takes that heat from the cells. A law that falls
// with temperature (transition boiling) enters the matrix as if it were flat.
func (f *Field) surface(b Boundary, first bool) {
	w, m := &f.work, f.Mesh
	n := len(f.H)
	Ts := w.te[n:]
	if len(Ts) == 0 {
		return
	}
	outer, q, dq, next, flow := m.outer[:len(Ts)], w.q[:len(Ts)], w.dq[:len(Ts)], w.next[:len(Ts)], w.flow[:len(Ts)]
	for range f.Iterations {
		b.Fill(q, dq, Ts)
		worst := 0.0
		for i, was := range Ts {
			o := &outer[i]
			inner := w.te[o.cell]
			if o.leans {
				inner -= o.w[0]*w.slope[o.p][o.cell] + o.w[1]*w.slope[o.q][o.cell]
			}
			u := w.k[o.cell] * o.a
			slope := o.area * dq[i]
			if slope < -0.7*u {
				slope = -0.7 * u
			}
			ts := (u*inner - o.area*q[i] + slope*was) / (u + slope)
			if far := math.Abs(ts - was); !(far <= worst) {
				worst = far
			}
			flow[i] = u * (inner - ts)
			next[i] = ts
		}
		copy(Ts, next)
		for d := range 3 {
			if m.lean[d] {
				f.slopesAtEnds(d) // of the surface as it is now
			}
		}
		if worst < surfaceTolerance {
			break
		}
	}
	for i, out := range flow {
		w.watts[outer[i].cell] -= out
	}
	if !first {
		return
	}
	for d := range w.line {
		clear(w.line[d].edge)
	}
	for i := range outer {
		o := &outer[i]
		u, law := w.k[o.cell]*o.a, o.area*dq[i]
		w.g[i] = 0
		if law > 0 {
			w.g[i] = u * law / (u + law) * o.stiff
			w.line[o.dir].edge[o.cell] += w.g[i]
		}
	}
}

// surfaceTolerance ends the search for a surface temperature [K]. The law is
// linear from there, so the error left is of its square: under 40 W/m² at the peak of a fast oil.
const surfaceTolerance = 0.7
