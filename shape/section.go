package shape

import "math"

// At returns the place of (v, w) in the section: the transfinite (Coons) patch
// between the four outline curves, so that the boundary is met exactly and
// straight sides give straight lines.
//
//	P = (1−s) Bottom(v) + s Top(v) + (1−v) Back(s) + v Front(s) − bilinear of the corners,  s = (1+w)/2
func (k *Section) At(v, w float64) Point {
	s := (1 + w) / 2
	top, bottom := along(k.Top, v), along(k.Bottom, v)
	back, front := along(k.Back, s), along(k.Front, s)
	b0, b1 := k.Bottom[0], k.Bottom[len(k.Bottom)-1]
	t0, t1 := k.Top[0], k.Top[len(k.Top)-1]
	mix := func(bottom, top, back, front, b0, b1, t0, t1 float64) float64 {
		return (1-s)*bottom + s*top + (1-v)*back + v*front - ((1-s)*((1-v)*b0+v*b1) + s*((1-v)*t0+v*t1))
	}
	return Point{
		mix(bottom.Y, top.Y, back.Y, front.Y, b0.Y, b1.Y, t0.Y, t1.Y),
		mix(bottom.Z, top.Z, back.Z, front.Z, b0.Z, b1.Z, t0.Z, t1.Z),
	}
}

// along returns the point at parameter t in 0..1 of a curve of evenly spaced points.
func along(c []Point, t float64) Point {
	n := len(c) - 1
	f := t * float64(n)
	i := int(f)
	if i >= n {
		i = n - 1
	}
	f -= float64(i)
	return Point{c[i].Y + f*(c[i+1].Y-c[i].Y), c[i].Z + f*(c[i+1].Z-c[i].Z)}
}

// place puts (v, w) of the section into space by its frame.
func (k *Section) place(v, w float64) (x, y, z float64) {
	p, f := k.At(v, w), k.Frame
	if f.Pitch == 0 && f.Yaw == 0 {
		return f.X, f.Y + p.Y, f.Z + p.Z
	}
	// Pitch turns the thickness axis toward −x, then yaw turns the width axis toward −x.
	sp, cp := math.Sincos(f.Pitch)
	sy, cy := math.Sincos(f.Yaw)
	return f.X - p.Z*sp*cy - p.Y*sy, f.Y + p.Y*cy - p.Z*sp*sy, f.Z + p.Z*cp
}

// outline returns the points of the section once around: bottom, front, top, back.
func (k *Section) outline() []Point {
	all := make([]Point, 0, len(k.Bottom)+len(k.Front)+len(k.Top)+len(k.Back))
	all = append(all, k.Bottom...)
	all = append(all, k.Front...)
	for i := len(k.Top) - 1; i >= 0; i-- {
		all = append(all, k.Top[i])
	}
	for i := len(k.Back) - 1; i >= 0; i-- {
		all = append(all, k.Back[i])
	}
	return all
}

// Area returns the area of the section, holes not taken off [m²].
func (k *Section) Area() float64 {
	sum := 0.0
	for n, c := range [4][]Point{k.Bottom, k.Front, k.Top, k.Back} {
		part := 0.0
		for i := 1; i < len(c); i++ {
			part += c[i-1].Y*c[i].Z - c[i].Y*c[i-1].Z
		}
		if n >= 2 { // these two run the other way
			part = -part
		}
		sum += part
	}
	return sum / 2
}

// Perimeter returns the length of the outline [m].
func (k *Section) Perimeter() float64 {
	o := k.outline()
	sum := 0.0
	for i, p := range o {
		q := o[(i+1)%len(o)]
		sum += math.Hypot(q.Y-p.Y, q.Z-p.Z)
	}
	return sum
}

// mixed returns the section between a and b at share t, in the plane of a.
func mixed(a, b *Section, t float64) Section {
	blend := func(p, q []Point) []Point {
		n := max(len(p), len(q))
		if (len(p)-1)*(len(q)-1) != 0 && (n-1)%(min(len(p), len(q))-1) != 0 {
			n = (len(p)-1)*(len(q)-1) + 1
		}
		c := make([]Point, n)
		for i := range c {
			s := float64(i) / float64(n-1)
			x, y := along(p, s), along(q, s)
			c[i] = Point{x.Y + t*(y.Y-x.Y), x.Z + t*(y.Z-x.Z)}
		}
		return c
	}
	f, g := a.Frame, b.Frame
	return Section{
		U:     a.U + t*(b.U-a.U),
		Frame: Frame{f.X + t*(g.X-f.X), f.Y + t*(g.Y-f.Y), f.Z + t*(g.Z-f.Z), f.Pitch + t*(g.Pitch-f.Pitch), f.Yaw + t*(g.Yaw-f.Yaw)},
		Top:   blend(a.Top, b.Top), Bottom: blend(a.Bottom, b.Bottom),
		Back: blend(a.Back, b.Back), Front: blend(a.Front, b.Front),
	}
}

// Section returns the cross-section at u.
func (s *Solid) Section(u float64) Section {
	a, b, t := s.between(u)
	return mixed(a, b, t)
}

// Volume returns the volume of the body, holes taken off [m³]. The area of a
// straight loft is a quadratic of U, which Simpson's rule integrates exactly.
func (s *Solid) Volume() float64 {
	sum := 0.0
	for i := 1; i < len(s.Sections); i++ {
		a, b := &s.Sections[i-1], &s.Sections[i]
		m := mixed(a, b, 0.5)
		l := math.Sqrt(sq(b.Frame.X-a.Frame.X) + sq(b.Frame.Y-a.Frame.Y) + sq(b.Frame.Z-a.Frame.Z))
		sum += l * (a.Area() + 4*m.Area() + b.Area()) / 6
	}
	for _, v := range s.Voids {
		sum -= s.hollow(v)
	}
	return sum
}

// hollow returns the volume of a hole [m³]: slices along the body of the size
// that the box has there; an oval fills its share of each.
func (s *Solid) hollow(h Void) float64 {
	const n = 64
	b, sum := h.Box, 0.0
	for i := range n {
		u0, u1 := b.U0+(b.U1-b.U0)*float64(i)/n, b.U0+(b.U1-b.U0)*float64(i+1)/n
		x0, y0, z0 := s.At(u0, 0.5, 0)
		x1, y1, z1 := s.At(u1, 0.5, 0)
		u := (u0 + u1) / 2
		c00, c10 := s.Across(u, b.V0, b.W0), s.Across(u, b.V1, b.W0)
		c01, c11 := s.Across(u, b.V0, b.W1), s.Across(u, b.V1, b.W1)
		area := math.Abs((c11.Y-c00.Y)*(c01.Z-c10.Z)-(c01.Y-c10.Y)*(c11.Z-c00.Z)) / 2
		share := 1.0
		if h.Oval {
			e := (2*float64(i)+1)/n - 1
			share = math.Sqrt(1 - e*e)
		}
		sum += math.Sqrt(sq(x1-x0)+sq(y1-y0)+sq(z1-z0)) * area * share
	}
	return sum
}

// Surface returns the area of the skin, ends included, holes left out [m²].
func (s *Solid) Surface() float64 {
	sum := s.Sections[0].Area() + s.Sections[len(s.Sections)-1].Area()
	for i := 1; i < len(s.Sections); i++ {
		a, b := &s.Sections[i-1], &s.Sections[i]
		l := math.Sqrt(sq(b.Frame.X-a.Frame.X) + sq(b.Frame.Y-a.Frame.Y) + sq(b.Frame.Z-a.Frame.Z))
		sum += l * (a.Perimeter() + b.Perimeter()) / 2
	}
	return sum
}

// Extent returns the size of the bounding box along the length, the width and the thickness [m].
func (s *Solid) Extent() (length, width, thickness float64) {
	lo, hi := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i := range s.Sections {
		k := &s.Sections[i]
		for a := 0.0; a <= 1; a += 0.125 {
			for _, vw := range [4][2]float64{{a, -1}, {a, 1}, {0, 2*a - 1}, {1, 2*a - 1}} {
				var p [3]float64
				p[0], p[1], p[2] = k.place(vw[0], vw[1])
				for d := range p {
					lo[d], hi[d] = min(lo[d], p[d]), max(hi[d], p[d])
				}
			}
		}
	}
	return hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2]
}

func sq(x float64) float64 { return x * x }
