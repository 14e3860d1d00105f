package sim

import (
	"bufio"
	"fmt"
	"io"

	"github.com/heatwright/heatwright/steel"
)

// Field is the whole inside of the piece at the end of a step: a block of
// NI × NJ × NK cells along, across and through it. Cell (i, j, k) has index
// (i·NJ + j)·NK + k, corner (i, j, k) has (i·(NJ+1) + j)·(NK+1) + k.
type Field struct {
	Step        int    // index into History.Steps
	Name        string // of the step
	Time        float64
	NI, NJ, NK  int
	X, Y, Z     []float64 // corners: along the length, across the width, through the thickness [m]
	Solid       []bool    // false in a hole
	Temperature []float64 // [°C]
	Hardness    []float64 // as read cold [HV]
	Grain       []float64 // [µm]
	Fraction    [steel.NumConstituents][]float64
	Cut         int // the layer along the length that stands for the whole
}

// field returns the inside of the piece as the march stands, with the second
// half of a mirrored piece put back.
func (m *March) field() *Field {
	mesh := m.mesh
	f := &Field{Time: m.clock, NI: mesh.NI, NJ: mesh.NJ, NK: mesh.NK}
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
				f.X, f.Y, f.Z = append(f.X, x), append(f.Y, y), append(f.Z, sign*z)
			}
		}
	}
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
				for n := range f.Fraction {
					f.Fraction[n] = append(f.Fraction[n], m.now.cells.Fraction[n][c])
				}
			}
		}
	}
	return f
}

// WriteVTK writes the field as a structured grid in the legacy VTK text format,
// which is open and read by common mesh viewers. Lengths in mm.
func (f *Field) WriteVTK(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "# vtk DataFile Version 3.0\n%s, %.1f s\nASCII\nDATASET STRUCTURED_GRID\n", f.Name, f.Time)
	// The format counts the first index fastest.
	fmt.Fprintf(b, "DIMENSIONS %d %d %d\nPOINTS %d float\n", f.NK+1, f.NJ+1, f.NI+1, len(f.X))
	for i := range f.X {
		fmt.Fprintf(b, "%.6g %.6g %.6g\n", 1e3*f.X[i], 1e3*f.Y[i], 1e3*f.Z[i])
	}
	fmt.Fprintf(b, "CELL_DATA %d\n", len(f.Temperature))
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
		for _, v := range l.values {
			fmt.Fprintf(b, "%.5g\n", v)
		}
	}
	return b.Flush()
}

// Quads visits the cells of the layer that stands for the whole: the index of
// each, and its four corners across and through the piece [m], once around.
func (f *Field) Quads(visit func(cell int, y, z [4]float64)) {
	for j := range f.NJ {
		for k := range f.NK {
			c := (f.Cut*f.NJ+j)*f.NK + k
			if !f.Solid[c] {
				continue
			}
			var y, z [4]float64
			for n, at := range [4][2]int{{j, k}, {j + 1, k}, {j + 1, k + 1}, {j, k + 1}} {
				i := (f.Cut*(f.NJ+1)+at[0])*(f.NK+1) + at[1]
				y[n], z[n] = f.Y[i], f.Z[i]
			}
			visit(c, y, z)
		}
	}
}
