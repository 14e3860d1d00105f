package steel

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
)

func ExampleFind() {
	g, _ := Find("AISI 1084")
	fmt.Println(g.Name, "·", g.Family, "·", g.Nominal())
	near, _ := Find("100Cr6")
	fmt.Println(near.Asked, "comes near", near.Name)
	_, err := Find("drill rod")
	fmt.Println(err)
	_, err = Find("1048")
	fmt.Println(err)
	// Output:
	// 1084 · plain carbon · C 0.865, Si 0.2, Mn 0.75, Cr 0.08, Ni 0.08, Cu 0.12
	// 100Cr6 comes near 52100
	// steel: "drill rod": the name stands for several steels; which one: W1, O1, A2; name the steel, or write "unknown"
	// steel: "1048": no grade of that name is known; near matches: 1018, 1045, 1084, 1060; give the composition instead, as "C 0.95, Mn 1.2, Cr 0.5"
}

func TestGradesAreWhole(t *testing.T) {
	all := Grades()
	if len(all) != 33 {
		t.Errorf("%d grades, want the 33 of the files", len(all))
	}
	seen := map[string]string{}
	claim := func(name, of string) {
		key := plain(name)
		if key == "" {
			t.Errorf("%s: %q is an empty name", of, name)
		}
		if who, twice := seen[key]; twice && who != of {
			t.Errorf("%q names both %s and %s", name, who, of)
		}
		if ambiguous[key] != nil {
			t.Errorf("%q of %s is also a name to ask about", name, of)
		}
		seen[key] = of
	}
	for _, g := range all {
		if _, ok := cite.Find(g.Source); !ok {
			t.Errorf("%s: source %q is not in the bibliography", g.Name, g.Source)
		}
		if g.ReadBy == "" || g.Use == "" {
			t.Errorf("%s: it lacks how it was read or what it is", g.Name)
		}
		for _, n := range append(append([]string{g.Name}, g.Same...), g.Near...) {
			claim(n, g.Name)
			got, err := Find(n)
			if err != nil || got.Name != g.Name {
				t.Errorf("%q finds %q, %v; want %s", n, got.Name, err, g.Name)
			}
		}
		if err := g.Nominal().Check(); err != nil {
			t.Errorf("%s: %v", g.Name, err)
		}
		low, high := g.Range()
		p10, p90 := g.Spread()
		c := g.Nominal()
		for e := range NumElements {
			if !(low[e] <= c[e] && c[e] <= high[e] && p10[e] <= c[e] && c[e] <= p90[e] && p10[e] >= low[e]-1e-12 && p90[e] <= high[e]+1e-12) {
				t.Errorf("%s: %v nominal %g, spread %g-%g, range %g-%g", g.Name, e, c[e], p10[e], p90[e], low[e], high[e])
			}
		}
	}
	for name := range practices() {
		if _, err := Find(name); err != nil {
			t.Errorf("practice.toml names %q: %v", name, err)
		}
	}
	for name, which := range ambiguous {
		for _, n := range which {
			if g, err := Find(n); err != nil || g.Asked != "" {
				t.Errorf("%q asks for %q, which is no grade", name, n)
			}
		}
	}
}

// A blank in a standard is not zero: scrap brings Si, Cr, Ni, Cu and Mo along.
// Amounts recalled from certificates, see scrap-residuals; this holds the code to the table.
func TestNominalCarriesResiduals(t *testing.T) {
	g, err := Find("1084")
	if err != nil {
		t.Fatal(err)
	}
	c := g.Nominal()
	for e, want := range map[Element]float64{Si: 0.20, Cr: 0.08, Ni: 0.08, Cu: 0.12, Mo: 0.015, V: 0, W: 0} {
		if c[e] != want || g.Specified(e) {
			t.Errorf("1084: %v %g, specified %v; want the residual %g", e, c[e], g.Specified(e), want)
		}
	}
	w1, _ := Find("W1")
	if x := w1.Nominal()[Cr]; x != 0.08 {
		t.Errorf("W1, at most 0.15 Cr: nominal %g, want 0.08", x)
	}
	// Cr + Ni + Mo from the 10th to the 90th percentile.
	low, high := g.Spread()
	if low[Cr] != 0.03 || high[Cr] != 0.16 {
		t.Errorf("1084: chromium from %g to %g, want 0.03 to 0.16", low[Cr], high[Cr])
	}
}

// O1 as makers' sheets print it: C 0.85-1.00, W 0.40-0.60, Cr 0.40-0.60 (seen in text; the standard goes to 0.70 Cr).
func TestO1(t *testing.T) {
	g, _ := Find("O1")
	low, high := g.Range()
	if low[C] != 0.85 || high[C] != 1.00 || low[W] != 0.40 || high[W] != 0.60 || low[Cr] != 0.40 {
		t.Errorf("O1: %v to %v", low, high)
	}
	if g.Practice == nil || g.Practice.Harden != [2]float64{790, 815} {
		t.Errorf("O1 hardens from %v", g.Practice)
	}
}

func TestFindRefuses(t *testing.T) {
	for _, name := range []string{"", "drill rod", "Silver Steel", "gauge plate", "ground flat stock", "leaf spring", "EN42", "zzz", "O11", "1.9999", strings.Repeat("x", 5000), "\xff\xfe"} {
		g, err := Find(name)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%.20q finds %q, %v", name, g.Name, err)
			continue
		}
		if len(err.Error()) > 400 || e.Remedy == "" {
			t.Errorf("%.20q: %v", name, err)
		}
	}
	if _, err := Find("5610"); err == nil || !strings.Contains(err.Error(), "5160") {
		t.Errorf("5610 does not lead to 5160: %v", err)
	}
	g, err := Find("unknown")
	if err != nil {
		t.Fatal(err)
	}
	low, high := g.Spread()
	if high[C]-low[C] < 0.4 {
		t.Errorf("mystery steel has carbon from %g to %g only", low[C], high[C])
	}
}

func TestFamilies(t *testing.T) {
	for name, want := range map[string]Family{
		"1018": Mild, "1045": PlainCarbon, "1084": PlainCarbon, "1095": PlainCarbon, "W1": PlainCarbon, "W2": PlainCarbon, "C105U": PlainCarbon, "5160": LowAlloy, "4140": LowAlloy,
		"O1": AlloyTool, "80CrV2": AlloyTool, "L6": AlloyTool, "52100": ChromiumBearing, "110WCrV5": Tungsten, "142WV13": Tungsten, "A2": AirHardening, "D2": AirHardening,
	} {
		g, err := Find(name)
		if err != nil || g.Family != want {
			t.Errorf("%s: family %v, %v; want %v", name, g.Family, err, want)
		}
	}
}

func TestCompositionCheck(t *testing.T) {
	bad := Composition{C: 4.2}
	want := `steel: carbon 4.2 %: that is cast iron; this program covers 0.05-2.1 % carbon; check the number; percent is meant, not points`
	if err := bad.Check(); err == nil || err.Error() != want {
		t.Errorf("carbon 4.2: %v", err)
	}
	for _, c := range []Composition{{C: 0.01}, {C: 0.8, Cr: 18}, {C: 0.8, Mn: -1}, {C: math.NaN()}, {C: 0.8, Si: math.Inf(1)}, {}} {
		if c.Check() == nil {
			t.Errorf("%v passes", c)
		}
	}
	if err := (Composition{C: 0.05}).Check(); err != nil {
		t.Error(err)
	}
}

func TestForgingLimitsStandInOrder(t *testing.T) {
	for _, g := range Grades() {
		c := g.Nominal()
		if hot, burn, sol := g.HottestForging(), Burning(c), Solidus(c); !(hot < burn && burn < sol) {
			t.Errorf("%s: forge to %.0f °C, burns at %.0f, melts at %.0f", g.Name, hot-273.15, burn-273.15, sol-273.15)
		}
		if p := g.Practice; p != nil && (p.Forge[0] <= p.Forge[1] || p.Harden[0] > p.Harden[1] || p.Temper[0] > p.Temper[1]) {
			t.Errorf("%s: windows out of order: %+v", g.Name, *p)
		}
	}
}
