package shape

import (
	"fmt"
	"math"
)

// Bevel is how a bevel is curved between its shoulder and the edge.
type Bevel string

// The bevels of blades. A flat bevel is straight, a convex one bellies out
// and a hollow one falls in by Blade.Curve.
const (
	FlatGrind   Bevel = "flat"
	ConvexGrind Bevel = "convex"
	HollowGrind Bevel = "hollow"
)

// Station is the blade at one place along its length [m]: X from the heel,
// the width from spine to edge, the thickness at the spine and at the edge.
type Station struct{ X, Width, Spine, Edge float64 }

// Tang is the part that the handle holds [m]. No length means no tang. A full
// tang carries the blade's width on; a hidden one is narrower.
type Tang struct {
	Length             float64
	Width, EndWidth    float64 // 0: full tang, as wide as the heel
	Thickness, EndThin float64 // 0: as thick as the spine at the heel
}

// Blade is a knife: stations from heel to tip, between which it tapers
// straight, a bevel and a tang.
type Blade struct {
	Stations []Station
	Grind    Bevel   // "" is flat
	Curve    float64 // how far a convex or hollow bevel leaves the straight line in its middle, per side, at the heel; elsewhere in proportion to spine less edge [m]
	Height   float64 // share of the width that is beveled, 0 < Height ≤ 1; 0 is 1: ground to the spine
	OneSided bool    // bevel on the front face only, the back is flat
	Tang     Tang
}

// Solid returns the body of the blade, with the zones edge, spine, core, tip, heel and tang.
func (b Blade) Solid() (*Solid, error) {
	if b.Grind == "" {
		b.Grind = FlatGrind
	}
	if b.Height == 0 {
		b.Height = 1
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	blade := b.Stations[len(b.Stations)-1].X - b.Stations[0].X
	total := blade + b.Tang.Length
	s := &Solid{Form: Knife, Fine: Fineness{Spine: 4, Edge: 8, Face: 2, Start: 1, End: 2}}
	heel := b.Stations[0]
	shoulder := 0.0
	if b.Tang.Length > 0 {
		shoulder = b.addTang(s, heel, total)
	}
	for _, st := range b.Stations {
		k := b.section(st)
		k.Frame.X = b.Tang.Length + st.X - heel.X
		k.U = k.Frame.X / total
		s.Sections = append(s.Sections, k)
	}
	if b.Height < 1 {
		s.Creases = []float64{1 - b.Height}
	}
	b.zones(s, shoulder/total, b.Tang.Length/total)
	return s, nil
}

func (b Blade) check() error {
	var bad problems
	if len(b.Stations) < 2 {
		bad.add("count", float64(len(b.Stations)), "at least two stations", "give the blade at the heel and at the tip")
		return bad.err()
	}
	if !(b.Height > 0 && b.Height <= 1) {
		bad.add("share", b.Height, "over 0 and at most 1", "give the share of the width that is beveled")
	}
	for i, st := range b.Stations {
		key := func(f string) string { return fmt.Sprintf("stations[%d].%s", i, f) }
		bad.within(key("width"), st.Width, 0.5e-3, thickest, "give the width from spine to edge; end a pointed blade on half a millimeter or more")
		bad.within(key("spine"), st.Spine, thinnest, thickest, "give the thickness at the spine")
		bad.within(key("edge"), st.Edge, thinnest, thickest, "give the thickness at the edge, as it is now; grind it sharp after hardening")
		if st.Edge > st.Spine {
			bad.add(key("edge"), st.Edge, fmt.Sprintf("at most the spine, %.4g mm", st.Spine*1000), "exchange edge and spine")
		}
		if i > 0 && !(st.X > b.Stations[i-1].X) {
			bad.add(key("x"), st.X, "farther from the heel than the station before", "order the stations from heel to tip")
		}
		b.checkCurve(&bad, key("curve"), st)
	}
	if l := b.Stations[len(b.Stations)-1].X - b.Stations[0].X; l > longest {
		bad.add("length", l, fmt.Sprintf("at most %.4g mm", longest*1000), "give the length of the blade")
	}
	if t := b.Tang; t.Length != 0 {
		bad.within("tang.length", t.Length, 1e-3, longest, "give the length of the tang, or none")
		for _, v := range [4]struct {
			key string
			v   float64
		}{{"tang.width", t.Width}, {"tang.end_width", t.EndWidth}, {"tang.thickness", t.Thickness}, {"tang.end_thickness", t.EndThin}} {
			if v.v != 0 {
				bad.within(v.key, v.v, 0.3e-3, thickest, "give the measure of the tang, or leave it out")
			}
		}
		if t.Width > b.Stations[0].Width {
			bad.add("tang.width", t.Width, fmt.Sprintf("at most the heel, %.4g mm", b.Stations[0].Width*1000), "narrow the tang or leave the width out for a full tang")
		}
	}
	return bad.err()
}

// checkCurve refuses bevels that cross each other or bulge past the spine.
func (b Blade) checkCurve(bad *problems, key string, st Station) {
	if b.Grind == FlatGrind {
		return
	}
	if b.Grind != ConvexGrind && b.Grind != HollowGrind {
		bad.add("grind", 0, "flat, convex or hollow", "“"+string(b.Grind)+"” is not a bevel")
		return
	}
	if !(b.Curve > 0) {
		bad.add("curve", b.Curve, "over 0 mm", "give how far the bevel leaves the straight line in its middle")
		return
	}
	sides := 2.0
	if b.OneSided {
		sides = 1
	}
	for i := 1; i < bevelSteps; i++ {
		t := float64(i) / bevelSteps
		thick := st.Spine + t*(st.Edge-st.Spine) + sides*b.bulge(st, t)
		if thick < 0.5*st.Edge {
			bad.add(key, b.Curve, "small enough that the bevels do not cross", "take a larger wheel, a lower bevel or a thicker edge")
			return
		}
		if thick > st.Spine*(1+1e-9) {
			bad.add(key, b.Curve, "small enough that the belly stays within the spine", "take a flatter belly")
			return
		}
	}
}

const bevelSteps = 16

// bulge returns how far the bevel stands out of the straight line at share t of
// its height, a parabola with its greatest height in the middle [m].
func (b Blade) bulge(st Station, t float64) float64 {
	heel := b.Stations[0]
	curve := b.Curve
	if fall := heel.Spine - heel.Edge; fall > 0 {
		curve *= (st.Spine - st.Edge) / fall
	}
	switch b.Grind {
	case ConvexGrind:
		return 4 * curve * t * (1 - t)
	case HollowGrind:
		return -4 * curve * t * (1 - t)
	}
	return 0
}

// section returns the cross-section at a station. The spine runs straight, at
// half the heel's width above the axis; where the blade narrows, the edge comes up to it.
func (b Blade) section(st Station) Section {
	n := bevelSteps * 4
	top, bottom := make([]Point, n+1), make([]Point, n+1)
	for i := range top {
		v := float64(i) / float64(n)
		z := st.Spine / 2
		down := 0.0 // how far the front face lies below the spine's
		if t := (v - (1 - b.Height)) / b.Height; t > 0 {
			down = t*(st.Spine-st.Edge)/2 - b.bulge(st, t)
			if b.OneSided {
				down = t*(st.Spine-st.Edge) - b.bulge(st, t)
			}
		}
		y := v*st.Width - b.Stations[0].Width/2
		top[i], bottom[i] = Point{y, z - down}, Point{y, -z + down}
		if b.OneSided {
			bottom[i].Z = -z
		}
	}
	return Section{Top: top, Bottom: bottom, Back: []Point{bottom[0], top[0]}, Front: []Point{bottom[n], top[n]}}
}

// addTang puts the tang's sections before the heel and returns where its shoulder starts [m].
func (b Blade) addTang(s *Solid, heel Station, total float64) float64 {
	t := b.Tang
	if t.Width == 0 {
		t.Width = heel.Width
	}
	if t.EndWidth == 0 {
		t.EndWidth = t.Width
	}
	if t.Thickness == 0 {
		t.Thickness = heel.Spine
	}
	if t.EndThin == 0 {
		t.EndThin = t.Thickness
	}
	// The shoulder is a loft from tang to heel, as long as the step is high, at most a fifth of the tang.
	shoulder := math.Min(math.Max((heel.Width-t.Width)/2, 1e-3), t.Length/5)
	a, c := rectangle(t.EndWidth, t.EndThin), rectangle(t.Width, t.Thickness)
	c.Frame.X = t.Length - shoulder
	c.U = c.Frame.X / total
	s.Sections = append(s.Sections, a, c)
	return c.Frame.X
}

// zones names the parts of the blade: the edge is its last millimeter or a
// twentieth of the width, whichever is more, away from heel and tip.
func (b Blade) zones(s *Solid, shoulder, heel float64) {
	blade := 1 - heel
	mid := b.Stations[0]
	for _, st := range b.Stations {
		if st.X <= 0.75*b.Stations[len(b.Stations)-1].X {
			mid = st // the last full section before the tip
		}
	}
	e := math.Max(0.05, math.Min(0.5, 1e-3/mid.Width))
	s.Cut = heel + 0.45*blade
	u0, u1 := heel+0.12*blade, heel+0.92*blade
	s.Zones = []Zone{
		{"edge", []Box{{u0, u1, 1 - e, 1, -1, 1}}},
		{"spine", []Box{{u0, u1, 0, 0.12, -1, 1}}},
		{"core", []Box{{u0, u1, 0.2, 0.5, -0.3, 0.3}}},
		{"tip", []Box{{u1, 1, 0, 1, -1, 1}}},
		{"heel", []Box{{heel, u0, 1 - 2*e, 1, -1, 1}}},
	}
	if heel > 0 {
		s.Zones = append(s.Zones, Zone{"tang", []Box{{0, shoulder, 0, 1, -1, 1}}})
	}
}
