package medium

import (
	"math"
	"testing"
)

// A piece without inner resistance in an endless bed of constant conductivity:
//
//	θ(t) = (T − Tm)/(T₀ − Tm) = exp(b²t) erfc(b√t),  b = √(kρc)_bed / (ρ c V/A)_steel
//
// Source: carslaw-jaeger-1959 (a well-stirred body against a half-space; own
// derivation of this form).
func exactBuried(b, t float64) float64 {
	x := b * math.Sqrt(t)
	return math.Exp(x*x) * math.Erfc(x)
}

// bury marches a lumped piece of thickness s [m] against a bed and calls each
// with the time and temperature. The step grows with time.
func bury(bed *Bed, s, T, first, grow float64, each func(t, T float64) bool) {
	const rhoC = 7850 * 650.
	c := rhoC * s / 2
	for t, dt := 0.0, first; ; t, dt = t+dt, dt*grow {
		if !each(t, T) {
			return
		}
		slope, base := bed.Respond(dt)
		next := (c*T/dt + base) / (c/dt + slope)
		bed.Step(dt, c*(T-next))
		T = next
	}
}

func TestBuriedPieceFollowsTheExactSolution(t *testing.T) {
	sand := NewFilling(Filling{Name: "even", Density: 1500, Cp: 830, K20: 0.30, K400: 0.30, K700: 0.30})
	bed := NewBed(sand, BedShape{Plane: true, Reach: 0.8, Cells: 90}, 293.15, 0)
	b := sand.Effusivity(600) / (7850 * 650 * 0.0025)
	worst := 0.0
	bury(bed, 0.005, 1093.15, 0.005, 1.005, func(at, T float64) bool {
		if got, want := (T-293.15)/800, exactBuried(b, at); math.Abs(got-want) > worst {
			worst = math.Abs(got - want)
		}
		return at < 3000
	})
	t.Logf("largest deviation %.4f of the span", worst)
	if worst > 0.005 {
		t.Errorf("deviation %.4f of the span, expected < 0.005", worst)
	}
}

// A round without inner resistance in an endless bed, Fo = at/R²:
//
//	θ = (8β/π²) ∫₀^∞ exp(−Fo u²) / (u Δ(u)) du,
//	Δ = [u J₀(u) − 2β J₁(u)]² + [u Y₀(u) − 2β Y₁(u)]²
//
// β is the heat capacity of the bed in the place of the round over that of the round.
//
// Source: carslaw-jaeger-1959 (perfect conductor in an infinite medium; the same
// integral is used for slug tests of wells); it gives 1 at Fo = 0, which the test checks.
func exactRound(beta, fo float64) float64 {
	const n = 4000
	sum := 0.0
	lo, hi := math.Log(1e-8), math.Log(60.0)
	h := (hi - lo) / n
	for i := range n {
		u := math.Exp(lo + (float64(i)+0.5)*h)
		a := u*math.J0(u) - 2*beta*math.J1(u)
		b := u*math.Y0(u) - 2*beta*math.Y1(u)
		sum += h * math.Exp(-fo*u*u) / (a*a + b*b) // du/u is a step of ln u
	}
	return 8 * beta / (math.Pi * math.Pi) * sum
}

func TestBuriedRoundFollowsTheExactSolution(t *testing.T) {
	const radius, rhoC = 0.006, 7850 * 650.
	m := NewFilling(Filling{Name: "even", Density: 500, Cp: 900, K20: 0.12, K400: 0.12, K700: 0.12})
	beta := m.Density * m.Cp / rhoC
	if one := exactRound(beta, 0); math.Abs(one-1) > 0.01 {
		t.Fatalf("the integral gives %g at the start", one)
	}
	bed := NewBed(m, BedShape{Radius: radius, Reach: 0.6, Cells: 90}, 293.15, 0)
	c := rhoC * radius / 2
	T, at, dt, worst := 1093.15, 0.0, 0.02, 0.0
	for at < 4000 {
		slope, base := bed.Respond(dt)
		next := (c*T/dt + base) / (c/dt + slope)
		bed.Step(dt, c*(T-next))
		T, at, dt = next, at+dt, dt*1.01
		if at > 0.5 {
			fo := 0.12 / (m.Density * m.Cp) * at / (radius * radius)
			worst = max(worst, math.Abs((T-293.15)/800-exactRound(beta, fo)))
		}
	}
	t.Logf("largest deviation %.4f of the span", worst)
	if worst > 0.005 {
		t.Errorf("deviation %.4f of the span", worst)
	}
}

// A 5 mm plate, both faces, from 800 to 500 °C by the exact solution with the
// effusivity of each filling when hot: sand 108 s, lime 497, wood ash 895,
// vermiculite 3355, perlite 5592 s (evaluated; effusivities 611, 285, 212, 110, 85).
// Our bed has k(T), and for a piece as narrow as a blade it spreads around the edges.
func TestFillings(t *testing.T) {
	before := 1.0
	for _, x := range []struct {
		name string
		want float64
	}{{"sand", 108}, {"lime", 497}, {"wood ash", 895}, {"vermiculite", 3355}, {"perlite", 5592}} {
		m, ok := FindFilling(x.name)
		if !ok {
			t.Fatal(x.name)
		}
		run := func(shape BedShape) float64 {
			shape.Cells = 70
			at := math.NaN()
			bury(NewBed(m, shape, 293.15, 0), 0.005, 1073.15, 0.05, 1.01, func(s, T float64) bool {
				at = s
				return T > 773.15 && s < 50000
			})
			return at
		}
		plane := run(BedShape{Plane: true, Reach: 1.0})
		blade := run(BedShape{Radius: 0.080 / (2 * math.Pi), Reach: 0.25})
		t.Logf("%-12s plane %5.0f s (exact with constant hot k %5.0f), around a 35 mm blade %5.0f s", x.name, plane, x.want, blade)
		if plane < 0.6*x.want || plane > 1.5*x.want {
			t.Errorf("%s: %.0f s, the solution with one conductivity gives %.0f", x.name, plane, x.want)
		}
		// The deeper the heat goes, compared with the blade, the more the edges help.
		if ratio := plane / blade; ratio < before {
			t.Errorf("%s: a blade is %.2f times as fast as an endless plate, %.2f in the filling before", x.name, ratio, before)
		} else {
			before = ratio
		}
	}
}

// Heat put in is heat found, in the bed, its companion, the water that boiled off
// and what left through the wall.
func TestBedKeepsItsHeat(t *testing.T) {
	m, _ := FindFilling("vermiculite")
	bed := NewBed(m, BedShape{Radius: 0.01, Reach: 0.1, Cells: 40}, 293.15, 0.2)
	bed.Accompany(650, 1123.15, 0.02, 0.02)
	start, _, _ := bed.Held(293.15)
	in := 0.0
	for i := range 400 {
		j := 3000 * math.Exp(-float64(i)/50)
		bed.Step(2, j)
		in += j
	}
	now, lost, vapor := bed.Held(293.15)
	if d := now + lost + vapor - start - in; math.Abs(d) > 1e-6*(start+in) {
		t.Errorf("balance off by %g of %g J/m² (vapor %g, lost %g)", d, start+in, vapor, lost)
	}
	if vapor <= 0 {
		t.Error("a damp bed did not dry")
	}
	saved := bed.Save(nil)
	twin := bed.Clone()
	bed.Step(5, 100)
	after := append([]float64(nil), bed.T...)
	if rest := bed.Restore(saved); len(rest) != 0 {
		t.Fatalf("%d numbers left", len(rest))
	}
	bed.Step(5, 100)
	twin.Step(5, 100)
	for i := range after {
		if bed.T[i] != after[i] || twin.T[i] != after[i] {
			t.Fatal("restored or cloned bed goes another way")
		}
	}
}

// Water in the bed takes heat: a damp bed cools the piece faster than a dry one,
// and a hot companion slows it.
func TestDampQuenchesAndCompanionKeepsWarm(t *testing.T) {
	m, _ := FindFilling("vermiculite")
	after := func(moisture, companion float64) float64 {
		bed := NewBed(m, BedShape{Radius: 0.0127, Reach: 0.1}, 293.15, moisture)
		if companion > 0 {
			bed.Accompany(650*companion, 1123.15, 0.008, 0.016)
		}
		last := 0.0
		bury(bed, 0.003, 1073.15, 0.05, 1.02, func(s, T float64) bool { last = T; return s < 600 })
		return last
	}
	dry, damp, warm := after(0, 0), after(0.5, 0), after(0, 1)
	t.Logf("3 mm after 10 min: dry %.0f, damp %.0f, with 1 kg at 850 °C beside it %.0f °C", inC(dry), inC(damp), inC(warm))
	if damp >= dry || warm <= dry+20 {
		t.Errorf("dry %.0f, damp %.0f, warm %.0f K", dry, damp, warm)
	}
}
