package skin

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
)

// stepGas decarburizes without scale: the surface is held at no carbon.
func exposeHeld(s *Skin, st *State, T, seconds, dt, loss float64) {
	r := s.steels[s.of[0]]
	for n := int(math.Round(seconds / dt)); n > 0; n-- {
		D := at(r.diff, T)
		st.wait[0] += D * dt
		st.waitT[0] += D * dt * T
		st.gas[0], st.beta[0] = 0, 0
		t1 := float64(int(math.Round(seconds/dt))-n+1) * dt
		st.eat[0] += loss * (math.Sqrt(t1) - math.Sqrt(t1-dt))
		if first := s.first[0]; st.wait[0] > max(first*first, pace*st.span[0]) {
			s.settle(st, 0)
		}
	}
	s.settle(st, 0)
}

// Where steel is wholly austenite, the profile is the error function:
// C = C0·erf(x/2√(Dt)). Within 1 % of the bar's carbon at every node.
func TestProfileIsTheErrorFunction(t *testing.T) {
	for _, Tc := range []float64{950, 1000, 1100, 1200} {
		for _, minutes := range []float64{1, 5, 30, 60} {
			s := New([]Patch{{Steel: plain(1.0), Half: 20e-3}})
			st := s.Start()
			T := Tc + kelvin
			exposeHeld(s, st, T, minutes*60, 1, 0)
			D := agren(T, 0.5)
			worst := 0.0
			var x, c [Nodes]float64
			s.Profile(x[:], c[:], st, 0)
			for j := range Nodes {
				worst = max(worst, math.Abs(c[j]-math.Erf(x[j]/(2*math.Sqrt(D*minutes*60)))))
			}
			if worst > 0.01 {
				t.Errorf("%v °C, %v min: off the error function by %.4f of C0", Tc, minutes, worst)
			}
			depth := []float64{0}
			s.DecarbDepth(depth, st, 0.9)
			if want := ninety * math.Sqrt(D*minutes*60); math.Abs(depth[0]-want) > 0.02*want {
				t.Errorf("%v °C, %v min: %.1f µm to 90 %%, want %.1f", Tc, minutes, depth[0]*1e6, want*1e6)
			}
		}
	}
}

// With the surface receding as √t: C = C0 − C0·erfc(x/2√(Dt))/erfc(√(kc/2D)),
// x from the original surface (birks-1970, from memory). Depths to 90 and 50 %
// below the final surface, µm, of 1.0 % C at k_p of pure iron (computed from
// those formulas).
func TestRecedingSurface(t *testing.T) {
	for _, row := range []struct {
		Tc    float64
		depth [3][2]float64 // 5, 10, 30 min: 90 %, 50 %
	}{
		{1000, [3][2]float64{{198, 76}, {280, 107}, {485, 185}}},
		{1100, [3][2]float64{{317, 120}, {448, 170}, {776, 295}}},
		{1200, [3][2]float64{{475, 179}, {671, 254}, {1162, 439}}},
		{1250, [3][2]float64{{569, 215}, {805, 303}, {1395, 526}}},
	} {
		for i, minutes := range []float64{5, 10, 30} {
			s := New([]Patch{{Steel: plain(1.0), Half: 20e-3}})
			st := s.Start()
			T := row.Tc + kelvin
			loss := math.Sqrt(Paidassi(T)) * metalPerOxygen * 1e-2 // [m/√s]
			exposeHeld(s, st, T, minutes*60, 1, loss)
			for k, share := range []float64{0.9, 0.5} {
				d := []float64{0}
				s.DecarbDepth(d, st, share)
				if got, want := d[0]*1e6, row.depth[i][k]; math.Abs(got-want) > 0.02*want+1 {
					t.Errorf("%v °C, %v min, %v: %.0f µm, want %.0f", row.Tc, minutes, share, got, want)
				}
			}
		}
	}
}

// Below 912 °C ferrite and carbide slow the loss: the single-phase depth is an
// upper bound, and just below 912 °C nearly reached.
func TestTwoPhaseSkinIsShallower(t *testing.T) {
	for _, Tc := range []float64{800, 850, 900} {
		for _, minutes := range []float64{5, 10, 30} {
			s, st := march(t, Patch{Steel: plain(1.0), Half: 20e-3}, Tc, minutes*60, 1, medium.OpenAir)
			d := []float64{0}
			s.DecarbDepth(d, st, 0.9)
			bound := onePhase(1.0, Tc+kelvin, minutes*60)
			if got := d[0]; got > 1.01*bound || got < 0.6*bound {
				t.Errorf("%v °C, %v min: %.0f µm to 90 %%, single-phase bound %.0f", Tc, minutes, got*1e6, bound*1e6)
			}
		}
	}
}

// onePhase returns the depth to 90 % of carbon c0 under this package's scale [m]
// by the formula of TestRecedingSurface.
func onePhase(c0, T, seconds float64) float64 {
	kc := scaleRate(T, plain(c0)) * metalPerScale * metalPerScale / 2
	D := agren(T, c0/2)
	lo, hi := 0.0, 10.0
	for range 60 {
		z := (lo + hi) / 2
		if (c0-underScale)*math.Erfc(z)/math.Erfc(math.Sqrt(kc/2/D)) > 0.1*c0 {
			lo = z
		} else {
			hi = z
		}
	}
	return 2*lo*math.Sqrt(D*seconds) - math.Sqrt(2*kc*seconds)
}

// Carbon left + carbon gone to gas and scale + carbon in the chips = the bar's
// carbon, whatever happens: heats, cooling, scale, thin edges, grinding, reducing gas.
func TestCarbonCloses(t *testing.T) {
	patches := []Patch{
		{Steel: plain(0.95), Half: 0.2e-3, Finish: Ground}, {Steel: plain(0.84), Half: 1e-3, Finish: Scaled},
		{Steel: plain(1.2), Half: 12e-3}, {Steel: plain(0.45), Half: 0.6e-3},
	}
	s := New(patches)
	st := s.Start()
	T := make([]float64, len(patches))
	airs := []medium.Atmosphere{medium.OpenAir, medium.Rich, medium.Neutral, {CO: 0.3, CO2: 0.01, Free: 1}}
	for n := range 4000 {
		for i := range T {
			T[i] = kelvin + 700 + 400*math.Sin(float64(n)/150+float64(i))
		}
		s.Step(st, st, T, 0.7, airs[n/100%len(airs)])
		if n == 2000 {
			s.Grind(st, 1, 0.1e-3, Ground)
			s.Grind(st, 2, 0.3e-3, Ground)
		}
	}
	for i := range patches {
		s.settle(st, i)
		have := s.content(st, i, i, st.half[i])
		want := patches[i].Steel[steel.C] * patches[i].Half
		if off := math.Abs(have+st.Gone[i]+st.Chips[i]-want) / want; off > 1e-6 {
			t.Errorf("patch %d: carbon off by %.1e of the bar's", i, off)
		}
		if chips := st.Chips[i] > 0; chips != (i == 1 || i == 2) {
			t.Errorf("patch %d: %.1e wt%%·m went with the chips", i, st.Chips[i])
		}
		if st.Gone[i] < 0.01*want {
			t.Errorf("patch %d: the test moves no carbon (%.1e of %.1e)", i, st.Gone[i], want)
		}
	}
}

// In a thin section both fronts meet, and the middle loses carbon too. Against
// the series for a slab held at no carbon: C = (4C0/π) Σ sin((2n+1)πx/2L)/(2n+1)·exp(−((2n+1)π/2L)²Dt).
func TestThinSectionIsTwoSided(t *testing.T) {
	half, T := 0.25e-3, 1000+kelvin
	s := New([]Patch{{Steel: plain(1.0), Half: half}})
	st := s.Start()
	exposeHeld(s, st, T, 1200, 1, 0)
	Dt := agren(T, 0.5) * 1200
	var x, c [Nodes]float64
	s.Profile(x[:], c[:], st, 0)
	for j := range Nodes {
		want := 0.0
		for n := range 40 {
			k := float64(2*n+1) * math.Pi / (2 * half)
			want += 4 / math.Pi / float64(2*n+1) * math.Sin(k*x[j]) * math.Exp(-k*k*Dt)
		}
		if math.Abs(c[j]-want) > 0.01 {
			t.Errorf("x = %.0f µm: %.4f %% C, want %.4f", x[j]*1e6, c[j], want)
		}
	}
}

// A carbon potential: 900 °C, K = 32.7; 20 % CO with 0.2 % CO2 keeps about 0.82 %
// carbon, with 8 % CO2 almost none (gunnarson-1967, from memory).
func TestCarbonPotential(t *testing.T) {
	T := 900 + kelvin
	if k := boudouard(T); math.Abs(k-32.7) > 0.2 {
		t.Errorf("K(900 °C) = %.2f, want 32.7", k)
	}
	r := newRates(plain(1), nil)
	for _, row := range []struct{ co, co2, want, within float64 }{{0.2, 0.002, 0.82, 0.02}, {0.2, 0.08, 0.03, 0.01}} {
		if c := potentialCarbon(&medium.Atmosphere{CO: row.co, CO2: row.co2, Free: 1}, T, r); math.Abs(c-row.want) > row.within {
			t.Errorf("CO %v, CO2 %v: %.3f %% C, want %v", row.co, row.co2, c, row.want)
		}
	}
}

// Ågren's formula against the values of 0.8 % C that two other published
// formulas bracket within 15 % (tibbetts-1980, lee-2011; from memory).
func TestCarbonDiffusivity(t *testing.T) {
	for _, row := range []struct{ Tc, want float64 }{{800, 3.91e-12}, {1000, 4.40e-11}, {1200, 2.57e-10}} {
		if D := agren(row.Tc+kelvin, 0.8); math.Abs(D/row.want-1) > 0.005 {
			t.Errorf("%v °C: %.3g, want %.3g", row.Tc, D, row.want)
		}
	}
}

// A march stopped, copied and taken up again gives the same bits as one that was not.
func TestForkIsExact(t *testing.T) {
	s := New([]Patch{{Steel: plain(1), Half: 1e-3}, {Steel: plain(1), Half: 0.1e-3, Finish: Polished}})
	run := func(st *State, from, to int) *State {
		for n := from; n < to; n++ {
			s.Step(st, st, []float64{600 + float64(n), 1500 - float64(n)}, 1.3, medium.OpenAir)
		}
		return st
	}
	straight := run(s.Start(), 0, 900)
	forked := run(run(s.Start(), 0, 333).Clone(), 333, 900)
	for i := range straight.Carbon {
		if straight.Carbon[i] != forked.Carbon[i] {
			t.Fatalf("carbon %d differs", i)
		}
	}
	if straight.Oxide[1] != forked.Oxide[1] || straight.Lost[0] != forked.Lost[0] {
		t.Fatal("oxide differs")
	}
	if n := testing.AllocsPerRun(100, func() { s.Step(straight, forked, []float64{1100, 1100}, 1, medium.OpenAir) }); n != 0 {
		t.Errorf("a step allocates %v times", n)
	}
}

// BenchmarkHeat is one hardening heat of a knife section: 44 patches, 300 steps to 815 °C and 5 min soak.
func BenchmarkHeat(b *testing.B) {
	patches := make([]Patch, 44)
	for i := range patches {
		patches[i] = Patch{Steel: plain(0.84), Half: 0.2e-3 + float64(i)*30e-6}
	}
	s := New(patches)
	T := make([]float64, len(patches))
	start, st := s.Start(), s.Start()
	b.ReportAllocs()
	for b.Loop() {
		st.Copy(start)
		for n := range 400 {
			for i := range T {
				T[i] = min(1088, 300+float64(n)*8)
			}
			s.Step(st, st, T, 1.5, medium.OpenAir)
		}
	}
}

// What a profile misses is what has gone, less the bar's carbon in the metal that
// burnt; and it misses nothing that Moved does not tell of.
func TestMissingCarbon(t *testing.T) {
	s := New([]Patch{{Steel: plain(0.95), Half: 0.25e-3}, {Steel: plain(0.84), Half: 3e-3}, {Steel: plain(1.1), Half: 12e-3}})
	st := s.Start()
	before, was := st.Clone(), 0.0
	for n := range 900 {
		before.Copy(st)
		T := 1090 + float64(n%300)/3
		s.Step(st, st, []float64{T, T - 100, T + 100}, 1, medium.OpenAir)
		now := s.Missing(st, 0, 0, 1)
		if now != was && !s.Moved(st, before, 0) {
			t.Fatalf("step %d: %g wt%%·m missing after %g, and nothing has moved", n, now, was)
		}
		was = now
	}
	for i := range 3 {
		s.settle(st, i)
		parts := 0.0
		for k := range 40 {
			parts += s.Missing(st, i, float64(k)*1e-4, float64(k+1)*1e-4)
		}
		want := st.Gone[i] - s.Bar(i)*st.Lost[i]
		if got := s.Missing(st, i, 0, 1); math.Abs(got-want) > 1e-6*want || math.Abs(parts-got) > 1e-9*got {
			t.Errorf("patch %d: %.4e missing, %.4e in parts, want %.4e wt%%·m", i, got, parts, want)
		}
	}
}
