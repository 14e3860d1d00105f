package sim

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/skin"
)

// mostLost is by how much an act may miss the mass, the enthalpy and the carbon
// that it had, less what it took off [–].
const mostLost = 1e-9

// reshape carries the state over to the piece as it is after an act: what is
// left keeps its mass, enthalpy and carbon, the chips take theirs along, and the
// skin is stretched, ground off, or fresh on the wall of a hole.
func (p *piece) reshape(old *piece, was *state, change *shape.Change) (*state, *conduction.Transfer, error) {
	for i := range old.mesh.Parts {
		if name := old.mesh.Parts[i].Name; i >= len(p.mesh.Parts) || p.mesh.Parts[i].Name != name {
			return nil, nil, &Error{Text: fmt.Sprintf("nothing is left of the zone %q here", name), Remedy: "look at another place along the piece, or at all of it"}
		}
	}
	transfer, err := conduction.NewTransfer(change.With(old.mesh.Solid, p.mesh.Solid), old.mesh, p.mesh)
	if err != nil {
		return nil, nil, fmt.Errorf("sim: %w", err)
	}
	now := &state{cells: micro.NewCells(p.mesh.Len())}
	now.cells.Remap(was.cells, was.field.Mass, transfer)
	var chips float64
	now.field, chips = was.field.Remap(transfer)
	p.fillHoles(now)
	p.metal.Temperature(now.field.T, now.field.H, now.cells)
	p.overlay(old, was, now, transfer, change.Act)
	if err := p.kept(old, was, now, transfer, chips); err != nil {
		return nil, nil, err
	}
	if change.Act == shape.Grinding {
		p.cleaned(now)
	}
	return now, transfer, nil
}

// fillHoles gives the cells of holes the metal of another cell: no one looks at
// it, but all cells are marched.
func (p *piece) fillHoles(s *state) {
	solid := 0
	for p.mesh.Volume[solid] == 0 {
		solid++
	}
	for c, v := range p.mesh.Volume {
		if v == 0 {
			s.cells.CopyCell(c, s.cells, solid)
			s.field.T[c], s.field.H[c] = s.field.T[solid], s.field.H[solid]
		}
	}
}

// overlay lays the skin of the old piece on the new one.
func (p *piece) overlay(old *piece, was, now *state, t *conduction.Transfer, act shape.Act) {
	patchOf := make([]int32, old.mesh.Faces.Len())
	for n, i := range old.outer {
		patchOf[i] = int32(n)
	}
	patches := make([]skin.Patch, len(p.outer))
	from := make([][]int32, len(p.outer))
	weights := make([][]float64, len(p.outer))
	for n, i := range p.outer {
		faces, weight := t.FaceSources(i)
		for _, f := range faces {
			from[n] = append(from[n], patchOf[f])
		}
		weights[n] = weight
		patches[n] = skin.Patch{Steel: p.setup.Steel, Finish: skin.Ground}
		if stretched := act == shape.Forging || act == shape.Bending; stretched || len(faces) == 0 {
			patches[n].Half = p.half(p.mesh.Faces.Cell[i])
		}
	}
	p.coat, now.skin = skin.Carry(old.coat, was.skin, patches,
		func(n int) ([]int32, []float64) { return from[n], weights[n] },
		func(n int) float64 { return t.Thinner[p.outer[n]] })
	for n, i := range p.outer {
		switch off := t.Depth[i]; {
		case len(from[n]) == 0:
		case act == shape.Grinding && off > 0:
			p.coat.Grind(now.skin, n, off, skin.Ground)
		case act == shape.Forging:
			now.skin.Finish[n] = skin.Scaled
		}
	}
}

// kept checks that nothing was lost but what went with the chips.
func (p *piece) kept(old *piece, was, now *state, t *conduction.Transfer, chips float64) error {
	carbon, iron := old.carbonOf(was)
	for c, share := range t.Lost {
		if share > 0 {
			x := was.cells.CarbonTotal(c) / 100
			carbon -= share * was.field.Mass[c] * x
			sum := 0.0
			for k := range was.cells.Fraction {
				sum += was.cells.Fraction[k][c]
			}
			iron -= share * was.field.Mass[c] * (sum - x)
		}
	}
	nowCarbon, nowIron := p.carbonOf(now)
	for _, x := range []struct {
		of         string
		want, have float64
	}{
		{"energy", was.field.Energy() - chips, now.field.Energy()},
		{"carbon", carbon, nowCarbon},
		{"iron", iron, nowIron},
	} {
		if have := x.have * t.Stretch; !(math.Abs(have-x.want) <= mostLost*math.Abs(x.want)) {
			return fmt.Errorf("sim: an act changed the %s of the piece from %.12g to %.12g; this is a fault of the program", x.of, x.want, have)
		}
	}
	return nil
}
