package sim

import (
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
)

// Most pieces are alike on both faces, and so is what heats and cools them. Then
// only one half of the thickness is marched, up to a plane in the middle that no
// heat crosses: half the work, the same answer.

// mirrored returns the front half of a solid that is the same behind its middle
// plane: W −1 … 1 of the half is W 0 … 1 of the whole. ok is false where it is not.
func mirrored(s *shape.Solid) (half *shape.Solid, ok bool) {
	if s.EndOn || len(s.Sections) == 0 {
		return nil, false
	}
	for _, v := range s.Voids {
		if v.Across || v.Box.W0 > -1 || v.Box.W1 < 1 { // a hole through and through is the same in both halves
			return nil, false
		}
	}
	for i := range s.Sections {
		if !even(&s.Sections[i]) {
			return nil, false
		}
	}
	h := s.Clone()
	h.Fine.Behind = 1 // the plane in the middle needs no fine cells
	for i := range h.Sections {
		cut(&s.Sections[i], &h.Sections[i])
	}
	for i, z := range s.Zones {
		h.Zones[i].Boxes = nil
		for _, b := range z.Boxes {
			if !paired(z.Boxes, b) {
				return nil, false
			}
			if b.W1 > 1e-9 {
				b.W0, b.W1 = 2*math.Max(0, b.W0)-1, 2*b.W1-1
				h.Zones[i].Boxes = append(h.Zones[i].Boxes, b)
			}
		}
	}
	h.Ridges = nil
	for _, w := range s.Ridges {
		if w > 1e-9 {
			h.Ridges = append(h.Ridges, 2*w-1)
		}
	}
	return h, true
}

// paired tells whether boxes hold the mirror image of b.
func paired(boxes []shape.Box, b shape.Box) bool {
	b.W0, b.W1 = -b.W1, -b.W0
	for _, x := range boxes {
		far := 0.0
		for _, d := range []float64{x.U0 - b.U0, x.U1 - b.U1, x.V0 - b.V0, x.V1 - b.V1, x.W0 - b.W0, x.W1 - b.W1} {
			far = math.Max(far, math.Abs(d))
		}
		if far < 1e-9 {
			return true
		}
	}
	return false
}

// even tells whether a section is the same above and below its middle.
func even(k *shape.Section) bool {
	if k.Frame.Z != 0 || k.Frame.Pitch != 0 { // the hard way it may be bent
		return false
	}
	for n := range 9 {
		for m := 1; m <= 4; m++ {
			v, w := float64(n)/8, float64(m)/4
			a, b := k.At(v, w), k.At(v, -w)
			if math.Abs(a.Y-b.Y) > 1e-9 || math.Abs(a.Z+b.Z) > 1e-9 {
				return false
			}
		}
	}
	return true
}

// cut writes the front half of section k into h.
func cut(k, h *shape.Section) {
	n := len(k.Top) - 1
	h.Bottom = make([]shape.Point, n+1)
	for i := range h.Bottom {
		h.Bottom[i] = k.At(float64(i)/float64(n), 0)
	}
	side := func(v float64, points int) []shape.Point {
		if points > 2 { // a curve: as fine as the whole had it
			points = 2*points - 1
		}
		c := make([]shape.Point, points)
		for i := range c {
			c[i] = k.At(v, float64(i)/float64(points-1))
		}
		return c
	}
	h.Back, h.Front = side(0, len(k.Back)), side(1, len(k.Front))
}

// halved tells whether one half of the thickness stands for both, through all acts.
func (s *Setup) halved() bool {
	if !s.evenHanded() {
		return false
	}
	if _, ok := mirrored(s.Solid); !ok {
		return false
	}
	for i := range s.Stages {
		if c := s.Stages[i].Change; c != nil {
			if _, ok := mirrored(c.To); !ok {
				return false
			}
		}
	}
	return true
}

// evenHanded tells whether the shop heats and cools both faces of a piece alike.
func (s *Setup) evenHanded() bool {
	for i := range s.Shop.Forges {
		if s.Shop.Forges[i].OneSide != 0 {
			return false
		}
	}
	for i := range s.Stages {
		if s.oneSided(&s.Stages[i]) {
			return false
		}
	}
	return true
}

// oneSided tells whether a stage treats the two flats of a piece differently.
func (s *Setup) oneSided(st *Stage) bool {
	if st.Touches == route.FlatSide || st.First == route.FlatSide {
		return true
	}
	for i := range s.Shop.Plates {
		p := &s.Shop.Plates[i]
		if !p.OneSide() {
			continue
		}
		if st.On == p.Name && st.Role == route.Working || st.In == p.Name && st.Touches == "" && s.Lying {
			return true
		}
	}
	for i := range s.Shop.Torches {
		if st.In == s.Shop.Torches[i].Name && st.Touches == "" && s.Lying {
			return true
		}
	}
	return false
}

// open finds the faces that see the surrounding: all but those of the middle
// plane of a mirrored piece. A patch of skin lies on each of them.
func (p *piece) open() {
	f := &p.mesh.Faces
	patch := make([]int, f.Len())
	for i, side := range f.Side {
		patch[i] = -1
		if p.mirror && side == conduction.Back {
			p.inner = append(p.inner, i)
			continue
		}
		patch[i] = len(p.outer)
		p.outer = append(p.outer, i)
	}
	p.faces, p.patches = make([][]int, len(p.mesh.Parts)), make([][]int, len(p.mesh.Parts))
	for z := range p.mesh.Parts {
		for _, i := range p.mesh.Parts[z].Face {
			if patch[i] >= 0 {
				p.faces[z] = append(p.faces[z], i)
				p.patches[z] = append(p.patches[z], patch[i])
			}
		}
	}
}
