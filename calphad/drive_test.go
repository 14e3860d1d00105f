package calphad

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// The table of driving forces follows the forces themselves within 10 J/mol of
// atoms (cementite, whose force bends most at low carbon, within 15) away from the
// mixture of the two equilibria at 550 to 600 °C.
func TestDriveFollowsTheForces(t *testing.T) {
	db, _ := Open()
	r := rand.New(rand.NewPCG(2, 7))
	for _, c := range []steel.Composition{{steel.C: 0.8}, mnCrW, {steel.C: 0.6, steel.Si: 2, steel.Mn: 0.9}} {
		tab := table(t, c)
		d, err := db.newDriver(c)
		if err != nil {
			t.Fatal(err)
		}
		defer d.para.done()
		for range 60 {
			T, carbon := 480+r.Float64()*700, 0.1+1.4*r.Float64()
			if T > paraBelow-driveStep && T < fullAbove+driveStep {
				continue
			}
			d.carbon(carbon)
			d.warm = false
			want, err := d.force(T, carbon)
			if err != nil {
				t.Fatal(err)
			}
			got := tab.Drive(T, carbon, 1)
			for _, x := range []struct {
				what      string
				got, want float64
				within    float64
			}{{"ferrite", got.Ferrite, want.Ferrite, 10}, {"cementite", got.Cementite, want.Cementite, 15}, {"pearlite", got.Pearlite, want.Pearlite, 10}, {"bainite", got.Bainite, want.Bainite, 10}} {
				if math.Abs(x.got-x.want) > x.within {
					t.Errorf("%v at %.0f °C, %.2f %% C: %s %.1f, itself %.1f J/mol", c, T-273.15, carbon, x.what, x.got, x.want)
				}
			}
		}
	}
}

// The limits of Fe–C show in the forces: pearlite begins at the eutectoid,
// ferrite at A3, cementite at Acm, bainite's T0 lies between Ae3 and 300 °C below.
func TestForcesVanishAtTheLines(t *testing.T) {
	db, _ := Open()
	tab := table(t, steel.Composition{steel.C: 0.8})
	for _, carbon := range []float64{0.2, 0.4, 0.6, 1, 1.2} {
		tr, err := db.Transitions(steel.Composition{steel.C: carbon})
		if err != nil {
			t.Fatal(err)
		}
		b := tab.Below(carbon, 1)
		if carbon < 0.76 && math.Abs(b.Ferrite-tr.Ae3) > 2 {
			t.Errorf("%g %% C: ferrite below %.1f °C, Ae3 %.1f °C", carbon, b.Ferrite-273.15, tr.Ae3-273.15)
		}
		if carbon > 0.76 && math.Abs(b.Cementite-tr.Acm) > 2 {
			t.Errorf("%g %% C: cementite below %.1f °C, Acm %.1f °C", carbon, b.Cementite-273.15, tr.Acm-273.15)
		}
		T0, _, err := db.T0(steel.Composition{steel.C: carbon})
		if err != nil || math.Abs(b.T0-T0) > 2 {
			t.Errorf("%g %% C: T0 %.1f °C in the table, %.1f °C (%v)", carbon, b.T0-273.15, T0-273.15, err)
		}
	}
	if b := tab.Below(0.7618, 1); math.Abs(b.Pearlite-999.68) > 1.5 {
		t.Errorf("pearlite of the eutectoid below %.2f K, the eutectoid lies at 999.68", b.Pearlite)
	}
}

// Lines of Fe–C by an independent solver on the same parameters, here from the
// forces: carbon of austenite beside cementite and beside ferrite [wt %].
func TestCarbonLimitsAreTheLines(t *testing.T) {
	tab := table(t, steel.Composition{steel.C: 0.8})
	for _, row := range []struct{ T, ferrite, cementite float64 }{{740, 0.668, 0.795}, {800, 0.341, 0.948}, {850, 0.156, 0}, {900, 0.024, 1.227}, {1000, 0, 1.535}} {
		f, c := tab.CarbonLimits(row.T+273.15, 1)
		if math.Abs(f-row.ferrite) > 0.006 || row.cementite > 0 && math.Abs(c-row.cementite) > 0.006 {
			t.Errorf("%g °C: ferrite to %.3f %% C, cementite from %.3f; want %.3f and %.3f", row.T, f, c, row.ferrite, row.cementite)
		}
	}
	lastF, lastC := 0.0, 3.0
	for T := 1050.0; T > 650; T -= 25 { // colder: ferrite's side grows, cementite's shrinks
		f, c := tab.CarbonLimits(T, 1)
		if f < lastF || c > lastC || T < 999 && f < c {
			t.Errorf("%g K: ferrite to %.3f %% C, cementite from %.3f", T, f, c)
		}
		lastF, lastC = f, c
	}
}

// More carbon in the austenite drives ferrite less and cementite more; a colder
// austenite is driven more; silicon takes the drive from cementite below 550 °C.
func TestForcesMoveTheRightWay(t *testing.T) {
	tab := table(t, mnCrW)
	si := table(t, steel.Composition{steel.C: 0.95, steel.Mn: 1.2, steel.Si: 1.8, steel.Cr: 0.5, steel.W: 0.5, steel.V: 0.15})
	for T := 500.0; T < 950; T += 50 {
		last := tab.Drive(T, 0.2, 1)
		for c := 0.3; c < 1.5; c += 0.1 {
			d := tab.Drive(T, c, 1)
			if d.Ferrite >= last.Ferrite || d.Cementite <= last.Cementite || d.Bainite >= last.Bainite {
				t.Errorf("%g K: from %.1f to %.1f %% C the forces go from %v to %v", T, c-0.1, c, last, d)
			}
			if warm := tab.Drive(T+30, c, 1); warm.Ferrite >= d.Ferrite || warm.Bainite >= d.Bainite || warm.Pearlite >= d.Pearlite {
				t.Errorf("%g K, %.1f %% C: 30 K more drive %v instead of %v", T, c, warm, d)
			}
			last = d
		}
		if T < 800 && si.Drive(T, 0.8, 1).Cementite > tab.Drive(T, 0.8, 1).Cementite-2000 {
			t.Errorf("%g K: silicon leaves cementite %.0f of %.0f J/mol", T, si.Drive(T, 0.8, 1).Cementite, tab.Drive(T, 0.8, 1).Cementite)
		}
	}
}

// With nothing dissolved the metal is that beside the carbides at Ae1; with all
// of it, the steel.
func TestDissolvedShare(t *testing.T) {
	tab := table(t, highCr)
	none, all := tab.Dissolved(0), tab.Dissolved(1)
	if all != highCr {
		t.Errorf("all dissolved: %v", all)
	}
	if none[steel.Cr] > 5 || none[steel.Cr] < 2 || none[steel.Si] < highCr[steel.Si] {
		t.Errorf("nothing dissolved: %v; the matrix of a 12 %% Cr steel holds about 4 %% Cr", none)
	}
	half := tab.Dissolved(0.5)
	if math.Abs(half[steel.Cr]-(none[steel.Cr]+all[steel.Cr])/2) > 1e-12 {
		t.Errorf("half dissolved: %v", half)
	}
	if a, b := tab.Drive(800, 0.6, 0), tab.Drive(800, 0.6, 1); a == b {
		t.Error("the dissolved share changes no force")
	}
}

// The forces of a neighbor by derivatives are those of its own table within
// 20 J/mol for a grade's range.
func TestForcesOfANeighbor(t *testing.T) {
	db, _ := Open()
	tab := table(t, steel.Composition{steel.C: 0.9, steel.Mn: 1.2, steel.Cr: 0.5})
	n, err := tab.Near(steel.Composition{steel.C: 0.05, steel.Mn: -0.15, steel.Cr: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if n.parent == nil {
		t.Fatal("the neighbor was made from nothing")
	}
	own := newTable(db, n.composition, n.transitions, nil)
	for _, T := range []float64{520, 700, 800, 900, 960} {
		for _, c := range []float64{0.3, 0.6, 0.9, 1.2} {
			for _, share := range []float64{0, 1} {
				a, b := n.Drive(T, c, share), own.Drive(T, c, share)
				for _, d := range []float64{a.Ferrite - b.Ferrite, a.Cementite - b.Cementite, a.Pearlite - b.Pearlite, a.Bainite - b.Bainite} {
					if math.Abs(d) > 20 {
						t.Errorf("%g K, %g %% C, share %g: %v, own table %v", T, c, share, a, b)
					}
				}
			}
		}
	}
}

// One look into the table.
func BenchmarkDrive(b *testing.B) {
	tab := table(b, mnCrW)
	tab.Drive(800, 0.8, 0.7)
	T := 500.0
	for b.Loop() {
		if T += 1; T > 1000 {
			T = 500
		}
		tab.Drive(T, 0.8, 0.7)
	}
}

// The next bar of a grade: its named transitions.
func BenchmarkNear(b *testing.B) {
	tab := table(b, mnCrW)
	k := 0.0
	for b.Loop() {
		k += 1e-6
		if _, err := tab.Near(steel.Composition{steel.C: 0.03 + k, steel.Mn: -0.1, steel.Cr: 0.05}); err != nil {
			b.Fatal(err)
		}
	}
}

// A new composition: the driving forces of one share, to 1053 K.
func BenchmarkDriveNew(b *testing.B) {
	tab := table(b, mnCrW)
	for b.Loop() {
		newTable(tab.db, tab.composition, tab.transitions, nil).Drive(800, 0.8, 1)
	}
}

// The next bar of a grade: transitions and driving forces of two shares.
func BenchmarkDriveNear(b *testing.B) {
	tab := table(b, mnCrW)
	k := 0.0
	for b.Loop() {
		k += 1e-6
		n, err := tab.Near(steel.Composition{steel.C: 0.03 + k, steel.Mn: -0.1, steel.Cr: 0.05})
		if err != nil {
			b.Fatal(err)
		}
		n.Drive(800, 0.8, 0.7)
	}
}
