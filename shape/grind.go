package shape

import (
	"fmt"
	"math"
)

// Grind returns the change of a body into one that lies within it: what is
// outside the new body is ground off. Both stand in the same place.
func Grind(from, to *Solid) (*Change, error) {
	if a, b := from.Volume(), to.Volume(); b > a*(1+1e-6) {
		return nil, &Problem{"length", to.Length(), fmt.Sprintf("within the body before; its volume grows by %.1f %%", 100*(b/a-1)), "grinding only takes off: start from more"}
	}
	return &Change{Act: Grinding, From: from, To: to}, nil
}

// Ground returns the body with a skin of thickness off [m] taken from all sides
// but the ends.
func (s *Solid) Ground(off float64) (*Solid, error) {
	if !(off > 0) {
		return nil, &Problem{"off", off, "over 0 mm", "give how much is ground off each face"}
	}
	g := s.Clone()
	for i := range g.Sections {
		k := &g.Sections[i]
		before := k.Area()
		k.inset(off)
		if thin := k.thinnest(); !(thin >= thinnest) || !(k.Area() > 0.02*before) {
			return nil, &Problem{"off", off, fmt.Sprintf("small enough to leave %.4g mm everywhere", thinnest*1000), "grind less: this goes through the thinnest place"}
		}
	}
	return g, nil
}

// inset moves the outline inward by d, corners along their bisector.
func (k *Section) inset(d float64) {
	curves := [4][]Point{k.Bottom, k.Front, reversed(k.Top), reversed(k.Back)}
	var loop []Point // once around, each corner once
	for _, c := range curves {
		loop = append(loop, c[:len(c)-1]...)
	}
	n := len(loop)
	moved := make([]Point, n)
	for i, p := range loop {
		a, b := inward(loop[(i+n-1)%n], p), inward(p, loop[(i+1)%n])
		// The point that lies d inside both edges: d (a + b)/(1 + a·b).
		f := d / math.Max(0.3, 1+a.Y*b.Y+a.Z*b.Z)
		moved[i] = Point{p.Y + f*(a.Y+b.Y), p.Z + f*(a.Z+b.Z)}
	}
	at := 0
	take := func(count int) []Point {
		c := make([]Point, count)
		for i := range c {
			c[i] = moved[(at+i)%n]
		}
		at += count - 1
		return c
	}
	k.Bottom = take(len(k.Bottom))
	k.Front = take(len(k.Front))
	k.Top = reversed(take(len(k.Top)))
	k.Back = reversed(take(len(k.Back)))
}

func reversed(c []Point) []Point {
	r := make([]Point, len(c))
	for i, p := range c {
		r[len(c)-1-i] = p
	}
	return r
}

// inward returns the unit normal to the left of the way from p to q, which is
// inside since outlines run counterclockwise.
func inward(p, q Point) Point {
	l := math.Hypot(q.Y-p.Y, q.Z-p.Z)
	if l == 0 {
		return Point{}
	}
	return Point{-(q.Z - p.Z) / l, (q.Y - p.Y) / l}
}

// thinnest returns the least distance from bottom to top along the width, negative where they cross.
func (k *Section) thinnest() float64 {
	least := math.Inf(1)
	for i := 0; i <= 32; i++ {
		v := float64(i) / 32
		least = min(least, along(k.Top, v).Z-along(k.Bottom, v).Z)
	}
	return least
}

// Hole is a drilled hole through the thickness: its place along the body [m],
// its share of the width from the spine, and its diameter [m].
type Hole struct{ At, Across, Diameter float64 }

// Drill returns the body with a hole.
func Drill(s *Solid, h Hole) (*Change, error) {
	var bad problems
	length := s.Length()
	bad.within("diameter", h.Diameter, 0.5e-3, 0.1, "give the diameter of the drill")
	bad.within("at", h.At, h.Diameter/2, length-h.Diameter/2, "put the hole inside the piece")
	if err := bad.err(); err != nil {
		return nil, err
	}
	u := s.uAt(h.At)
	k := s.Section(u)
	width := k.At(1, 0).Y - k.At(0, 0).Y
	r := h.Diameter / 2 / width
	if !(h.Across-r > 0.02 && h.Across+r < 0.98) {
		return nil, &Problem{"share", h.Across, fmt.Sprintf("from %.2f to %.2f for this drill", r+0.02, 0.98-r), "move the hole away from the edge of the piece or take a smaller drill"}
	}
	to := s.Clone()
	to.Voids = append(to.Voids, Void{
		Name: "hole", Oval: true,
		Box: Box{s.uAt(h.At - h.Diameter/2), s.uAt(h.At + h.Diameter/2), h.Across - r, h.Across + r, -1, 1},
	})
	return &Change{Act: Drilling, From: s, To: to}, nil
}

// Turn is a bend: between two places along the body [m] it turns by an angle
// [rad], over its flat side or, when Hard is set, the hard way.
type Turn struct {
	From, To, Angle float64
	Hard            bool
}

// Bend returns the bent body. The middle keeps its length, and so the body its volume.
func Bend(s *Solid, t Turn) (*Change, error) {
	var bad problems
	length := s.Length()
	bad.within("from", t.From, 0, length, "give the place where the bend starts")
	bad.within("to", t.To, t.From+1e-4, length*(1+1e-9), "give the place where the bend ends, behind its start")
	if !(math.Abs(t.Angle) <= math.Pi) {
		bad = append(bad, &Problem{"angle", t.Angle, "at most half a turn", "bend in several steps"})
	}
	if err := bad.err(); err != nil {
		return nil, err
	}
	_, width, thick := s.Extent()
	if t.Hard {
		thick = width
	}
	if r := (t.To - t.From) / math.Max(math.Abs(t.Angle), 1e-9); r < 0.6*thick {
		return nil, &Problem{"to", t.To, fmt.Sprintf("far enough for a radius of %.3g mm in the middle", 600*thick), "bend over a longer stretch: the inside would fold"}
	}
	const arcs = 12
	u0, u1 := s.uAt(t.From), s.uAt(t.To)
	var marks []float64
	for i := range arcs + 1 {
		marks = append(marks, u0+(u1-u0)*float64(i)/arcs)
	}
	to := s.cutAt(marks...)
	old := to.Clone()
	for i := range to.Sections {
		f := &to.Sections[i].Frame
		turned := t.Angle * min(1, max(0, (to.Sections[i].U-u0)/(u1-u0)))
		if t.Hard {
			f.Yaw += turned
		} else {
			f.Pitch += turned
		}
		if i == 0 {
			continue
		}
		a, b, was := old.Sections[i-1].Frame, old.Sections[i].Frame, to.Sections[i-1].Frame
		l := math.Sqrt(sq(b.X-a.X) + sq(b.Y-a.Y) + sq(b.Z-a.Z))
		pitch, yaw := (f.Pitch+was.Pitch)/2, (f.Yaw+was.Yaw)/2
		f.X = was.X + l*math.Cos(pitch)*math.Cos(yaw)
		f.Y = was.Y + l*math.Cos(pitch)*math.Sin(yaw)
		f.Z = was.Z + l*math.Sin(pitch)
	}
	return &Change{Act: Bending, From: s, To: to}, nil
}
