package medium

import "math"

// Region picks faces by place and by the way they look. The zero value picks all.
type Region struct {
	XFrom, XTo float64    // along the length [m]; both 0: everywhere
	YFrom, YTo float64    // across the width [m]; both 0: everywhere
	Looking    [3]float64 // only faces whose normal makes an angle of less than 45° with this; zero: all
}

// Holds says whether face i lies in the region.
func (r Region) Holds(f *Faces, i int) bool {
	if x := pick(f.X, i, 0); (r.XFrom != 0 || r.XTo != 0) && (x < r.XFrom || x > r.XTo) {
		return false
	}
	if y := pick(f.Y, i, 0); (r.YFrom != 0 || r.YTo != 0) && (y < r.YFrom || y > r.YTo) {
		return false
	}
	return r.Looking == [3]float64{} || f.facing(i, r.Looking) > math.Sqrt2/2
}

// Contact is the law of a face against a solid: a clamped plate, a hot block, an
// anvil, tongs, a hand.
//
//	q = H (Ts − T)
//
// Joint conductance H, all from memory and ±40 %: clamped flat ground plates
// 1000–2500, hand-pressed or slightly warped 300–800, scaled bar lying on an
// anvil 300–800, under the blow 4000–10 000, tongs 300–800 W/m²K.
//
// Slope and Base make the law of a solid that answers within the step: with
// Slope > 0 the flux is Slope·Ts − Base instead, see [Slab.Respond].
type Contact struct {
	T, H        float64
	Slope, Base float64
}

// Fill implements [Law].
func (c *Contact) Fill(q, dq []float64, f *Faces) { fill(c, q, dq, f) }

func (c *Contact) at(_ *Faces, _ int, T float64) (q, dq float64) {
	if c.Slope > 0 {
		return c.Slope*T - c.Base, c.Slope
	}
	return c.H * (T - c.T), c.H
}

// Touch [K] is what two bodies meet at when they are pressed together without a
// joint: (e₁T₁ + e₂T₂)/(e₁ + e₂), with effusivity e = √(kρc) [W s^½/m²K].
//
// Source: carslaw-jaeger-1959.
func Touch(T1, e1, T2, e2 float64) float64 { return (e1*T1 + e2*T2) / (e1 + e2) }

// Torch is a flame that plays on one spot, on top of another law.
//
//	q = −Peak exp(−r²/Radius²)
//
// with r measured in the plane across Toward. Peak 0.3–0.6 MW/m², Radius 8–12 mm
// for a plumber's torch (from memory, ±40 %).
type Torch struct {
	Peak, Radius float64
	At           [3]float64 // center of the spot, on the surface
	Toward       [3]float64 // from the piece to the torch
	Along        bool       // moved along the length: r leaves the length out, Peak is the mean over a stroke
	Rest         *Air
}

// Fill implements [Law].
func (t *Torch) Fill(q, dq []float64, f *Faces) { fill(t, q, dq, f) }

func (t *Torch) at(f *Faces, i int, T float64) (q, dq float64) {
	if t.Rest != nil {
		q, dq = t.Rest.at(f, i, T)
	}
	c := f.facing(i, t.Toward)
	if c <= 0 {
		return q, dq
	}
	d := [3]float64{pick(f.X, i, 0) - t.At[0], pick(f.Y, i, 0) - t.At[1], pick(f.Z, i, 0) - t.At[2]}
	if t.Along {
		d[0] = 0
	}
	along := d[0]*t.Toward[0] + d[1]*t.Toward[1] + d[2]*t.Toward[2]
	r2 := d[0]*d[0] + d[1]*d[1] + d[2]*d[2] - along*along
	if r2 > 16*t.Radius*t.Radius {
		return q, dq
	}
	return q - t.Peak*c*math.Exp(-r2/(t.Radius*t.Radius)), dq
}

// Held keeps faces at a given temperature, as an edge that stands in water while
// the spine is drawn: a large coefficient to T.
type Held struct{ T, H float64 }

// Fill implements [Law].
func (h *Held) Fill(q, dq []float64, f *Faces) { fill(h, q, dq, f) }

func (h *Held) at(_ *Faces, _ int, T float64) (q, dq float64) { return h.H * (T - h.T), h.H }

// Part is one law on one region.
type Part struct {
	Region Region
	Law    Law
}

// Patchwork lays different laws on different parts of the surface: the first
// part whose region holds a face has it, the rest goes to Else. Laws must come
// from this package.
type Patchwork struct {
	Parts []Part
	Else  Law
}

// Fill implements [Law].
func (p *Patchwork) Fill(q, dq []float64, f *Faces) { fill(p, q, dq, f) }

func (p *Patchwork) at(f *Faces, i int, T float64) (q, dq float64) {
	for k := range p.Parts {
		if p.Parts[k].Region.Holds(f, i) {
			return p.Parts[k].Law.(pointwise).at(f, i, T)
		}
	}
	if p.Else == nil {
		return 0, 0
	}
	return p.Else.(pointwise).at(f, i, T)
}

// Mosaic lays laws on faces that were picked beforehand: face i has Laws[Which[i]].
// Laws must come from this package and must not hold one another.
type Mosaic struct {
	Which []int8
	Laws  []Law
}

// Fill implements [Law].
func (m *Mosaic) Fill(q, dq []float64, f *Faces) {
	if len(m.Which) != len(f.T) {
		panic("medium: len(Which) ≠ faces")
	}
	fill(m, q, dq, f)
}

func (m *Mosaic) at(f *Faces, i int, T float64) (q, dq float64) {
	return m.Laws[m.Which[i]].(pointwise).at(f, i, T)
}
