package micro

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/internal/opendata"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
)

// oilSeverity is Grossmann's H of oil for the rounds here [1/inch].
const oilSeverity = 0.35

// grossmann returns the critical diameter [m] at that severity of a steel of
// ideal diameter di [m]: the rounds whose centers take the same time to half their
// temperature, one-term solution of the infinite cylinder.
func grossmann(di float64) float64 {
	const H = oilSeverity
	half := func(bi float64) float64 { // Fo at half temperature
		lo, hi := 1e-6, 2.4048
		for range 60 {
			l := (lo + hi) / 2
			if l*math.J1(l)/math.J0(l) < bi {
				lo = l
			} else {
				hi = l
			}
		}
		j0, j1 := math.J0(lo), math.J1(lo)
		return math.Log(2*2/lo*j1/(j0*j0+j1*j1)) / (lo * lo)
	}
	lo, hi := 0.0, di
	for range 60 {
		d := (lo + hi) / 2
		if d*d*half(H/25.4e-3*d) < di*di*half(1e6) {
			lo = d
		} else {
			hi = d
		}
	}
	return lo
}

// One set of constants has to serve shallow steel in brine and deep steel in oil:
// within a factor of 1.35 at 80 % of the cases. Brine rounds: roberts-krauss-kennedy-1998,
// Table 7-3, visible rows, H 5, 790 °C, spheroidized, scored on the coarser column,
// where a blank means less than 12.7 mm. Oil rounds: ideal diameters of astm-a255
// carried to H 0.35 (O1: beyond the range of its carbon factor). Thin blade: that
// 1095 hardens at a 0.8 mm edge in fast oil is common practice.
func TestHardenabilityInBrineAndOil(t *testing.T) {
	met, all := 0, 0
	judge := func(name string, got, want float64) {
		all++
		if r := got / want; r < 1.35 && r > 1/1.35 {
			met++
		} else {
			t.Logf("%s: %.1f mm, want %.1f", name, got, want)
		}
	}
	for _, r := range opendata.Rows(t, "w_steel_critical_diameter.csv") {
		d := critical(t, rowComposition(r), Spheroidized, 790+kelvin, 1200, severity(5, 293)) * 1e3
		if want := number(r, "critical_diameter_calculated_mm"); want > 0 {
			judge("W heat "+r["heat"], d, want)
		} else {
			judge("W heat "+r["heat"], math.Max(d, 12.7), 12.7)
		}
	}
	for _, x := range []struct {
		name string
		c    steel.Composition
		T    float64
		cond Condition
	}{{"O1", o1, 802, Spheroidized}, {"5160", s5160, 845, Normalized}, {"4140", s4140, 845, Normalized}} {
		judge(x.name+" in oil", critical(t, x.c, x.cond, x.T+kelvin, 1200, severity(oilSeverity, 323))*1e3, grossmann(IdealDiameter(x.c))*1e3)
	}
	edge := quenched(t, s1095, 800, 600, 0.8, false, medium.FastOil)
	all++
	if edge.hardened() >= 0.95 {
		met++
	} else {
		t.Logf("1095 edge of 0.8 mm: %.3f hardened", edge.hardened())
	}
	t.Logf("%d of %d within 1.35×", met, all)
	if float64(met) < 0.8*float64(all) {
		t.Error("fewer than 80 % of the cases within a factor of 1.35")
	}
}

// quenched returns a plate or round [mm] heated to T [°C], quenched in oil of 50 °C
// and cooled in air to 25 °C.
func quenched(t testing.TB, c steel.Composition, T, hold, mm float64, round bool, oil medium.Quenchant) *body {
	n := 3
	if round {
		n = 6
	}
	b := newBody(metalOf(t, c), Spheroidized, mm/2e3, round, n)
	b.soak(T+kelvin, 5, hold)
	b.cool(bath(oil, 323), 340, 1e4)
	b.cool(stillAir, 298, 1e5)
	return b
}

// What thin high-carbon steel keeps in oil: the trade's experience (common
// practice; spec sheets read for O1), told as the least share hardened.
// The shares are our own reading of it; 1095 of 2.5 mm is a regression guard, no evidence.
func TestThinBladesInOil(t *testing.T) {
	for _, x := range []struct {
		name  string
		c     steel.Composition
		T     float64
		mm    float64
		oil   medium.Quenchant
		least float64
	}{
		{"1084", s1084, 815, 3, medium.FastOil, 0.95},
		{"1095", s1095, 800, 0.8, medium.FastOil, 0.90},
		{"52100", s52100, 843, 4, medium.FastOil, 0.95},
		{"52100", s52100, 843, 4, medium.VegetableOil, 0.95},
		{"5160", s5160, 830, 6, medium.FastOil, 0.90},
		{"5160", s5160, 830, 6, medium.VegetableOil, 0.90},
		{"80CrV2", s80crv2, 830, 4, medium.FastOil, 0.90},
		{"80CrV2", s80crv2, 830, 4, medium.VegetableOil, 0.85},
		{"1095", s1095, 800, 2.5, medium.FastOil, 0.5},
		{"1095", s1095, 800, 2.5, medium.VegetableOil, 0.5},
	} {
		b := quenched(t, x.c, x.T, 600, x.mm, false, x.oil)
		// carbide left from the soak hardens nothing away
		if got := b.hardened() / (1 - b.c.Fraction[steel.Carbide][0]); got < x.least {
			t.Errorf("%s %.1f mm in %s: %.3f hardened at the core (pearlite %.3f, bainite %.3f), want %.2f", x.name, x.mm, x.oil, got, b.c.Fraction[steel.Pearlite][0], b.c.Fraction[steel.Bainite][0], x.least)
		} else {
			t.Logf("%s %.1f mm in %s: %.3f hardened, %.1f HRC", x.name, x.mm, x.oil, got, hrc(b.m.HV(b.c, 0)))
		}
	}
	// 12 mm of 1095 in slow oil does not harden through (common practice).
	if b := quenched(t, s1095, 800, 600, 12, false, medium.SlowOil); b.hardened() > 0.3 {
		t.Errorf("12 mm of 1095 in slow oil: %.2f hardened", b.hardened())
	}
}

// O1 type in a 12.7 mm round, 802 °C, medium oil: 65 HRC as quenched; tempered twice
// 2 h at 204 °C 62, at 427 °C 49–50. Makers' data sheets, read.
func TestO1Round(t *testing.T) {
	for _, soak := range []float64{600, 1800} {
		b := quenched(t, o1, 802, soak, 12.7, true, medium.MediumOil)
		for i := range b.T {
			h := hrc(b.m.HV(b.c, i))
			t.Logf("soak %.0f s, shell %d: %.1f HRC", soak, i, h)
			if h < 63.5 || h > 66 {
				t.Errorf("soak %.0f s, shell %d: %.1f HRC, want 63.5–66", soak, i, h)
			}
		}
		for _, x := range []struct{ T, lo, hi float64 }{{204, 60.5, 63}, {427, 48, 52}} {
			l := &lump{m: b.m, c: NewCells(1), T: 298}
			l.c.CopyCell(0, b.c, 0)
			for range 2 {
				l.hold(x.T+kelvin, 0.5, 7200)
				l.hold(298, 0.5, 60)
			}
			h := hrc(l.m.HV(l.c, 0))
			t.Logf("soak %.0f s, tempered at %.0f: %.1f HRC", soak, x.T, h)
			if h < x.lo || h > x.hi {
				t.Errorf("tempered at %.0f °C: %.1f HRC, want %.1f–%.1f", x.T, h, x.lo, x.hi)
			}
		}
	}
}

// O1 type of 2 mm hardens in still air (practice of the trade); buried in vermiculite
// it is pearlite but not as soft as 1084. Whole bars in the bed are held to their
// hardness in sim.
func TestO1InAirAndVermiculite(t *testing.T) {
	b := newBody(metalOf(t, o1), Spheroidized, 1e-3, false, 3)
	b.soak(802+kelvin, 5, 1200)
	b.cool(stillAir, 298, 1e5)
	if h, bain := hrc(b.m.HV(b.c, 0)), b.c.Fraction[steel.Bainite][0]; h < 50 || bain > 0.30 {
		t.Errorf("2 mm in still air: %.1f HRC, bainite %.2f", h, bain)
	}
	buried := func(c steel.Composition, T float64) *body {
		b := newBody(metalOf(t, c), Spheroidized, 1e-3, false, 2)
		b.soak(T+kelvin, 5, 600)
		b.cool(func(T float64) float64 { return 110 * (T - 293) / math.Sqrt(math.Pi*(b.t+1)) }, 500, 1e5)
		return b
	}
	o, plain := buried(o1, 802), buried(s1084, 815)
	if o.c.Fraction[steel.Pearlite][0] < 0.9 || o.m.HV(o.c, 0) < plain.m.HV(plain.c, 0)+10 {
		t.Errorf("2 mm in vermiculite: O1 %.0f HV, pearlite %.2f, 1084 %.0f HV", o.m.HV(o.c, 0), o.c.Fraction[steel.Pearlite][0], plain.m.HV(plain.c, 0))
	}
}

// 1084 of 3 mm in still air is pearlite of 25–42 HRC; 1018 is never over 47 HRC, even
// in brine (common practice; martensite of 0.18 % C is 43–44 HRC, astm-a255).
func TestSoftCases(t *testing.T) {
	b := newBody(metalOf(t, s1084), Spheroidized, 1.5e-3, false, 3)
	b.soak(815+kelvin, 5, 300)
	b.cool(stillAir, 298, 1e5)
	if h, p := hrc(b.m.HV(b.c, 0)), b.c.Fraction[steel.Pearlite][0]; h < 25 || h > 42 || p < 0.9 {
		t.Errorf("1084 in still air: %.1f HRC, pearlite %.2f", h, p)
	}
	b = newBody(metalOf(t, s1084), Spheroidized, 1.5e-3, false, 2)
	b.soak(815+kelvin, 5, 300)
	b.cool(func(T float64) float64 { return 110 * (T - 293) / math.Sqrt(math.Pi*(b.t+1)) }, 500, 1e5)
	if h := hrc(b.m.HV(b.c, 0)); h > 28 {
		t.Errorf("1084 in vermiculite: %.1f HRC", h)
	}
	for _, mm := range []float64{0.5, 2} {
		b := newBody(metalOf(t, s1018), Normalized, mm/2e3, false, 3)
		b.soak(920+kelvin, 5, 600)
		b.cool(severity(5, 293), 298, 1e4)
		if h := hrc(b.m.HV(b.c, 0)); h > 47 || h < 30 {
			t.Errorf("1018 of %.1f mm in brine: %.1f HRC", mm, h)
		}
	}
}

// Retained austenite of 52100 after 25 min, rising with temperature, within a factor
// of 1.8 of 8, 15, 18 %: read second hand, so this is calibration, not evidence.
func TestRetainedAustenite52100(t *testing.T) {
	last := 0.0
	for _, x := range []struct{ T, want float64 }{{816, 0.08}, {843, 0.15}, {871, 0.18}} {
		b := quenched(t, s52100, x.T, 1500, 12, true, medium.MediumOil)
		ra := b.c.Fraction[steel.RetainedAustenite][0]
		t.Logf("%.0f °C: %.3f, %.2f %% C in solution, %.1f HRC", x.T, ra, b.c.Carbon[0], hrc(b.m.HV(b.c, 0)))
		if ra < x.want/1.8 || ra > x.want*1.8 || ra <= last {
			t.Errorf("%.0f °C: %.3f, want %.2f", x.T, ra, x.want)
		}
		last = ra
	}
}

// Latest moment for the oil: seconds in still air that leave under 5 % pearlite at an
// edge of 0.8 mm (common practice: O1 waits, 1095 does not). Emissivity 0.8, the edge
// alone without what the spine feeds it.
func TestLatestMomentForTheOil(t *testing.T) {
	for _, x := range []struct {
		name  string
		c     steel.Composition
		T, s  float64
		keeps bool
	}{{"O1", o1, 802, 8, true}, {"1095", s1095, 800, 8, false}} {
		b := newBody(metalOf(t, x.c), Spheroidized, 0.4e-3, false, 3)
		b.soak(x.T+kelvin, 5, 600)
		b.cool(stillAir, 298, x.s)
		b.cool(bath(medium.FastOil, 323), 340, 1e4)
		p := b.c.Fraction[steel.Pearlite][2]
		t.Logf("%s after %.0f s of air: pearlite %.3f", x.name, x.s, p)
		if (p < 0.05) != x.keeps {
			t.Errorf("%s after %.0f s of air: pearlite %.3f", x.name, x.s, p)
		}
	}
}

// Carbide left in the austenite nucleates pearlite: of two cells with the same austenite
// the one with particles goes first, and the more there are, the sooner
// (roberts-krauss-kennedy-1998, on shallow-hardening tool steel).
// By how much is our own: a regression guard.
func TestCarbideNucleatesPearlite(t *testing.T) {
	m := metalOf(t, s52100)
	var half []float64
	for _, carbide := range []float64{0, 0.03, 0.06} {
		c := NewCells(1)
		m.Start(c, Spheroidized)
		m.bring(c, 845+kelvin, 5, 1800)
		c.Carbon[0] = 0.8
		f := &c.Fraction
		f[steel.Carbide][0], f[steel.Austenite][0] = carbide, 1-carbide
		for k := range c.Carbides {
			c.Carbides[k].Mass[0] = carbide * spheroidClass[k].mass
		}
		for _, mark := range m.hold(c, 640+kelvin, 1e5) {
			if mark.Product == Whole && mark.Share == 0.5 {
				half = append(half, mark.Time)
			}
		}
	}
	t.Logf("half of the pearlite with 0, 3, 6 %% of carbide left after %.1f s", half)
	if len(half) != 3 || half[1] > 0.97*half[0] || half[2] > 0.97*half[1] {
		t.Error("carbide should bring pearlite forward")
	}
}
