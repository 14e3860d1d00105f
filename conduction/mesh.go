package conduction

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/shape"
)

// Cells says how finely a body is divided. Of a body whose edge is at the end of
// its length (shape.Solid.EndOn) the cross-section is taken lengthwise, two cells wide.
type Cells struct {
	Along, Across, Through int     // cells along the length, across the width, through the thickness; Along 0 is a cross-section
	At                     float64 // U of the cross-section; 0 is the one the body names
}

// Section is the fineness for typing and sampling, Whole the one for what is printed.
var (
	Section = Cells{0, 14, 8, 0}
	Whole   = Cells{40, 14, 8, 0}
)

// MaxCells is the largest mesh that New builds: about 1 GB of memory.
const MaxCells = 2_000_000

// Side is the side of the body that a face lies on.
type Side uint8

// The sides of a body; Hole is the wall of an eye or a drilled hole.
const (
	Start Side = iota // U = 0
	End               // U = 1
	Spine             // V = 0
	Edge              // V = 1
	Back              // W = −1
	Front             // W = 1
	Hole
)

// Faces holds the outer faces of a mesh, one entry per face.
type Faces struct {
	Area       []float64 // m²
	Cell       []int     // the cell that the face closes
	Side       []Side
	X, Y, Z    []float64 // place of the middle [m]
	NX, NY, NZ []float64 // outward unit normal
}

// Len returns the number of faces.
func (f *Faces) Len() int { return len(f.Area) }

// Part is a zone as the mesh sees it: cells with the share of the zone's volume
// that each holds (the weights sum to 1), and the outer faces of those cells.
type Part struct {
	Name   string
	Cell   []int
	Weight []float64
	Face   []int
}

// Mean returns the average of a cell quantity over the zone.
func (p *Part) Mean(q []float64) float64 {
	sum := 0.0
	for i, c := range p.Cell {
		sum += p.Weight[i] * q[c]
	}
	return sum
}

// Mesh is a body divided into cells. Cell (i, j, k) along, across, through has
// index (i·NJ + j)·NK + k. A cross-section is one slab of a meter's length.
type Mesh struct {
	Solid      *shape.Solid
	Fineness   Cells
	Flat       bool // a cross-section
	NI, NJ, NK int
	U, V, W    []float64 // cell borders in material coordinates
	Volume     []float64 // m³, 0 in a hole
	X, Y, Z    []float64 // middle of each cell [m]
	Faces      Faces
	Parts      []Part

	link   [3][]link  // inner links by direction: along, across, through
	outer  []outer    // what the fluxes through Faces need, same order
	grid   *grid      // the corners of all cells
	ends   [3][]int32 // outer faces by the direction of the lines that they end
	skewed [3][]skew  // by direction, one per cell as link; nil where no link leans against the mesh's other directions
	slopes [3][]slope // differences where a line ends; elsewhere they are central
	lean   [3]bool    // whether anything needs the differences in a direction
}

// link joins cell c and its next neighbor in one direction: the heat flow per
// conductivity and kelvin, a [m]; stiff is a for the implicit matrix, raised
// where the mesh is skewed so that the explicit part stays stable.
type link struct{ a, stiff float64 }

type outer struct {
	a     float64    // as link, from the middle of the cell to the face
	stiff float64    // what the implicit matrix takes of a [–]
	area  float64    // m²
	w     [2]float64 // how much less warm the cell is, per difference in the two directions after dir [–]
	cell  int32
	dir   int8 // direction of the line that the face ends
	p, q  int8 // the two directions after it
	out   int8 // −1 at the low end of its line, 1 at its high end
	leans bool
}

// skew is the heat flow of a link per conductivity and difference of
// temperature in the two directions after its own, taken at both its cells [m].
type skew struct{ p, q float64 }

// slope is the difference per cell at a cell that lacks a neighbor: three
// temperatures of cells (index < number of cells) or outer faces with their weights.
type slope struct {
	cell  int32
	index [3]int32
	w     [3]float64
}

// Len returns the number of cells.
func (m *Mesh) Len() int { return m.NI * m.NJ * m.NK }

// Corner returns the place of a corner of the cells [m]: i from 0 to NI along, j
// to NJ across, k to NK through. Cell (i, j, k) lies between corners (i, j, k) and (i+1, j+1, k+1).
func (m *Mesh) Corner(i, j, k int) (x, y, z float64) {
	p := m.grid.at(i, j, k)
	return p[0], p[1], p[2]
}

// Part returns the zone with this name, or nil where the mesh has none of it.
func (m *Mesh) Part(name string) *Part {
	for i := range m.Parts {
		if m.Parts[i].Name == name {
			return &m.Parts[i]
		}
	}
	return nil
}

// New divides a body into cells. A cross-section keeps the zones that its place
// or, for zones that the place misses, none.
func New(s *shape.Solid, c Cells) (*Mesh, error) {
	if c.Across < 1 || c.Through < 1 || c.Along < 0 {
		return nil, fmt.Errorf("conduction: %d × %d × %d cells; each direction takes one or more: give the fineness anew", c.Along, c.Across, c.Through)
	}
	if n := float64(max(c.Along, 1)) * float64(c.Across) * float64(c.Through); n > MaxCells {
		return nil, fmt.Errorf("conduction: %.4g cells are more than memory allows; at most %d: take a coarser mesh", n, MaxCells)
	}
	if c.Along == 0 && s.EndOn {
		// The cut that shows the edge is lengthwise, with two cells across for the corners of a hex.
		c.Along, c.Across, c.Through = c.Across+c.Through, 2, max(2, 3*c.Through/4)
	}
	m := &Mesh{Solid: s, Fineness: c, Flat: c.Along == 0, NI: max(c.Along, 1), NJ: c.Across, NK: c.Through}
	if c.At == 0 {
		m.Fineness.At = s.Cut
	}
	m.V = spread(m.NJ, 0, 1, s.Fine.Spine, s.Fine.Edge, append(voidEnds(s, 'v'), s.Creases...))
	behind := s.Fine.Behind
	if behind == 0 {
		behind = s.Fine.Face
	}
	m.W = spread(m.NK, -1, 1, behind, s.Fine.Face, append(voidEnds(s, 'w'), s.Ridges...))
	if m.Flat {
		m.U = []float64{0, 1}
	} else {
		m.U = m.lengthwise()
	}
	g := m.corners()
	m.grid = g
	if err := m.measure(g); err != nil {
		return nil, err
	}
	m.connect(g)
	m.roundHoles()
	m.findParts()
	return m, nil
}

// lengthwise spreads cells along the body by length, not by U, with a border at
// every section where the loft has a kink.
func (m *Mesh) lengthwise() []float64 {
	s := m.Solid
	var kinks []float64
	n := len(s.Sections)
	for i := 1; i < n-1; i++ {
		kinks = append(kinks, s.Sections[i].U)
	}
	return spread(m.NI, s.Sections[0].U, s.Sections[n-1].U, s.Fine.Start, s.Fine.End, append(kinks, voidEnds(s, 'u')...))
}

func voidEnds(s *shape.Solid, axis byte) []float64 {
	var ends []float64
	for _, v := range s.Voids {
		b := v.Box
		switch axis {
		case 'u':
			ends = append(ends, b.U0, b.U1)
		case 'v':
			ends = append(ends, b.V0, b.V1)
		case 'w':
			ends = append(ends, b.W0, b.W1)
		}
	}
	return ends
}

// spread returns n+1 borders from a to b. Cells narrow toward the ends, the
// widest being the given ratio wider than the first and the last. The nearest
// free border is moved onto each of the marks.
func spread(n int, a, b, first, last float64, marks []float64) []float64 {
	first, last = max(first, 1), max(last, 1)
	width := make([]float64, n)
	for i := range width {
		t := 0.5
		if n > 1 {
			t = float64(i) / float64(n-1)
		}
		// Widths grow geometrically from both ends and meet at their common widest.
		l, r := math.Log(first), math.Log(last)
		peak := 0.5
		if l+r > 0 {
			peak = l / (l + r)
		}
		switch {
		case t <= peak && peak > 0:
			width[i] = math.Exp(l * (t/peak - 1))
		case peak < 1:
			width[i] = math.Exp(r * ((1-t)/(1-peak) - 1))
		default:
			width[i] = 1
		}
	}
	sum := 0.0
	for _, w := range width {
		sum += w
	}
	x := make([]float64, n+1)
	x[0], x[n] = a, b
	at := 0.0
	for i := 1; i < n; i++ {
		at += width[i-1]
		x[i] = a + (b-a)*at/sum
	}
	return snap(x, marks)
}

// snap moves the borders so that one lies on each mark, keeping the others'
// share of the distance between marks.
func snap(x []float64, marks []float64) []float64 {
	n := len(x) - 1
	pinned := map[int]float64{0: x[0], n: x[n]}
	for _, mark := range marks {
		best, gap := -1, math.Inf(1)
		for i := 1; i < n; i++ {
			if d := math.Abs(x[i] - mark); d < gap {
				if _, taken := pinned[i]; !taken {
					best, gap = i, d
				}
			}
		}
		if best > 0 && mark > x[0] && mark < x[n] && ordered(pinned, best, mark) {
			pinned[best] = mark
		}
	}
	y := append([]float64(nil), x...)
	from := 0
	for i := 1; i <= n; i++ {
		to, ok := pinned[i]
		if !ok {
			continue
		}
		for j := from + 1; j < i; j++ {
			y[j] = pinned[from] + (to-pinned[from])*(x[j]-x[from])/(x[i]-x[from])
		}
		y[i] = to
		from = i
	}
	return y
}

func ordered(pinned map[int]float64, at int, x float64) bool {
	for i, p := range pinned {
		if (i < at) != (p < x) || p == x {
			return false
		}
	}
	return true
}

func (m *Mesh) findParts() {
	bu := func(b shape.Box) (float64, float64) {
		if m.Flat {
			if m.Fineness.At < b.U0 || m.Fineness.At > b.U1 {
				return 2, 2
			}
			return 0, 1
		}
		return b.U0, b.U1
	}
	touch := make([][]int, m.Len())
	for f, c := range m.Faces.Cell {
		touch[c] = append(touch[c], f)
	}
	for _, z := range m.Solid.Zones {
		share := make([]float64, m.Len())
		for _, b := range z.Boxes {
			u0, u1 := bu(b)
			for i := range m.NI {
				for j := range m.NJ {
					for k := range m.NK {
						c := (i*m.NJ+j)*m.NK + k
						share[c] += m.Volume[c] * overlap(m.U[i], m.U[i+1], u0, u1) * overlap(m.V[j], m.V[j+1], b.V0, b.V1) * overlap(m.W[k], m.W[k+1], b.W0, b.W1)
					}
				}
			}
		}
		p := Part{Name: z.Name}
		sum := 0.0
		for _, v := range share {
			sum += v
		}
		if sum == 0 {
			continue
		}
		for c, v := range share {
			if v > 0 {
				p.Cell = append(p.Cell, c)
				p.Weight = append(p.Weight, v/sum)
				p.Face = append(p.Face, touch[c]...)
			}
		}
		m.Parts = append(m.Parts, p)
	}
}

// overlap returns the share of a..b that lies in lo..hi.
func overlap(a, b, lo, hi float64) float64 {
	return max(0, min(b, hi)-max(a, lo)) / (b - a)
}
