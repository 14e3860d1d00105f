package skin

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
)

// Grinding to the allowance leaves sound steel at the surface, and a second look agrees.
func TestGrindToClean(t *testing.T) {
	s, st := march(t, Patch{Steel: plain(0.95), Half: 3e-3}, 1000, 600, 1, medium.OpenAir)
	d := []float64{0}
	s.GrindingAllowance(d, st)
	if d[0] < 0.1e-3 {
		t.Fatalf("ten minutes at 1000 °C leave %.0f µm of soft skin; the test needs some", d[0]*1e6)
	}
	s.Grind(st, 0, d[0], Ground)
	after := []float64{0}
	s.GrindingAllowance(after, st)
	if after[0] > 0.04*d[0] {
		t.Errorf("after taking %.0f µm off, %.0f µm more are asked for", d[0]*1e6, after[0]*1e6)
	}
	if st.Oxide[0] != firstOxide || st.Finish[0] != Ground {
		t.Error("ground steel still wears its scale")
	}
	// Half the allowance leaves half the depth.
	s, st = march(t, Patch{Steel: plain(0.95), Half: 3e-3}, 1000, 600, 1, medium.OpenAir)
	s.Grind(st, 0, d[0]/2, Ground)
	s.GrindingAllowance(after, st)
	if math.Abs(after[0]-d[0]/2) > 0.04*d[0] {
		t.Errorf("after half the allowance %.0f µm remain, want %.0f", after[0]*1e6, d[0]/2*1e6)
	}
}

// Oxygen hardly changes the depth of decarburization while scale falls with it
// (wright-2010, summary): less oxygen saves scale and no carbon.
func TestLessOxygenDoesNotPreventDecarb(t *testing.T) {
	depth := func(air medium.Atmosphere) (decarb, scale float64) {
		s, st := march(t, Patch{Steel: plain(0.95), Half: 6e-3}, 900, 1800, 1, air)
		d := []float64{0}
		s.DecarbDepth(d, st, 0.9)
		return d[0], st.Oxide[0]
	}
	airD, airS := depth(medium.OpenAir)
	richD, richS := depth(medium.Rich)
	if richD < airD || richD > 1.5*airD || richS > 0.8*airS {
		t.Errorf("air: %.0f µm decarb, %.0f µm scale; rich: %.0f and %.0f", airD*1e6, airS*1e6, richD*1e6, richS*1e6)
	}
}

// A bar with bark starts with it; carbon from none to 2 %, sections from 1 to
// 100 mm, seconds to hours, cold and hot: nothing is NaN or negative.
func TestAwkwardCases(t *testing.T) {
	s := New([]Patch{{Steel: plain(0.6), Half: 5e-3, Finish: Scaled, Bark: 0.3e-3}})
	d := []float64{0}
	s.DecarbDepth(d, s.Start(), 0.9)
	if math.Abs(d[0]-0.3e-3) > 0.01e-3 {
		t.Errorf("bark of 300 µm reads %.0f µm", d[0]*1e6)
	}
	for _, c := range []float64{0, 0.02, 0.77, 1.2, 2} {
		for _, half := range []float64{0.1e-3, 0.5e-3, 50e-3} {
			for _, Tc := range []float64{-20, 300, 640, 727, 800, 912, 1250, 1500} {
				for _, dt := range []float64{0.01, 60, 3600} {
					s, st := march(t, Patch{Steel: plain(c), Half: half}, Tc, 3*dt, dt, medium.OpenAir)
					s.DecarbDepth(d, st, 0.9)
					if !(d[0] >= 0 && d[0] <= half) || !(st.Oxide[0] >= firstOxide) {
						t.Fatalf("C %v, half %v, %v °C, %v s: depth %v, oxide %v", c, half, Tc, dt, d[0], st.Oxide[0])
					}
					for j, x := range st.Carbon {
						// One implicit step of a minute or an hour may overshoot a little.
						if over := 2e-3 + 0.025*c*min(1, dt/60); !(x > -over && x < c+over) {
							t.Fatalf("C %v, half %v, %v °C, %v s: node %d holds %v", c, half, Tc, dt, j, x)
						}
					}
				}
			}
		}
	}
}

// Longer, hotter: never less scale, never less soft skin (short of the surface running away with it).
func TestMoreHeatIsNeverLess(t *testing.T) {
	last, lastScale := 0.0, 0.0
	for _, Tc := range []float64{700, 750, 800, 850, 900, 950, 1000, 1100, 1200} {
		s, st := march(t, Patch{Steel: plain(0.9), Half: 10e-3}, Tc, 600, 2, medium.OpenAir)
		d := []float64{0}
		s.DecarbDepth(d, st, 0.9)
		if d[0] < last || st.Oxide[0] < lastScale {
			t.Errorf("%v °C: %.0f µm decarb, %.0f µm scale, less than cooler", Tc, d[0]*1e6, st.Oxide[0]*1e6)
		}
		last, lastScale = d[0], st.Oxide[0]
	}
}

func TestClaimsNameTheirSources(t *testing.T) {
	for _, a := range Accuracy() {
		if _, ok := cite.Find(a.Source); !ok || a.Half <= 0 || a.Covers == "" || a.HeldTo == "" {
			t.Errorf("claim %+v is incomplete", a)
		}
	}
}

// carbideRich has austenite that takes up little of the bar's carbon, as in steels with much chromium.
type carbideRich struct{}

func (carbideRich) Ae1() (start, end float64)   { return 793 + kelvin, 805 + kelvin }
func (carbideRich) CarbideSide(float64) float64 { return 0.45 }

// Carbide is a store: the front moves slower by about √(C0/C dissolved), and
// below its Ae1 such steel loses next to nothing.
func TestCarbideIsAStore(t *testing.T) {
	depth := func(limits func(steel.Composition) Limits, Tc float64) float64 {
		s := NewWithin([]Patch{{Steel: plain(1.5), Half: 10e-3}}, limits)
		st := s.Start()
		for range 1800 {
			s.Step(st, st, []float64{Tc + kelvin}, 1, medium.OpenAir)
		}
		d := []float64{0}
		s.DecarbDepth(d, st, 0.5)
		return d[0]
	}
	rich := func(steel.Composition) Limits { return carbideRich{} }
	plainDepth, richDepth := depth(nil, 1000), depth(rich, 1000)
	if r := richDepth / plainDepth; r < 0.2 || r > 0.75 {
		t.Errorf("half-carbon depth %.0f µm with carbide, %.0f without", richDepth*1e6, plainDepth*1e6)
	}
	if d := depth(rich, 780); d > 0.6*depth(nil, 780) {
		t.Errorf("below its Ae1 it loses %.0f µm", d*1e6)
	}
}

// The file: a knife of 0.84 % carbon soaked bare for ten minutes at 815 °C wears a
// soft skin of some hundredths of a millimeter, and ground clean it wears none.
func TestSoftSkin(t *testing.T) {
	s, st := march(t, Patch{Steel: plain(0.84), Half: 1e-3}, 815, 600, 1, medium.OpenAir)
	soft, decarb := []float64{0}, []float64{0}
	s.SoftSkin(soft, st)
	s.DecarbDepth(decarb, st, 0.9)
	if soft[0] < 10e-6 || soft[0] > 80e-6 || soft[0] >= decarb[0] {
		t.Errorf("soft skin %.0f µm, decarburized to %.0f µm", soft[0]*1e6, decarb[0]*1e6)
	}
	s.Grind(st, 0, decarb[0], Ground)
	if s.SoftSkin(soft, st); soft[0] != 0 {
		t.Errorf("ground clean it still wears %.0f µm", soft[0]*1e6)
	}
}

// A reading tells what stands, settled or not, and changes nothing: the depth read
// after a heat is the depth read when the piece has cooled.
func TestReadingsAreUpToDate(t *testing.T) {
	s := New([]Patch{{Steel: plain(0.84), Half: 2e-3, Finish: Scaled, Bark: 0.15e-3}})
	st := s.Start()
	for range 228 {
		s.Step(st, st, []float64{815 + kelvin}, 1, medium.OpenAir)
	}
	if st.wait[0] == 0 {
		t.Fatal("nothing waits: the test needs an exposure that is not settled")
	}
	was := st.Clone()
	before, after := []float64{0}, []float64{0}
	s.DecarbDepth(before, st, 0.9)
	if st.wait[0] != was.wait[0] || st.Carbon[3] != was.Carbon[3] || st.Gone[0] != was.Gone[0] {
		t.Error("a reading changed the state")
	}
	s.Step(st, st, []float64{400}, 1, medium.OpenAir)
	s.DecarbDepth(after, st, 0.9)
	if math.Abs(before[0]-after[0]) > 1e-9 {
		t.Errorf("%.2f µm at heat, %.2f µm when cooled", before[0]*1e6, after[0]*1e6)
	}
}
