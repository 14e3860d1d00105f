package shape

import (
	"fmt"
	"math"
)

// Act is what changes a shape.
type Act string

// The acts of shape.
const (
	Forging  Act = "forging"
	Grinding Act = "grinding"
	Drilling Act = "drilling"
	Bending  Act = "bending"
)

// Change is a shape made from another, and where its material lay before:
// U, V and Kept take a place in the new body to the old one. They grow with
// their argument, so that each bit of material is in one place only.
type Change struct {
	Act      Act
	From, To *Solid
	lengths  [2][]float64 // cumulative volume of From and To at even U, when forging
}

// U returns where in the old body the cross-section at u of the new one lay.
func (c *Change) U(u float64) float64 {
	switch c.Act {
	case Forging:
		if c.lengths[0] == nil {
			return u
		}
		return inverse(c.lengths[0], table(c.lengths[1], u))
	case Grinding:
		if c.From.straight() && c.To.straight() {
			x, _, _ := c.To.At(u, 0.5, 0)
			return min(1, max(0, c.From.U(x)))
		}
	}
	return u
}

// V returns a function that takes V of the new body at u to V of the old one.
// Forged metal keeps its share of the cross-section from the spine; ground metal keeps its place.
func (c *Change) V(u float64) func(v float64) float64 {
	old := c.U(u)
	switch {
	case c.Act == Forging && c.lengths[0] != nil:
		from, to := c.From.spreadOver(old), c.To.spreadOver(u)
		return func(v float64) float64 { return inverse(from, table(to, v)) }
	case c.Act == Grinding:
		a, b := c.From.Section(old), c.To.Section(u)
		return func(v float64) float64 {
			y := b.At(v, 0).Y
			return bisect(0, 1, func(t float64) float64 { return a.At(t, 0).Y - y })
		}
	}
	return func(v float64) float64 { return v }
}

// Kept returns the old W of the back and the front face of the new body at
// (u, v): −1 and 1 unless metal was ground off there.
func (c *Change) Kept(u, v float64) (lo, hi float64) {
	if c.Act != Grinding {
		return -1, 1
	}
	a, b := c.From.Section(c.U(u)), c.To.Section(u)
	was := c.V(u)(v)
	find := func(w float64) float64 {
		z := b.At(v, w).Z
		return bisect(-1, 1, func(t float64) float64 { return a.At(was, t).Z - z })
	}
	return find(-1), find(1)
}

// bisect returns where the growing f is 0, or the end nearest to it.
func bisect(lo, hi float64, f func(float64) float64) float64 {
	if f(lo) >= 0 {
		return lo
	}
	if f(hi) <= 0 {
		return hi
	}
	for range 50 {
		m := (lo + hi) / 2
		if f(m) < 0 {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

// With returns the change between two other bodies that keep the coordinates of
// the material, as the front halves of both.
func (c *Change) With(from, to *Solid) *Change {
	d := *c
	d.From, d.To = from, to
	return &d
}

// Reforms reports whether forging made another form: its metal flows from face
// to face, and which bit of skin ends up where is not known.
func (c *Change) Reforms() bool { return c.Act == Forging && c.lengths[0] != nil }

// Before returns where zones of the new body lie in the old one.
func (c *Change) Before(zones []Zone) []Zone {
	old := make([]Zone, len(zones))
	for i, z := range zones {
		old[i].Name = z.Name
		for _, b := range z.Boxes {
			u := (b.U0 + b.U1) / 2
			across := c.V(u)
			lo, hi := c.Kept(u, (b.V0+b.V1)/2)
			w := func(w float64) float64 { return lo + (1+w)/2*(hi-lo) }
			old[i].Boxes = append(old[i].Boxes, Box{c.U(b.U0), c.U(b.U1), across(b.V0), across(b.V1), w(b.W0), w(b.W1)})
		}
	}
	return old
}

// Strain returns the equivalent strain that forging gave the metal of the
// cross-section at u of the new body [–], by what became of its width and of its mean thickness:
//
//	ε = √(2/3 (ε₁² + ε₂² + ε₃²)),  ε₃ = −(ε₁ + ε₂)
//
// The way there is not known; to and fro under the hammer it is more. 0 for other acts.
//
// Source: own derivation (von Mises' equivalent of a plain stretch).
func (c *Change) Strain(u float64) float64 {
	if c.Act != Forging {
		return 0
	}
	a, b := c.From.Section(c.U(u)), c.To.Section(u)
	wide := math.Log(b.wide() / a.wide())
	thick := math.Log(b.Area()/a.Area()) - wide
	return math.Sqrt(2. / 3 * (wide*wide + thick*thick + (wide+thick)*(wide+thick)))
}

// Moves reports whether the act moves the metal of the cross-section at u of the old body.
func (c *Change) Moves(u float64) bool {
	switch c.Act {
	case Forging:
		if c.lengths[0] != nil {
			u = inverse(c.lengths[1], table(c.lengths[0], u))
		}
		return c.Strain(u) > 0.01
	case Bending:
		const h = 1e-3
		a, b := c.bend(u-h), c.bend(u+h)
		return math.Abs(a[0]-b[0])+math.Abs(a[1]-b[1]) > 1e-6
	}
	return true
}

// bend returns how far bending turned the cross-section at u, in pitch and yaw [rad].
func (c *Change) bend(u float64) [2]float64 {
	u = min(1, max(0, u))
	a, b := c.From.Section(u), c.To.Section(u)
	return [2]float64{b.Frame.Pitch - a.Frame.Pitch, b.Frame.Yaw - a.Frame.Yaw}
}

// wide returns the width of the outline [m].
func (k *Section) wide() float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range k.outline() {
		lo, hi = min(lo, p.Y), max(hi, p.Y)
	}
	return hi - lo
}

// table returns the value at t in 0..1 of a growing table of even spacing.
func table(y []float64, t float64) float64 {
	f := t * float64(len(y)-1)
	i := min(max(int(f), 0), len(y)-2)
	return y[i] + (f-float64(i))*(y[i+1]-y[i])
}

// inverse returns t in 0..1 where the table has the value v.
func inverse(y []float64, v float64) float64 {
	n := len(y) - 1
	lo, hi := 0, n
	for hi-lo > 1 {
		m := (lo + hi) / 2
		if y[m] <= v {
			lo = m
		} else {
			hi = m
		}
	}
	return (float64(lo) + (v-y[lo])/(y[hi]-y[lo])) / float64(n)
}

// spreadOver returns the share of the cross-section at u between the spine and even steps of V.
func (s *Solid) spreadOver(u float64) []float64 {
	const nv, nw = 48, 6
	k := s.Section(u)
	sum := make([]float64, nv+1)
	for i := range nv {
		v0, v1 := float64(i)/nv, float64(i+1)/nv
		area := 0.0
		for j := range nw {
			w0, w1 := 2*float64(j)/nw-1, 2*float64(j+1)/nw-1
			a, b, c, d := k.At(v0, w0), k.At(v1, w0), k.At(v1, w1), k.At(v0, w1)
			area += ((c.Y-a.Y)*(d.Z-b.Z) - (d.Y-b.Y)*(c.Z-a.Z)) / 2
		}
		sum[i+1] = sum[i] + math.Max(area, 1e-30)
	}
	for i := range sum {
		sum[i] /= sum[nv]
	}
	return sum
}

// along returns the share of the volume between the start and even steps of U.
func (s *Solid) along() []float64 {
	const n = 400
	sum := make([]float64, n+1)
	areaAt := s.areas()
	var x [3]float64
	x[0], x[1], x[2] = s.At(0, 0.5, 0)
	area := areaAt(0)
	for i := range n {
		u := float64(i+1) / n
		var y [3]float64
		y[0], y[1], y[2] = s.At(u, 0.5, 0)
		next, mid := areaAt(u), areaAt(u-0.5/n)
		l := math.Sqrt(sq(y[0]-x[0]) + sq(y[1]-x[1]) + sq(y[2]-x[2]))
		sum[i+1] = sum[i] + l*(area+4*mid+next)/6
		x, area = y, next
	}
	for i := range sum {
		sum[i] /= sum[n]
	}
	return sum
}

// areas returns the area of the section at any u [m²]. Between two sections it is a
// quadratic of u, since the outline goes over in straight lines.
func (s *Solid) areas() func(u float64) float64 {
	n := len(s.Sections)
	at, mid := make([]float64, n), make([]float64, n)
	for i := range s.Sections {
		at[i] = s.Sections[i].Area()
		if i > 0 {
			m := mixed(&s.Sections[i-1], &s.Sections[i], 0.5)
			mid[i] = m.Area()
		}
	}
	return func(u float64) float64 {
		i := 1
		for i < n-1 && u > s.Sections[i].U {
			i++
		}
		t := (u - s.Sections[i-1].U) / (s.Sections[i].U - s.Sections[i-1].U)
		a, m, b := at[i-1], mid[i], at[i]
		return a + t*(4*m-3*a-b) + 2*t*t*(a+b-2*m)
	}
}

// straight reports whether the body was never bent.
func (s *Solid) straight() bool {
	for i := range s.Sections {
		if f := s.Sections[i].Frame; f.Pitch != 0 || f.Yaw != 0 {
			return false
		}
	}
	return true
}

// Pass is one forging pass: between two places along the body [m] the
// thickness and the width are multiplied, and the length follows from the volume.
type Pass struct{ From, To, Thickness, Width float64 }

// MostDrawn and MostUpset are what one pass may make of a thickness or a width
// [–]: common practice, wide.
const (
	MostDrawn = 0.3
	MostUpset = 3.0
)

// Draw returns the body after a pass; its zones and coordinates stay with the metal.
func Draw(s *Solid, p Pass) (*Change, error) {
	var bad problems
	length := s.Length()
	bad.within("from", p.From, 0, length, "give the place where the pass starts")
	bad.within("to", p.To, p.From+1e-6, length*(1+1e-9), "give the place where the pass ends, behind its start")
	for _, f := range [2]struct {
		key string
		v   float64
	}{{"thickness", p.Thickness}, {"width", p.Width}} {
		if !(f.v >= MostDrawn && f.v <= MostUpset) {
			bad = append(bad, &Problem{f.key, f.v, fmt.Sprintf("from %g to %g of what it was", MostDrawn, MostUpset), "forge in several passes", MostDrawn, MostUpset})
		}
	}
	if err := bad.err(); err != nil {
		return nil, err
	}
	u0, u1 := s.UAt(p.From), s.UAt(p.To)
	_, _, thick := s.Extent()
	ease := 0.5 * thick / length // the hammer's edge leaves no step
	marks := []float64{u0 - ease, u0 + ease, u1 - ease, u1 + ease}
	to := s.cutAt(marks...)
	strength := func(u float64) float64 {
		up, down := (u-u0+ease)/(2*ease), (u1+ease-u)/(2*ease)
		if u0 <= 0 {
			up = 1
		}
		if u1 >= 1 {
			down = 1
		}
		return min(1, max(0, min(up, down)))
	}
	before := to.Clone()
	for i := range to.Sections {
		k := &to.Sections[i]
		t := strength(k.U)
		k.scale(1+t*(p.Width-1), 1+t*(p.Thickness-1))
	}
	to.stretch(before)
	for i := range to.Sections {
		if thin := to.Sections[i].thinnest(); !(thin >= thinnest) {
			return nil, &Problem{"thickness", thin, fmt.Sprintf("such that %.4g mm are left everywhere", thinnest*1000), "leave it thicker: an edge this thin burns", thinnest, thickest}
		}
	}
	return &Change{Act: Forging, From: s, To: to}, nil
}

// WidthAt returns the width of the body at a distance along its middle [m].
func (s *Solid) WidthAt(x float64) float64 {
	k := s.Section(s.UAt(x))
	return k.At(1, 0).Y - k.At(0, 0).Y
}

// Largest returns the greatest thickness and width between two places along the middle [m].
func (s *Solid) Largest(from, to float64) (thick, wide float64) {
	const n = 40
	for i := range n + 1 {
		k := s.Section(s.UAt(from + (to-from)*float64(i)/n))
		lo, hi := k.Bottom[0], k.Bottom[0]
		for _, p := range k.outline() {
			lo.Y, hi.Y = min(lo.Y, p.Y), max(hi.Y, p.Y)
			lo.Z, hi.Z = min(lo.Z, p.Z), max(hi.Z, p.Z)
		}
		thick, wide = max(thick, hi.Z-lo.Z), max(wide, hi.Y-lo.Y)
	}
	return thick, wide
}

// scale multiplies width and thickness about the middle of the section.
func (k *Section) scale(width, thickness float64) {
	var lo, hi Point
	lo, hi = k.Bottom[0], k.Bottom[0]
	for _, p := range k.outline() {
		lo.Y, hi.Y = min(lo.Y, p.Y), max(hi.Y, p.Y)
		lo.Z, hi.Z = min(lo.Z, p.Z), max(hi.Z, p.Z)
	}
	y, z := (lo.Y+hi.Y)/2, (lo.Z+hi.Z)/2
	for _, c := range [4][]Point{k.Top, k.Bottom, k.Back, k.Front} {
		for i := range c {
			c[i].Y = y + width*(c[i].Y-y)
			c[i].Z = z + thickness*(c[i].Z-z)
		}
	}
}

// stretch gives each stretch between sections the length that keeps its volume.
func (s *Solid) stretch(before *Solid) {
	shift := [3]float64{}
	for i := 1; i < len(s.Sections); i++ {
		a, b := &s.Sections[i-1], &s.Sections[i]
		p, q := &before.Sections[i-1], &before.Sections[i]
		m, n := mixed(a, b, 0.5), mixed(p, q, 0.5)
		g := (p.Area() + 4*n.Area() + q.Area()) / (a.Area() + 4*m.Area() + b.Area())
		b.Frame.X = q.Frame.X + shift[0] + (g-1)*(q.Frame.X-p.Frame.X)
		b.Frame.Y = q.Frame.Y + shift[1] + (g-1)*(q.Frame.Y-p.Frame.Y)
		b.Frame.Z = q.Frame.Z + shift[2] + (g-1)*(q.Frame.Z-p.Frame.Z)
		shift = [3]float64{b.Frame.X - q.Frame.X, b.Frame.Y - q.Frame.Y, b.Frame.Z - q.Frame.Z}
	}
}

// UAt returns U at a distance along the middle of a body, straight or not.
func (s *Solid) UAt(x float64) float64 {
	at := 0.0
	for i := 1; i < len(s.Sections); i++ {
		a, b := &s.Sections[i-1], &s.Sections[i]
		l := math.Sqrt(sq(b.Frame.X-a.Frame.X) + sq(b.Frame.Y-a.Frame.Y) + sq(b.Frame.Z-a.Frame.Z))
		if x <= at+l || i == len(s.Sections)-1 {
			return min(b.U, a.U+(x-at)/l*(b.U-a.U))
		}
		at += l
	}
	return 1
}

// LengthTo returns the distance along the middle of a body from its start to u [m].
func (s *Solid) LengthTo(u float64) float64 {
	at := 0.0
	for i := 1; i < len(s.Sections); i++ {
		a, b := &s.Sections[i-1], &s.Sections[i]
		l := math.Sqrt(sq(b.Frame.X-a.Frame.X) + sq(b.Frame.Y-a.Frame.Y) + sq(b.Frame.Z-a.Frame.Z))
		if u < b.U {
			return at + l*(u-a.U)/(b.U-a.U)
		}
		at += l
	}
	return at
}

// cutAt returns a copy with a section at each of the marks that lies inside.
func (s *Solid) cutAt(marks ...float64) *Solid {
	c := s.Clone()
	for _, u := range marks {
		for i := 1; i < len(c.Sections); i++ {
			if u > c.Sections[i-1].U+1e-9 && u < c.Sections[i].U-1e-9 {
				k := c.Section(u)
				c.Sections = append(c.Sections[:i], append([]Section{k}, c.Sections[i:]...)...)
				break
			}
		}
	}
	return c
}
