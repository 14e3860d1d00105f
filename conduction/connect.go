package conduction

import (
	"math"

	"github.com/heatwright/heatwright/shape"
)

// connect finds what each face conducts. For a face with area vector S between
// points d apart, S is written in the basis of d and the two tangential
// differences e₂, e₃ of the mesh, S = α d + β e₂ + γ e₃, and the heat flow is
//
//	−k (α δ₁T + β δ₂T + γ δ₃T)
//
// which is exact for any linear field on any mesh. β and γ vanish where the mesh
// is orthogonal.
func (m *Mesh) connect(g *grid) {
	n := m.Len()
	var ids [3][2][]int32
	for d := range 3 {
		m.link[d] = make([]link, n)
		for s := range 2 {
			ids[d][s] = make([]int32, n)
			for c := range ids[d][s] {
				ids[d][s][c] = -1
			}
		}
	}
	for c := range n {
		if m.Volume[c] > 0 {
			m.addOuter(g, c, &ids)
		}
	}
	for d := range 3 {
		for c := range n {
			if nb := m.neighbor(c, d, 1); nb >= 0 && m.Volume[c] > 0 {
				p := m.where(c)
				p[d]++
				area, _ := g.face(p[0], p[1], p[2], d)
				l, w, leans := m.split(area, m.middle(nb).sub(m.middle(c)), d, &ids, c, nb)
				m.link[d][c] = l
				if leans && m.skewed[d] == nil {
					m.skewed[d] = make([]skew, n)
				}
				if leans {
					m.skewed[d][c] = skew{w[0] / 2, w[1] / 2}
				}
			}
		}
	}
	for f := range m.outer {
		c, o := m.Faces.Cell[f], &m.outer[f]
		n := vec{m.Faces.NX[f], m.Faces.NY[f], m.Faces.NZ[f]}
		mid := vec{m.Faces.X[f], m.Faces.Y[f], m.Faces.Z[f]}
		var l link
		var w [2]float64
		l, w, o.leans = m.split(n.times(m.Faces.Area[f]), mid.sub(m.middle(c)), int(o.dir), &ids, c)
		// The foot of the face's normal must stay near the cell: in flat cells that
		// lean it would lie beyond their neighbors, where there may be no metal.
		keep := 1 / max(1, math.Abs(w[0]/l.a), math.Abs(w[1]/l.a))
		o.a, o.stiff, o.w = l.a, l.stiff/l.a, [2]float64{keep * w[0] / l.a, keep * w[1] / l.a}
		o.area, o.cell, o.p, o.q = m.Faces.Area[f], int32(c), (o.dir+1)%3, (o.dir+2)%3
	}
	for d := range 3 {
		if !m.lean[d] {
			continue
		}
		for c := range n {
			if m.Volume[c] == 0 || m.neighbor(c, d, -1) >= 0 && m.neighbor(c, d, 1) >= 0 {
				continue
			}
			e := slope{cell: int32(c)}
			for i, t := range m.difference(c, d, &ids) {
				e.index[i], e.w[i] = t.index, t.weight
			}
			m.slopes[d] = append(m.slopes[d], e)
		}
	}
}

// neighbor returns the solid cell next to c in direction d, or −1.
func (m *Mesh) neighbor(c, d, side int) int {
	at := m.where(c)[d] + side
	if at < 0 || at >= m.count(d) {
		return -1
	}
	nb := c + side*stepOf(d, m.NJ, m.NK)
	if m.Volume[nb] == 0 {
		return -1
	}
	return nb
}

func (m *Mesh) addOuter(g *grid, c int, ids *[3][2][]int32) {
	p := m.where(c)
	for d := range 3 {
		if m.Flat && d == 0 {
			continue
		}
		for s := range 2 {
			if m.neighbor(c, d, 2*s-1) >= 0 {
				continue
			}
			q := p
			q[d] += s
			area, mid := g.face(q[0], q[1], q[2], d)
			size := area.norm()
			if size < 1e-15 {
				continue
			}
			normal := area.times(float64(2*s-1) / size)
			ids[d][s][c] = int32(len(m.outer))
			side := Side(2*d + s)
			if at := p[d] + 2*s - 1; at >= 0 && at < m.count(d) {
				side = Hole
			}
			f := &m.Faces
			f.Area, f.Cell, f.Side = append(f.Area, size), append(f.Cell, c), append(f.Side, side)
			f.X, f.Y, f.Z = append(f.X, mid[0]), append(f.Y, mid[1]), append(f.Z, mid[2])
			f.NX, f.NY, f.NZ = append(f.NX, normal[0]), append(f.NY, normal[1]), append(f.NZ, normal[2])
			m.ends[d] = append(m.ends[d], int32(len(m.outer)))
			m.outer = append(m.outer, outer{dir: int8(d), out: int8(2*s - 1)})
		}
	}
}

// split writes the area vector in the basis of δ and the tangential differences
// averaged over the given cells. w are the coefficients of the two directions after d.
func (m *Mesh) split(area, delta vec, d int, ids *[3][2][]int32, cells ...int) (l link, w [2]float64, leans bool) {
	var e [2]vec
	for t := range 2 {
		dir := (d + 1 + t) % 3
		if m.Flat && dir == 0 {
			e[t] = vec{1, 0, 0}
			continue
		}
		for _, c := range cells {
			for _, x := range m.difference(c, dir, ids) {
				e[t] = e[t].add(m.spot(int(x.index)).times(x.weight / float64(len(cells))))
			}
		}
	}
	det := delta.dot(e[0].cross(e[1]))
	a := area.dot(e[0].cross(e[1])) / det
	straight := area.dot(area) / area.dot(delta)
	if !(a > 0.1*straight) || math.IsInf(a, 0) {
		// A cell so bent that its own differences do not span space: keep to the normal.
		return link{straight, straight}, w, false
	}
	coef := [2]float64{area.dot(e[1].cross(delta)) / det, area.dot(delta.cross(e[0])) / det}
	var size [2]float64
	lean := 0.0
	for t := range 2 {
		if !m.Flat || (d+1+t)%3 != 0 {
			size[t] = math.Abs(coef[t]) * e[t].norm() / (a * delta.norm())
			lean += size[t]
		}
	}
	if lean > leanest {
		// The corner cells of a round are nearly triangles: take as much of the skew as is stable.
		keep := leanest / lean
		a = keep*a + (1-keep)*straight
		coef[0], coef[1] = keep*coef[0], keep*coef[1]
		lean = leanest
	}
	for t := range 2 {
		if size[t] > 1e-9 {
			w[t], leans = coef[t], true
			m.lean[(d+1+t)%3] = true
		}
	}
	// The explicit part is stable while the true operator is below 4γ = 1.17 of
	// the implicit one. Two tangential directions and one-sided differences at the
	// outer faces ask for twice the cosines; found by marching every form for hours.
	return link{a, a * max(1, (1+2*lean)/1.1)}, w, leans
}

// leanest is the largest skew that is carried in full: the sum of the cosines
// between a face's normal direction and its tangential ones.
const leanest = 1.0

// spot returns the place of a cell or, past the cells, of an outer face.
func (m *Mesh) spot(index int) vec {
	if f := index - m.Len(); f >= 0 {
		return vec{m.Faces.X[f], m.Faces.Y[f], m.Faces.Z[f]}
	}
	return m.middle(index)
}

// term is one summand of a difference: weight times the temperature of a cell
// (index < number of cells) or of an outer face (index − number of cells).
type term struct {
	index  int32
	weight float64
}

// difference returns the derivative per cell at cell c in direction d, second
// order also where the cell ends on a face.
func (m *Mesh) difference(c, d int, ids *[3][2][]int32) []term {
	n := int32(m.Len())
	lo, hi := m.neighbor(c, d, -1), m.neighbor(c, d, 1)
	fl, fh := ids[d][0][c], ids[d][1][c]
	switch {
	case lo >= 0 && hi >= 0:
		return []term{{int32(lo), -0.5}, {int32(hi), 0.5}}
	case hi >= 0 && fl >= 0:
		return []term{{n + fl, -4. / 3}, {int32(c), 1}, {int32(hi), 1. / 3}}
	case lo >= 0 && fh >= 0:
		return []term{{int32(lo), -1. / 3}, {int32(c), -1}, {n + fh, 4. / 3}}
	case fl >= 0 && fh >= 0:
		return []term{{n + fl, -1}, {n + fh, 1}}
	}
	return nil
}

// roundHoles gives the wall of an oval hole, which is meshed in steps, the area of the true oval.
func (m *Mesh) roundHoles() {
	s := m.Solid
	for _, h := range s.Voids {
		if !h.Oval || m.Flat {
			continue
		}
		b := h.Box
		sum := 0.0
		var mine []int
		for f, side := range m.Faces.Side {
			c := m.Faces.Cell[f]
			p := m.where(c)
			p[m.outer[f].dir] += int(m.outer[f].out)
			if side == Hole && h.Holds(m.center(p)) {
				mine = append(mine, f)
				sum += m.Faces.Area[f]
			}
		}
		if sum == 0 {
			continue
		}
		u, v, w := (b.U0+b.U1)/2, (b.V0+b.V1)/2, (b.W0+b.W1)/2
		x0, y0, z0 := s.At(b.U0, v, w)
		x1, y1, z1 := s.At(b.U1, v, w)
		wide, deep := far(s.Across(u, b.V0, w), s.Across(u, b.V1, w)), far(s.Across(u, v, b.W0), s.Across(u, v, b.W1))
		if h.Across {
			wide, deep = deep, wide
		}
		p, q := vec{x1 - x0, y1 - y0, z1 - z0}.norm()/2, wide/2
		e := (p - q) * (p - q) / ((p + q) * (p + q))
		around := math.Pi * (p + q) * (1 + 3*e/(10+math.Sqrt(4-3*e))) // source: ramanujan-1914, error under 1e-4 of it here
		for _, f := range mine {
			m.Faces.Area[f] *= around * deep / sum
			m.outer[f].area = m.Faces.Area[f]
		}
	}
}

func far(a, b shape.Point) float64 { return math.Hypot(a.Y-b.Y, a.Z-b.Z) }

// center returns the material coordinates of the middle of cell p.
func (m *Mesh) center(p [3]int) (u, v, w float64) {
	u = (m.U[p[0]] + m.U[p[0]+1]) / 2
	if m.Flat {
		u = m.Fineness.At
	}
	return u, (m.V[p[1]] + m.V[p[1]+1]) / 2, (m.W[p[2]] + m.W[p[2]+1]) / 2
}
