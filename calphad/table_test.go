package calphad

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/heatwright/heatwright/steel"
)

var highCr = steel.Composition{steel.C: 1.55, steel.Cr: 11.8, steel.Mo: 0.8, steel.V: 0.8, steel.Mn: 0.3, steel.Si: 0.3}

func table(t testing.TB, c steel.Composition) *Table {
	t.Helper()
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	tab, err := db.Table(c)
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

// Between its nodes the table follows the equilibrium: austenite within 1e-4 wt % C,
// fractions within 1e-4, also right beside the transitions.
func TestTableFollowsTheEquilibrium(t *testing.T) {
	db, _ := Open()
	r := rand.New(rand.NewPCG(3, 3))
	for _, c := range []steel.Composition{mnCrW, {steel.C: 0.45, steel.Mn: 0.7}, highCr} {
		tab := table(t, c)
		var at []float64
		for range 40 {
			at = append(at, 923.15+r.Float64()*(tab.Solidus()-923.15))
		}
		for _, T := range []float64{tab.Ae1Start(), tab.Ae1End(), tab.Ae3(), tab.Solidus()} {
			at = append(at, T-0.3, T+0.3)
		}
		for _, T := range at {
			q, err := db.Equilibrium(c, T)
			if err != nil {
				t.Fatal(err)
			}
			a, ok := q.Find(Austenite)
			got, present := tab.Austenite(T)
			if ok != present || ok && math.Abs(a.Composition[steel.C]-got[steel.C]) > 1e-4 {
				t.Errorf("%v at %.2f °C: austenite %.5f (%v), equilibrium %.5f (%v)", c, T-273.15, got[steel.C], present, a.Composition[steel.C], ok)
			}
			for _, name := range []string{Austenite, Ferrite, Cementite, M7C3} {
				p, _ := q.Find(name)
				if x := tab.Fraction(T, name); math.Abs(x-p.MassFraction) > 2e-3 {
					t.Errorf("%v at %.2f °C: %s %.5f, equilibrium %.5f", c, T-273.15, name, x, p.MassFraction)
				}
			}
			if x := tab.CarbonPotential(T); math.Abs(x-q.Potential[steel.C]) > 20 {
				t.Errorf("%v at %.2f °C: potential %.1f, equilibrium %.1f J/mol", c, T-273.15, x, q.Potential[steel.C])
			}
		}
	}
}

// Many may ask at once; the answers are those of one asker.
func TestTableServesManyAtOnce(t *testing.T) {
	db, _ := Open()
	c := steel.Composition{steel.C: 0.72, steel.Mn: 0.63, steel.Si: 0.21}
	tab, err := db.Table(c)
	if err != nil {
		t.Fatal(err)
	}
	answers := make([][]float64, 4)
	var wait sync.WaitGroup
	for i := range answers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for T := 1000.0; T < 1100; T += 3 {
				a, _ := tab.Austenite(T)
				answers[i] = append(answers[i], a[steel.C], tab.Drive(T-200, 0.7, 1).Pearlite)
			}
		}()
	}
	wait.Wait()
	for i := 1; i < len(answers); i++ {
		for k := range answers[i] {
			if answers[i][k] != answers[0][k] {
				t.Fatalf("asker %d heard %v, asker 0 %v", i, answers[i][k], answers[0][k])
			}
		}
	}
	if again, _ := db.Table(c); again != tab {
		t.Error("the table is not kept")
	}
}

func TestFillingCanBeStopped(t *testing.T) {
	tab := table(t, steel.Composition{steel.C: 0.81, steel.Mn: 0.7})
	ctx, stop := context.WithCancel(context.Background())
	steps := 0
	err := tab.Fill(ctx, func(done, total int) {
		if steps++; done != steps || total < 200 {
			t.Errorf("progress %d of %d at step %d", done, total, steps)
		}
		if steps == 5 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || steps != 5 {
		t.Errorf("stopped after %d steps with %v", steps, err)
	}
	if err := tab.FillDrive(ctx, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("filling of forces: %v", err)
	}
	if err := tab.Fill(context.Background(), nil); err != nil {
		t.Error(err)
	}
}

// Neighbors inside a grade's range: their transitions are those of a table made
// from nothing within 1 K (measured: 1e-7 K), their austenite within 0.005 wt % C
// (measured: 1e-9).
func TestNeighborsOfAGrade(t *testing.T) {
	db, _ := Open()
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range []steel.Composition{mnCrW, {steel.C: 0.84, steel.Mn: 0.75, steel.Si: 0.2}, {steel.C: 0.75, steel.Mn: 0.7, steel.Si: 0.25, steel.Cr: 0.9, steel.Ni: 1.7, steel.Mo: 0.3}, highCr} {
		tab := table(t, c)
		followed := 0
		for range 12 {
			var d steel.Composition
			for e := range d {
				d[e] = 0.12 * c[e] * (2*r.Float64() - 1)
			}
			n, err := tab.Near(d)
			if err != nil {
				t.Fatal(err)
			}
			if n.parent != nil {
				followed++
			}
			tr, err := db.Transitions(n.composition)
			if err != nil {
				t.Fatal(err)
			}
			for name, p := range map[string][2]float64{"Ae1 start": {n.Ae1Start(), tr.Ae1Start}, "Ae1 end": {n.Ae1End(), tr.Ae1End}, "Ae3": {n.Ae3(), tr.Ae3}, "Acm": {n.Acm(), tr.Acm}, "solidus": {n.Solidus(), tr.Solidus}} {
				if math.Abs(p[0]-p[1]) > 1e-3 {
					t.Errorf("%v %s: %.5f K, from nothing %.5f K", n.composition, name, p[0], p[1])
				}
			}
			T := n.Ae1End() + 15
			got, _ := n.Austenite(T)
			q, err := db.Equilibrium(n.composition, T)
			if err != nil {
				t.Fatal(err)
			}
			a, _ := q.Find(Austenite)
			if math.Abs(got[steel.C]-a.Composition[steel.C]) > 1e-4 {
				t.Errorf("%v: austenite at %.0f K holds %.5f %% C, from nothing %.5f", n.composition, T, got[steel.C], a.Composition[steel.C])
			}
		}
		if followed < 9 {
			t.Errorf("%v: only %d of 12 neighbors were reached from the table", c, followed)
		}
	}
}

// A neighbor that brings a new element, or none at all.
func TestNeighborsThatAreNone(t *testing.T) {
	tab := table(t, steel.Composition{steel.C: 0.84, steel.Mn: 0.75})
	same, err := tab.Near(steel.Composition{})
	if err != nil || same != tab {
		t.Errorf("no change gives another table (%v)", err)
	}
	n, err := tab.Near(steel.Composition{steel.Cr: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	db, _ := Open()
	tr, _ := db.Transitions(steel.Composition{steel.C: 0.84, steel.Mn: 0.75, steel.Cr: 0.5})
	if n.Ae1Start() != tr.Ae1Start {
		t.Errorf("with chromium Ae1 %v, want %v", n.Ae1Start(), tr.Ae1Start)
	}
	if _, err := tab.Near(steel.Composition{steel.Cr: 80}); err == nil {
		t.Error("80 % chromium was taken")
	}
}

// The band of a grade holds its typical value, and a wide grade a wider band.
func TestCriticalTemperaturesOfAGrade(t *testing.T) {
	db, _ := Open()
	typical := steel.Composition{steel.C: 0.92, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.5, steel.W: 0.5}
	low, high := typical, typical
	low[steel.C], high[steel.C] = 0.85, 1
	low[steel.Mn], high[steel.Mn] = 1, 1.4
	high[steel.V] = 0.3
	narrow, err := db.Critical(typical, typical, typical)
	if err != nil {
		t.Fatal(err)
	}
	wide, err := db.Critical(typical, low, high)
	if err != nil {
		t.Fatal(err)
	}
	if b := narrow.Ae1Start; math.Abs(b.High-b.Value-spreadAe) > 1e-6 || math.Abs(b.Value-b.Low-spreadAe) > 1e-6 {
		t.Errorf("without a range the band is that between databases: %v", b)
	}
	if narrow.Ae1Start.Value != wide.Ae1Start.Value || wide.Acm.High-wide.Acm.Low < narrow.Acm.High-narrow.Acm.Low+20 {
		t.Errorf("Acm %v, of the range %v", narrow.Acm, wide.Acm)
	}
	if wide.Ae1Start.Low > wide.Ae1Start.Value || wide.Ae1Start.High < wide.Ae1Start.Value {
		t.Errorf("Ae1 %v", wide.Ae1Start)
	}
}

func TestSectionThroughCarbon(t *testing.T) {
	db, _ := Open()
	s, err := db.Section(context.Background(), steel.Composition{}, steel.C, []float64{0, 0.4, 1.2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"[ferrite] [austenite] [ferrite] [liquid]", "", "[cementite ferrite] [austenite cementite] [austenite] [austenite liquid] [liquid]"}
	for i, col := range s.Columns {
		got := ""
		for k, f := range col.Transitions.Fields() {
			if k > 0 {
				got += " "
			}
			got += "[" + join(f.Phases) + "]"
			if f.To <= f.From {
				t.Errorf("field %v runs backward", f)
			}
		}
		if want[i] != "" && got != want[i] {
			t.Errorf("%g %% C: %s, want %s", col.Content, got, want[i])
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := db.Section(ctx, steel.Composition{}, steel.C, []float64{1}, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped section: %v", err)
	}
}

func join(list []string) string {
	s := ""
	for i, x := range list {
		if i > 0 {
			s += " "
		}
		s += x
	}
	return s
}
