package micro

import "github.com/heatwright/heatwright/steel"

// Alloy elements whose dissolved amount in the austenite is a state. All other
// elements are taken as wholly dissolved.
const (
	alloyMn = iota
	alloyCr
	alloyMo
	alloyV
	alloyW
	numAlloy
)

var alloyElement = [numAlloy]steel.Element{steel.Mn, steel.Cr, steel.Mo, steel.V, steel.W}

const (
	numBirths  = 3 // generations of martensite: quench, after a first, after a second temper
	numClasses = 4 // carbide sizes: 0 fine (from pearlite, bainite, martensite), 1–3 spheroids
)

// Birth is one generation of martensite with the tempering it has seen itself.
type Birth struct {
	Fraction []float64           // mass fraction of the cell
	Carbon   []float64           // wt % C it was born with
	Rate     [numRates][]float64 // time integrals of the tempering rates [–], see temper.go
	Size3    []float64           // cube of the mean carbide radius [µm³]
}

// Class is one size class of carbide particles.
type Class struct {
	Mass   []float64           // mass fraction of the cell
	Radius []float64           // mean radius [µm]; for dissolution the radius at the start of the soak
	Alloy  [numAlloy][]float64 // what it holds [wt % of it]
}

// Cells is the state of the metal in N cells, one slice per quantity, all cut
// from one slab so that a copy is one move of memory.
type Cells struct {
	N int

	// Fraction holds mass fractions of the constituents; they sum to 1 in every cell.
	Fraction [steel.NumConstituents][]float64

	Carbon         []float64           // wt % C in the austenite
	Alloy          [numAlloy][]float64 // wt % dissolved in all that is no carbide, the austenite as the rest
	RetainedCarbon []float64           // wt % C in the retained austenite
	Lack           []float64           // wt % C that the cell holds less than the bar: what its skin has lost

	PearliteCarbon          []float64 // wt % C that pearlite holds, its lamellae included
	PearliteFineness        []float64 // mean of λ^-0.75 [µm^-0.75], λ the mean ferrite path
	BainiteCarbon           []float64 // wt % C
	BainiteT                []float64 // mean temperature of formation [K]
	Births                  [numBirths]Birth
	Carbides                [numClasses]Class
	Tempered                []float64           // share of martensite's stored energy that is gone [–]
	FilmAlloy, LamellaAlloy [numAlloy][]float64 // what film and the lamellae of pearlite hold [wt % of them]
	Film                    []float64           // mass fraction of cementite lying as film on grain boundaries, part of Carbide
	Pinned                  []float64           // share of sub-boundaries in the ferrite that carbide still pins [–]

	Grain4  []float64 // austenite grain size, d^4.739 [µm^4.739]
	Growing []float64 // growth of the former not yet applied
	Strain  []float64 // stored strain from hot work [–]

	Lowest []float64 // temperature below which more martensite forms [K]
	Age    []float64 // time spent above Lowest since martensite last formed [s]

	frontFine, frontSoft   []float64 // progress of the change to austenite
	frontF, frontP, frontB []float64 // progress of ferrite, pearlite, bainite: S(X)
	frontN                 []float64 // progress of grain-boundary cementite
	ready                  []float64 // 1 when the factors below belong to the present austenite
	factorF, factorP       []float64 // rate factors from composition and grain
	factorB, factorN       []float64
	bs, ms, msRate         []float64 // K, K, 1/K
	start, share           []float64 // wt % C of the austenite when cooling began; share of the alloy it held
	dissolving, surface    []float64 // uptake not yet applied; Σ w/r² of the last time [–, 1/µm²]
	coarsening             []float64 // growth of r³ not yet applied [µm³]
	slab                   []float64
	pitch                  int // from one column to the next
}

// NewCells returns n cells without content; Metal.Start fills them.
func NewCells(n int) *Cells {
	c := &Cells{N: n}
	columns := c.columns()
	c.pitch = pitchOf(n)
	c.slab = make([]float64, c.pitch*len(columns))
	for i, col := range columns {
		*col = c.slab[i*c.pitch : i*c.pitch+n : i*c.pitch+n]
	}
	return c
}

// pitchOf returns how far apart columns of n lie: an odd number of cache lines, or what a
// step reads of one cell, a number in each column, would want the same few places of the nearest cache.
func pitchOf(n int) int {
	const line = 8 // floats
	if n < line {
		return n
	}
	return ((n+line-1)/line | 1) * line
}

// columns lists every slice of the state, in slab order.
func (c *Cells) columns() []*[]float64 {
	var list []*[]float64
	add := func(s ...*[]float64) { list = append(list, s...) }
	for k := range c.Fraction {
		add(&c.Fraction[k])
	}
	add(&c.Carbon)
	for k := range c.Alloy {
		add(&c.Alloy[k])
	}
	add(&c.RetainedCarbon, &c.Lack, &c.PearliteCarbon, &c.PearliteFineness, &c.BainiteCarbon, &c.BainiteT)
	for b := range c.Births {
		add(&c.Births[b].Fraction, &c.Births[b].Carbon, &c.Births[b].Size3)
		for k := range c.Births[b].Rate {
			add(&c.Births[b].Rate[k])
		}
	}
	for k := range c.Carbides {
		add(&c.Carbides[k].Mass, &c.Carbides[k].Radius)
		for e := range c.Carbides[k].Alloy {
			add(&c.Carbides[k].Alloy[e])
		}
	}
	for e := range c.FilmAlloy {
		add(&c.FilmAlloy[e], &c.LamellaAlloy[e])
	}
	add(&c.Tempered, &c.Film, &c.Pinned, &c.Grain4, &c.Growing, &c.Strain, &c.Lowest, &c.Age,
		&c.frontFine, &c.frontSoft, &c.frontF, &c.frontP, &c.frontB, &c.frontN,
		&c.ready, &c.factorF, &c.factorP, &c.factorB, &c.factorN,
		&c.bs, &c.ms, &c.msRate, &c.start, &c.share, &c.dissolving, &c.surface, &c.coarsening)
	return list
}

// Copy makes c equal to src. Both must have the same number of cells.
func (c *Cells) Copy(src *Cells) {
	if c.N != src.N {
		panic("micro: Cells.Copy between different numbers of cells")
	}
	copy(c.slab, src.slab)
}

// Clone returns an independent copy.
func (c *Cells) Clone() *Cells {
	d := NewCells(c.N)
	copy(d.slab, c.slab)
	return d
}

// Values returns the whole state as one slice, for a snapshot to be written
// elsewhere. It is the state itself, not a copy.
func (c *Cells) Values() []float64 { return c.slab }

// CopyCell copies cell j of src into cell i: a remap after an act that moves material.
func (c *Cells) CopyCell(i int, src *Cells, j int) {
	to, from := c.columns(), src.columns()
	for k := range to {
		(*to[k])[i] = (*from[k])[j]
	}
}

// CarbonTotal returns the carbon of cell i over all constituents [wt %].
func (c *Cells) CarbonTotal(i int) float64 {
	f := &c.Fraction
	sum := f[steel.Austenite][i]*c.Carbon[i] + f[steel.RetainedAustenite][i]*c.RetainedCarbon[i] +
		f[steel.Pearlite][i]*c.PearliteCarbon[i] + f[steel.Bainite][i]*c.BainiteCarbon[i] +
		f[steel.Carbide][i]*carbideC
	for b := range c.Births {
		sum += c.Births[b].Fraction[i] * c.Births[b].Carbon[i]
	}
	return sum
}

// carbideC is the carbon of cementite [wt %].
const carbideC = 6.67
