package sim

import (
	"slices"
	"testing"

	"github.com/heatwright/heatwright/micro"
)

const waterBath = "[[shop.bath]]\nname = \"water\"\nkind = \"water\"\nvolume = \"60 L\"\nwarm = \"20 C\"\n"

// hardenedIn hardens a 3 mm blade as its sheet says and tempers it at 204 °C.
func hardenedIn(t *testing.T, grade, at, hold, bath string) *History {
	t.Helper()
	return runOf(t, parseAt(t, bladeOf(grade, "3 mm", "0.8 mm", "spheroidized"), bench+waterBath,
		heat(at, hold)+carry("2 s")+quench(bath)+temper("204 C", "1 h", 1)))
}

func crackOf(t *testing.T, h *History) *Crack {
	t.Helper()
	for i := range h.Steps {
		if h.Steps[i].Role == Quenching && h.Steps[i].Crack != nil {
			return h.Steps[i].Crack
		}
	}
	t.Fatal("the quench is not ranked")
	return nil
}

// Oil-hardening steel in water is what its sheet forbids: it ranks high there, and not in
// oil; a thin blade of plain eutectoid steel in oil, what every class does, raises nothing
// but what its thin edge does (common practice; kunitake-1971 from memory).
func TestCrackRankFollowsTheBath(t *testing.T) {
	water, oil := crackOf(t, hardenedIn(t, "O1", "800 C", "15 min", "water")), crackOf(t, hardenedIn(t, "O1", "800 C", "15 min", "medium oil"))
	if water.Rank < micro.CrackHigh || oil.Rank >= micro.CrackHigh || water.Rank <= oil.Rank {
		t.Errorf("O1 in water %+v, in oil %+v", *water, *oil)
	}
	if plain := crackOf(t, hardenedIn(t, "1084", "815 C", "3 min", "fast oil")); plain.Rank > 1 {
		t.Errorf("1084 in oil %+v", *plain)
	}
}

// What lies hard over night, or for good, is told: within half an hour of the quench it
// is not (o1-a2-sheets).
func TestLyingHardRaisesTheRank(t *testing.T) {
	piece, way := bladeOf("O1", "3 mm", "0.8 mm", "spheroidized"), heat("800 C", "15 min")+carry("2 s")+quench("medium oil")
	wait := "[[step]]\ndo = \"cool\"\nin = \"air\"\nuntil = \"12 h\"\n"
	for _, x := range []struct {
		name, then string
		raised     bool
	}{{"at once", temper("204 C", "1 h", 1), false}, {"over night", wait + temper("204 C", "1 h", 1), true}, {"never", "", true}} {
		c := crackOf(t, runOf(t, parse(t, piece, way+x.then)))
		if slices.Contains(c.Raised, micro.CrackUntempered) != x.raised {
			t.Errorf("tempered %s: %+v", x.name, *c)
		}
	}
}

// A hole is told, and where it is drilled after the quench it is not.
func TestHolesRaiseTheRank(t *testing.T) {
	piece := bladeOf("O1", "3 mm", "0.8 mm", "spheroidized")
	drill := "[[step]]\ndo = \"drill\"\nfrom = \"40 mm\"\nacross = \"10 mm\"\ndiameter = \"5 mm\"\n"
	way := heat("800 C", "15 min") + carry("2 s") + quench("medium oil") + temper("204 C", "1 h", 1)
	before, after := crackOf(t, runOf(t, parse(t, piece, drill+way))), crackOf(t, runOf(t, parse(t, piece, way+drill)))
	if !slices.Contains(before.Raised, micro.CrackHoles) || slices.Contains(after.Raised, micro.CrackHoles) {
		t.Errorf("drilled before %+v, after %+v", *before, *after)
	}
}

// Spring steel at its temper is tougher than O1 at its own, fresh from the bath all is
// brittle (makers' Charpy tables, read, rank them so); a hardened O1 piece has grown by
// about 0.15 % (maker's data sheet, read; the law says ±50 %).
func TestToughnessAndGrowthAreTold(t *testing.T) {
	spring := runOf(t, parse(t, bladeOf("5160", "3 mm", "0.8 mm", "spheroidized"), heat("830 C", "8 min")+carry("2 s")+quench("medium oil")+temper("204 C", "1 h", 1)))
	o1 := hardenedIn(t, "O1", "800 C", "15 min", "medium oil")
	a, b := zone(t, spring, "edge").Toughness, zone(t, o1, "edge").Toughness
	if a == nil || b == nil || a.Rank <= b.Rank {
		t.Fatalf("5160 %+v, O1 %+v", a, b)
	}
	for i := range o1.Steps {
		if s := &o1.Steps[i]; s.Role == Quenching {
			if z := s.zoneNamed("edge"); z.Toughness.Rank >= b.Rank || !slices.Contains(z.Toughness.Reasons, micro.Untempered) {
				t.Errorf("fresh from the bath %+v, tempered %+v", *z.Toughness, *b)
			}
		}
		if s := &o1.Steps[i]; s.Role == Heating && s.zoneNamed("edge").Toughness != nil {
			t.Error("austenite in the fire has a toughness")
		}
	}
	if g := zone(t, o1, "edge").Growth; g == nil || g.Value < 0.00075 || g.Value > 0.00225 {
		t.Errorf("O1 grows by %v, its sheet says 0.0015", g)
	}
}

func (s *Step) zoneNamed(name string) *Zone {
	for i := range s.Zones {
		if s.Zones[i].Name == name {
			return &s.Zones[i]
		}
	}
	return nil
}
