package sim

import (
	"bufio"
	"fmt"
	"io"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/steel"
)

// Field is the whole inside of the piece at the end of a step: a block of
// NI × NJ × NK cells along, across and through it. Cell (i, j, k) has index
// (i·NJ + j)·NK + k, corner (i, j, k) has (i·(NJ+1) + j)·(NK+1) + k.
type Field struct {
	Step        int    // index into History.Steps
	Name        string // of the step
	Time        float64
	Moment      float64 // the time that was asked for, at or just before Time [s]; 0: this is the end of the step
	NI, NJ, NK  int
	X, Y, Z     []float64 // corners: along the length, across the width, through the thickness [m]
	Solid       []bool    // false in a hole
	Temperature []float64 // [°C]
	Hardness    []float64 // as read cold [HV]
	Grain       []float64 // [µm]
	Film        []float64 // oxide on the outer face of the cell, its front where it has one [nm]; −1 inside
	Fraction    [steel.NumConstituents][]float64
	Cut         int  // the layer along the length that stands for the whole
	Flat        bool // a cross-section: one layer of 1 mm
	EndOn       bool // the edge is at the end of the length
}

// field returns the inside of the piece as the march stands, with the second
// half of a mirrored piece put back.
func (m *March) field() *Field {
	mesh := m.mesh
	f := &Field{Time: m.clock, NI: mesh.NI, NJ: mesh.NJ, NK: mesh.NK, Flat: mesh.Flat, EndOn: m.solid.EndOn}
	here := 0.0
	if mesh.Flat {
		here, _, _ = m.solid.At(mesh.Fineness.At, 0.5, 0)
	}
	if m.log != nil {
		f.Step = m.log.stageIndex()
		f.Name = m.log.steps[f.Step].Name
	}
	if m.mirror {
		f.NK *= 2
	}
	for i := range mesh.NI {
		if !mesh.Flat && mesh.U[i] <= m.solid.Cut {
			f.Cut = i
		}
	}
	for i := 0; i <= f.NI; i++ {
		for j := 0; j <= f.NJ; j++ {
			for k := 0; k <= f.NK; k++ {
				of, sign := k, 1.0
				if m.mirror {
					if of = k - mesh.NK; of < 0 {
						of, sign = -of, -1
					}
				}
				x, y, z := mesh.Corner(i, j, of)
				if mesh.Flat {
					x = here + 1e-3*float64(i)
				}
				f.X, f.Y, f.Z = append(f.X, x), append(f.Y, y), append(f.Z, sign*z)
			}
		}
	}
	film := m.film()
	for i := range f.NI {
		for j := range f.NJ {
			for k := range f.NK {
				of := k
				if m.mirror {
					if of = k - mesh.NK; of < 0 {
						of = -of - 1
					}
				}
				c := (i*mesh.NJ+j)*mesh.NK + of
				f.Solid = append(f.Solid, mesh.Volume[c] > 0)
				f.Temperature = append(f.Temperature, m.now.field.T[c]-kelvin)
				f.Hardness = append(f.Hardness, m.metal.HV(m.now.cells, c))
				f.Grain = append(f.Grain, m.metal.Grain(m.now.cells, c)*1e6)
				f.Film = append(f.Film, film[c])
				for n := range f.Fraction {
					f.Fraction[n] = append(f.Fraction[n], m.now.cells.Fraction[n][c])
				}
			}
		}
	}
	return f
}

// film returns what oxide an eye sees on each cell [nm], −1 on those that it does not see.
func (m *March) film() []float64 {
	film := make([]float64, m.mesh.Len())
	for c := range film {
		film[c] = -1
	}
	faces := &m.mesh.Faces
	for n, i := range m.outer {
		if c := faces.Cell[i]; film[c] < 0 || faces.Side[i] == conduction.Front {
			film[c] = m.now.skin.Oxide[n] * 1e9
		}
	}
	return film
}

// WriteVTK writes the field as a structured grid in the legacy VTK text format,
// which is open and read by common mesh viewers. Lengths in mm; the cells of a hole
// have solid 0, and viewers that know the hint do not show them.
func (f *Field) WriteVTK(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "# vtk DataFile Version 3.0\n%s, %.1f s\nASCII\nDATASET STRUCTURED_GRID\n", f.Name, f.Time)
	// The format counts the first index fastest: along, across, through make a right-handed grid.
	fmt.Fprintf(b, "DIMENSIONS %d %d %d\nPOINTS %d float\n", f.NI+1, f.NJ+1, f.NK+1, len(f.X))
	firstFastest(f.NI+1, f.NJ+1, f.NK+1, func(i int) {
		fmt.Fprintf(b, "%.6g %.6g %.6g\n", 1e3*f.X[i], 1e3*f.Y[i], 1e3*f.Z[i])
	})
	fmt.Fprintf(b, "CELL_DATA %d\n", len(f.Temperature))
	const hidden = 32 // the format's mark of a cell that is not shown
	for _, flag := range []struct {
		name, kind  string
		hole, metal int
	}{{"solid", "int", 0, 1}, {"vtkGhostType", "unsigned_char", hidden, 0}} {
		fmt.Fprintf(b, "SCALARS %s %s 1\nLOOKUP_TABLE default\n", flag.name, flag.kind)
		firstFastest(f.NI, f.NJ, f.NK, func(c int) {
			v := flag.hole
			if f.Solid[c] {
				v = flag.metal
			}
			fmt.Fprintf(b, "%d\n", v)
		})
	}
	list := []struct {
		name   string
		values []float64
	}{{"temperature_c", f.Temperature}, {"hardness_hv", f.Hardness}, {"grain_um", f.Grain}}
	for k := steel.Constituent(0); k < steel.NumConstituents; k++ {
		list = append(list, struct {
			name   string
			values []float64
		}{k.String(), f.Fraction[k]})
	}
	for _, l := range list {
		fmt.Fprintf(b, "SCALARS %s float 1\nLOOKUP_TABLE default\n", l.name)
		firstFastest(f.NI, f.NJ, f.NK, func(c int) { fmt.Fprintf(b, "%.5g\n", l.values[c]) })
	}
	return b.Flush()
}

// firstFastest visits a block of ni × nj × nk that is stored with its last index
// fastest, the first index fastest.
func firstFastest(ni, nj, nk int, visit func(at int)) {
	for k := range nk {
		for j := range nj {
			for i := range ni {
				visit((i*nj+j)*nk + k)
			}
		}
	}
}

// Quads visits the cells of a cut through the piece: the index of each, and its four
// corners in the plane of the cut [m], once around. The cut is the layer along the
// length that stands for the whole, across and through; of a piece whose edge is at
// its end it goes along and through, halfway across.
func (f *Field) Quads(visit func(cell int, y, z [4]float64)) {
	if f.EndOn {
		f.lengthwise(func(i, n int) (int, int, int) { return i, f.NJ / 2, n }, f.NK, f.Z, visit)
		return
	}
	for j := range f.NJ {
		for k := range f.NK {
			c := (f.Cut*f.NJ+j)*f.NK + k
			if !f.Solid[c] {
				continue
			}
			var y, z [4]float64
			for n, at := range [4][2]int{{j, k}, {j + 1, k}, {j + 1, k + 1}, {j, k + 1}} {
				i := f.corner(f.Cut, at[0], at[1])
				y[n], z[n] = f.Y[i], f.Z[i]
			}
			visit(c, y, z)
		}
	}
}

// Side visits the cells along and across the piece, halfway through it, as it lies
// flat with its edge down; none for a cross-section.
func (f *Field) Side(visit func(cell int, x, y [4]float64)) {
	if f.NI < 2 {
		return
	}
	f.lengthwise(func(i, n int) (int, int, int) { return i, n, f.NK / 2 }, f.NJ, f.Y, func(cell int, x, y [4]float64) {
		visit(cell, x, [4]float64{-y[0], -y[1], -y[2], -y[3]})
	})
}

// lengthwise visits a layer along the piece; of gives i, j, k of its cells.
func (f *Field) lengthwise(of func(i, n int) (int, int, int), wide int, across []float64, visit func(cell int, x, y [4]float64)) {
	for i := range f.NI {
		for n := range wide {
			a, b, c := of(i, n)
			cell := (a*f.NJ+b)*f.NK + c
			if !f.Solid[cell] {
				continue
			}
			var x, y [4]float64
			for m, step := range [4][2]int{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
				at := f.corner(of(i+step[0], n+step[1]))
				x[m], y[m] = f.X[at], across[at]
			}
			visit(cell, x, y)
		}
	}
}

func (f *Field) corner(i, j, k int) int { return (i*(f.NJ+1)+j)*(f.NK+1) + k }
