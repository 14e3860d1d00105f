package shape

import (
	"fmt"
	"math"
	"sort"
)

// Forge returns the change of one body into another of the same volume. Metal
// keeps its order along the length and across the width: what lay before a share
// of the volume lies before that share again.
func Forge(from, to *Solid) (*Change, error) {
	if len(from.Voids) != len(to.Voids) {
		return nil, &Problem{Key: "count", Value: float64(len(to.Voids)), Limits: "as many holes as before", Remedy: "begin with that form as the piece, or drill after forging"}
	}
	a, b := from.Volume(), to.Volume()
	if d := b/a - 1; !(math.Abs(d) <= ForgingSlack) {
		remedy := "start from a longer bar, or forge a shorter or thinner piece: the metal is not there"
		if d < 0 {
			remedy = "cut the bar shorter, or forge a longer or thicker piece: metal would be left over"
		}
		return nil, &Problem{
			"length", to.Length(), fmt.Sprintf("such that the volume stays within %g %%; it changes by %+.1f %%", 100*ForgingSlack, 100*d),
			remedy, to.Length() * a / b * (1 - ForgingSlack), to.Length() * a / b * (1 + ForgingSlack),
		}
	}
	return &Change{Act: Forging, From: from, To: to, lengths: [2][]float64{from.along(), to.along()}}, nil
}

// ForgingSlack is how far the length that is asked for may be from what the
// metal gives: smiths cut to it by eye.
const ForgingSlack = 0.05

// Into returns the body on the way from one to another that has gone a share of
// it, 0 < share ≤ 1, and keeps the volume to rounding: its sections lie between those of the same
// metal in both, and its length is what the metal gives, within 5 % of what is asked for.
func Into(from, to *Solid, share float64) (*Change, error) {
	c, err := Forge(from, to)
	if err != nil {
		return nil, err
	}
	if !(share > 0) || share > 1 {
		panic("shape: a share of the way is over 0 and at most 1")
	}
	b := *to.Clone()
	c.To = &b
	if share < 1 {
		marks := make([]float64, 0, len(to.Sections)+len(from.Sections))
		for i := range to.Sections {
			marks = append(marks, to.Sections[i].U)
		}
		for i := range from.Sections {
			marks = append(marks, inverse(c.lengths[1], table(c.lengths[0], from.Sections[i].U)))
		}
		b.Sections = between(from, to, c, sortedMarks(marks), share)
	}
	longer := from.Volume() / b.Volume()
	for i := range b.Sections {
		b.Sections[i].Frame.X *= longer
	}
	c.lengths[1] = b.along()
	return c, nil
}

// between returns the sections at these places of the new body.
func between(from, to *Solid, c *Change, marks []float64, share float64) []Section {
	whole := to.Volume()
	var all []Section
	for i, u := range marks {
		was, is := from.Section(c.U(u)), to.Section(u)
		k := mixed(&was, &is, share)
		k.simplify()
		k.U, k.Frame = u, Frame{Y: k.Frame.Y, Z: k.Frame.Z}
		if i > 0 {
			a := all[i-1]
			mid := mixed(&a, &k, 0.5)
			area := (a.Area() + 4*mid.Area() + k.Area()) / 6
			k.Frame.X = a.Frame.X + whole*(table(c.lengths[1], u)-table(c.lengths[1], a.U))/area
		}
		all = append(all, k)
	}
	return all
}

// mostPoints is the number of points that a curve of a body on its way keeps; a
// multiple of what the forms have, so that their corners stay.
const mostPoints = 193

// simplify takes points out of curves that have more than they need.
func (k *Section) simplify() {
	for _, c := range [4]*[]Point{&k.Top, &k.Bottom, &k.Back, &k.Front} {
		if len(*c) <= mostPoints {
			continue
		}
		few := make([]Point, mostPoints)
		for i := range few {
			few[i] = along(*c, float64(i)/(mostPoints-1))
		}
		*c = few
	}
}

// sortedMarks returns the marks in order, those that nearly coincide once.
func sortedMarks(marks []float64) []float64 {
	sort.Float64s(marks)
	kept := marks[:1]
	for _, u := range marks[1:] {
		if u-kept[len(kept)-1] > 2e-3 {
			kept = append(kept, u)
		}
	}
	kept[len(kept)-1] = marks[len(marks)-1]
	return kept
}
