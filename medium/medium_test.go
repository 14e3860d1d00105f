package medium

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/cite"
)

// Austenite: k = 15 + 0.0135 θ, cp = 500 + 0.133 θ, ρ = 7650 (from memory of
// handbooks, ±10 %): what the check figures below were computed with.
var (
	austeniteK  = tabulate(CelsiusZero, CelsiusZero+1300, 130, func(T float64) float64 { return 15 + 0.0135*(T-CelsiusZero) })
	austeniteCp = tabulate(CelsiusZero, CelsiusZero+1300, 130, func(T float64) float64 { return 500 + 0.133*(T-CelsiusZero) })
)

// Heat capacity of carbon steel by en-1993-1-2, clause 3.4.1.2.
var carbonSteelCp = tabulate(293.15, 1523.15, 2460, func(T float64) float64 {
	switch c := T - CelsiusZero; {
	case c < 600:
		return 425 + 0.773*c - 1.69e-3*c*c + 2.22e-6*c*c*c
	case c < 735:
		return 666 + 13002/(738-c)
	case c < 900:
		return 545 + 17820/(c-731)
	}
	return 650
})

func constant(v float64) *curve {
	return tabulate(200, 2000, 2, func(float64) float64 { return v })
}

// cool steps a body until its center or mean passes T and returns the time.
func cool(b *body, l Law, dt, T float64, at func() float64) float64 {
	t, before := 0.0, at()
	for t < 1e5 {
		b.step(dt, l)
		now := at()
		if (now <= T) != (before <= T) {
			return t + dt*(before-T)/(before-now)
		}
		t, before = t+dt, now
	}
	return math.NaN()
}

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.4g, expected %.4g ± %.1f %%", what, got, want, 100*tol)
	}
}

func TestEverySourceIsInTheBibliography(t *testing.T) {
	entries, err := data.ReadDir("data")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, e := range entries {
		if isQuench(e.Name()) {
			f := readQuench(e.Name())
			n++
			if _, ok := cite.Find(f.Source); !ok || f.Error == "" || f.ReadBy == "" {
				t.Errorf("%s: source %q, read by %q, error %q", e.Name(), f.Source, f.ReadBy, f.Error)
			}
			for i := 1; i < len(f.Row); i++ {
				if f.Row[i].T <= f.Row[i-1].T || f.Row[i].H <= 0 {
					t.Errorf("%s: row %d out of order", e.Name(), i)
				}
			}
		}
	}
	if n != 8 {
		t.Errorf("%d boiling curves, expected 8", n)
	}
	for _, m := range fillings() {
		if _, ok := cite.Find(m.Source); !ok {
			t.Errorf("filling %s: no source %q", m.Name, m.Source)
		}
	}
	for _, a := range Accuracy() {
		if _, ok := cite.Find(a.Source); !ok {
			t.Errorf("accuracy %s: no source %q", a.Model, a.Source)
		}
	}
}

// Coefficients by the correlations of churchill-chu-1975 and -1975b, worked out by
// hand: 20 mm round at 1000 °C and 40 mm plate at 800 °C in air of 20 °C.
func TestStillAir(t *testing.T) {
	within(t, "round 20 mm at 1000 °C", Convection(1273.15, 293.15, 0.020, Lying, 0), 12.2, 0.01)
	within(t, "plate 40 mm at 800 °C", Convection(1073.15, 293.15, 0.040, Upright, 0), 12.8, 0.01)
	// Radiation coefficients at the same places, ε 0.8.
	q, _ := radiation(0.8, 1273.15, 293.15)
	within(t, "radiation at 1000 °C", q/980, 121, 0.01)
	q, _ = radiation(0.8, 1073.15, 293.15)
	within(t, "radiation at 800 °C", q/780, 76.7, 0.01)

	// Lumped plates 35 mm wide, ε 0.8, ρ 7850 and cp 675: 800 to 500 °C, without latent heat
	// (integrated independently; ±5 % for the cp of 650–700 that was used there).
	law := StillAir(293.15, 0.035, Upright)
	for _, x := range [][2]float64{{0.002, 42}, {0.003, 63}, {0.005, 105}, {0.008, 168}} {
		b := newBody(8, 0, x[0]/2, 1073.15, 7850, constant(28), constant(675))
		within(t, "plate in still air", cool(b, law, 0.2, 773.15, b.mean), x[1], 0.05)
	}
	// Moving air never cools less, and a piece as cold as the air stays.
	wave := MovingAir(293.15, 0.035, Upright, 1.5)
	f := &Faces{T: []float64{293.15, 500, 900, 1200}}
	q0, q1, dq := make([]float64, 4), make([]float64, 4), make([]float64, 4)
	law.Fill(q0, dq, f)
	wave.Fill(q1, dq, f)
	if q0[0] != 0 || q1[0] != 0 {
		t.Errorf("a piece at air temperature loses %g, %g W/m²", q0[0], q1[0])
	}
	for i := 1; i < 4; i++ {
		if q1[i] <= q0[i] {
			t.Errorf("moving air at %g K: %g ≤ still %g", f.T[i], q1[i], q0[i])
		}
	}
}

// Free cooling of flats from 1100 to 850 °C by radiation alone follows the
// lumped solution within 3 %:
//
//	4 ε σ A T∞³ t / (ρ c V) = [ln((T+T∞)/(T−T∞)) + 2 atan(T/T∞)] from T₀ to T
//
// Source: bejan-kraus-2003, eq. 3.283. The surface, which a smith reads, is held
// to it at every thickness. A lumped body has one temperature, and the handbooks'
// bound for that is Bi = hL/k < 0.1 with L half the thickness: here h is the slope of the
// radiation, 4εσT³, 353 W/m²K at the middle of the fall, and Bi 0.02, 0.03, 0.06
// and 0.12. The mean is held to it where the bound holds. Of the 19 mm flat the
// mean is hotter than the surface that radiates, by qL/(3k), 12 K of 1240, and so
// falls 3.7 % slower than the lumped formula says: it is held to the same balance
// with that difference in it,
//
//	ρ c L dTm/dt = −ε σ (Ts⁴ − T∞⁴),  Ts = Tm − q L/(3k)
//
// (own derivation: the parabola of a flat that cools steadily), within 1 %.
func TestFlatsByRadiation(t *testing.T) {
	const room, rho, cp, eps, k = 293.15, 7600.0, 640.0, 0.8, 29.0
	g := func(T float64) float64 { return math.Log((T+room)/(T-room)) + 2*math.Atan(T/room) }
	dark := &Air{T: room, Around: room, conv: constant(0)}
	inAir := StillAir(room, 0.035, Upright)
	for _, s := range []float64{0.003, 0.005, 0.010, 0.019} {
		L := s / 2
		exact := rho * cp * L / (4 * eps * Sigma * room * room * room) * (g(1123.15) - g(1373.15))
		run := func(law Law, surface bool) float64 {
			b := newBody(20, 0, L, 1373.15, rho, constant(k), constant(cp))
			if surface {
				return cool(b, law, exact/4000, 1123.15, func() float64 { return b.faces.T[0] })
			}
			return cool(b, law, exact/4000, 1123.15, b.mean)
		}
		mean, surface, full := run(dark, false), run(dark, true), run(inAir, false)
		leaning := leaningFlat(rho*cp*L, L/(3*k), eps, room)
		biot := 4 * eps * Sigma * 1248 * 1248 * 1248 * L / k
		t.Logf("%2.0f mm, Bi %.2f: lumped %.1f s, with its gradient %.1f s; by the law %.1f s at the surface, %.1f s in the mean; with convection %.1f s", 1000*s, biot, exact, leaning, surface, mean, full)
		within(t, "surface of a flat by radiation", surface, exact, 0.03)
		within(t, "mean of a flat by radiation, with its gradient", mean, leaning, 0.01)
		if biot < 0.1 {
			within(t, "mean of a flat by radiation", mean, exact, 0.03)
		}
		if full > mean || full < 0.88*mean {
			t.Errorf("%g mm: with convection %.2f s, without %.2f s", s*1000, full, mean)
		}
	}
}

// leaningFlat integrates the balance of a flat whose surface is colder than its
// mean by q·lag, from 1100 to 850 °C in the mean; capacity is ρcL [J/m²K], lag L/(3k) [m²K/W].
func leaningFlat(capacity, lag, eps, room float64) float64 {
	const dt = 0.001
	T, t := 1373.15, 0.0
	for ; T > 1123.15; t += dt {
		Ts := T
		for range 20 {
			q := eps * Sigma * (math.Pow(Ts, 4) - math.Pow(room, 4))
			Ts -= (Ts - T + q*lag) / (1 + 4*eps*Sigma*Ts*Ts*Ts*lag)
		}
		T -= dt * eps * Sigma * (math.Pow(Ts, 4) - math.Pow(room, 4)) / capacity
	}
	return t
}

// A lumped body that radiates: V/A 2.5 mm, ρ 7800, c 650, ε 0.8, from 1000 °C in
// 20 °C: 30.35 s to 800, 158.15 s to 500, 464.66 s to 300 °C (bejan-kraus-2003, eq. 3.283, evaluated).
func TestLumpedRadiation(t *testing.T) {
	dark := &Air{T: 293.15, Around: 293.15, conv: constant(0)}
	for _, x := range [][2]float64{{800, 30.35}, {500, 158.15}, {300, 464.66}} {
		b := newBody(2, 0, 0.0025, 1273.15, 7800, constant(1e5), constant(650))
		within(t, "lumped radiation", cool(b, dark, x[1]/8000, x[0]+CelsiusZero, b.mean), x[1], 0.001)
	}
}

// Rounds in a forge of 1250 °C walls and 1400 °C gas, h 60, ε 0.8, to 1150 °C:
// lumped, with the heat content of carbon steel by en-1993-1-2 (computed independently).
func TestRoundsInTheForge(t *testing.T) {
	law := &Enclosure{Wall: 1523.15, Gas: 1673.15, H: 60}
	for _, x := range [][2]float64{{0.010, 71}, {0.016, 114}, {0.020, 143}, {0.025, 179}, {0.040, 286}, {0.050, 357}} {
		lumped := newBody(2, 1, x[0]/2, 293.15, 7850, constant(1e5), carbonSteelCp)
		within(t, "round in the forge", cool(lumped, law, x[1]/4000, 1423.15, lumped.mean), x[1], 0.02)
		whole := newBody(20, 1, x[0]/2, 293.15, 7850, constant(30), carbonSteelCp)
		within(t, "round with a core", cool(whole, law, x[1]/4000, 1423.15, whole.mean), x[1], 0.10)
	}
}

// Plates in a kiln at 820 °C, ε 0.8, h 10 (heat content by en-1993-1-2; computed independently):
// seconds to 800 °C; and the oven at 200 °C: minutes to 195 °C for a 5 mm plate.
func TestOvens(t *testing.T) {
	kiln := &Enclosure{Wall: 1093.15, H: 10}
	for _, x := range [][2]float64{{0.003, 210}, {0.005, 350}, {0.008, 560}} {
		b := newBody(8, 0, x[0]/2, 293.15, 7850, constant(40), carbonSteelCp)
		within(t, "plate in the kiln", cool(b, kiln, 0.1, 1073.15, b.mean), x[1], 0.03)
	}
	for _, x := range []struct{ eps, h, min float64 }{{0.3, 10, 36}, {0.8, 10, 22}, {0.3, 30, 16}} {
		b := newBody(4, 0, 0.0025, 293.15, 7850, constant(45), constant(500))
		b.faces.Eps = []float64{x.eps}
		got := cool(b, &Enclosure{Wall: 473.15, H: x.h}, 1, 468.15, b.mean) / 60
		within(t, "oven at 200 °C", got, x.min, 0.06)
	}
}

// Plates in liquids, from 820 °C, 20 cells per half, no latent heat: seconds to
// 540 and 250 °C at the center (computed independently on the same curves, ±3 %;
// two printed digits make that ±5 % here).
func TestPlatesInLiquids(t *testing.T) {
	thick := []float64{0.002, 0.003, 0.004, 0.005, 0.006, 0.008}
	for _, x := range []struct {
		kind   Quenchant
		bath   float64
		to540  []float64
		to250  []float64
		listed string
	}{
		{SlowOil, 40, []float64{4.3, 6.4, 8.6, 11, 13, 17}, []float64{11, 16, 21, 27, 33, 44}, ""},
		{MediumOil, 50, []float64{2.3, 3.4, 4.5, 5.6, 6.7, 8.9}, []float64{7.5, 11, 15, 20, 24, 33}, ""},
		{FastOil, 50, []float64{1.7, 2.5, 3.3, 4.1, 4.9, 6.5}, []float64{7.3, 11, 15, 19, 24, 32}, ""},
		{VegetableOil, 60, []float64{1.2, 1.8, 2.5, 3.1, 3.8, 5.2}, []float64{7.0, 11, 14, 18, 22, 31}, ""},
		{Water, 20, []float64{0.63, 0.93, 1.2, 1.5, 1.8, 2.4}, []float64{0.96, 1.5, 2.0, 2.6, 3.2, 4.6}, ""},
	} {
		law := bathAt(x.kind, x.bath)
		for i, s := range thick {
			b := newBody(20, 0, s/2, 1093.15, 7650, austeniteK, austeniteCp)
			dt := x.to540[i] / 1500
			first := cool(b, law, dt, 540+CelsiusZero, b.center)
			second := first + cool(b, law, 4*dt, 250+CelsiusZero, b.center)
			within(t, string(x.kind)+" to 540", first, x.to540[i], 0.06)
			within(t, string(x.kind)+" to 250", second, x.to250[i], 0.06)
		}
	}
	// A bare 0.4 mm plate in fast oil, 780 to 550 °C: 0.28 s.
	b := newBody(4, 0, 0.0002, 780+CelsiusZero, 7650, austeniteK, austeniteCp)
	within(t, "0.4 mm edge in fast oil", cool(b, bathAt(FastOil, 50), 2e-4, 550+CelsiusZero, b.center), 0.28, 0.05)
}

// What a body gives off is what it loses.
func TestBodyKeepsItsHeat(t *testing.T) {
	b := newBody(20, 1, 0.00625, probeStart, 8000, constant(20), constant(500))
	before := b.mean()
	out := 0.0
	law := bathAt(FastOil, 50)
	for range 300 {
		out += b.step(0.02, law)
	}
	held := 8000 * 500 * 0.00625 / 2 * (before - b.mean())
	within(t, "heat given off", out, held, 1e-6)
}
