package sim

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// The carbon that the skin loses is taken out of the cells beneath it, so that an
// edge that was held long in a thieving fire comes out soft.
//
// The skin knows its carbon by hundredths of a millimeter, a cell is some tenths
// of one thick and mixed through. A cell loses what the profile misses within its
// depth, the deeper loss is its inner neighbor's; its hardness is then that of the mean carbon
// over its depth, and what a file finds at the very surface is read off the profile
// (Zone.SoftSkin). Where faces of different directions meet in a cell, what each
// leaves is multiplied, as the exact solution for a corner is.
//
// The mesh does not recede with scale: the iron that burns stays in it, with the bar's
// carbon, and the profile is laid from the surface of the mesh on. A gas that
// gives carbon gives the cells no more than the bar had. The narrow face of an
// edge is taken to be as thin behind as the edge is thick.

// beneath is a stretch of metal under a face that lies in one cell.
type beneath struct {
	patch    int
	from, to float64 // depth below the surface [m]
	weight   float64 // area of the face over what the cell would hold of the bar's carbon [1/(wt%·m)]
	axis     int     // direction of the face
}

// columns lists for every cell that a face can reach what lies beneath which.
type columns struct {
	cell  []int
	start []int // len(cell)+1
	parts []beneath
}

// midway is the share of half a thickness after which a column is at the middle.
const midway = 0.9

// lookUnder finds the cells beneath every patch of skin, down to the middle of the piece.
func (p *piece) lookUnder() {
	m, f := p.mesh, &p.mesh.Faces
	of := make([][]beneath, m.Len())
	stride, count := [3]int{m.NJ * m.NK, m.NK, 1}, [3]int{m.NI, m.NJ, m.NK}
	for n, i := range p.outer {
		c := f.Cell[i]
		axis, most := int(f.Side[i])/2, p.half(c)
		step, left := 0, 1 // the wall of a hole: its own cell
		if f.Side[i] != conduction.Hole {
			step, left = stride[axis], count[axis]
			if f.Side[i]%2 == 1 {
				step = -step
			}
		}
		for z := 0.0; ; left-- {
			b := beneath{n, z, z + m.Volume[c]/f.Area[i], f.Area[i] / (m.Volume[c] * p.setup.Steel[steel.C]), axis}
			z = b.to
			last := left <= 1 || z >= midway*most || m.Volume[c+step] == 0
			if last {
				b.to = math.Inf(1)
			}
			of[c] = append(of[c], b)
			if last {
				break
			}
			c += step
		}
	}
	u := columns{start: []int{0}}
	for c, parts := range of {
		if len(parts) > 0 {
			u.cell, u.parts = append(u.cell, c), append(u.parts, parts...)
			u.start = append(u.start, len(u.parts))
		}
	}
	p.under = u
}

// sound returns the share of the bar's carbon that the n-th cell of the columns
// has by the profiles of the skin above it [–].
func (p *piece) sound(st *skin.State, n int) float64 {
	var lost [4]float64
	u := &p.under
	for i := u.start[n]; i < u.start[n+1]; i++ {
		b := &u.parts[i]
		lost[b.axis] += b.weight * p.coat.Missing(st, b.patch, b.from, b.to)
	}
	share := 1.0
	for _, x := range lost {
		if x > 1e-9 {
			share *= 1 - math.Min(x, 0.999)
		}
	}
	return share
}

// moved tells whether the skin above the n-th cell is another now than before.
func (p *piece) moved(now, before *skin.State, n int) bool {
	u := &p.under
	for i := u.start[n]; i < u.start[n+1]; i++ {
		if p.coat.Moved(now, before, u.parts[i].patch) {
			return true
		}
	}
	return false
}

// loseCarbon takes the carbon out of the cells that the skin has lost in the step
// just accepted; before is the skin as it was. The cells grow lighter by it and
// keep their temperature: the carbon takes its own enthalpy along.
func (m *March) loseCarbon(before *skin.State) {
	now := m.now.skin
	any := false
	for n := range m.outer {
		if m.coat.Moved(now, before, n) {
			any = true
			break
		}
	}
	if !any {
		return
	}
	field, cells := m.now.field, m.now.cells
	gone, joules := 0.0, 0.0
	for n, c := range m.under.cell {
		if !m.moved(now, before, n) {
			continue
		}
		x := 1 - m.sound(now, n)/m.sound(before, n)
		if math.Abs(x) < 1e-9 {
			continue
		}
		T, mass := field.T[c], field.Mass[c]
		h := m.metal.Enthalpy(cells, c, T)
		x = m.metal.MoveCarbon(cells, c, x*cells.CarbonTotal(c)/100)
		joules += mass * field.H[c]
		field.H[c] += m.metal.Enthalpy(cells, c, T) - h
		field.Mass[c] -= mass * x
		joules -= field.Mass[c] * field.H[c]
		gone += mass * x
	}
	m.books.enter(joules)
	m.books.gone += gone
}

// settleSkin lets the skin and the cells lose at the end of a stage what they have
// not lost yet: the zones are read then, and the next stage begins with nothing owed.
func (m *March) settleSkin() {
	before := m.next.skin
	before.Copy(m.now.skin)
	m.coat.Settle(m.now.skin)
	m.loseCarbon(before)
}

// barked takes the carbon out of the cells at the start that the bar's bark has lost.
func (p *piece) barked(s *state) {
	for n, c := range p.under.cell {
		if share := p.sound(s.skin, n); share < 1 {
			p.metal.StartLean(s.cells, c, p.setup.Start, share*p.setup.Steel[steel.C])
		}
	}
}

// cleaned gives the cells at a ground surface what the profile says that is left
// of their carbon. A cell is mixed through, but the wheel takes the outermost of
// it, which holds the least: what stays is made up of what lies beneath, and the chips
// have the less.
func (p *piece) cleaned(s *state) {
	old := s.cells.Clone()
	from := make([]int, p.mesh.Len())
	share := make([]float64, p.mesh.Len())
	for c := range from {
		from[c] = c
	}
	inner := p.inward()
	any := false
	for n, c := range p.under.cell {
		j := inner[c]
		if j < 0 {
			continue
		}
		have, below := old.CarbonTotal(c), old.CarbonTotal(j)
		want := p.sound(s.skin, n) * p.setup.Steel[steel.C]
		if want-have > 1e-4 && below-have > 1e-4 {
			from[c], share[c] = j, math.Min(1, (want-have)/(below-have))
			any = true
		}
	}
	if !any {
		return
	}
	even := make([]float64, p.mesh.Len())
	for i := range even {
		even[i] = 1
	}
	h := make([]float64, p.mesh.Len())
	for c := range h {
		if share[c] > 0 {
			h[c] = p.metal.Enthalpy(old, c, s.field.T[c])
		}
	}
	s.cells.Remap(old, even, mixed{from, share})
	for c := range h {
		if share[c] > 0 {
			s.field.H[c] += p.metal.Enthalpy(s.cells, c, s.field.T[c]) - h[c]
		}
	}
}

// inward returns for every cell the soundest way in: its inner neighbor by the
// face that is nearest to it, or −1.
func (p *piece) inward() []int {
	list := make([]int, p.mesh.Len())
	for i := range list {
		list[i] = -1
	}
	f := &p.mesh.Faces
	stride, count := [3]int{p.mesh.NJ * p.mesh.NK, p.mesh.NK, 1}, [3]int{p.mesh.NI, p.mesh.NJ, p.mesh.NK}
	widest := make([]float64, p.mesh.Len())
	for _, i := range p.outer {
		c, side := f.Cell[i], f.Side[i]
		if side == conduction.Hole || count[side/2] < 2 || f.Area[i] <= widest[c] {
			continue
		}
		step := stride[side/2]
		if side%2 == 1 {
			step = -step
		}
		if p.mesh.Volume[c+step] > 0 {
			widest[c], list[c] = f.Area[i], c+step
		}
	}
	return list
}

// mixed makes each cell up of itself and a share of another.
type mixed struct {
	from  []int
	share []float64
}

// Mean implements micro.Mixer.
func (x mixed) Mean(dst, src, amount []float64) {
	for c, j := range x.from {
		a, b := (1-x.share[c])*amount[c], x.share[c]*amount[j]
		switch {
		case x.share[c] == 0:
			dst[c] = src[c]
		case a+b > 0:
			dst[c] = (a*src[c] + b*src[j]) / (a + b)
		default:
			dst[c] = (1-x.share[c])*src[c] + x.share[c]*src[j]
		}
	}
}

// worthTelling is the carbon that a zone has lost before a note tells of it [wt %]:
// half a point to two of HRC.
const worthTelling = 0.1

// robbed tells of the zone that has lost most of its carbon, where that is much.
func (m *March) robbed() []cite.Note {
	zone, most := "", worthTelling
	for i := range m.mesh.Parts {
		p := &m.mesh.Parts[i]
		if lost := p.Mean(m.now.cells.Lack); lost > most {
			zone, most = p.Name, lost
		}
	}
	if zone == "" {
		return nil
	}
	return []cite.Note{{Code: "sim.carbon-lost", Where: zone, Source: "own-derivation", Args: []cite.Quantity{
		cite.Txt("zone", zone), cite.Num("lost", most, "wt%"), cite.Num("left", m.setup.Steel[steel.C]-most, "wt%"),
	}}}
}
