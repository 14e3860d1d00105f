package sim

import "github.com/heatwright/heatwright/route"

// cover is what was laid on the surface: clay, paint, foil. It is not changed once made.
type cover struct {
	resist []float64 // of each face [m²K/W]; 0: bare
	eps    float64   // emissivity of its outside [–]
	wash   bool      // so thin that it breaks the vapor jacket of water up, all over
}

// coats by their words: usual thickness [m], conductivity [W/mK] (of foil the air
// caught under it, with what radiates through), emissivity of the outside, and the
// share of the gas that is kept from the steel. Clay 0.5–0.8 W/mK, paint and foil
// 0.6 and 0.25: from memory, ±40 %.
var coats = map[string]struct{ thick, k, eps, kept float64 }{
	route.ClayCoat:  {3e-3, 0.65, 0.9, 0.9},
	route.WashCoat:  {0.3e-3, 0.65, 0.9, 0.5},
	route.PaintCoat: {0.1e-3, 1.0, 0.6, 0.85},
	route.FoilCoat:  {0.2e-3, 0.07, 0.25, 0.98},
}

// coatOver lays on what a step says, over what lies there, or takes all off.
func (m *March) coatOver(s route.Step) {
	for k := range m.now.skin.Coat {
		m.now.skin.Coat[k] = 0
	}
	if s.Do == route.Strip {
		m.cover = nil
		m.wrap()
		return
	}
	kind := coats[s.With]
	c := &cover{resist: make([]float64, m.mesh.Faces.Len()), eps: kind.eps, wash: s.With == route.WashCoat && !s.Bare.Is()}
	up, bare := m.heights(route.EdgeSide), float64(s.Bare.Value)
	for k, i := range m.outer {
		if bare > 0 && up[i] < bare {
			continue
		}
		c.resist[i] = kind.thick / kind.k
		if s.Layer.Is() && s.With != route.FoilCoat {
			c.resist[i] = float64(s.Layer.Value) / kind.k
		}
		m.now.skin.Coat[k] = kind.kept
	}
	m.cover = c
	m.wrap()
}

// wrapCover tells the boundary what lies on the skin.
func (m *March) wrapCover() {
	if m.cover == nil || len(m.cover.resist) != len(m.rim.scale) {
		return
	}
	for i, r := range m.cover.resist {
		if r > 0 {
			m.rim.scale[i] += r
			m.rim.faces.Eps[i] = m.cover.eps
		}
	}
}
