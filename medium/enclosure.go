package medium

// Enclosure is the law of a piece inside a hot chamber: a forge, a muffle, a
// kiln, an oven. A small grey body in an enclosure, convection of the gas, and a
// hot side: the flame of the burner or the glowing element.
//
//	q = ε F [σ (1−g)(T⁴ − Tw⁴) + σ g (T⁴ − Th⁴)] + h (1 + a⁺) (T − Tg)
//	1/F = 1 + ε (As/Aw)(1/εw − 1)
//
// where g is the part of a face's view that the hot side fills: HotView times
// the cosine toward it, nothing on faces turned away; a⁺ is Asymmetry times the
// same cosine, so that a flame that strikes one side heats it more.
//
// Walls of a working forge 1150–1300 °C, flame 1300–1500 °C, h 40–80 in a
// muffle and 100–200 W/m²K in a direct flame, 8–12 in a still oven, 25–40 with
// a fan: from memory, ±25 % on the flux of a forge, ±15 % of an oven.
type Enclosure struct {
	Wall float64 // inner wall [K]
	Gas  float64 // gas [K]; 0: as the wall
	H    float64 // convection [W/m²K]

	WallEps float64 // emissivity of the wall; 0: 0.85
	Share   float64 // area of the steel over area of the wall; 0: a small piece

	Hot       float64    // the hot side, flame or element [K]; 0: none
	HotView   float64    // part of the view it fills for a face that looks straight at it
	Toward    [3]float64 // unit vector from the piece to the hot side
	Asymmetry float64    // extra convection on a face that looks straight at it, as a part of H

	// Where the piece sticks out: faces with X outside [From, To] are in the
	// outer law, joined over 15 mm. To = 0: all inside.
	From, To float64
	Outside  *Air
}

// Fill implements [Law].
func (e *Enclosure) Fill(q, dq []float64, f *Faces) { fill(e, q, dq, f) }

func (e *Enclosure) at(f *Faces, i int, T float64) (q, dq float64) {
	q, dq = e.inside(f, i, T)
	if e.To <= 0 || e.Outside == nil {
		return q, dq
	}
	w := between(pick(f.X, i, 0), e.From, e.To)
	if w >= 1 {
		return q, dq
	}
	p, dp := e.Outside.at(f, i, T)
	return w*q + (1-w)*p, w*dq + (1-w)*dp
}

func (e *Enclosure) inside(f *Faces, i int, T float64) (q, dq float64) {
	eps := f.eps(i)
	if e.Share > 0 {
		we := e.WallEps
		if we == 0 {
			we = 0.85
		}
		eps /= 1 + eps*e.Share*(1/we-1)
	}
	gas := e.Gas
	if gas == 0 {
		gas = e.Wall
	}
	h := e.H
	q, dq = radiation(eps, T, e.Wall)
	if e.Hot > 0 {
		if c := f.facing(i, e.Toward); c > 0 {
			g := e.HotView * c
			hot2, wall2 := e.Hot*e.Hot, e.Wall*e.Wall
			q -= eps * Sigma * g * (hot2*hot2 - wall2*wall2)
			h *= 1 + e.Asymmetry*c
		}
	}
	return q + h*(T-gas), dq + h
}

// between is 1 inside [from, to], 0 outside, joined over 15 mm by a smooth step.
func between(x, from, to float64) float64 {
	const join = 0.015
	return smooth((x-from)/join+0.5) * smooth((to-x)/join+0.5)
}

// smooth is 0 below 0, 1 above 1, and 3s²−2s³ between.
func smooth(s float64) float64 {
	switch {
	case s <= 0:
		return 0
	case s >= 1:
		return 1
	}
	return s * s * (3 - 2*s)
}
