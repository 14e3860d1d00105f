package micro

import (
	"testing"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/steel"
)

// Ranks as makers' Charpy tables have them (C-notch, read): the great step is from
// as-quenched to 175–205 °C; lower carbon and lower hardness are tougher (5160 over O1).
func TestToughnessRanks(t *testing.T) {
	state := func(c steel.Composition, T, temper float64) Toughness {
		b := quenched(t, c, T, 900, 6, true, medium.MediumOil)
		l := &lump{m: b.m, c: NewCells(1), T: 298}
		l.c.CopyCell(0, b.c, 0)
		if temper > 0 {
			l.hold(temper+kelvin, 0.5, 7200)
		}
		return b.m.ToughnessOf(l.c, 0)
	}
	fresh, low, usual := state(o1, 802, 0), state(o1, 802, 150), state(o1, 802, 204)
	spring := state(s5160, 830, 260)
	coarse := state(o1, 900, 204)
	t.Logf("O1 fresh %+v\n150 °C %+v\n204 °C %+v\noverheated %+v\n5160 %+v", fresh, low, usual, coarse, spring)
	if !(fresh.Index < 0.6*usual.Index && low.Index < usual.Index && usual.Index < spring.Index && coarse.Index < usual.Index) {
		t.Error("the order of toughness is wrong")
	}
}

// A hardened O1 round grows by about 0.15 % (maker's data sheet, read; ±50 %) and
// tempering takes some of it back.
func TestLengthChange(t *testing.T) {
	b := quenched(t, o1, 802, 900, 12.7, true, medium.MediumOil)
	d := b.m.LengthChange(b.c, 0)
	l := &lump{m: b.m, c: NewCells(1), T: 298}
	l.c.CopyCell(0, b.c, 0)
	l.hold(150+kelvin, 0.5, 7200)
	after := b.m.LengthChange(l.c, 0)
	t.Logf("as quenched %+.3f %%, tempered at 150 °C %+.3f %%", d*100, after*100)
	if d < 0.00075 || d > 0.00225 || after > d {
		t.Errorf("length change %+.3f %%, then %+.3f %%", d*100, after*100)
	}
	m := metalOf(t, o1)
	c := NewCells(1)
	m.Start(c, Spheroidized)
	if x := m.LengthChange(c, 0); x != 0 {
		t.Errorf("soft-annealed stock should have its own length, %g", x)
	}
}

// Thin high-carbon steel in water raises more than in oil; nothing raised is rank 0.
func TestCrackRank(t *testing.T) {
	b := quenched(t, s1095, 800, 600, 2, false, medium.FastOil)
	oil, _ := b.m.CrackRank(b.c, 0, Quench{Severity: 0.5, SectionRatio: 1.5, Through: true, UntilTemper: 600})
	water, why := b.m.CrackRank(b.c, 0, Quench{Severity: 1, SectionRatio: 1.5, Through: true, UntilTemper: 600})
	if water <= oil || len(why) == 0 {
		t.Errorf("water %d %v should rank above oil %d", water, why, oil)
	}
	soft := quenched(t, s1018, 900, 300, 3, false, medium.FastOil)
	if r, why := soft.m.CrackRank(soft.c, 0, Quench{Severity: 0.5, SectionRatio: 1}); r != 0 {
		t.Errorf("mild steel in oil raises %v", why)
	}
}
