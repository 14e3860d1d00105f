package micro

import (
	"math"
	"sync"

	"github.com/heatwright/heatwright/steel"
)

// leastCarbon is what no cell is brought below [wt %]: ferrite holds that much.
const leastCarbon = 0.005

// carbonOf returns the carbon of cell i over all its constituents [wt %]: the
// bar's, less what its skin has lost.
func (m *Metal) carbonOf(c *Cells, i int) float64 { return m.comp[steel.C] - c.Lack[i] }

// MoveCarbon takes carbon out of cell i, x kg per kg of it, or puts it in where x
// is negative, and returns what has moved. The fractions are then those of a cell
// that is so much lighter; iron and alloy stay.
//
// What leaves is carbon in solution, and carbide dissolves to feed it: in the
// layer that is robbed none is left, while its austenite keeps half its carbon, the
// mean of a straight profile. So the austenite bears
//
//	a/2 / (a/2 + k)
//
// of the loss, with a the carbon of the cell in solution and k that in carbide.
// Where both have no more to give, and below Ae1, the structures that hold carbon
// are turned to ferrite by as much as it takes. Carbon is put into austenite
// only, and no more than the bar had.
func (m *Metal) MoveCarbon(c *Cells, i int, x float64) float64 {
	f := &c.Fraction
	had := c.CarbonTotal(i)
	if x < 0 {
		if f[steel.Austenite][i] < 1e-3 || c.Lack[i] <= 0 {
			return 0
		}
		x = max(x, -c.Lack[i]/100, -f[steel.Austenite][i]*max(0, m.comp[steel.C]-c.Carbon[i])/100) // no more than the bar had dissolves in what austenite there is
	} else if x = min(x, (had-leastCarbon)/100); x <= 0 {
		return 0
	}
	all := m.alloyOf(c, i)
	left := x
	if solved, bound := f[steel.Austenite][i]*c.Carbon[i]/2, f[steel.Carbide][i]*carbideC; x > 0 && bound > 0 {
		fed := x * bound / (solved + bound)
		left = x - fed + m.fromCarbide(c, i, fed)
	}
	left = m.fromAustenite(c, i, left)
	if left > 0 {
		left = m.fromCarbide(c, i, left)
	}
	if left > 0 {
		left = m.fromStructures(c, i, left)
	}
	x -= left
	scale := 1 / (1 - x)
	for k := range f {
		f[k][i] *= scale
	}
	for b := range c.Births {
		c.Births[b].Fraction[i] *= scale
	}
	for k := range c.Carbides {
		c.Carbides[k].Mass[i] *= scale
	}
	c.Film[i] *= scale
	for e := range all {
		all[e] *= scale
	}
	m.settleAlloy(c, i, &all)
	c.Lack[i] = max(0, c.Lack[i]+had-c.CarbonTotal(i))
	if c.ready[i] == 1 && f[steel.Austenite][i] > 0 {
		c.ready[i] = 2 // it cools already: Ms is another now
	}
	return x
}

// fromAustenite takes what it can of x [kg per kg of cell] out of solution and
// returns the rest.
func (m *Metal) fromAustenite(c *Cells, i int, x float64) (left float64) {
	aus := c.Fraction[steel.Austenite][i]
	y := min(x, aus*(c.Carbon[i]-leastCarbon)/100)
	if aus <= 0 || y == 0 || y < 0 && x > 0 {
		return x
	}
	c.Carbon[i] = (aus*c.Carbon[i] - 100*y) / (aus - y)
	c.Fraction[steel.Austenite][i] = aus - y
	return x - y
}

// fromCarbide takes what it can of x out of carbide, whose iron goes to the
// austenite or becomes ferrite, and returns the rest.
func (m *Metal) fromCarbide(c *Cells, i int, x float64) (left float64) {
	f := &c.Fraction
	y := min(x, f[steel.Carbide][i]*carbideC/100)
	if y <= 0 {
		return x
	}
	d := y * 100 / carbideC
	m.takeCarbide(c, i, d)
	if f[steel.Austenite][i] > 0 {
		m.addAustenite(c, i, d-y, 0)
	} else {
		f[steel.Ferrite][i] += d - y
	}
	return x - y
}

// fromStructures turns pearlite, bainite and martensite to ferrite until x is out
// of them, and returns the rest.
func (m *Metal) fromStructures(c *Cells, i int, x float64) (left float64) {
	f := &c.Fraction
	turn := func(share *float64, carbon float64) (lost float64) {
		y := min(x, *share*carbon/100)
		if y <= 0 {
			return 0
		}
		d := min(*share, y*100/carbon)
		*share -= d
		f[steel.Ferrite][i] += d - y
		x -= y
		return d
	}
	turn(&f[steel.Pearlite][i], c.PearliteCarbon[i])
	turn(&f[steel.Bainite][i], c.BainiteCarbon[i])
	for b := range c.Births {
		d := turn(&c.Births[b].Fraction[i], c.Births[b].Carbon[i])
		f[steel.Martensite][i] = max(0, f[steel.Martensite][i]-d)
	}
	turn(&f[steel.RetainedAustenite][i], c.RetainedCarbon[i])
	return x
}

// ferriteGone returns where iron with this alloy and no carbon is all austenite [K]:
//
//	912 + 44.7Si + 31.5Mo + 13.1W + 104V − 30Mn − 15.2Ni − 11Cr  °C
//
// Alloy terms of Ae3 of andrews-1965 (from memory), each ±20 %.
func ferriteGone(g *steel.Composition) float64 {
	return 912 + kelvin + 44.7*g[steel.Si] + 31.5*g[steel.Mo] + 13.1*g[steel.W] + 104*min(g[steel.V], 0.3) -
		30*g[steel.Mn] - 15.2*g[steel.Ni] - 11*g[steel.Cr]
}

// ferriteLine returns the carbon of austenite beside ferrite at T [wt %], also
// for less carbon than the bar's: from the end of what is computed for the bar on
// it is a parabola down to iron without carbon,
//
//	C = C₀·[(T₃ − T)/(T₃ − T₀)]²
//
// within 0.05 wt % of the line of iron and carbon.
func (m *Metal) ferriteLine(T float64) float64 {
	from, carbon, gone := m.lineEnd()
	if T <= from {
		return m.limits.FerriteSide(T)
	}
	x := max(0, (gone-T)/(gone-from))
	return carbon * x * x
}

// lineEnd returns where the parabola of ferriteLine begins [K, wt %] and ends [K].
func (m *Metal) lineEnd() (from, carbon, gone float64) {
	from, carbon = m.ae1End, m.eutectoid
	if m.hypo {
		from, carbon = m.upper, m.comp[steel.C]
	}
	return from, carbon, max(from+60, ferriteGone(&m.comp))
}

// ferriteLeft returns the share of ferrite that cell i has at equilibrium between
// the table rows a and b.
func (m *Metal) ferriteLeft(c *Cells, i int, a, b *hotRates, w float64) float64 {
	carbon := m.carbonOf(c, i)
	if carbon >= m.eutectoid {
		return a.ferrite + w*(b.ferrite-a.ferrite)
	}
	line := a.line + w*(b.line-a.line)
	if line <= carbon {
		return 0
	}
	return 1 - carbon/line
}

// A cell that has lost carbon cools as a leaner steel of the same alloy does. The
// rates of such steels are tabulated at these shares of the bar's carbon, when
// they are first asked for; a cell goes by the nearest. Its own carbon counts
// wherever an amount is meant.
var leanShares = [...]float64{0.9, 0.75, 0.6, 0.45, 0.3, 0.15, 0.05}

// leanMetals are the leaner steels of one metal.
type leanMetals [len(leanShares)]struct {
	once  sync.Once
	metal *Metal
}

// leaner returns the metal by which a cell steps that lacks so much of the bar's carbon [wt %].
func (m *Metal) leaner(lack float64) *Metal {
	share := 1 - lack/m.comp[steel.C]
	if share > (1+leanShares[0])/2 {
		return m
	}
	k := 0
	for k < len(leanShares)-1 && share < (leanShares[k]+leanShares[k+1])/2 {
		k++
	}
	l := &m.lean[k]
	l.once.Do(func() { l.metal = m.withCarbon(leanShares[k] * m.comp[steel.C]) })
	return l.metal
}

// withCarbon returns the metal with the cooling rates of a bar of less carbon [wt %].
func (m *Metal) withCarbon(carbon float64) *Metal {
	n := *m
	n.lean = nil
	n.hypo = carbon < m.eutectoid
	from, most, gone := m.lineEnd()
	if n.hypo {
		n.upper = gone - (gone-from)*math.Sqrt(carbon/most)
	} else { // ln C of Acm is straight over 1/T
		n.upper = 1 / (1/m.ae1End + (1/m.upper-1/m.ae1End)*math.Log(carbon/m.eutectoid)/math.Log(m.comp[steel.C]/m.eutectoid))
	}
	if q, ok := m.limits.(*equilibrium); ok {
		n.limits = q.leaner(m, carbon, n.upper)
	}
	n.fillCold()
	return &n
}

// leaner returns the limits of a bar with less carbon, on the same lines.
func (q *equilibrium) leaner(m *Metal, carbon, upper float64) *equilibrium {
	n := *q
	n.comp[steel.C] = carbon
	n.hypo = carbon < q.eutectoid
	n.upper = upper
	n.at, n.austenite = nil, nil
	if n.hypo {
		n.ae3 = upper
	}
	parts := int(math.Ceil((upper - q.at[0]) / 8))
	for k := 0; k <= parts; k++ {
		T := q.at[0] + (upper-q.at[0])*float64(k)/float64(max(1, parts))
		g := q.Dissolved(T)
		if n.hypo {
			g[steel.C] = max(carbon, m.ferriteLine(T))
		} else {
			g[steel.C] = min(carbon, g[steel.C])
		}
		n.at, n.austenite = append(n.at, T), append(n.austenite, g)
	}
	return &n
}
