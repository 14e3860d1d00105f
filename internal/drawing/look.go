package drawing

import (
	"math"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/sim"
)

// Look draws the piece at one moment as an eye sees it: from the side, where it was
// marched whole, and cut across. A cut face is taken as scaled, as steel is that
// glows; it shows how deep the heat has gone. Side and cut are the captions of the two
// views; the lines stand above, the first of them as the title.
func Look(f *sim.Field, eye *color.Eye, sc color.Scales, side, cut string, lines ...string) *color.Drawing {
	const wide, high = 720.0, 260.0
	all := &color.Drawing{Width: wide, Height: 8}
	for i, line := range lines {
		size := 12.0
		if i == 0 {
			all.Title, size = line, 15
		}
		all.Height += 18
		all.Text(color.Black, size, color.Point{X: 14, Y: all.Height - 6}, 's', line)
	}
	for i, cells := range [][]color.Cell{sideOf(f), cutOf(f)} {
		if len(cells) == 0 {
			continue
		}
		x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for i := range cells {
			for _, p := range cells[i].Corner {
				x0, y0, x1, y1 = min(x0, p.X), min(y0, p.Y), max(x1, p.X), max(y1, p.Y)
			}
		}
		part := eye.DrawPiece(cells, min(wide, 28+high*(x1-x0)/max(1e-9, y1-y0)), sc, []string{side, cut}[i])
		all.Append(part, 0, all.Height)
		all.Height += part.Height + 6
	}
	return all
}

// cellOf is one cell of a picture; face says whether its own surface is seen.
func cellOf(f *sim.Field, c int, face bool) color.Cell {
	x := color.Cell{T: f.Temperature[c] + 273.15, Film: 1e6}
	if face && f.Film[c] >= 0 {
		x.Film = f.Film[c]
	}
	return x
}

// sideOf are the cells of the front, length to the right and width down; none of a
// cross-section.
func sideOf(f *sim.Field) []color.Cell {
	if f.NI < 2 {
		return nil
	}
	at := func(i, j int) color.Point {
		n := (i*(f.NJ+1)+j)*(f.NK+1) + f.NK
		return color.Point{X: f.X[n], Y: f.Y[n]}
	}
	var cells []color.Cell
	for i := range f.NI {
		for j := range f.NJ {
			n := (i*f.NJ+j)*f.NK + f.NK - 1
			if !f.Solid[n] {
				continue
			}
			c := cellOf(f, n, true)
			c.Corner = []color.Point{at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)}
			cells = append(cells, c)
		}
	}
	return cells
}

// cutOf are the cells of the cut that stands for the whole, width to the right and
// thickness down.
func cutOf(f *sim.Field) []color.Cell {
	at := func(j, k int) color.Point {
		n := (f.Cut*(f.NJ+1)+j)*(f.NK+1) + k
		return color.Point{X: f.Y[n], Y: -f.Z[n]}
	}
	var cells []color.Cell
	for j := range f.NJ {
		for k := range f.NK {
			n := (f.Cut*f.NJ+j)*f.NK + k
			if !f.Solid[n] {
				continue
			}
			c := cellOf(f, n, false)
			c.Corner = []color.Point{at(j, k), at(j+1, k), at(j+1, k+1), at(j, k+1)}
			cells = append(cells, c)
		}
	}
	return cells
}
