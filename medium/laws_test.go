package medium

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Every law's dq is the derivative of its q, for bare and coated faces, so that
// Newton steps on it converge.
func TestDerivatives(t *testing.T) {
	air := StillAir(293.15, 0.03, Upright)
	laws := map[string]Law{
		"still air":  air,
		"moving air": MovingAir(293.15, 0.012, Lying, 3),
		"forge":      &Enclosure{Wall: 1473, Gas: 1600, H: 60, Share: 0.1, Hot: 1700, HotView: 0.1, Toward: [3]float64{0, 0, 1}, Asymmetry: 0.5},
		"contact":    &Contact{T: 293, H: 1500},
		"torch":      &Torch{Peak: 4e5, Radius: 0.01, Toward: [3]float64{0, 0, 1}, Rest: air},
		"patchwork":  &Patchwork{Parts: []Part{{Region{Looking: [3]float64{0, 0, 1}}, &Contact{T: 293, H: 500}}}, Else: air},
	}
	for _, k := range Quenchants() {
		for _, stir := range []Stir{Still, Gentle, Vigorous} {
			laws[string(k)+string(rune('0'+stir))] = Immersion{Kind: k, T: 323.15, Stir: stir, Tau: 0.05, Front: 0.02, Above: air}.Law()
		}
	}
	laws["own curve"] = Immersion{Kind: FastOil, T: 323.15, Own: &Generator{Film: 930, Peak: 4340, At: 504 + CelsiusZero, Below: 127, Above: 116, Conv: 0.88, Bath: 323.15}}.Law()
	one := func(v float64) []float64 { return []float64{v} }
	for name, law := range laws {
		folds := 0
		for _, R := range []float64{0, 2e-5, 1e-3} {
			for T := 283.0; T < 1500; T += 7.3 {
				at := func(T float64) (q, dq float64) {
					a, b := one(0), one(0)
					law.Fill(a, b, &Faces{T: one(T), R: one(R), X: one(0.001), Y: one(0), Z: one(0.0015), NX: one(0), NY: one(0), NZ: one(1), Wet: one(0.04), Away: one(0.0005)})
					return a[0], b[0]
				}
				const e = 1e-3
				q, dq := at(T)
				hi, _ := at(T + e)
				lo, _ := at(T - e)
				if math.IsNaN(q) || math.IsNaN(dq) {
					t.Fatalf("%s at %g K: q %g dq %g", name, T, q, dq)
				}
				num := (hi - lo) / (2 * e)
				if R == 1e-3 && (math.Abs(hi-lo) > 0.05*math.Abs(q) || math.Abs(num) > 20/R) {
					folds++ // where the vapor under a thick coat collapses the flux jumps
					continue
				}
				if math.Abs(num-dq) > 0.02*math.Abs(dq)+2+3e-7*math.Abs(q) {
					t.Errorf("%s, R %g, at %g K: dq %.5g, by difference %.5g", name, R, T, dq, num)
				}
			}
		}
		if folds > 2 {
			t.Errorf("%s: %d jumps under a thick coat", name, folds)
		}
	}
}

// A coat is a resistance in series: q = g(T − qR) exactly, and clay slows a quench.
func TestCoatInSeries(t *testing.T) {
	oil := bathAt(FastOil, 50)
	q, dq := []float64{0}, []float64{0}
	for _, R := range []float64{1e-5, 2.5e-4, 5e-3} {
		for T := 330.0; T < 1100; T += 11 {
			oil.Fill(q, dq, &Faces{T: []float64{T}, R: []float64{R}})
			want, _ := oil.at(&Faces{T: []float64{T}}, 0, T-q[0]*R)
			if math.Abs(q[0]-want) > 1e-6*math.Abs(want)+1e-3 {
				t.Errorf("R %g at %g K: %g through the coat, %g off its surface", R, T, q[0], want)
			}
		}
	}
	// 3 mm of clay, k 0.6: h under 200 W/m²K whatever the bath (own derivation: 1/R).
	oil.Fill(q, dq, &Faces{T: []float64{1073.15}, R: []float64{0.005}})
	if h := q[0] / (1073.15 - 323.15); h > 200 {
		t.Errorf("clay lets %g W/m²K through", h)
	}
}

// Fin along the width of a wedge, 25 mm wide, 0.4 to 4 mm thick, still air of
// 20 °C, ε 0.8, austenite, from 815 °C: edge at 1, 2, 4, 6, 8 s 763, 731, 687, 654,
// 628 °C (a second calculation gave 765, 735, 692, 661, 636: accept ±8 K); spine 799, 788, 766, 745, 725.
func TestEdgeFedByItsSpine(t *testing.T) {
	const n, width, rho = 60, 0.025, 7650.
	law := StillAir(293.15, width, Upright)
	T := make([]float64, n)
	for i := range T {
		T[i] = 815 + CelsiusZero
	}
	q, dq := make([]float64, n), make([]float64, n)
	thick := func(x float64) float64 { return 0.0004 + (0.004-0.0004)*x/width }
	dx := width / n
	want := map[int][2]float64{1000: {763, 799}, 2000: {731, 788}, 4000: {687, 766}, 6000: {654, 745}, 8000: {628, 725}}
	next := make([]float64, n)
	for step := 1; step <= 8000; step++ { // explicit, 1 ms
		law.Fill(q, dq, &Faces{T: T})
		for i := range T {
			cp, _ := austeniteCp.at(T[i])
			k, _ := austeniteK.at(T[i])
			flow := -2 * q[i] * dx
			if i > 0 {
				flow += k * thick(float64(i)*dx) * (T[i-1] - T[i]) / dx
			}
			if i == 0 {
				flow -= q[i] * thick(0) // the edge itself
			}
			if i == n-1 {
				flow -= q[i] * thick(width) // the back of the spine
			}
			if i < n-1 {
				flow += k * thick(float64(i+1)*dx) * (T[i+1] - T[i]) / dx
			}
			next[i] = T[i] + 0.001*flow/(rho*cp*thick((float64(i)+0.5)*dx)*dx)
		}
		copy(T, next)
		if w, ok := want[step]; ok {
			edge, spine := inC(T[0]), inC(T[n-1])
			t.Logf("%d s: edge %.0f (%.0f), spine %.0f (%.0f) °C", step/1000, edge, w[0], spine, w[1])
			if math.Abs(edge-w[0]) > 8 || math.Abs(spine-w[1]) > 8 {
				t.Errorf("%d s: edge %.1f, spine %.1f °C; expected %.0f, %.0f ± 8", step/1000, edge, spine, w[0], w[1])
			}
		}
	}
}

// Steel at 820 °C pressed on aluminum of 20 °C meets at 296 °C; at 1100 °C on a
// steel anvil at 549 °C (carslaw-jaeger-1959, effusivities 11 800, 22 290; 11 761, 12 238).
func TestTouch(t *testing.T) {
	if got := Touch(820, 11800, 20, 22290); math.Abs(got-296) > 2 {
		t.Errorf("on aluminum %.1f °C", got)
	}
	if got := Touch(1100, 11761, 20, 12238); math.Abs(got-549) > 1 {
		t.Errorf("on the anvil %.1f °C", got)
	}
}

// Warmer water keeps its vapor longer; stirring and salt break it up; no setting
// turns the order around.
func TestOrderOfLiquids(t *testing.T) {
	at := func(im Immersion, c float64) float64 { return im.Law().Coefficient(c + CelsiusZero) }
	before := math.Inf(1)
	for bath := 10.0; bath <= 90; bath += 10 {
		h := at(Immersion{Kind: Water, T: bath + CelsiusZero}, 500)
		if h > before {
			t.Errorf("water at %g °C: h(500 °C) rises to %g", bath, h)
		}
		before = h
	}
	for _, k := range Quenchants() {
		for c := 150.0; c < 850; c += 50 {
			still, hard := at(Immersion{Kind: k, T: 313}, c), at(Immersion{Kind: k, T: 313, Stir: Vigorous}, c)
			if hard < still*0.999 {
				t.Errorf("%s at %g °C: %g stirred, %g at rest", k, c, hard, still)
			}
		}
	}
	for c := 500.0; c < 850; c += 25 {
		w, b := at(Immersion{Kind: Water, T: 293}, c), at(Immersion{Kind: Brine, T: 293}, c)
		if b < w {
			t.Errorf("brine %g under water %g at %g °C", b, w, c)
		}
	}
}

// A blade let down edge first, then in: the edge is wet at once, the spine when
// the rest follows, nothing before it is under, nothing after it is out.
func TestDip(t *testing.T) {
	f := &Faces{T: make([]float64, 3), Y: []float64{0, 0.015, 0.030}} // spine 0, edge 30 mm down
	d := Dip{Down: [3]float64{0, 1, 0}, Speed: 0.1, Depth: 0.010, Then: 2, Out: 5}
	low := d.Lowest(f)
	wet := make([]float64, 3)
	d.Wet(wet, f, low, 0.5)
	if wet[2] != 0.5 || wet[1] != -1 || wet[0] != -1 {
		t.Errorf("at 0.5 s %v", wet)
	}
	d.Wet(wet, f, low, 3)
	if math.Abs(wet[0]-0.8) > 1e-12 || math.Abs(wet[1]-0.95) > 1e-12 || wet[2] != 3 {
		t.Errorf("at 3 s %v", wet)
	}
	d.Wet(wet, f, low, 6)
	for _, w := range wet {
		if w != -1 {
			t.Errorf("out at 6 s %v", wet)
		}
	}
}

// Until the wetting front has come by, a patch stays on the vapor film; behind it
// the wetted curve holds; below the film's end there is no film to wait for. First
// contact grows with its time.
func TestWettingFrontAndFirstContact(t *testing.T) {
	law := Immersion{Kind: FastOil, T: 323.15, Front: 0.010}.Law()
	wetted := bathAt(FastOil, 50)
	q, dq := make([]float64, 3), make([]float64, 3)
	hot := 500 + CelsiusZero
	f := &Faces{T: []float64{hot, hot, 250 + CelsiusZero}, Wet: []float64{1, 1, 1}, Away: []float64{0.001, 0.030, 0.030}}
	law.Fill(q, dq, f)
	within(t, "behind the front", q[0]/(hot-323.15), wetted.Coefficient(hot), 1e-9)
	within(t, "before the front", q[1]/(hot-323.15), 930, 0.01) // the film of the curve
	within(t, "too cold for a film", q[2]/(250+CelsiusZero-323.15), wetted.Coefficient(250+CelsiusZero), 1e-9)
	soft := Immersion{Kind: FastOil, T: 323.15, Tau: 0.1}.Law()
	f = &Faces{T: []float64{hot, hot, hot}, Wet: []float64{0, 0.1, 5}}
	soft.Fill(q, dq, f)
	if q[0] != 0 {
		t.Errorf("at the touch %g W/m²", q[0])
	}
	within(t, "after one time constant", q[1], (1-math.Exp(-1))*q[2], 1e-9)
}

// Any temperature, coat and place gives a finite flux that points the right way
// once the face is far from its surroundings; no input makes a law panic.
func TestLawsStandAnything(t *testing.T) {
	air := StillAir(285, 0.03, Lying)
	var laws []Law
	for _, k := range Quenchants() {
		laws = append(laws, Immersion{Kind: k, T: 330, Above: air, Tau: 0.1, Front: 0.01}.Law())
	}
	laws = append(laws, air, MovingAir(260, 0.001, Upright, 60), &Contact{T: 290, H: 1e4}, &Torch{Peak: 5e5, Radius: 0.01, Rest: air},
		&Enclosure{Wall: 1500, H: 100, Share: 1, Hot: 1800, HotView: 0.3, Toward: [3]float64{0, 0, 1}, Asymmetry: 2, From: 0.01, To: 0.2, Outside: air})
	rapid.Check(t, func(t *rapid.T) {
		one := func(lo, hi float64, name string) []float64 {
			return []float64{rapid.Float64Range(lo, hi).Draw(t, name)}
		}
		f := &Faces{
			T: one(1, 5000, "T"), Eps: one(0, 1, "eps"), R: one(0, 0.1, "R"), X: one(-1, 1, "x"), Y: one(-1, 1, "y"), Z: one(-1, 1, "z"),
			NX: one(-1, 1, "nx"), NY: one(-1, 1, "ny"), NZ: one(-1, 1, "nz"), Wet: one(-1, 1e5, "wet"), Away: one(0, 1, "away"),
		}
		law := laws[rapid.IntRange(0, len(laws)-1).Draw(t, "law")]
		q, dq := []float64{0}, []float64{0}
		law.Fill(q, dq, f)
		if math.IsNaN(q[0]) || math.IsInf(q[0], 0) || math.IsNaN(dq[0]) || math.IsInf(dq[0], 0) {
			t.Fatalf("%T: q %g, dq %g", law, q[0], dq[0])
		}
		if T := f.T[0]; T > 1900 && q[0] < 0 {
			if _, torch := law.(*Torch); !torch {
				t.Fatalf("%T at %g K takes heat up: %g", law, T, q[0])
			}
		}
	})
	for _, T := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e300, 1e300} {
		for _, law := range laws {
			law.Fill([]float64{0}, []float64{0}, &Faces{T: []float64{T}, R: []float64{1e-5}})
		}
	}
}

func benchmarkLaw(b *testing.B, law Law, R float64) {
	const n = 512
	f := &Faces{T: make([]float64, n), Eps: make([]float64, n), R: make([]float64, n)}
	for i := range f.T {
		f.T[i], f.Eps[i], f.R[i] = 320+1.4*float64(i), 0.8, R
	}
	q, dq := make([]float64, n), make([]float64, n)
	b.ReportAllocs()
	for b.Loop() {
		law.Fill(q, dq, f)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/face")
}

func BenchmarkStillAir(b *testing.B)    { benchmarkLaw(b, StillAir(293, 0.03, Upright), 0) }
func BenchmarkFastOil(b *testing.B)     { benchmarkLaw(b, bathAt(FastOil, 50), 0) }
func BenchmarkScaledInOil(b *testing.B) { benchmarkLaw(b, bathAt(FastOil, 50), 2e-5) }
func BenchmarkWater(b *testing.B)       { benchmarkLaw(b, bathAt(Water, 27), 0) }
func BenchmarkForge(b *testing.B) {
	benchmarkLaw(b, &Enclosure{Wall: 1473, Gas: 1600, H: 60, Share: 0.1}, 0)
}
