package steel

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func kelvin(c float64) float64 { return c + 273.15 }

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, tol)
	}
}

var eutectoid = Composition{C: 0.77, Mn: 0.4}

// Pearlite takes up 19.6 cal/g = 82 kJ/kg at 727 °C, ± 5 % by calorimetry [hagel-1956].
// Below, the heat that it gives back follows from the heat capacities alone:
// 89 at 700, 101 at 650, 109 at 600, 115 at 550, 120 kJ/kg at 500 °C (own
// arithmetic on the table of thermal.toml).
func ExampleThermal_Enthalpy() {
	p := Properties(eutectoid)
	for _, c := range []float64{726.85, 700, 650, 600, 550, 500} {
		l := p.Enthalpy(Austenite, kelvin(c), 0.77) - p.Enthalpy(Pearlite, kelvin(c), 0.77)
		fmt.Printf("%.0f °C %.0f kJ/kg\n", c, l/1000)
	}
	// Output:
	// 727 °C 82 kJ/kg
	// 700 °C 89 kJ/kg
	// 650 °C 100 kJ/kg
	// 600 °C 109 kJ/kg
	// 550 °C 115 kJ/kg
	// 500 °C 120 kJ/kg
}

func TestLatentHeats(t *testing.T) {
	p := Properties(eutectoid)
	heat := func(product Constituent, c, carbon float64) float64 {
		return (p.Enthalpy(Austenite, kelvin(c), carbon) - p.Enthalpy(product, kelvin(c), carbon)) / 1000
	}
	// 82 to 90 kJ/kg for martensite (from memory), 95 to 112 for bainite (handbooks, from memory).
	within(t, "martensite, 0.8 C, 250 °C", heat(Martensite, 250, 0.8), 87, 3)
	within(t, "bainite, 0.8 C, 400 °C", heat(Bainite, 400, 0.8), 112, 3)
	// Pure iron changes at 912 °C with 16 kJ/kg [kubaschewski-1993, from memory].
	within(t, "iron, 912 °C", heat(Ferrite, 911.85, 0), 16, 0.1)
	// What κ implies: cementite dissolves in austenite with about 250 kJ/kg
	// (45 kJ/mol, from memory): a check of the whole set, fitted to nothing.
	dissolve := p.Enthalpy(Austenite, 1000, cementiteC) - p.Enthalpy(Carbide, 1000, 0)
	within(t, "cementite into austenite", dissolve/1000, 250, 15)
	// 1.85 Mn or 0.51 Mo: 75 kJ/kg [hagel-1956].
	for _, c := range []Composition{{C: 0.77, Mn: 1.85}, {C: 0.77, Mo: 0.51}} {
		q := Properties(c)
		l := q.Enthalpy(Austenite, eutectoidT, 0.77) - q.Enthalpy(Pearlite, eutectoidT, 0.77)
		within(t, c.String(), l/1000, 75, 2)
	}
	// Tempering gives back all that martensite stores.
	m := one(map[Constituent]float64{Martensite: 1}, 0.8, 0)
	fresh, tempered := []float64{0}, []float64{0}
	p.Mix(fresh, nil, nil, []float64{500}, &m)
	m.Tempered = []float64{1}
	p.Mix(tempered, nil, nil, []float64{500}, &m)
	within(t, "stored energy", fresh[0]-tempered[0], 25e3+22e3*0.8, 1e-6)
}

func one(f map[Constituent]float64, carbon, tempered float64) Mixture {
	m := Mixture{Carbon: []float64{carbon}, Tempered: []float64{tempered}}
	for c := range NumConstituents {
		m.Fraction[c] = []float64{f[c]}
	}
	return m
}

// The whole way from 20 to 1000 °C takes what EN 1993-1-2 says, 697 kJ/kg,
// within 5 % [en-1993-1-2, integrated], for a low-carbon steel and the eutectoid.
func TestTotalEnthalpy(t *testing.T) {
	p := Properties(eutectoid)
	total := p.Enthalpy(Austenite, kelvin(1000), 0.77) - p.Enthalpy(Pearlite, kelvin(20), 0.77)
	within(t, "eutectoid, 20 to 1000 °C", total/1000, 697, 0.05*697)
	const c = 0.18
	pearlite := c / eutectoidC
	start := pearlite*p.Enthalpy(Pearlite, kelvin(20), 0) + (1-pearlite)*p.Enthalpy(Ferrite, kelvin(20), 0)
	total = p.Enthalpy(Austenite, kelvin(1000), c) - start
	within(t, "0.18 C, 20 to 1000 °C", total/1000, 697, 0.05*697)
	// And before anything changes: 336 kJ/kg at 600 °C, 201 at 400 °C.
	within(t, "20 to 600 °C", p.Enthalpy(Pearlite, kelvin(600), 0)/1000, 336, 0.03*336)
	within(t, "20 to 400 °C", p.Enthalpy(Pearlite, kelvin(400), 0)/1000, 201, 0.03*201)
}

// Spheroidite of eutectoid carbon is pearlite; the same atoms hold the same energy.
func TestSpheroiditeIsPearlite(t *testing.T) {
	p := Properties(eutectoid)
	w := eutectoidC / cementiteC
	for _, c := range []float64{20, 300, 700, 760} {
		a := (1-w)*p.Enthalpy(Ferrite, kelvin(c), 0) + w*p.Enthalpy(Carbide, kelvin(c), 0)
		within(t, fmt.Sprintf("%g °C", c), a, p.Enthalpy(Pearlite, kelvin(c), 0), 1e-6)
	}
}

// Free ferrite has the Curie peak: 8 kJ/kg more around 770 °C than a smooth line.
func TestCuriePeak(t *testing.T) {
	p := Properties(eutectoid)
	h := func(c float64) float64 { return p.Enthalpy(Ferrite, kelvin(c), 0) }
	line := 0.5 * (p.HeatCapacity(Ferrite, kelvin(742), 0) + p.HeatCapacity(Ferrite, kelvin(798), 0)) * 56
	within(t, "bump", h(798)-h(742)-line, 8000, 250)
	if cp := p.HeatCapacity(Ferrite, curieT, 0); cp < 1000 || cp > 1500 {
		t.Errorf("cp at the Curie point is %g J/kgK", cp)
	}
}

// cp is the slope of h, everywhere and for every constituent.
func TestHeatCapacityIsTheSlope(t *testing.T) {
	p := Properties(eutectoid)
	rapid.Check(t, func(t *rapid.T) {
		c := Constituent(rapid.IntRange(0, int(NumConstituents)-1).Draw(t, "constituent"))
		kelvin := rapid.Float64Range(160, 1940).Draw(t, "T")
		carbon := rapid.Float64Range(0, 1.3).Draw(t, "C")
		const d = 1e-3
		slope := (p.Enthalpy(c, kelvin+d, carbon) - p.Enthalpy(c, kelvin-d, carbon)) / (2 * d)
		if cp := p.HeatCapacity(c, kelvin, carbon); math.Abs(slope-cp) > 0.02 {
			t.Fatalf("%v at %g K: slope %g, cp %g", c, kelvin, slope, cp)
		}
	})
}

func TestMixAgreesAndInverts(t *testing.T) {
	p := Properties(Composition{C: 0.95, Mn: 1.2, Cr: 0.5, W: 0.5})
	rapid.Check(t, func(t *rapid.T) {
		f := map[Constituent]float64{}
		sum := 0.0
		for c := range NumConstituents {
			f[c] = rapid.Float64Range(0, 1).Draw(t, c.String()) + 1e-3
			sum += f[c]
		}
		for c := range f {
			f[c] /= sum
		}
		carbon := rapid.Float64Range(0, 1.3).Draw(t, "C")
		temper := rapid.Float64Range(0, 1).Draw(t, "tempered")
		kelvin := rapid.Float64Range(200, 1800).Draw(t, "T")
		m := one(f, carbon, temper)
		h, cp, k := []float64{0}, []float64{0}, []float64{0}
		p.Mix(h, cp, k, []float64{kelvin}, &m)
		wantH, wantCp := -f[Martensite]*temper*Stored(carbon), 0.0
		lowK, highK := math.Inf(1), 0.0
		for c := range NumConstituents {
			wantH += f[c] * p.Enthalpy(c, kelvin, carbon)
			wantCp += f[c] * p.HeatCapacity(c, kelvin, carbon)
			lowK, highK = min(lowK, p.Conductivity(c, kelvin)), max(highK, p.Conductivity(c, kelvin))
		}
		if math.Abs(h[0]-wantH) > 1e-6 || math.Abs(cp[0]-wantCp) > 1e-9 {
			t.Fatalf("mix %g J/kg, %g J/kgK; the sum of the parts is %g, %g", h[0], cp[0], wantH, wantCp)
		}
		if k[0] < 0.8*lowK || k[0] > 1.2*highK {
			t.Fatalf("k %g lies outside its parts, %g to %g", k[0], lowK, highK)
		}
		guess := []float64{rapid.Float64Range(200, 1800).Draw(t, "guess")}
		p.Temperature(guess, h, &m)
		if math.Abs(guess[0]-kelvin) > 1e-6 {
			t.Fatalf("h of %.9g K comes back as %.9g K", kelvin, guess[0])
		}
	})
}

func TestMixAllocatesNothing(t *testing.T) {
	p := Properties(eutectoid)
	m := one(map[Constituent]float64{Austenite: 1}, 0.7, 0)
	h, cp, k, T := []float64{0}, []float64{0}, []float64{0}, []float64{900}
	if n := testing.AllocsPerRun(100, func() { p.Mix(h, cp, k, T, &m); p.Temperature(T, h, &m) }); n != 0 {
		t.Errorf("%g allocations a call", n)
	}
}

// Conductivity at 20 °C from the alloy (fit from memory, ±15 %): 1084 43, 5160
// 41, O1 37, A2 30, D2 22 W/mK; above 800 °C all steels lie between 25 and 31.
func TestConductivity(t *testing.T) {
	for name, want := range map[string]float64{"1084": 43, "5160": 41, "O1": 37, "A2": 30, "D2": 22} {
		g, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		p := Properties(g.Nominal())
		within(t, name, p.Conductivity(Pearlite, kelvin(20)), want, 1)
		for _, c := range []float64{800, 1000, 1150} {
			for _, x := range []Constituent{Austenite, Ferrite} {
				if k := p.Conductivity(x, kelvin(c)); k < 24 || k > 32 {
					t.Errorf("%s: %v at %g °C conducts %g W/mK", name, x, c, k)
				}
			}
		}
	}
	p := Properties(Composition{C: 0.18, Si: 0.2, Mn: 0.75, Cr: 0.08, Ni: 0.08})
	within(t, "austenite 600 °C", p.Conductivity(Austenite, kelvin(600)), 23.1, 1.5)
	// EN 1993-1-2 for mild steel: 47.3 at 200, 40.7 at 400, 34.0 at 600 °C.
	for c, want := range map[float64]float64{200: 47.3, 400: 40.7, 600: 34.0} {
		within(t, fmt.Sprintf("mild steel %g °C", c), p.Conductivity(Ferrite, kelvin(c)), want, 0.12*want)
	}
}

// Volume at 1000 K grows by 1.33 % from austenite to ferrite without carbon
// [seki-nagata-2005]; at 20 °C martensite of 0.8 and 1.0 % C lies 4.22 and
// 4.11 % above its austenite [asm-volume-changes].
func TestStrain(t *testing.T) {
	p := Properties(eutectoid)
	volume := func(from, to Constituent, kelvin, carbon float64) float64 {
		a, b := 1+p.Strain(from, kelvin, carbon), 1+p.Strain(to, kelvin, carbon)
		return (b*b*b/(a*a*a) - 1) * 100
	}
	within(t, "iron at 1000 K", volume(Austenite, Ferrite, 1000, 0), 1.33, 0.02)
	within(t, "martensite 0.8 C", volume(Austenite, Martensite, 293.15, 0.8), 4.22, 0.13) // the lines of the handbook add, volumes multiply: 0.12
	within(t, "martensite 1.0 C", volume(Austenite, Martensite, 293.15, 1.0), 4.11, 0.13)
	// Expansion: austenite 22.4e-6 at 1183 K, ferrite 10.5e-6 at 300 K, 16.0e-6 at 800 K [seki-nagata-2005].
	slope := func(c Constituent, kelvin float64) float64 {
		return (p.Strain(c, kelvin+1, 0) - p.Strain(c, kelvin-1, 0)) / 2 / (1 + p.Strain(c, kelvin, 0)) * 1e6
	}
	within(t, "austenite", slope(Austenite, 1183), 22.4, 0.2)
	within(t, "ferrite 300 K", slope(Ferrite, 300), 10.5, 0.2)
	within(t, "ferrite 800 K", slope(Ferrite, 800), 16.0, 0.2)
	for _, c := range []Constituent{Ferrite, Austenite} {
		for x := 20.0; x < 1200; x += 100 {
			if e := p.Modulus(c, kelvin(x)); e < 80e9 || e > 215e9 {
				t.Errorf("%v at %g °C: E = %g", c, x, e)
			}
		}
	}
}

func BenchmarkThermal(b *testing.B) {
	p := Properties(Composition{C: 0.8, Mn: 0.7})
	const n = 112
	T, h, cp, k := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	m := Mixture{Carbon: make([]float64, n)}
	for c := range m.Fraction {
		m.Fraction[c] = make([]float64, n)
	}
	for i := range T {
		T[i] = 400 + 7*float64(i)
		m.Fraction[Austenite][i], m.Fraction[Martensite][i], m.Carbon[i] = 0.5, 0.5, 0.7
	}
	perCell := func(b *testing.B) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/cell")
	}
	b.Run("Mix", func(b *testing.B) {
		for b.Loop() {
			p.Mix(h, cp, k, T, &m)
		}
		perCell(b)
	})
	b.Run("Temperature", func(b *testing.B) {
		guess := make([]float64, n)
		for b.Loop() {
			for i := range guess {
				guess[i] = T[i] - 3
			}
			p.Temperature(guess, h, &m)
		}
		perCell(b)
	})
}
