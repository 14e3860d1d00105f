package sim

import "math"

// shell is the surface as conduction sees it, per patch of skin: as it is now, and how
// that went in the last step. A bright blade in the fire goes from 0.3 to 0.8 in a
// minute; who held its emissivity through each step would warm it too slowly.
type shell struct {
	T, eps, scale      []float64 // temperature [K], emissivity [–], resistance of the scale [m²K/W]
	epsRate, scaleRate []float64 // [1/s], [m²K/Ws]
}

// make makes room for n patches; the rates stay where their number does.
func (s *shell) make(n int) {
	s.T, s.eps, s.scale = make([]float64, n), make([]float64, n), make([]float64, n)
	for _, r := range []*[]float64{&s.epsRate, &s.scaleRate} {
		if *r = append(make([]float64, 0, n), *r...); len(*r) != n {
			*r = make([]float64, n)
		}
	}
}

// wrap tells the boundary what the skin is like now.
func (m *March) wrap() {
	s := &m.shell
	for k, i := range m.outer {
		s.T[k] = m.now.field.Ts[i]
	}
	m.coat.Emissivity(s.eps, m.now.skin, s.T)
	m.coat.Resistance(s.scale, m.now.skin)
	switch {
	case !m.stay.wetting:
		m.rim.faces.Wet = nil
	case m.rim.faces.Wet == nil:
		m.rim.faces.Wet = make([]float64, m.mesh.Faces.Len())
	}
	m.foresee(0)
}

// foresee tells it what the skin will be like some time [s] ahead, if it goes on as in the last step.
func (m *March) foresee(ahead float64) {
	s, f := &m.shell, &m.rim.faces
	for k, i := range m.outer {
		f.Eps[i] = math.Max(0.05, math.Min(0.95, s.eps[k]+ahead*s.epsRate[k]))
		m.rim.scale[i] = math.Max(0, s.scale[k]+ahead*s.scaleRate[k])
	}
	m.wrapCover()
}

// rewrap is wrap after an accepted step of dt [s].
func (m *March) rewrap(dt float64) {
	s := &m.shell
	s.epsRate, s.eps = s.eps, s.epsRate
	s.scaleRate, s.scale = s.scale, s.scaleRate
	m.wrap()
	for k, x := range s.eps {
		s.epsRate[k] = (x - s.epsRate[k]) / dt
		s.scaleRate[k] = (s.scale[k] - s.scaleRate[k]) / dt
	}
}
