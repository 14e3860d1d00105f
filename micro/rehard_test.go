package micro

import (
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// A hardened piece that is hardened again starts from carbide of hundredths of a micron: in
// the soak that suits spheroidized stock it takes up more, and keeps more austenite; a
// shorter soak brings it to where the first was (common practice). A structure half of
// pearlite, half of martensite lies between. Signs alone are held.
func TestHardeningAgain(t *testing.T) {
	m := metalOf(t, s1095)
	harden := func(start *Cells, hold float64) *Cells {
		c := NewCells(1)
		c.Copy(start)
		m.bring(c, 800+kelvin, 5, hold)
		l := &lump{m: m, c: c, T: 800 + kelvin}
		l.hold(673, 500, 0)
		l.hold(298, 100, 60)
		return c
	}
	soft, fine := NewCells(1), NewCells(1)
	m.Start(soft, Spheroidized)
	m.Start(fine, Normalized)
	once := harden(soft, 300)
	again, short := harden(once, 300), harden(once, 10)
	mixed := NewCells(1)
	both := NewCells(2)
	both.CopyCell(0, once, 0)
	both.CopyCell(1, fine, 0)
	mixed.Remap(both, []float64{1, 1}, evenly{})
	half := harden(mixed, 300)
	kept := func(c *Cells) float64 { return c.Fraction[steel.RetainedAustenite][0] }
	t.Logf("in solution %.3f, again %.3f, after a short soak %.3f, from a mixed structure %.3f %% C; retained %.3f, %.3f, %.3f, %.3f",
		once.Carbon[0], again.Carbon[0], short.Carbon[0], half.Carbon[0], kept(once), kept(again), kept(short), kept(half))
	if again.Carbon[0] <= once.Carbon[0] || kept(again) <= kept(once) {
		t.Error("the same soak should dissolve more of a hardened piece")
	}
	if short.Carbon[0] > again.Carbon[0]+1e-6 {
		t.Error("a short soak should not dissolve more than a long one")
	}
	if half.Carbon[0] < once.Carbon[0] || half.Carbon[0] > max(again.Carbon[0], harden(fine, 300).Carbon[0])+1e-6 {
		t.Error("a mixed structure should lie between")
	}
	if x := half.CarbonTotal(0) - s1095[steel.C]; x > 1e-9 || x < -1e-9 {
		t.Errorf("carbon of the mixed structure off by %g", x)
	}
}

// evenly makes one cell of equal parts of all.
type evenly struct{}

func (evenly) Mean(dst, src, amount []float64) {
	sum, all := 0.0, 0.0
	for i, x := range src {
		sum += amount[i] * x
		all += amount[i]
	}
	if dst[0] = src[0]; all > 0 {
		dst[0] = sum / all
	}
}

// Normalizing 1.2 C steel above Acm dissolves its carbide and coarsens the grain, below Acm
// carbide stays and holds the grain; cooled slowly, the first comes to a network of cementite
// on its grain boundaries and the second does not. A plate that was hardened from either
// holds more carbon in solution than from spheroidized stock (common practice of hyper-eutectoid steel).
func TestNormalizingAboveAndBelowAcm(t *testing.T) {
	c12 := comp(map[steel.Element]float64{steel.C: 1.2, steel.Mn: 0.3})
	m := metalOf(t, c12)
	normalized := func(T, sv float64) (l *lump, grain float64) {
		l = &lump{m: m, c: NewCells(1), T: 293, sv: sv}
		m.Start(l.c, Spheroidized)
		l.hold(T, 2, 900)
		grain = m.Grain(l.c, 0)
		l.cool(stillAir, 320, 1e6)
		return l, grain
	}
	const thick, thin = 60, 670 // surface over volume of a round of 65 mm, a plate of 3 mm [1/m]
	above, coarse := normalized(m.upper+40, thick)
	below, small := normalized(m.upper-60, thick)
	t.Logf("Acm %.0f °C; above: grain %.0f µm, film %.4f; below: grain %.0f µm, film %.4f", m.upper-kelvin, coarse*1e6, above.c.Film[0], small*1e6, below.c.Film[0])
	if coarse < 1.5*small || above.c.Film[0] < 0.004 || below.c.Film[0] > 0.001 {
		t.Error("above Acm the grain should coarsen and a network form, below it neither")
	}
	carbon := func(start *Cells) float64 {
		c := NewCells(1)
		c.Copy(start)
		m.bring(c, 790+kelvin, 5, 120)
		return c.Carbon[0]
	}
	spheroidized := NewCells(1)
	m.Start(spheroidized, Spheroidized)
	// A thin section comes through the range of the network too fast for one.
	high, _ := normalized(m.upper+40, thin)
	low, _ := normalized(m.upper-60, thin)
	a, b, s := carbon(high.c), carbon(low.c), carbon(spheroidized)
	t.Logf("3 mm: film %.4f; in solution after 2 min at 790 °C: from above Acm %.3f, from below %.3f, spheroidized %.3f %% C", high.c.Film[0], a, b, s)
	if a < s || b < s {
		t.Error("normalized stock should dissolve more in a short soak than spheroidized stock")
	}
	if high.c.Film[0] > above.c.Film[0]/2 {
		t.Errorf("3 mm in air: film %.4f, the thick piece has %.4f", high.c.Film[0], above.c.Film[0])
	}
}
