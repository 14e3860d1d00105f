package skin

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/medium"
)

func alone(int) ([]int32, []float64) { return []int32{0}, []float64{1} }

// Forging a bar to half its thickness halves scale and soft skin, and the carbon
// down to the middle with them (derived: the metal stays what it is).
func TestCarryStretchesTheSkin(t *testing.T) {
	s, st := march(t, Patch{Steel: plain(0.95), Half: 6e-3}, 1100, 600, 1, medium.OpenAir)
	d := []float64{0}
	s.DecarbDepth(d, st, 0.9)
	before, oxide, content := d[0], st.Oxide[0], 0.0
	n, now := Carry(s, st, []Patch{{Steel: plain(0.95)}}, alone, func(int) float64 { return 0.5 })
	was := st.Clone()
	s.settle(was, 0)
	content = s.content(was, 0, 0, was.half[0])
	if have := n.content(now, 0, 0, now.half[0]); math.Abs(have-content/2) > 1e-9*content {
		t.Errorf("carbon to the middle %.9g, want %.9g", have, content/2)
	}
	n.DecarbDepth(d, now, 0.9)
	if math.Abs(d[0]-before/2) > 0.03*before || now.Oxide[0] != oxide/2 {
		t.Errorf("soft skin %.0f → %.0f µm, scale %.0f → %.0f µm", before*1e6, d[0]*1e6, oxide*1e6, now.Oxide[0]*1e6)
	}
	if math.Abs(now.Gone[0]-was.Gone[0]/2) > 1e-12 {
		t.Errorf("carbon gone %g, want half of %g over twice the area", now.Gone[0], was.Gone[0])
	}
}

// A patch that two old ones share has the mean of their carbon; one that none
// lies on is as fresh as ground steel (derived).
func TestCarryMixesAndBeginsAnew(t *testing.T) {
	bar := Patch{Steel: plain(0.8), Half: 3e-3}
	s := New([]Patch{bar, bar})
	st := s.Start()
	for range 60 {
		s.Step(st, st, []float64{1000 + kelvin, 20 + kelvin}, 10, medium.OpenAir)
	}
	from := func(i int) ([]int32, []float64) {
		if i == 1 {
			return nil, nil
		}
		return []int32{0, 1}, []float64{0.25, 0.75}
	}
	n, now := Carry(s, st, []Patch{{Steel: plain(0.8)}, {Steel: plain(0.8), Half: 1e-3}}, from, func(int) float64 { return 1 })
	was := st.Clone()
	s.settle(was, 0)
	const depth = 0.2e-3
	want := 0.25*s.content(was, 0, 0, depth) + 0.75*s.content(was, 1, 1, depth)
	if have := n.content(now, 0, 0, depth); math.Abs(have-want) > 0.002*want {
		t.Errorf("carbon to %g mm is %.6g, want %.6g", depth*1e3, have, want)
	}
	if want > 0.79*depth {
		t.Error("the test burns no carbon")
	}
	if now.Oxide[1] != firstOxide || math.Abs(n.content(now, 1, 1, 1e-3)-0.8e-3) > 1e-9 || now.Finish[1] != Ground {
		t.Error("the fresh patch is not fresh")
	}
	// The same piece again: nothing changes.
	same, again := Carry(s, was, []Patch{{Steel: plain(0.8)}, {Steel: plain(0.8)}}, func(i int) ([]int32, []float64) { return []int32{int32(i)}, []float64{1} }, func(int) float64 { return 1 })
	if a, b := same.content(again, 0, 0, again.half[0]), s.content(was, 0, 0, was.half[0]); math.Abs(a-b) > 1e-9*b {
		t.Errorf("an act that changes nothing changed the carbon from %g to %g", b, a)
	}
}
