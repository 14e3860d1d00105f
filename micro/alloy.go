package micro

import "github.com/heatwright/heatwright/steel"

// Manganese, chromium, molybdenum, vanadium and tungsten lie in each class of carbide, in film
// and lamellae, and evenly in all the rest. Nothing moves them but carbide that forms,
// dissolves or ripens in austenite: what a carbide gives up the rest holds. Traces are
// everywhere alike, so that nothing has to be done about them.

// trace is what counts as one [wt %].
const trace = 0.05

// matrix returns the share of cell i that is no carbide, lamellae counted as carbide.
func (c *Cells) matrix(i int) float64 {
	return 1 - c.Fraction[steel.Carbide][i] - c.lamellae(i)
}

// lamellae returns the cementite in the pearlite of cell i as a share of the cell.
func (c *Cells) lamellae(i int) float64 {
	return c.Fraction[steel.Pearlite][i] * c.PearliteCarbon[i] / carbideC
}

// bound returns what the carbide of cell i holds of one element, lamellae included [wt % of the cell].
func (c *Cells) bound(i, e int) float64 { return c.held(i, e) + c.lamellae(i)*c.LamellaAlloy[e][i] }

// held returns what particles and film of cell i hold of one element [wt % of the cell].
func (c *Cells) held(i, e int) float64 {
	sum := c.Film[i] * c.FilmAlloy[e][i]
	for k := range c.Carbides {
		sum += c.Carbides[k].Mass[i] * c.Carbides[k].Alloy[e][i]
	}
	return sum
}

// AlloyTotal returns what cell i holds of an element whose place is followed (Mn, Cr, Mo, V, W),
// over all constituents [wt %].
func (c *Cells) AlloyTotal(i int, of steel.Element) float64 {
	for e, x := range alloyElement {
		if x == of {
			return c.Alloy[e][i]*c.matrix(i) + c.bound(i, e)
		}
	}
	return 0
}

// alloys is what a cell holds in all.
type alloys [numAlloy]float64

// alloyOf returns what cell i holds, to be given to settleAlloy once carbide has changed.
func (m *Metal) alloyOf(c *Cells, i int) (all alloys) {
	rest := c.matrix(i)
	for _, e := range m.follow {
		all[e] = c.Alloy[e][i]*rest + c.bound(i, e)
	}
	return all
}

// inSolution returns what all that is no carbide holds [wt %].
func (c *Cells) inSolution(i int) (x alloys) {
	for e := range x {
		x[e] = c.Alloy[e][i]
	}
	return x
}

// settleAlloy gives what no carbide holds to the rest of cell i.
func (m *Metal) settleAlloy(c *Cells, i int, all *alloys) {
	rest := c.matrix(i)
	if rest < 1e-6 {
		return
	}
	for _, e := range m.follow {
		c.Alloy[e][i] = max(0, (all[e]-c.bound(i, e))/rest)
	}
}

// metalIn is the share of a carbide that is metal: what forms with the metals in place
// holds as much of each as what it forms from, times this.
const metalIn = (100 - carbideC) / 100

// mixed returns what a carbide holds [wt %] of which mass held content, once add [of the cell] has
// come to it that brings x [wt % of the cell].
func mixed(mass, content, add, x float64) float64 {
	if mass += 1e-300; add <= 0 {
		return content
	}
	return (mass*content + x) / (mass + add)
}

// enriched returns what carbide of mass carb [of the cell] takes along that forms from
// df of austenite at T [wt % of the cell]: the austenite's own share at 600 °C and
// under, where metals stay in place, that of spheroidized stock at Ae1, linear between;
// no more than half of what df holds.
func (m *Metal) enriched(c *Cells, i, e int, df, carb, T float64) float64 {
	w := min(1, max(0, (T-873)/max(50, m.ae1-873)))
	own := c.Alloy[e][i]
	return min(0.5*df*own, carb*((1-w)*own*metalIn+w*m.rich[e]))
}

// dissolveAlloy sets what the austenite of cell i holds of each element after carbide has
// dissolved: gave is what that brought [wt % of the cell], before what was held around
// it, matrix, by so much of the cell. At least it comes by a share x nearer to equilibrium; beyond
// that nothing goes into solution, the carbide that is left keeps it.
func (m *Metal) dissolveAlloy(c *Cells, i int, gave, before *alloys, matrix float64, a *hotRates, x float64) {
	now, carb := c.matrix(i), c.Fraction[steel.Carbide][i]
	for _, e := range m.follow {
		old := before[e]
		free := (old*matrix + gave[e]) / now
		top := max(old, a.alloy[e])
		want := min(top, max(free, old+x*(top-old)))
		if want == free || carb < 1e-6 {
			c.Alloy[e][i] = free
			continue
		}
		held := c.held(i, e)
		if move := (want - free) * now; move < 0 && held < 1e-9 { // nothing to enrich by a factor
			for k := range c.Carbides {
				c.Carbides[k].Alloy[e][i] -= move / carb
			}
			c.FilmAlloy[e][i] -= move / carb
		} else {
			move = min(move, held)
			want = free + move/now
			by := 1 - move/max(held, 1e-300)
			for k := range c.Carbides {
				c.Carbides[k].Alloy[e][i] *= by
			}
			c.FilmAlloy[e][i] *= by
		}
		c.Alloy[e][i] = want
	}
}

// fillRich finds what the carbide of spheroidized stock holds [wt %]: as much as leaves the
// austenite its share of the whole once 0.57 wt % C is in it, and no more than 0.9 of all.
func (m *Metal) fillRich() {
	carb := m.comp[steel.C] / carbideC
	left := max(0.3*carb, (m.comp[steel.C]-molinderC)/(carbideC-molinderC))
	for e, x := range alloyElement {
		if m.comp[x] > trace {
			m.follow = append(m.follow, e)
		}
		m.rich[e] = m.comp[x] * min(0.9/carb, (1-m.partition[e]*(1-left))/left)
	}
}

// startAlloy lays the alloy of cell i out: spheroids hold what makes them rich, lamellae and
// film the share w of the way from what lies around them to that.
func (m *Metal) startAlloy(c *Cells, i int, w float64) {
	for e, x := range alloyElement {
		content := m.comp[x]
		if content > trace {
			content = (1-w)*content*metalIn + w*m.rich[e]
		}
		for k := range c.Carbides {
			c.Carbides[k].Alloy[e][i] = content
		}
		c.FilmAlloy[e][i], c.LamellaAlloy[e][i] = content, content
		c.Alloy[e][i] = max(0, (m.comp[x]-c.bound(i, e))/c.matrix(i))
	}
}

// give lets what is no carbide, of so much of cell i before, give x of an element [wt % of the
// cell] to new carbide of mass add.
func (c *Cells) give(i, e int, matrix, add, x float64) {
	c.Alloy[e][i] = max(0, (c.Alloy[e][i]*matrix-x)/(matrix-add))
}

// growParticles lets the particles of cell i grow by d [of the cell]; takes is what that takes along
// of each element [wt % of the cell].
func (m *Metal) growParticles(c *Cells, i int, d float64, takes func(e int) float64) {
	total, matrix := c.Fraction[steel.Carbide][i]-c.Film[i], c.matrix(i)
	by := d / total
	for _, e := range m.follow {
		x := takes(e)
		for k := range c.Carbides {
			if cl := &c.Carbides[k]; cl.Mass[i] > 0 {
				cl.Alloy[e][i] = (cl.Alloy[e][i] + x/total) / (1 + by)
			}
		}
		c.give(i, e, matrix, d, x)
	}
	for k := range c.Carbides {
		c.Carbides[k].Mass[i] *= 1 + by
	}
	c.Fraction[steel.Carbide][i] += d
}

// growFilm lets the film of cell i grow by d [of the cell], with the metals in place.
func (m *Metal) growFilm(c *Cells, i int, d float64) {
	matrix := c.matrix(i)
	for _, e := range m.follow {
		x := d * metalIn * c.Alloy[e][i]
		c.FilmAlloy[e][i] = mixed(c.Film[i], c.FilmAlloy[e][i], d, x)
		c.give(i, e, matrix, d, x)
	}
	c.Film[i] += d
	c.Fraction[steel.Carbide][i] += d
}

// growLamellae lets df of austenite become pearlite at T, as far as its alloy goes; the rest is to follow.
func (m *Metal) growLamellae(c *Cells, i int, df, T float64) {
	lamellae, add, matrix := c.lamellae(i), df*c.Carbon[i]/carbideC, c.matrix(i)
	for _, e := range m.follow {
		x := m.enriched(c, i, e, df, add, T)
		c.LamellaAlloy[e][i] = mixed(lamellae, c.LamellaAlloy[e][i], add, x)
		c.give(i, e, matrix, add, x)
	}
}

// addFine adds particles of radius r [µm] to the finest class, of so much of each element [wt %].
func (m *Metal) addFine(c *Cells, i int, mass, r float64, content func(e int) float64) {
	fine := &c.Carbides[0]
	for _, e := range m.follow {
		fine.Alloy[e][i] = mixed(fine.Mass[i], fine.Alloy[e][i], mass, mass*content(e))
	}
	fine.Radius[i] = (fine.Mass[i]*fine.Radius[i] + mass*r) / (fine.Mass[i] + mass)
	fine.Mass[i] += mass
	c.Fraction[steel.Carbide][i] += mass
}

// own returns what carbide holds that forms with the metals in place [wt %].
func (c *Cells) own(i int) func(e int) float64 {
	return func(e int) float64 { return metalIn * c.Alloy[e][i] }
}
