package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Austenitizing says from what and how the austenite of a diagram is made.
type Austenitizing struct {
	From StartState
	T    float64 // K
	Hold float64 // s
}

// Mark is a point of a diagram: at this temperature, after this time, a product has
// reached a share of the cell.
type Mark struct {
	Product steel.Constituent `json:"product"`
	Share   float64           `json:"share"`         // of the cell; of what forms at all for the whole
	T       float64           `json:"temperature_k"` // K
	Time    float64           `json:"time_s"`        // s since the cell passed Ae1, or came to T
}

// Cooling is one line of a continuous-cooling diagram.
type Cooling struct {
	Rate     float64                        `json:"rate_k_s"` // K/s
	Marks    []Mark                         `json:"marks"`
	Fraction [steel.NumConstituents]float64 `json:"fraction"`
	HV       float64                        `json:"hardness_hv"`
}

// Diagram is a transformation diagram, read off the model that the cells follow.
type Diagram struct {
	Ae1, Upper, Ms float64   // K
	Carbon         float64   // in solution when cooling begins [wt %]
	Grain          float64   // m
	Marks          []Mark    // isothermal: first 1 % of each product; 50 and 99 % of all that forms, with Product NumConstituents
	Coolings       []Cooling // continuous
}

// Whole stands in Mark.Product for everything that forms of austenite.
const Whole = steel.NumConstituents

var diffusional = []steel.Constituent{steel.Ferrite, steel.Carbide, steel.Pearlite, steel.Bainite}

// austenitized returns one cell as it is when cooling begins, and a diagram with its head.
func (m *Metal) austenitized(a Austenitizing) (*Cells, Diagram) {
	c := NewCells(1)
	m.StartFrom(c, a.From)
	m.bring(c, a.T, 2, a.Hold)
	d := Diagram{Ae1: m.ae1, Upper: m.upper, Ms: m.MartensiteTemperature(c, 0), Carbon: c.Carbon[0], Grain: m.Grain(c, 0)}
	return c, d
}

// Isothermal returns the diagram for holding at temperature after a quench that takes
// no time, at every step [K] of temperature between Ms and Ae3 or Acm. Times beyond
// most [s] are left out. Accuracy: that of pearlite and bainite, a factor of 2.5–3.
func (m *Metal) Isothermal(a Austenitizing, step, most float64) Diagram {
	start, d := m.austenitized(a)
	c := NewCells(1)
	for T := math.Ceil((d.Ms+5)/step) * step; T < m.upper-2; T += step {
		c.Copy(start)
		d.Marks = append(d.Marks, m.hold(c, T, most)...)
	}
	return d
}

// hold keeps the cell at T until nothing more forms and returns what happened when.
func (m *Metal) hold(c *Cells, T, most float64) []Mark {
	var marks []Mark
	var shares []float64
	var times []float64
	begun := map[steel.Constituent]float64{}
	first := map[steel.Constituent]float64{}
	for _, p := range diffusional {
		first[p] = c.Fraction[p][0]
	}
	austenite := c.Fraction[steel.Austenite][0]
	at := []float64{T}
	for t, dt := 0.0, 1e-3; t < most && c.Fraction[steel.Austenite][0] > 1e-4; {
		m.Step(c, c, at, dt)
		t += dt
		for _, p := range diffusional {
			if begun[p] == 0 && c.Fraction[p][0]-first[p] >= 0.01 {
				begun[p] = t
				marks = append(marks, Mark{p, 0.01, T, t})
			}
		}
		shares = append(shares, austenite-c.Fraction[steel.Austenite][0])
		times = append(times, t)
		dt = 0.02 * t
	}
	if len(shares) == 0 || shares[len(shares)-1] < 0.02 {
		return marks
	}
	all := shares[len(shares)-1]
	for _, want := range []float64{0.5, 0.99} {
		for i, s := range shares {
			if s >= want*all {
				marks = append(marks, Mark{Whole, want, T, times[i]})
				break
			}
		}
	}
	return marks
}

// Continuous returns the diagram for cooling at constant rates [K/s] to room
// temperature; times count from Ae3 or Acm. Accuracy as Isothermal.
func (m *Metal) Continuous(a Austenitizing, rates []float64) Diagram {
	start, d := m.austenitized(a)
	c := NewCells(1)
	for _, rate := range rates {
		c.Copy(start)
		d.Coolings = append(d.Coolings, m.coolingLine(c, a.T, rate))
	}
	return d
}

func (m *Metal) coolingLine(c *Cells, T0, rate float64) Cooling {
	line := Cooling{Rate: rate}
	begun := map[steel.Constituent]bool{}
	first := map[steel.Constituent]float64{}
	products := append([]steel.Constituent{steel.Martensite}, diffusional...)
	for _, p := range products {
		first[p] = c.Fraction[p][0]
	}
	from := min(T0, m.upper)
	at := []float64{T0}
	for T := T0; T > 293; {
		T = max(293, T-2)
		at[0] = T
		m.Step(c, c, at, 2/rate)
		for _, p := range products {
			if !begun[p] && c.Fraction[p][0]-first[p] >= 0.01 {
				begun[p] = true
				line.Marks = append(line.Marks, Mark{p, 0.01, T, max(0, from-T) / rate})
			}
		}
	}
	for k := range c.Fraction {
		line.Fraction[k] = c.Fraction[k][0]
	}
	line.HV = m.HV(c, 0)
	return line
}
