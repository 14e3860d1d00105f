package verification

import (
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/shape"
)

const sigma = 5.670374419e-8 // Stefan-Boltzmann constant [W/m²K⁴]

// slab returns a rectangular body with even cells, not tied to the measures of smith's work.
func slab(length, width, thickness float64) *shape.Solid {
	a := rectangle(width, thickness)
	b := a
	b.U, b.Frame.X = 1, length
	return &shape.Solid{Form: shape.Flat, Sections: []shape.Section{a, b}, Cut: 0.5}
}

func rectangle(width, thickness float64) shape.Section {
	y, z := width/2, thickness/2
	return shape.Section{
		Top: []shape.Point{{Y: -y, Z: z}, {Y: y, Z: z}}, Bottom: []shape.Point{{Y: -y, Z: -z}, {Y: y, Z: -z}},
		Back: []shape.Point{{Y: -y, Z: -z}, {Y: -y, Z: z}}, Front: []shape.Point{{Y: y, Z: -z}, {Y: y, Z: z}},
	}
}

// divide meshes a body of this package, whose meshes are all sound.
func divide(s *shape.Solid, along, across, through int) *conduction.Mesh {
	m, err := conduction.New(s, conduction.Cells{Along: along, Across: across, Through: through})
	if err != nil {
		panic(err)
	}
	return m
}

// plain is a material of constant cp [J/kgK] and k [W/mK].
type plain struct{ cp, k float64 }

func (p plain) Fill(h, cp, k, T []float64) {
	for c, t := range T {
		h[c], cp[c], k[c] = p.cp*t, p.cp, p.k
	}
}

// austenite has properties that vary with temperature: k = 15 + 0.0135 θ W/mK,
// cp = 500 + 0.133 θ J/kgK, θ in °C. They stand on both sides of a comparison,
// so that their truth does not matter.
type austenite struct{}

func (austenite) Fill(h, cp, k, T []float64) {
	for c, t := range T {
		th := t - 273.15
		h[c] = 500*th + 0.0665*th*th
		cp[c] = 500 + 0.133*th
		k[c] = 15 + 0.0135*th
	}
}

// law is a surface law in terms of the surface temperature alone.
type law func(ts float64) (q, dq float64)

// robin is a film of h [W/m²K] to a fluid.
func robin(h, fluid float64) law {
	return func(t float64) (float64, float64) { return h * (t - fluid), h }
}

// held keeps a surface at a temperature, by a film a million times any conductance here.
func held(t float64) law { return robin(1e9, t) }

// fed puts q [W/m²] into the surface.
func fed(q float64) law {
	return func(float64) (float64, float64) { return -q, 0 }
}

func radiation(eps, surround float64) law {
	return func(t float64) (float64, float64) {
		return eps * sigma * (t*t*t*t - surround*surround*surround*surround), 4 * eps * sigma * t * t * t
	}
}

// sides applies laws to the sides named and insulates the others.
type sides struct {
	faces *conduction.Faces
	law   map[conduction.Side]law
}

func (o sides) Fill(q, dq, Ts []float64) {
	for i, t := range Ts {
		q[i], dq[i] = 0, 0
		if l, ok := o.law[o.faces.Side[i]]; ok {
			q[i], dq[i] = l(t)
		}
	}
}

// Fill applies the law to all faces.
func (l law) Fill(q, dq, Ts []float64) {
	for i, t := range Ts {
		q[i], dq[i] = l(t)
	}
}

// at returns the temperature of a body at v along a row of cells by linear
// interpolation between the middles x of the cells.
func at(x, T []float64, v float64) float64 {
	for i := 1; i < len(x); i++ {
		if v <= x[i] || i == len(x)-1 {
			f := (v - x[i-1]) / (x[i] - x[i-1])
			return T[i-1] + f*(T[i]-T[i-1])
		}
	}
	return T[0]
}
