package micro

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Condition is the state in which the bar arrives.
type Condition int

// The conditions of a bar.
const (
	Spheroidized     Condition = iota // soft-annealed, carbide in balls: tool steel as sold
	LamellarPearlite                  // full-annealed: coarse pearlite
	Normalized                        // air-cooled: fine pearlite
	Hardened                          // martensite, untempered
	AsForged                          // air-cooled from forging heat: fine pearlite in coarse grain
	numConditions
)

var conditionNames = [numConditions]string{"spheroidized", "lamellar", "normalized", "hardened", "as-forged"}

// String returns the stable name of the condition.
func (c Condition) String() string {
	if c < 0 || c >= numConditions {
		return "unknown"
	}
	return conditionNames[c]
}

// ParseCondition returns the condition of that name.
func ParseCondition(name string) (Condition, error) {
	for i, n := range conditionNames {
		if n == name {
			return Condition(i), nil
		}
	}
	return 0, fmt.Errorf("micro: condition %q is unknown; one of %v", name, conditionNames)
}

// shares of the spheroid classes: radius over mean radius, share of mass.
var spheroidClass = [numClasses]struct{ radius, mass float64 }{{}, {0.6, 0.15}, {1.0, 0.5}, {1.4, 0.35}}

// StartState is how a bar begins when more is known than its condition. Zero
// values take what is usual for the condition.
type StartState struct {
	Condition Condition
	Radius    float64 // mean carbide radius of spheroidized stock [m]
	Grain     float64 // prior austenite grain [m]
	Spacing   float64 // interlamellar spacing [m]
}

// Start puts all cells into the usual state of a condition at room temperature.
func (m *Metal) Start(c *Cells, cond Condition) { m.StartFrom(c, StartState{Condition: cond}) }

// StartFrom puts all cells into a state at room temperature.
func (m *Metal) StartFrom(c *Cells, s StartState) {
	for i := range c.slab {
		c.slab[i] = 0
	}
	grain := s.Grain
	if grain <= 0 {
		grain = map[Condition]float64{Spheroidized: 15e-6, LamellarPearlite: 40e-6, Normalized: 20e-6, Hardened: 12e-6, AsForged: 120e-6}[s.Condition]
	}
	for i := range c.N {
		c.Grain4[i] = math.Pow(grain*1e6, 1/0.211)
		m.startCell(c, i, s, m.comp[steel.C])
	}
}

// StartLean puts cell i, which StartFrom has filled, into the same state with only
// this carbon [wt %]: the bark that a bar brings along.
func (m *Metal) StartLean(c *Cells, i int, s StartState, carbon float64) {
	grain := c.Grain4[i]
	for j := i; j < len(c.slab); j += c.pitch {
		c.slab[j] = 0
	}
	c.Grain4[i] = grain
	carbon = min(m.comp[steel.C], max(leastCarbon, carbon))
	c.Lack[i] = m.comp[steel.C] - carbon
	m.startCell(c, i, s, carbon)
}

func (m *Metal) startCell(c *Cells, i int, s StartState, carbon float64) {
	switch s.Condition {
	case Spheroidized:
		m.startSpheroidized(c, i, s.Radius, carbon)
	case Hardened:
		m.startHardened(c, i, carbon)
	default:
		m.startPearlite(c, i, s, carbon)
	}
	m.startAlloy(c, i, map[Condition]float64{Spheroidized: 1, LamellarPearlite: 0.7, Normalized: 0.2, AsForged: 0.2}[s.Condition])
	c.Lowest[i] = 293
}

func (m *Metal) startSpheroidized(c *Cells, i int, radius, carbon float64) {
	if radius <= 0 {
		radius = AnnealedRadius(m.comp)
	}
	carb := carbon / carbideC
	c.Fraction[steel.Carbide][i] = carb
	c.Fraction[steel.Ferrite][i] = 1 - carb
	for k, cl := range spheroidClass {
		c.Carbides[k].Mass[i] = carb * cl.mass
		c.Carbides[k].Radius[i] = radius * 1e6 * cl.radius
	}
}

// startPearlite puts pearlite with free ferrite or boundary cementite beside it.
func (m *Metal) startPearlite(c *Cells, i int, s StartState, carbon float64) {
	inPearlite := min(carbon, max(m.eutectoid, 0.4))
	if s.Condition != LamellarPearlite && carbon > inPearlite { // air cooling keeps the excess inside pearlite
		inPearlite = min(carbon, m.eutectoid+0.25)
	}
	if carbon < m.eutectoid {
		p := carbon / m.eutectoid
		if s.Condition != LamellarPearlite {
			p = min(1, 1.15*p)
		}
		c.Fraction[steel.Pearlite][i] = p
		c.Fraction[steel.Ferrite][i] = 1 - p
		inPearlite = carbon / p
	} else {
		film := (carbon - inPearlite) / (carbideC - inPearlite)
		c.Fraction[steel.Pearlite][i] = 1 - film
		c.Fraction[steel.Carbide][i] = film
		c.Film[i] = film
	}
	c.PearliteCarbon[i] = inPearlite
	spacing := s.Spacing * 1e6
	if spacing <= 0 {
		spacing = map[Condition]float64{LamellarPearlite: 0.35, Normalized: 0.10, AsForged: 0.12}[s.Condition]
	}
	c.PearliteFineness[i] = math.Pow(2*spacing*(1-inPearlite/carbideC), -0.75)
}

// startHardened puts untempered martensite with retained austenite of all the carbon there is, up to 0.85 %.
func (m *Metal) startHardened(c *Cells, i int, carbon float64) {
	g := m.comp
	g[steel.C] = min(carbon, 0.85)
	carb := (carbon - g[steel.C]) / (carbideC - g[steel.C])
	for k, e := range alloyElement {
		c.Alloy[k][i] = m.comp[e]
	}
	c.Carbon[i], c.RetainedCarbon[i] = g[steel.C], g[steel.C]
	m.prepareMs(c, i, &g, m.Grain(c, i))
	c.ready[i] = 1
	ret := math.Exp(-c.msRate[i] * max(0, c.ms[i]-303))
	c.Fraction[steel.Carbide][i] = carb
	c.Carbides[1].Mass[i], c.Carbides[1].Radius[i] = carb, annealedRadius
	c.Fraction[steel.RetainedAustenite][i] = (1 - carb) * ret
	c.Fraction[steel.Martensite][i] = (1 - carb) * (1 - ret)
	c.Births[0].Fraction[i] = (1 - carb) * (1 - ret)
	c.Births[0].Carbon[i] = g[steel.C]
	c.Births[0].Size3[i] = freshSize3
	c.Age[i] = 30 * incubation // it was hardened long ago
}
