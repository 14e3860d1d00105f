package shape

import (
	"fmt"
	"math"
)

// Grind returns the change of a body into one that lies within it: what is
// outside the new body is ground off. Both stand in the same place.
func Grind(from, to *Solid) (*Change, error) {
	if a, b := from.Volume(), to.Volume(); b > a*(1+1e-6) {
		return nil, &Problem{Key: "length", Value: to.Length(), Limits: fmt.Sprintf("within the body before; its volume grows by %.1f %%", 100*(b/a-1)), Remedy: "grinding only takes off: start from more"}
	}
	return &Change{Act: Grinding, From: from, To: to}, nil
}

// Ground returns the body with a skin of thickness off [m] taken from all sides
// but the ends.
func (s *Solid) Ground(off float64) (*Solid, error) {
	if !(off > 0) {
		return nil, &Problem{Key: "off", Value: off, Limits: "over 0 mm", Remedy: "give how much is ground off each face"}
	}
	g := s.Clone()
	for i := range g.Sections {
		k := &g.Sections[i]
		before := k.Area()
		k.inset(off)
		if thin := k.thinnest(); !(thin >= thinnest) || !(k.Area() > 0.02*before) {
			return nil, throughIt(off)
		}
	}
	return g, nil
}

func throughIt(off float64) error {
	return &Problem{Key: "off", Value: off, Limits: fmt.Sprintf("small enough to leave %.4g mm everywhere", thinnest*1000), Remedy: "grind less: this goes through the thinnest place"}
}

// Thinned returns the body with off [m] taken from both faces, its outline kept:
// how a blade is ground.
func (s *Solid) Thinned(off float64) (*Solid, error) {
	if !(off > 0) {
		return nil, &Problem{Key: "off", Value: off, Limits: "over 0 mm", Remedy: "give how much is ground off each face"}
	}
	g := s.Clone()
	for i := range g.Sections {
		k := &g.Sections[i]
		k.lower(func(float64) float64 { return off }, false)
		if !(k.thinnest() >= thinnest) {
			return nil, throughIt(off)
		}
	}
	return g, nil
}

// Edged returns the body with its edge (V = 1) from u on ground to a thickness
// [m]: the bevels take off evenly more toward it.
func (s *Solid) Edged(thick, from float64) (*Solid, error) {
	g := s.Clone()
	shoulder := 0.0
	if len(s.Creases) > 0 {
		shoulder = s.Creases[0]
	}
	for i := range g.Sections {
		k := &g.Sections[i]
		if k.U < from-1e-9 {
			continue
		}
		is := k.Top[len(k.Top)-1].Z - k.Bottom[len(k.Bottom)-1].Z
		if thick > is*(1+1e-6) || thick < thinnest {
			return nil, &Problem{"edge", thick, fmt.Sprintf("from %.4g to %.4g mm, what it is there", thinnest*1000, is*1000), "leave it as it is or thinner", thinnest, is}
		}
		off := (is - thick) / 2
		flat := k.Bottom[0].Z == k.Bottom[len(k.Bottom)-1].Z && k.Top[0].Z != k.Top[len(k.Top)-1].Z // bevel on the front face only
		if flat {
			off *= 2
		}
		k.lower(func(v float64) float64 { return off * max(0, (v-shoulder)/(1-shoulder)) }, flat)
	}
	return g, nil
}

// lower brings the front face down by off(v), and the back face up as much
// unless it stays as it is.
func (k *Section) lower(off func(v float64) float64, front bool) {
	down := func(c []Point, sign float64) {
		for i := range c {
			c[i].Z -= sign * off(float64(i)/float64(len(c)-1))
		}
	}
	old := [2][2]float64{{k.Bottom[0].Z, k.Top[0].Z}, {k.Bottom[len(k.Bottom)-1].Z, k.Top[len(k.Top)-1].Z}}
	down(k.Top, 1)
	if !front {
		down(k.Bottom, -1)
	}
	now := [2][2]float64{{k.Bottom[0].Z, k.Top[0].Z}, {k.Bottom[len(k.Bottom)-1].Z, k.Top[len(k.Top)-1].Z}}
	for n, side := range [2][]Point{k.Back, k.Front} {
		for i := range side { // the ends follow the faces
			t := (side[i].Z - old[n][0]) / (old[n][1] - old[n][0])
			side[i].Z = now[n][0] + t*(now[n][1]-now[n][0])
		}
	}
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
	u := s.UAt(h.At)
	k := s.Section(u)
	width := k.At(1, 0).Y - k.At(0, 0).Y
	r := h.Diameter / 2 / width
	if !(h.Across-r > 0.02 && h.Across+r < 0.98) {
		return nil, &Problem{"share", h.Across, fmt.Sprintf("from %.2f to %.2f for this drill", r+0.02, 0.98-r), "move the hole away from the edge of the piece or take a smaller drill", r + 0.02, 0.98 - r}
	}
	to := s.Clone()
	to.Voids = append(to.Voids, Void{
		Name: "hole", Oval: true,
		Box: Box{s.UAt(h.At - h.Diameter/2), s.UAt(h.At + h.Diameter/2), h.Across - r, h.Across + r, -1, 1},
	})
	to.besideHole(s.UAt(h.At-h.Diameter), s.UAt(h.At+h.Diameter))
	return &Change{Act: Drilling, From: s, To: to}, nil
}

// besideHole moves the cross-section that stands for the whole out of the stretch of a hole.
func (s *Solid) besideHole(from, to float64) {
	if s.Cut <= from || s.Cut >= to {
		return
	}
	if s.Cut-from < to-s.Cut && from > 0.02 || to > 0.98 {
		s.Cut = max(0.02, from)
	} else {
		s.Cut = to
	}
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
		bad = append(bad, &Problem{"angle", t.Angle, "at most half a turn", "bend in several steps", -math.Pi, math.Pi})
	}
	if err := bad.err(); err != nil {
		return nil, err
	}
	_, width, thick := s.Extent()
	if t.Hard {
		thick = width
	}
	if r := (t.To - t.From) / math.Max(math.Abs(t.Angle), 1e-9); r < 0.6*thick {
		least := 0.6 * thick * math.Abs(t.Angle)
		return nil, &Problem{"over", t.To - t.From, fmt.Sprintf("at least %.3g mm, for a radius of %.3g mm in the middle", least*1000, 600*thick), "bend over a longer stretch: the inside would fold", least, length - t.From}
	}
	const arcs = 12
	u0, u1 := s.UAt(t.From), s.UAt(t.To)
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
