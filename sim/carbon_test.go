package sim

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// fires is a shop with a forge for every flame.
const fires = `
[[shop.forge]]
name = "lean"
kind = "gas"
flame = "lean"
[[shop.forge]]
name = "neutral"
kind = "gas"
flame = "neutral"
[[shop.forge]]
name = "rich"
kind = "gas"
flame = "rich"
`

func soak(in, at, hold string) string {
	return fires + fmt.Sprintf("[[step]]\ndo = \"heat\"\nin = %q\nat = %q\nuntil = \"at heat\"\nhold = %q\n", in, at, hold)
}

const (
	foil  = "[[step]]\ndo = \"coat\"\nwith = \"foil\"\n"
	strip = "[[step]]\ndo = \"strip\"\n"
)

// marched returns the march of a job at its end; with unrobbed the cells keep the
// carbon that the skin loses.
func marched(t *testing.T, piece, steps string, unrobbed bool) (*March, *History) {
	t.Helper()
	s, err := Prepare(parse(t, piece, steps))
	if err != nil {
		t.Fatal(err)
	}
	m, err := s.March(Options{Section: true, Quick: true, NoSeries: true})
	if err != nil {
		t.Fatal(err)
	}
	if unrobbed {
		m.under = columns{}
	}
	if err := m.Finish(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	h, err := m.History()
	if err != nil {
		t.Fatal(err)
	}
	return m, h
}

func noted(h *History, code string) bool {
	return slices.ContainsFunc(h.Notes, func(n cite.Note) bool { return n.Code == code })
}

// An hour at 815 °C robs an edge of 0.5 mm: it comes from the oil softer by two or
// three points of HRC than one wrapped in foil, the spine by little. A rich flame
// saves scale and no carbon (wright-2010, summary). The numbers are our own.
func TestLongSoakSoftensAThinEdge(t *testing.T) {
	for _, c := range []struct {
		grade string
		loss  [2]float64
	}{{"1084", [2]float64{2.5, 4.5}}, {"O1", [2]float64{1, 3}}, {"1095", [2]float64{1.5, 4}}, {"5160", [2]float64{4, 6.5}}} {
		blade := bladeOf(c.grade, "3 mm", "0.5 mm", "spheroidized")
		out := carry("2 s") + quench("fast oil")
		_, wrapped := marched(t, blade, foil+soak("kiln", "815 C", "60 min")+strip+out, false)
		sound := hrc(t, wrapped, "edge")
		for _, in := range []string{"lean", "neutral", "rich", "kiln"} {
			_, h := marched(t, blade, soak(in, "815 C", "60 min")+out, false)
			edge := hrc(t, h, "edge")
			t.Logf("%s %s: edge %.1f HRC, %.1f in foil; spine %.1f, %.1f; soft skin %.3f mm", c.grade, in, edge, sound, hrc(t, h, "spine"), hrc(t, wrapped, "spine"), zone(t, h, "edge").SoftSkin.Value)
			if d := sound - edge; d < c.loss[0] || d > c.loss[1] {
				t.Errorf("%s in a %s fire: edge %.1f HRC, %.1f in foil: softer by %.1f, want %.1f to %.1f", c.grade, in, edge, sound, d, c.loss[0], c.loss[1])
			}
			if !noted(h, "sim.carbon-lost") || noted(wrapped, "sim.carbon-lost") {
				t.Errorf("%s in a %s fire: the carbon lost is not told, or told of the one in foil", c.grade, in)
			}
			if d := hrc(t, wrapped, "spine") - hrc(t, h, "spine"); d > 0.4*(sound-edge) {
				t.Errorf("%s in a %s fire: the spine is softer by %.1f, the edge by %.1f", c.grade, in, d, sound-edge)
			}
		}
	}
}

// Five minutes in a kiln change the surface of 3 mm stock by less than a third of
// a point, an edge of 0.5 mm by less than one.
func TestShortHeatTakesLittle(t *testing.T) {
	for _, grade := range []string{"1084", "O1", "1095", "52100"} {
		for _, c := range []struct {
			piece, zone string
			most        float64
		}{{flat(grade, "3 mm", "spheroidized"), "surface", 1.0 / 3}, {bladeOf(grade, "3 mm", "0.5 mm", "spheroidized"), "edge", 1}} {
			steps := soak("kiln", "815 C", "2 min") + carry("1 s") + quench("fast oil")
			_, h := marched(t, c.piece, steps, false)
			_, kept := marched(t, c.piece, steps, true)
			a, b := hrc(t, h, c.zone), hrc(t, kept, c.zone)
			t.Logf("%s %s: %.2f HRC, %.2f with all its carbon", grade, c.zone, a, b)
			if math.Abs(a-b) > c.most {
				t.Errorf("%s %s: %.2f HRC, %.2f with all its carbon", grade, c.zone, a, b)
			}
		}
	}
}

// The bar's carbon is in the cells, in gas and scale, and in the chips; and the
// gas has from the cells what the skin says it has, but at the narrow sides, where
// faces meet and rob the same metal.
func TestCarbonIsAccountedFor(t *testing.T) {
	for name, steps := range map[string]string{
		"long":   soak("lean", "860 C", "40 min") + carry("2 s") + quench("fast oil"),
		"ground": soak("kiln", "830 C", "20 min") + carry("2 s") + quench("fast oil") + "[[step]]\ndo = \"grind\"\noff = \"0.1 mm\"\n" + temper("200 C", "1 h", 2),
	} {
		for _, condition := range []string{"hot-rolled", "spheroidized"} {
			s, err := Prepare(parse(t, flat("1084", "4 mm", condition), steps))
			if err != nil {
				t.Fatal(err)
			}
			m, err := s.March(Options{Section: true, Quick: true, NoSeries: true})
			if err != nil {
				t.Fatal(err)
			}
			bar, began := m.books.carbon, m.now.skin.Clone()
			if err := m.Finish(context.Background(), nil); err != nil {
				t.Fatal(err)
			}
			cells, _ := m.carbonOf(m.now)
			b := &m.books
			if off := (cells+b.burnt+b.gone+b.chips)/bar - 1; math.Abs(off) > 1e-12 {
				t.Errorf("%s, %s: carbon is off by %.1e", name, condition, off)
			}
			if w := b.close(m); w.Energy > 1e-9 || w.Carbon > 1e-9 || w.Iron > 1e-9 || w.Fractions > 1e-9 {
				t.Errorf("%s, %s: %+v", name, condition, w)
			}
			gone, chips := 0.0, 0.0
			for n, i := range m.outer {
				area := m.mesh.Faces.Area[i]
				gone += density * area / 100 * (m.now.skin.Gone[n] - began.Gone[n] - s.Steel[steel.C]*m.now.skin.Lost[n])
				chips += density * area / 100 * m.now.skin.Chips[n]
			}
			t.Logf("%s, %s: bar %.4g kg/m, gone %.4g (skin %.4g), chips %.4g (skin %.4g)", name, condition, bar, b.burnt+b.gone, gone, b.chips, chips)
			// What a ground face has lost before is told for its area now.
			if r := (b.burnt + b.gone) / gone; r < 0.97 || r > 1.02 {
				t.Errorf("%s, %s: the cells gave %.3f of what the skin lost", name, condition, r)
			}
			if (chips > 0) != (name == "ground") || chips > 0 && math.Abs(b.chips/chips-1) > 0.15 {
				t.Errorf("%s, %s: chips %.4g kg/m, by the skin %.4g", name, condition, b.chips, chips)
			}
		}
	}
}

// A cell that owns two faces loses to both, one without a face to the surface
// above it only; and the middle of thick stock keeps its carbon.
func TestCornersLoseMore(t *testing.T) {
	m, _ := marched(t, flat("1084", "6 mm", "spheroidized"), soak("lean", "900 C", "30 min")+carry("2 s")+quench("fast oil"), false)
	lack := m.now.cells.Lack
	at := func(j, k int) float64 { return lack[j*m.mesh.NK+k] }
	j, k := m.mesh.NJ-1, m.mesh.NK-1
	corner, side, face, middle := at(j, k), at(j, 0), at(j/2, k), at(j/2, 0)
	if !m.mirror {
		t.Fatal("the test reads the front half")
	}
	if corner <= 1.05*max(side, face) || corner > side+face || middle > 1e-4 || face < 0.02 {
		t.Errorf("corner lacks %.4f %%, narrow side %.4f, flat %.4f, middle %.5f", corner, side, face, middle)
	}
}

// Ground clean after a long heat, the surface is as hard as if it had lost nothing.
func TestGroundCleanIsHard(t *testing.T) {
	steps := soak("kiln", "815 C", "30 min") + carry("2 s") + quench("fast oil")
	grind := "[[step]]\ndo = \"grind\"\noff = \"0.25 mm\"\n"
	piece := flat("1084", "3 mm", "spheroidized")
	_, rough := marched(t, piece, steps, false)
	_, clean := marched(t, piece, steps+grind, false)
	_, kept := marched(t, piece, steps+grind, true)
	a, b, c := zone(t, rough, "surface").HardnessHV.Value, zone(t, clean, "surface").HardnessHV.Value, zone(t, kept, "surface").HardnessHV.Value
	t.Logf("rough %.0f HV, ground %.0f, ground and never robbed %.0f; decarb %.3f mm", a, b, c, zone(t, rough, "surface").Decarb.Value)
	if math.Abs(b-c) > 12 || zone(t, clean, "surface").SoftSkin.Value > 0 {
		t.Errorf("rough %.0f HV, ground %.0f, ground and never robbed %.0f", a, b, c)
	}
}

// The finish that a job names is the one that is marched: bright steel heats
// slower in a kiln than scaled (bramson-1968: emissivity 0.1 to 0.3 against 0.8), and
// hot-rolled bar that was ground has no bark.
func TestFinishOfTheJob(t *testing.T) {
	steps := soak("kiln", "760 C", "10 min")
	rolled, finish := flat("1084", "6 mm", "hot-rolled"), func(f string) string { return fmt.Sprintf("finish = %q\n", f) }
	var seconds, carbon []float64
	for _, f := range []string{"scaled", "ground", "polished"} {
		m, h := marched(t, rolled+finish(f), steps, false)
		have, _ := m.carbonOf(m.now)
		seconds, carbon = append(seconds, h.Steps[0].Reached), append(carbon, have)
	}
	plainMarch, _ := marched(t, rolled, steps, false)
	if have, _ := plainMarch.carbonOf(plainMarch.now); have != carbon[0] {
		t.Error("hot-rolled is not scaled by itself")
	}
	t.Logf("at heat after %.0f s scaled, %.0f ground, %.0f polished; carbon %.5g, %.5g kg/m", seconds[0], seconds[1], seconds[2], carbon[0], carbon[1])
	if seconds[1] < 1.02*seconds[0] || seconds[2] < 1.02*seconds[1] {
		t.Errorf("at heat after %.0f s scaled, %.0f ground, %.0f polished", seconds[0], seconds[1], seconds[2])
	}
	if carbon[0] > 0.99*carbon[1] {
		t.Errorf("%.5g kg/m of carbon under scale, %.5g ground", carbon[0], carbon[1])
	}
}

// What an edge loses does not depend on how finely it is cut up, and its hardness,
// that of mixed cells, hardly.
func TestCarbonLossKnowsNoMesh(t *testing.T) {
	for _, c := range []struct{ grade, hold string }{{"1084", "2 min"}, {"O1", "60 min"}} {
		s, err := Prepare(parse(t, bladeOf(c.grade, "3 mm", "0.5 mm", "spheroidized"), soak("kiln", "815 C", c.hold)+carry("2 s")+quench("fast oil")))
		if err != nil {
			t.Fatal(err)
		}
		var lost, hard []float64
		for _, through := range []int{8, 24} {
			m, err := s.March(Options{Section: true, Quick: true, NoSeries: true, Through: through})
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Finish(context.Background(), nil); err != nil {
				t.Fatal(err)
			}
			h, err := m.History()
			if err != nil {
				t.Fatal(err)
			}
			lost, hard = append(lost, m.mesh.Parts[m.edge()].Mean(m.now.cells.Lack)), append(hard, hrc(t, h, "edge"))
		}
		if math.Abs(lost[0]-lost[1]) > 0.02*lost[1] || math.Abs(hard[0]-hard[1]) > 0.4 {
			t.Errorf("%s after %s: %.4f %% lost and %.2f HRC in 8 cells through, %.4f %% and %.2f HRC in 24", c.grade, c.hold, lost[0], hard[0], lost[1], hard[1])
		}
	}
}
