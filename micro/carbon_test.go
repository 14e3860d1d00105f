package micro

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// Carbon that is moved out of a cell and back is counted to rounding, fractions
// stay whole and iron stays, in whatever state the cell is.
func TestMoveCarbonIsCounted(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	for name, k := range map[string]steel.Composition{"O1": o1, "1084": s1084, "52100": s52100, "5160": s5160} {
		m := metalOf(t, k)
		for range 60 {
			c := NewCells(3)
			m.Start(c, Condition(r.IntN(int(numConditions))))
			mass, carbon := 1.0, c.CarbonTotal(1)/100
			for range 12 {
				T := 600 + 700*r.Float64()
				m.Step(c, c, []float64{T, T, T}, math.Pow(10, 3*r.Float64()))
				iron := mass * (1 - c.CarbonTotal(1)/100)
				ready := c.ready[1]
				x := m.MoveCarbon(c, 1, (r.Float64()-0.2)*0.3*c.CarbonTotal(1)/100)
				if c.Fraction[steel.Austenite][1] == 0 && c.ready[1] != ready {
					t.Fatalf("%s: martensite that has formed is to form anew", name)
				}
				carbon -= mass * x
				mass *= 1 - x
				sum := 0.0
				for q := range c.Fraction {
					f := c.Fraction[q][1]
					if f < 0 || math.IsNaN(f) {
						t.Fatalf("%s: a fraction is %g", name, f)
					}
					sum += f
				}
				have := c.CarbonTotal(1) / 100
				if math.Abs(sum-1) > 1e-12 || math.Abs(mass*have-carbon) > 1e-13 || math.Abs(mass*(1-have)-iron) > 1e-12 {
					t.Fatalf("%s: fractions 1%+.1e, carbon off by %.1e, iron by %.1e kg/kg", name, sum-1, mass*have-carbon, mass*(1-have)-iron)
				}
				if d := m.carbonOf(c, 1) - 100*have; math.Abs(d) > 1e-9 {
					t.Fatalf("%s: the cell is said to have %.2e wt%% more than it holds", name, d)
				}
			}
			if c.Lack[0] != 0 || c.Lack[2] != 0 {
				t.Fatal("a neighbor lost carbon")
			}
		}
	}
}

// lean returns a cell of m that has come down to this carbon at heat.
func lean(t *testing.T, m *Metal, carbon float64) *lump {
	t.Helper()
	l := &lump{m: m, c: NewCells(1), T: 293, sv: 1000}
	m.Start(l.c, Normalized)
	l.hold(1123, 5, 300)
	for m.carbonOf(l.c, 0) > carbon+1e-6 {
		x := min(0.05, m.carbonOf(l.c, 0)-carbon) / 100
		m.MoveCarbon(l.c, 0, x)
		l.hold(1123, 5, 20)
	}
	l.hold(1123, 5, 300)
	return l
}

// A cell that has lost carbon is like a bar of the same alloy that never had it:
// in its Ms, its hardness quenched, its ferrite cooled slowly. Own derivation. The
// rates of lean cells are taken at shares of the bar's carbon and their ferrite line
// is a parabola, whence the room: 5 % of the hardness, 0.08 of ferrite. A bar that
// keeps carbide at heat is left out, for a cell that came down from more carbon
// by its surface has none left.
func TestLeanCellIsALeanBar(t *testing.T) {
	compared := 0
	for name, k := range map[string]steel.Composition{"1095": s1095, "O1": o1, "5160": s5160} {
		m := metalOf(t, k)
		for _, carbon := range []float64{0.9, 0.7, 0.5, 0.3, 0.15} {
			if carbon > 0.95*k[steel.C] {
				continue
			}
			cell := lean(t, m, carbon)
			bar := k
			bar[steel.C] = carbon
			own := &lump{m: metalOf(t, bar), c: NewCells(1), T: 293, sv: 1000}
			own.m.Start(own.c, Normalized)
			own.hold(1123, 5, 600)
			own.c.Grain4[0] = cell.c.Grain4[0]
			if own.c.Fraction[steel.Carbide][0] > 1e-3 {
				continue
			}
			compared++
			if a, b := m.MartensiteTemperature(cell.c, 0), own.m.MartensiteTemperature(own.c, 0); math.Abs(a-b) > 2 {
				t.Errorf("%s at %.2f %% C: Ms %.0f K, of such a bar %.0f", name, carbon, a, b)
			}
			slowly := [2]*lump{{m: m, c: cell.c.Clone(), T: cell.T}, {m: own.m, c: own.c.Clone(), T: own.T}}
			for _, l := range []*lump{cell, own} {
				l.cool(func(T float64) float64 { return 20000 * (T - 293) }, 300, 1e4)
			}
			// Where a bar hardens halfway a small shift of the nose is a large one of its hardness.
			through := own.c.Fraction[steel.Martensite][0]
			if a, b := m.HV(cell.c, 0), own.m.HV(own.c, 0); math.Abs(a-b) > 0.05*b && (through > 0.9 || through < 0.1) {
				t.Errorf("%s at %.2f %% C: quenched %.0f HV, such a bar %.0f", name, carbon, a, b)
			}
			var ferrite [2]float64
			for n, l := range slowly {
				l.hold(300, 0.1, 1)
				ferrite[n] = l.c.Fraction[steel.Ferrite][0]
			}
			if math.Abs(ferrite[0]-ferrite[1]) > 0.08 {
				t.Errorf("%s at %.2f %% C: slowly cooled %.2f ferrite, such a bar %.2f", name, carbon, ferrite[0], ferrite[1])
			}
		}
	}
	if compared < 8 {
		t.Errorf("%d cells compared with bars, want 8 at least", compared)
	}
}

// The surface of a hyper-eutectoid bar that has come below the eutectoid forms
// ferrite as it cools slowly, the more the less carbon it has; the bar beneath
// forms none, nor does a surface that keeps enough.
func TestLeanSurfaceFormsFerrite(t *testing.T) {
	m := metalOf(t, s1095)
	last := -1.0
	for _, carbon := range []float64{0.96, 0.85, 0.65, 0.45, 0.25, 0.1} {
		l := lean(t, m, carbon)
		if l.c.Fraction[steel.Ferrite][0] > 0.25 {
			t.Errorf("%.2f %% C: %.2f ferrite at 850 °C", carbon, l.c.Fraction[steel.Ferrite][0])
		}
		l.hold(300, 0.02, 1)
		f := l.c.Fraction[steel.Ferrite][0]
		if want := max(0, 1-carbon/m.eutectoid); math.Abs(f-want) > 0.07 {
			t.Errorf("%.2f %% C: %.2f ferrite, by the lever rule %.2f", carbon, f, want)
		}
		if f < last || carbon < 0.7 && f <= 0.05 {
			t.Errorf("%.2f %% C: %.2f ferrite after %.2f at more carbon", carbon, f, last)
		}
		last = f
	}
}

// Bark takes away from every condition of a bar what it lacks, and no more.
func TestStartLean(t *testing.T) {
	for name, k := range map[string]steel.Composition{"O1": o1, "1084": s1084, "5160": s5160} {
		m := metalOf(t, k)
		for cond := range numConditions {
			c := NewCells(2)
			m.Start(c, cond)
			for _, carbon := range []float64{0.5, 0.2, 0} {
				m.StartLean(c, 1, StartState{Condition: cond}, carbon)
				sum := 0.0
				for q := range c.Fraction {
					sum += c.Fraction[q][1]
				}
				want := max(carbon, leastCarbon)
				if math.Abs(c.CarbonTotal(1)-want) > 1e-9 || math.Abs(m.carbonOf(c, 1)-want) > 1e-9 || math.Abs(sum-1) > 1e-12 {
					t.Errorf("%s %s: %.4f %% C, fractions %.6f, want %.4f", name, cond, c.CarbonTotal(1), sum, want)
				}
				if m.HV(c, 1) > m.HV(c, 0)+1 {
					t.Errorf("%s %s with %.2f %% C: %.0f HV, the bar %.0f", name, cond, carbon, m.HV(c, 1), m.HV(c, 0))
				}
			}
		}
	}
}

// Austenite that has no carbon left goes to ferrite whole, and what it held stays a number.
func TestAusteniteWithoutCarbonGoes(t *testing.T) {
	m := metalOf(t, s5160)
	c := NewCells(1)
	m.Start(c, Normalized)
	m.bring(c, 1120, 5, 60)
	c.Carbon[0] = 3e-17
	c.Lack[0] = s5160[steel.C] - 3e-17
	for T := 1120.0; T > 850; T -= 2 {
		m.Step(c, c, []float64{T}, 20)
		for k, x := range c.slab {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Fatalf("at %g K column %d is %g", T, k, x)
			}
		}
	}
	if f := c.Fraction[steel.Ferrite][0]; f < 0.99 {
		t.Errorf("ferrite %g", f)
	}
}
