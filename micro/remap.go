package micro

import "github.com/heatwright/heatwright/steel"

// Mixer carries a quantity of cells over to the cells of another mesh: dst is
// the mean of src over what each new cell is made of, weighted by the amount
// of its carrier in the old cells.
type Mixer interface {
	Mean(dst, src, amount []float64)
}

// Remap fills c with the state of src after an act that moved or took away
// material. mass is that of the old cells [kg]. Every quantity goes with what
// carries it, carbon in austenite with the austenite, a carbide's radius with
// that carbide, so that carbon and fractions are kept to rounding.
func (c *Cells) Remap(src *Cells, mass []float64, mix Mixer) {
	to, from := c.columns(), src.columns()
	for k := range to {
		mix.Mean(*to[k], *from[k], mass)
	}
	amount := make([]float64, src.N)
	// with carries the columns, given in both, by the amount of a constituent.
	with := func(share []float64, pairs ...[2][]float64) {
		for i, m := range mass {
			amount[i] = m * share[i]
		}
		for _, p := range pairs {
			mix.Mean(p[0], p[1], amount)
		}
	}
	f := &src.Fraction
	with(f[steel.Austenite], [2][]float64{c.Carbon, src.Carbon}, [2][]float64{c.start, src.start}, [2][]float64{c.share, src.share})
	rest := make([]float64, src.N)
	for i := range rest {
		rest[i] = src.matrix(i)
	}
	for k := range c.Alloy {
		with(rest, [2][]float64{c.Alloy[k], src.Alloy[k]})
	}
	with(f[steel.RetainedAustenite], [2][]float64{c.RetainedCarbon, src.RetainedCarbon})
	with(f[steel.Pearlite], [2][]float64{c.PearliteCarbon, src.PearliteCarbon}, [2][]float64{c.PearliteFineness, src.PearliteFineness})
	with(f[steel.Bainite], [2][]float64{c.BainiteCarbon, src.BainiteCarbon}, [2][]float64{c.BainiteT, src.BainiteT})
	with(f[steel.Martensite], [2][]float64{c.Tempered, src.Tempered})
	for b := range c.Births {
		x, y := &c.Births[b], &src.Births[b]
		with(y.Fraction, [2][]float64{x.Carbon, y.Carbon}, [2][]float64{x.Size3, y.Size3})
		for k := range x.Rate {
			with(y.Fraction, [2][]float64{x.Rate[k], y.Rate[k]})
		}
	}
	for k := range c.Carbides {
		with(src.Carbides[k].Mass, [2][]float64{c.Carbides[k].Radius, src.Carbides[k].Radius})
		for e := range c.Carbides[k].Alloy {
			with(src.Carbides[k].Mass, [2][]float64{c.Carbides[k].Alloy[e], src.Carbides[k].Alloy[e]})
		}
	}
	lamellae := make([]float64, src.N)
	for i := range lamellae {
		lamellae[i] = src.lamellae(i)
	}
	for e := range c.FilmAlloy {
		with(src.Film, [2][]float64{c.FilmAlloy[e], src.FilmAlloy[e]})
		with(lamellae, [2][]float64{c.LamellaAlloy[e], src.LamellaAlloy[e]})
	}
	clear(c.ready) // the factors are of the old cells
}
