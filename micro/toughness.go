package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Toughness of hardened steel is told as a rank only: no joule is predicted. The
// index (0–100) ranks states of one kind of piece; two states apart by less than a
// fifth of their mean are not told apart.
//
//	index = 100·w_H·w_P·w_d·w_T·w_N
//	w_H = exp[−0.09·(HRC − 50)]   w_P = 1 − 0.6p, p plate martensite 0 at ≤ 0.6 wt % C in solution, 1 at ≥ 1.0
//	w_d = min(1.2, √(10 µm/d))    w_T = 0.4 untempered (≤ 120 °C), 1 from 160, 0.85 tempered at 240–260 °C, 0.7 at 260–370
//	w_N = 0.3 with a network of cementite
//
// Own scheme; that lath martensite gives way to plates above 0.6 % C is published
// (stormvinter-2011, abstract), as is the window of tempered-martensite embrittlement.

// Toughness holds the index and what it is made of.
type Toughness struct {
	Index   float64  // 0–100
	Rank    int      // 1 brittle … 5 tough
	Plate   float64  // share of plate martensite
	Network bool     // cementite on grain boundaries
	Temper  float64  // the one-hour temper that this state amounts to [K], 0 if none
	Reasons []string // what takes from it, of Reasons; nil: nothing
}

// What can take from the toughness of hardened steel.
const (
	Untempered   = "untempered"    // its stress is in it still
	TemperWindow = "temper-window" // tempered where martensite turns brittle
	Plates       = "plates"        // much carbon was in solution: martensite of plates, with cracks in them
	Network      = "network"       // cementite on the grain boundaries
	CoarseGrain  = "coarse-grain"
	VeryHard     = "very-hard" // hard enough for little else
)

// Reasons lists what ToughnessOf may name.
func Reasons() []string {
	return []string{Untempered, TemperWindow, Plates, Network, CoarseGrain, VeryHard}
}

// What is named of what the index weighs: it takes a quarter or more.
const (
	namedPlate = 0.45  // share of plate martensite
	namedGrain = 30e-6 // grain [m]
	namedHRC   = 60.   // and over, next to a usual edge of 57
)

// ToughnessOf reads the toughness of cell i.
func (m *Metal) ToughnessOf(c *Cells, i int) Toughness {
	var t Toughness
	f := &c.Fraction
	named := func(yes bool, what string) {
		if yes {
			t.Reasons = append(t.Reasons, what)
		}
	}
	carbon := c.Births[0].Carbon[i]
	t.Plate = max(0, min(1, (carbon-0.6)/0.4)) * f[steel.Martensite][i]
	t.Network = c.Film[i] > 0.004
	t.Temper = m.TemperEquivalent(c, i)
	hrc, grain := rockwell(m.HV(c, i)), m.Grain(c, i)
	index := 100 * min(2, math.Exp(-0.09*(hrc-50)))
	index *= (1 - 0.6*t.Plate) * min(1.2, math.Sqrt(10e-6/grain))
	if f[steel.Martensite][i] > 0.3 {
		shift := 0.0 // silicon delays the window
		if m.comp[steel.Si] > 1 {
			shift = 75
		}
		T := t.Temper - kelvin - shift
		switch {
		case t.Temper < 160+kelvin:
			index *= 0.4 + 0.6*max(0, (t.Temper-kelvin-120)/40)
		case T >= 240 && T < 260:
			index *= 0.85
		case T >= 260 && T <= 370:
			index *= 0.7
		}
		named(t.Temper < 150+kelvin, Untempered)
		named(T >= 240 && T <= 370, TemperWindow)
	}
	named(t.Network, Network)
	named(t.Plate >= namedPlate, Plates)
	named(grain > namedGrain, CoarseGrain)
	named(hrc >= namedHRC, VeryHard)
	if t.Network {
		index *= 0.3
	}
	t.Index = min(100, index)
	t.Rank = RankOf(t.Index)
	return t
}

// RankOf returns the rank of an index: 1 brittle … 5 tough.
func RankOf(index float64) int {
	rank := 1
	for _, step := range []float64{8, 20, 35, 60} {
		if index >= step {
			rank++
		}
	}
	return rank
}

// TemperEquivalent returns the temperature [K] at which one hour would have taken
// the first martensite of cell i as far as its history has, by the process that
// stands for tempering as a whole; 0 where there is no martensite.
func (m *Metal) TemperEquivalent(c *Cells, i int) float64 {
	if c.Births[0].Fraction[i] <= 0 {
		return 0
	}
	theta := c.Births[0].Rate[relaxed][i]
	if theta <= 0 {
		return 0
	}
	return temperPeak[relaxed] / (1 - math.Log(theta)/(math.Ln10*temperK))
}

// LengthChange returns the change of length of cell i against the soft-annealed
// state, as a fraction: what a gauge finds when the piece is cold.
//
//	3·ΔL/L = 0.55·M·0.0168·C·(1 − tempered) + RA·(−0.0464 + 0.0221·C) + B·0.0078·C
//
// Volumes of constituents from the handbook lines of asm-1991; the factor for
// martensite is calibrated on +0.15 % for O1 (maker's data sheet, read), ±50 %. Steel
// with much austenite retained it does not cover: of A2 it says −0.02 % for the +0.10 %
// of its sheet.
func (m *Metal) LengthChange(c *Cells, i int) float64 {
	f := &c.Fraction
	v := f[steel.RetainedAustenite][i]*(-0.0464+0.0221*c.RetainedCarbon[i]) + f[steel.Bainite][i]*0.0078*c.BainiteCarbon[i]*0.55
	for b := range c.Births {
		birth := &c.Births[b]
		if x := birth.Fraction[i]; x > 0 {
			root := math.Sqrt(birth.Rate[relaxed][i])
			v += 0.78 * x * 0.0168 * birth.Carbon[i] * (1 - 0.8*root/(1+root))
		}
	}
	return v / 3
}

// Quench is what the crack score asks of a quench.
type Quench struct {
	Severity     float64 // Grossmann's H [1/inch]: oil 0.25–0.8, water 1, brine 2–5
	SectionRatio float64 // thickest over thinnest section of the piece
	Holes        bool    // holes, stamps, sharp inner corners
	Through      bool    // hardens through: no soft core that presses the skin together
	Decarb       bool    // decarburized or deeply scratched on one side
	UntilTemper  float64 // time from quench to temper [s]
}

// Indicators of a quench crack.
const (
	CrackCarbonInWater = "carbon-in-water"            // over 0.6 wt % C in solution, in water or brine
	CrackCarbon        = "carbon"                     // much carbon in solution
	CrackLowMs         = "low-ms-in-water"            // turns hard when it is stiff already
	CrackThrough       = "through-hardening-in-water" // no soft core that presses the shell together
	CrackSection       = "section-ratio"              // thick beside thin
	CrackHoles         = "holes"
	CrackGrain         = "coarse-grain"
	CrackDecarb        = "decarb"     // one side has lost carbon
	CrackUntempered    = "untempered" // it lies hard
)

// Indicators lists what CrackRank may raise.
func Indicators() []string {
	return []string{CrackCarbonInWater, CrackCarbon, CrackLowMs, CrackThrough, CrackSection, CrackHoles, CrackGrain, CrackDecarb, CrackUntempered}
}

// CrackHigh is the rank from which a quench is one that may well crack the piece.
const CrackHigh = 3

// CrackRank ranks the danger of a quench crack: 0 no indicator raised … 4. It is a
// rank of indicators and no probability, and never says that a quench is safe.
// Indicators and their limits are the trade's and of kunitake-1971 (from memory). A
// soft core under a hard shell presses the shell together, as it does in a 25 mm
// cylinder that cracks in oil and not in water (scott-1925, abstract): there carbon in
// water counts half. A blade's edge is thin in oil too, where that is common practice:
// the section counts half there.
func (m *Metal) CrackRank(c *Cells, i int, q Quench) (rank int, raised []string) {
	say := func(points int, what string) {
		rank += points
		raised = append(raised, what)
	}
	carbon := c.Carbon[i]
	watery := q.Severity >= 0.9
	switch {
	case carbon > 0.6 && watery && q.Through:
		say(2, CrackCarbonInWater)
	case carbon > 0.6 && watery:
		say(1, CrackCarbonInWater)
	case carbon > 0.4 && watery || carbon > 0.9:
		say(1, CrackCarbon)
	}
	if ms := m.MartensiteTemperature(c, i) - kelvin; ms < 250 && watery {
		say(1, CrackLowMs)
	}
	equivalent := carbon + m.comp[steel.Mn]/5 + m.comp[steel.Mo]/5 + m.comp[steel.Cr]/10 + m.comp[steel.Ni]/50
	if watery && equivalent > 0.55 && q.Through {
		say(1, CrackThrough)
	}
	switch {
	case q.SectionRatio > 4 && watery:
		say(2, CrackSection)
	case q.SectionRatio > 4 || q.SectionRatio > 2 && watery:
		say(1, CrackSection)
	}
	if q.Holes {
		say(1, CrackHoles)
	}
	if m.Grain(c, i) > 40e-6 {
		say(1, CrackGrain)
	}
	if q.Decarb {
		say(1, CrackDecarb)
	}
	if q.UntilTemper > 4*3600 {
		say(2, CrackUntempered)
	} else if q.UntilTemper > 1800 {
		say(1, CrackUntempered)
	}
	return min(rank, 4), raised
}
