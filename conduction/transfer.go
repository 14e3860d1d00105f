package conduction

import (
	"fmt"

	"github.com/heatwright/heatwright/shape"
)

// Transfer says, for every cell and face of a mesh after an act of shape, where
// its material lay before. It carries any quantity of cells over so that nothing is lost but
// what was ground or drilled away, and any quantity of the skin.
type Transfer struct {
	From, To *Mesh
	Lost     []float64 // share of each old cell that was taken away
	Stretch  float64   // of a cross-section's meter: metal of 1 m before is Stretch m long after forging; 1 for a whole
	Depth    []float64 // how deep grinding laid each new face under the old skin [m]; 1 for the wall of a new hole, which was never skin
	Thinner  []float64 // what forging or bending made of the thickness of the skin on each new face [–]: old area over new; 1 where nothing was stretched
	cells    gather
	faces    gather
}

// gather lists for each target its sources with weights: for cells the share of
// the old cell that the new one takes, for faces weights that sum to 1.
type gather struct {
	start  []int32
	index  []int32
	weight []float64
}

func (g *gather) of(target int) (index []int32, weight []float64) {
	a, b := g.start[target], g.start[target+1]
	return g.index[a:b], g.weight[a:b]
}

// overlapped is a source interval with the share of it that a target interval covers.
type overlapped struct {
	index int
	share float64 // of the source
	part  float64 // of the target
}

// overlaps returns the source cells between a and b.
func overlaps(borders []float64, a, b float64) []overlapped {
	var all []overlapped
	for i := range len(borders) - 1 {
		lo, hi := max(a, borders[i]), min(b, borders[i+1])
		if hi > lo {
			all = append(all, overlapped{i, (hi - lo) / (borders[i+1] - borders[i]), (hi - lo) / (b - a)})
		}
	}
	return all
}

// NewTransfer finds where the material of each new cell lay. Both meshes are
// whole, or both are cross-sections.
func NewTransfer(change *shape.Change, from, to *Mesh) (*Transfer, error) {
	if from.Flat != to.Flat {
		return nil, fmt.Errorf("conduction: a cross-section and a whole have no cells in common; mesh the new shape like the old")
	}
	t := &Transfer{From: from, To: to, Stretch: 1, Lost: make([]float64, from.Len()), Depth: make([]float64, to.Faces.Len()), Thinner: make([]float64, to.Faces.Len())}
	for c := range t.Lost {
		t.Lost[c] = 1
	}
	if from.Flat && change.Act == shape.Forging {
		t.Stretch = total(from.Volume) / total(to.Volume)
	}
	s := newSources(t)
	var err error
	if change.Act == shape.Forging || change.Act == shape.Bending {
		s.follow()
	} else {
		err = s.overlay(change)
	}
	if err != nil {
		return nil, err
	}
	for c, l := range s.cells {
		if len(l) == 0 && to.Volume[c] > 0 {
			return nil, fmt.Errorf("conduction: cell %d of %d holds nothing of the body before the act: the new shape reaches out of the old", c+1, to.Len())
		}
	}
	for c, l := range t.Lost {
		if l < 1e-12 || from.Volume[c] == 0 {
			t.Lost[c] = 0 // rounding
		}
	}
	t.cells = gathered(s.cells, func(o overlapped) float64 { return o.share })
	t.faces = gathered(s.faces, func(o overlapped) float64 { return o.part })
	t.depths(change.Act)
	s.stretched(change)
	return t, nil
}

func total(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}

func gathered(lists [][]overlapped, weight func(overlapped) float64) gather {
	g := gather{start: make([]int32, 1, len(lists)+1)}
	for _, l := range lists {
		for _, o := range l {
			g.index = append(g.index, int32(o.index))
			g.weight = append(g.weight, weight(o))
		}
		g.start = append(g.start, int32(len(g.index)))
	}
	return g
}

// depths measures how far each new face lies under the old skin.
func (t *Transfer) depths(act shape.Act) {
	a, b := &t.From.Faces, &t.To.Faces
	for f := range t.Depth {
		index, weight := t.faces.of(f)
		if len(index) == 0 {
			t.Depth[f] = 1
			continue
		}
		if act != shape.Grinding || t.To.Flat && b.NX[f] != 0 {
			continue
		}
		deep := 0.0
		for n, o := range index {
			deep += weight[n] * ((a.X[o]-b.X[f])*a.NX[o] + (a.Y[o]-b.Y[f])*a.NY[o] + (a.Z[o]-b.Z[f])*a.NZ[o])
		}
		t.Depth[f] = max(0, deep)
	}
}

// Sum carries a quantity that adds up over cells: kilograms, joules.
func (t *Transfer) Sum(dst, src []float64) {
	for c := range dst {
		index, weight := t.cells.of(c)
		dst[c] = 0
		for n, o := range index {
			dst[c] += weight[n] * src[o]
		}
	}
}

// Mean carries a quantity per amount of its carrier: enthalpy per kilogram of
// the cell, carbon per kilogram of austenite. amount is the carrier's amount in each old cell; where a
// new cell holds none of the carrier it gets the plain mean.
func (t *Transfer) Mean(dst, src, amount []float64) {
	for c := range dst {
		index, weight := t.cells.of(c)
		sum, all, plain, parts := 0.0, 0.0, 0.0, 0.0
		for n, o := range index {
			sum += weight[n] * amount[o] * src[o]
			all += weight[n] * amount[o]
			plain += weight[n] * src[o]
			parts += weight[n]
		}
		switch {
		case all > 0:
			dst[c] = sum / all
		case parts > 0:
			dst[c] = plain / parts
		default:
			dst[c] = 0
		}
	}
}

// Skin carries a quantity of the faces by area; faces without a forebear, the
// walls of new holes, get fresh.
func (t *Transfer) Skin(dst, src []float64, fresh float64) {
	for f := range dst {
		index, weight := t.faces.of(f)
		dst[f] = fresh
		if len(index) > 0 {
			dst[f] = 0
		}
		for n, o := range index {
			dst[f] += weight[n] * src[o]
		}
	}
}

// Sources returns the old cells of a new one and the share of each that it takes.
func (t *Transfer) Sources(cell int) (old []int32, share []float64) { return t.cells.of(cell) }

// FaceSources returns the old faces of a new one with weights that sum to 1; none for the wall of a new hole.
func (t *Transfer) FaceSources(face int) (old []int32, weight []float64) { return t.faces.of(face) }

// Remap returns the field on the new mesh: mass and enthalpy of what is left to
// rounding (of a cross-section, of Stretch meters of the new one), temperatures their mean by mass until a material puts them right.
// lost is the enthalpy that left with the chips [J].
func (f *Field) Remap(t *Transfer) (g *Field, lost float64) {
	m := t.To
	n, nf := m.Len(), m.Faces.Len()
	g = &Field{Mesh: m, Iterations: f.Iterations}
	g.Mass, g.H, g.Out = make([]float64, n), make([]float64, n), make([]float64, nf)
	g.te = make([]float64, n+nf)
	g.T, g.Ts = g.te[:n:n], g.te[n:]
	g.before = make([]float64, 2*n+nf)
	g.work.make(n, nf)
	t.Sum(g.Mass, f.Mass)
	t.Mean(g.H, f.H, f.Mass)
	t.Mean(g.T, f.T, f.Mass)
	for c := range g.Mass {
		g.Mass[c] /= t.Stretch
	}
	t.Skin(g.Ts, f.Ts, f.T[0])
	for i, c := range m.Faces.Cell {
		if old, _ := t.FaceSources(i); len(old) == 0 {
			g.Ts[i] = g.T[c]
		}
	}
	for c := range g.T {
		if g.Mass[c] == 0 {
			g.T[c], g.H[c] = f.T[0], f.H[0] // in a hole: any sound value
		}
	}
	for c, l := range t.Lost {
		lost += l * f.Mass[c] * f.H[c]
	}
	return g, lost
}
