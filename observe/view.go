package observe

import (
	"math"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/conduction"
)

// Reading is what a picture shows of each cell of a mesh; a nil slice is not known.
type Reading struct {
	T    []float64 // [K]
	Film []float64 // oxide on each outer face [nm]
	HRC  []float64 // NaN where too soft
}

func (r *Reading) at(cell, face int) color.Cell {
	c := color.Cell{Film: 1e6, HRC: math.NaN()}
	if r.T != nil {
		c.T = r.T[cell]
	}
	if r.Film != nil && face >= 0 {
		c.Film = r.Film[face]
	}
	if r.HRC != nil {
		c.HRC = r.HRC[cell]
	}
	return c
}

// CrossSection returns the cells of a section as a picture: the width across, the
// thickness down, spine at the left. Of a whole mesh it takes the cells at the
// station nearest to u.
func CrossSection(m *conduction.Mesh, r Reading, u float64) []color.Cell {
	i := 0
	at := u
	if m.Flat {
		at = m.Fineness.At
		if at == 0 {
			at = m.Solid.Cut
		}
	} else {
		for i < m.NI-1 && m.U[i+1] < u {
			i++
		}
		at = 0.5 * (m.U[i] + m.U[i+1])
	}
	face := facesOf(m)
	corner := func(j, k int) color.Point {
		p := m.Solid.Across(at, m.V[j], m.W[k])
		return color.Point{X: p.Y, Y: -p.Z}
	}
	var cells []color.Cell
	for j := range m.NJ {
		for k := range m.NK {
			n := (i*m.NJ+j)*m.NK + k
			if m.Volume[n] == 0 {
				continue
			}
			c := r.at(n, face[n])
			c.Corner = []color.Point{corner(j, k), corner(j+1, k), corner(j+1, k+1), corner(j, k+1)}
			cells = append(cells, c)
		}
	}
	return cells
}

// SideView returns the front face of a whole piece as a picture: the length to the
// right, the width down.
func SideView(m *conduction.Mesh, r Reading) []color.Cell {
	face := facesOf(m)
	corner := func(i, j int) color.Point {
		x, y, _ := m.Solid.At(m.U[i], m.V[j], 1)
		return color.Point{X: x, Y: y}
	}
	var cells []color.Cell
	for i := range m.NI {
		for j := range m.NJ {
			n := (i*m.NJ+j)*m.NK + m.NK - 1
			if m.Volume[n] == 0 {
				continue
			}
			c := r.at(n, face[n])
			c.Corner = []color.Point{corner(i, j), corner(i+1, j), corner(i+1, j+1), corner(i, j+1)}
			cells = append(cells, c)
		}
	}
	return cells
}

// facesOf returns for each cell one outer face, its front where it has one, or −1.
func facesOf(m *conduction.Mesh) []int {
	face := make([]int, m.Len())
	for i := range face {
		face[i] = -1
	}
	for i, c := range m.Faces.Cell {
		if face[c] < 0 || m.Faces.Side[i] == conduction.Front {
			face[c] = i
		}
	}
	return face
}
