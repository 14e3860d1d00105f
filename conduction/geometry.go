package conduction

import (
	"fmt"
	"math"
)

type vec [3]float64

func (a vec) sub(b vec) vec       { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec) add(b vec) vec       { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) times(f float64) vec { return vec{a[0] * f, a[1] * f, a[2] * f} }
func (a vec) dot(b vec) float64   { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) norm() float64       { return math.Sqrt(a.dot(a)) }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func mean(a, b, c, d vec) vec         { return a.add(b).add(c).add(d).times(0.25) }
func quad(a, b, c, d vec) vec         { return c.sub(a).cross(d.sub(b)).times(0.5) }
func stepOf(d int, nj, nk int) int    { return [3]int{nj * nk, nk, 1}[d] }
func (m *Mesh) index(i, j, k int) int { return (i*m.NJ+j)*m.NK + k }
func (m *Mesh) count(d int) int       { return [3]int{m.NI, m.NJ, m.NK}[d] }
func (m *Mesh) where(c int) [3]int    { return [3]int{c / (m.NJ * m.NK), c / m.NK % m.NJ, c % m.NK} }
func (m *Mesh) middle(c int) vec      { return vec{m.X[c], m.Y[c], m.Z[c]} }
func (g *grid) at(i, j, k int) vec    { return g.p[(i*(g.nj+1)+j)*(g.nk+1)+k] }

// grid holds the corners of all cells.
type grid struct {
	nj, nk int
	p      []vec
}

func (m *Mesh) corners() *grid {
	g := &grid{m.NJ, m.NK, make([]vec, 0, (m.NI+1)*(m.NJ+1)*(m.NK+1))}
	for i := range m.NI + 1 {
		for j := range m.NJ + 1 {
			for k := range m.NK + 1 {
				if m.Flat {
					p := m.Solid.Across(m.Fineness.At, m.V[j], m.W[k])
					g.p = append(g.p, vec{float64(i), p.Y, p.Z})
					continue
				}
				x, y, z := m.Solid.At(m.U[i], m.V[j], m.W[k])
				g.p = append(g.p, vec{x, y, z})
			}
		}
		m.fill(g, i)
	}
	return g
}

// fill widens the cross-section i of the mesh about its middle until it has the
// area of the body's, which chords of a curved outline fall short of. The mesh
// then weighs what the body weighs.
func (m *Mesh) fill(g *grid, i int) {
	u := m.Fineness.At
	if !m.Flat {
		u = m.U[i]
	}
	k := m.Solid.Section(u)
	var sum vec
	for j := range m.NJ {
		for k := range m.NK {
			a, _ := g.face(i, j, k, 0)
			sum = sum.add(a)
		}
	}
	ratio := k.Area() / sum.norm()
	if !(ratio > 0) || math.IsInf(ratio, 0) || math.Abs(ratio-1) < 1e-9 { // what crosses itself is told of later
		return
	}
	n := (m.NJ + 1) * (m.NK + 1)
	all := g.p[i*n : (i+1)*n]
	var mid vec
	for _, p := range all {
		mid = mid.add(p.times(1 / float64(n)))
	}
	for j, p := range all {
		all[j] = mid.add(p.sub(mid).times(math.Sqrt(ratio)))
	}
}

// face returns the area vector (toward growing index) and the middle of the
// face that closes cell (i, j, k) on its low side in direction d.
func (g *grid) face(i, j, k, d int) (area, middle vec) {
	var a, b, c, e vec
	switch d {
	case 0:
		a, b, c, e = g.at(i, j, k), g.at(i, j+1, k), g.at(i, j+1, k+1), g.at(i, j, k+1)
	case 1:
		a, b, c, e = g.at(i, j, k), g.at(i, j, k+1), g.at(i+1, j, k+1), g.at(i+1, j, k)
	default:
		a, b, c, e = g.at(i, j, k), g.at(i+1, j, k), g.at(i+1, j+1, k), g.at(i, j+1, k)
	}
	return quad(a, b, c, e), centroid(a, b, c, e)
}

// centroid returns the middle of area of a quadrilateral.
func centroid(a, b, c, d vec) vec {
	o := mean(a, b, c, d)
	total := quad(a, b, c, d).norm()
	if total < 1e-300 {
		return o
	}
	n := quad(a, b, c, d).times(1 / total)
	var sum vec
	weight := 0.0
	for _, e := range [4][2]vec{{a, b}, {b, c}, {c, d}, {d, a}} {
		t := e[0].sub(o).cross(e[1].sub(o)).dot(n) / 2
		sum = sum.add(o.add(e[0]).add(e[1]).times(t / 3))
		weight += t
	}
	return sum.times(1 / weight)
}

// measure finds volumes and middles. A volume is a third of Σ (middle of face · area).
func (m *Mesh) measure(g *grid) error {
	n := m.Len()
	m.Volume, m.X, m.Y, m.Z = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for c := range n {
		p := m.where(c)
		o := vec{}
		for a := range 8 {
			o = o.add(g.at(p[0]+a&1, p[1]+a>>1&1, p[2]+a>>2).times(0.125))
		}
		volume := 0.0
		var moment vec
		for d := range 3 {
			for side := range 2 {
				q := p
				q[d] += side
				area, mid := g.face(q[0], q[1], q[2], d)
				v := mid.sub(o).dot(area) / 3 * float64(2*side-1)
				volume += v
				// The pyramid from o to the face has its middle at three quarters of the way.
				moment = moment.add(o.times(0.25).add(mid.times(0.75)).times(v))
			}
		}
		if !(volume > 0) {
			return fmt.Errorf("conduction: cell %d of %d has the volume %.3g m³; it must be over 0: the surfaces of the body cross each other, make the bevels flatter or the piece thicker", c+1, n, volume)
		}
		mid := moment.times(1 / volume)
		m.X[c], m.Y[c], m.Z[c] = mid[0], mid[1], mid[2]
		m.Volume[c] = volume
	}
	for c := range n {
		if m.void(c) {
			m.Volume[c] = 0
		}
	}
	return nil
}

// void reports whether the middle of the cell lies in a hole.
func (m *Mesh) void(c int) bool {
	u, v, w := m.center(m.where(c))
	for _, h := range m.Solid.Voids {
		if h.Holds(u, v, w) {
			return true
		}
	}
	return false
}
