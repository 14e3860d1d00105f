package conduction

import (
	"fmt"

	"github.com/heatwright/heatwright/shape"
)

// sources gathers for each new cell and face where its material lay before.
type sources struct {
	t         *Transfer
	cells     [][]overlapped
	faces     [][]overlapped
	was, is   sides
	taken     []float64 // of the old skin, by each new face [m²]
	tookParts []float64
}

// sides lists the outer face of each cell on each of its six sides, or −1; the
// walls of holes apart, since they lie inside the mesh.
type sides struct{ outer, hole [6][]int32 }

func (m *Mesh) sides() sides {
	var f sides
	for s := range f.outer {
		f.outer[s], f.hole[s] = make([]int32, m.Len()), make([]int32, m.Len())
		for c := range f.outer[s] {
			f.outer[s][c], f.hole[s][c] = -1, -1
		}
	}
	for i, s := range m.Faces.Side {
		c := m.Faces.Cell[i]
		if s != Hole {
			f.outer[s][c] = int32(i)
			continue
		}
		o := &m.outer[i]
		f.hole[2*int(o.dir)+(int(o.out)+1)/2][c] = int32(i)
	}
	return f
}

func newSources(t *Transfer) *sources {
	nf := t.To.Faces.Len()
	return &sources{
		t: t, cells: make([][]overlapped, t.To.Len()), faces: make([][]overlapped, nf),
		was: t.From.sides(), is: t.To.sides(), taken: make([]float64, nf), tookParts: make([]float64, nf),
	}
}

// overlay compares the two bodies place by place, as change tells them: metal
// that is not in the new body is taken away. For grinding and drilling.
func (s *sources) overlay(change *shape.Change) error {
	from, to := s.t.From, s.t.To
	for i := range to.NI {
		uo := []overlapped{{0, 1, 1}}
		u := to.Fineness.At
		if !to.Flat {
			uo = overlaps(from.U, change.U(to.U[i]), change.U(to.U[i+1]))
			u = (to.U[i] + to.U[i+1]) / 2
		}
		if len(uo) == 0 {
			return fmt.Errorf("conduction: slab %d of %d holds nothing of the body before the act", i+1, to.NI)
		}
		across := change.V(u)
		v := make([]float64, to.NJ+1)
		for j := range v {
			v[j] = across(to.V[j])
		}
		for j := range to.NJ {
			vo := overlaps(from.V, v[j], v[j+1])
			lo, hi := change.Kept(u, (to.V[j]+to.V[j+1])/2)
			for k := range to.NK {
				w0, w1 := lo+(1+to.W[k])/2*(hi-lo), lo+(1+to.W[k+1])/2*(hi-lo)
				c := to.index(i, j, k)
				for _, a := range uo {
					for _, b := range vo {
						for _, e := range overlaps(from.W, w0, w1) {
							s.add(c, [3]overlapped{a, b, e})
						}
					}
				}
			}
		}
	}
	return nil
}

// follow lets the metal flow without a loss, for forging and bending: it keeps
// its order along the length, across the width and through the thickness, and each new
// cell gets the share of the mass that it has of the volume. First the slabs
// along the length share the metal out, then the columns of a slab, then the
// cells of a column; what a slab takes of an old one is spread over all its columns alike.
func (s *sources) follow() {
	from, to := s.t.From, s.t.To
	slabs := shared(from.slabs(), to.slabs())
	for i, uo := range slabs {
		columns := to.columns(i)
		for _, a := range uo {
			before := from.columns(a.index)
			for j, vo := range shared(before, columns) {
				c := to.index(i, j, 0)
				for _, b := range vo {
					o := from.index(a.index, b.index, 0)
					for k, wo := range shared(from.Volume[o:o+from.NK], to.Volume[c:c+to.NK]) {
						for _, e := range wo {
							s.add(c+k, [3]overlapped{a, b, e})
						}
					}
				}
			}
		}
	}
}

// slabs returns the volume of each slab along the length [m³], columns that of
// each column across the width of slab i.
func (m *Mesh) slabs() []float64 {
	v := make([]float64, m.NI)
	for i := range v {
		v[i] = total(m.Volume[m.index(i, 0, 0):m.index(i+1, 0, 0)])
	}
	return v
}

func (m *Mesh) columns(i int) []float64 {
	v := make([]float64, m.NJ)
	for j := range v {
		v[j] = total(m.Volume[m.index(i, j, 0):m.index(i, j+1, 0)])
	}
	return v
}

// shared lays two rows of amounts over each other, each as shares of its sum,
// and returns for every target which sources fill it. Empty ones take no part.
func shared(from, to []float64) [][]overlapped {
	all := make([][]overlapped, len(to))
	had, got := heaped(from), heaped(to)
	if had == nil || got == nil {
		return all
	}
	i := 0
	for j := range to {
		lo, hi := got[j], got[j+1]
		if !(hi > lo) {
			continue
		}
		for i < len(from)-1 && had[i+1] <= lo {
			i++
		}
		for k := i; k < len(from) && had[k] < hi; k++ {
			if both := min(hi, had[k+1]) - max(lo, had[k]); both > 0 {
				all[j] = append(all[j], overlapped{k, both / (had[k+1] - had[k]), both / (hi - lo)})
			}
		}
	}
	return all
}

// heaped returns the running sum of a row as a share of the whole, from 0 to 1;
// nil where there is nothing.
func heaped(row []float64) []float64 {
	sum := total(row)
	if sum <= 0 {
		return nil
	}
	h := make([]float64, len(row)+1)
	for i, x := range row {
		h[i+1] = h[i] + x/sum
	}
	for i := len(row); i > 0 && h[i] >= h[len(row)]; i-- {
		h[i] = 1
	}
	return h
}

// add notes that new cell c takes from the old cell at a (along, across,
// through), and that its outer faces take from those of the old body there.
func (s *sources) add(c int, a [3]overlapped) {
	m := s.t.From
	at := [3]int{a[0].index, a[1].index, a[2].index}
	o := m.index(at[0], at[1], at[2])
	if share := a[0].share * a[1].share * a[2].share; s.t.To.Volume[c] > 0 && m.Volume[o] > 0 {
		s.cells[c] = append(s.cells[c], overlapped{index: o, share: share})
		s.t.Lost[o] -= share
	}
	part := a[0].part * a[1].part * a[2].part
	for side := range 6 {
		dir := side / 2
		f, old := s.is.outer[side][c], int32(-1)
		if f >= 0 {
			end := at
			end[dir] = side % 2 * (m.count(dir) - 1)
			old = s.was.outer[side][m.index(end[0], end[1], end[2])]
		} else if f = s.is.hole[side][c]; f >= 0 {
			old = s.was.hole[side][o]
		}
		if f < 0 || old < 0 {
			continue
		}
		s.faces[f] = append(s.faces[f], overlapped{index: int(old), part: part})
		s.tookParts[f] += part
		p, q := a[(dir+1)%3], a[(dir+2)%3]
		s.taken[f] += a[dir].part * p.share * q.share * m.Faces.Area[old]
	}
}

// stretched finds how much thinner the skin of each face has become, and makes
// the weights of its sources sum to 1. Where another form was made, all the skin
// around a slab is stretched alike.
func (s *sources) stretched(change *shape.Change) {
	t := s.t
	f := &t.To.Faces
	slab := func(face int) int { return f.Cell[face] / (t.To.NJ * t.To.NK) }
	taken, area := make([]float64, t.To.NI), make([]float64, t.To.NI)
	for i := range t.Thinner {
		t.Thinner[i] = 1
		for n := t.faces.start[i]; n < t.faces.start[i+1]; n++ {
			t.faces.weight[n] /= s.tookParts[i]
		}
		if s.tookParts[i] > 0 {
			taken[slab(i)] += s.taken[i]
			area[slab(i)] += f.Area[i]
		}
	}
	if change.Act != shape.Forging && change.Act != shape.Bending {
		return
	}
	for i := range t.Thinner {
		was, is := s.taken[i], f.Area[i]
		if change.Reforms() {
			was, is = taken[slab(i)], area[slab(i)]
		}
		if s.tookParts[i] > 0 && is > 0 {
			t.Thinner[i] = min(thickestSkin, max(1/thickestSkin, was/(is*t.Stretch)))
		}
	}
}

// thickestSkin is how many times as thick skin may grow where it is upset [–].
const thickestSkin = 10
