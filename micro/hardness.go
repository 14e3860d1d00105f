package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// asQuenched is the hardness of martensite without retained austenite [HV] at
// 0, 0.1 … 1.2 wt % C; ±30 HV. Compiled level of published curves, smoothed,
// and under 0.7 % raised by what quenching itself tempers away.
// Source: krauss-1999, hodge-orehoski-1946 (both from memory).
var asQuenched = [13]float64{255, 385, 468, 552, 652, 768, 836, 882, 925, 950, 967, 978, 986}

// temperBase is what the law of tempering counts its drops from, ditto: the level
// that leaves out whole alloys best. What fresh martensite has beyond it goes with
// the first process.
var temperBase = [13]float64{250, 370, 450, 530, 620, 705, 790, 850, 890, 915, 935, 950, 960}

// martensiteHV returns the hardness of untempered martensite with carbon c [wt %].
func martensiteHV(c float64) float64 { return interpolate(&asQuenched, c) }

func interpolate(table *[13]float64, c float64) float64 {
	p := max(0, min(c*10, 11.999))
	i := int(p)
	return table[i] + (p-float64(i))*(table[i+1]-table[i])
}

// hardnessLaw holds what of the hardness depends on the bar's composition alone.
type hardnessLaw struct {
	ferrite float64              // hardness of ferrite without any carbide [HV]
	drop    [numRates][3]float64 // D of each process: constant with alloy, C, C² [HV]
	nickel  float64              // HV
	limit   float64              // wt % C beyond which tempered martensite is no harder
	richer  [13]float64          // what it is harder by beyond, as a share, by carbon as asQuenched
}

// vanadiumC is the carbon that vanadium binds, by weight.
const vanadiumC = 12.011 / 50.942

// Hardness of single things [HV].
const (
	retainedHV = 250.0
	carbideHV  = 1050.0 // cementite, and what alloy carbide counts for in a mixture
)

// Tempered martensite has the hardness
//
//	HV = HVq(C) − Σ_j [1 − φ_j]·D_j, φ_j = 1/(1 + √θ_j)
//
// D_j linear in C, C², and in x/(1 + x/s) of Si, Mn, Cr (s = 2), Mo (0.5) and V
// (0.2, held to do next to nothing below 425 °C); 6 HV per % Ni at all temperatures (grange-1977,
// abstract). 48 constants for 1226 rows. Leaving out one alloy at a time: 1.7 HRC mean
// absolute error, 3.9 at the 90th percentile on the open compilation above 20 HRC; 1.5 on
// its two careful sources, 1.4 on makers' tool steel curves. Refit: go run ./micro/fit DATA temper.
func newHardnessLaw(comp steel.Composition) hardnessLaw {
	h := hardnessLaw{ferrite: 134 + 28*comp[steel.Si] + 11*comp[steel.Mn]}
	sat := func(x, s float64) float64 { return x / (1 + x/s) }
	alloy := [5]float64{sat(comp[steel.Si], 2), sat(comp[steel.Mn], 2), sat(comp[steel.Cr], 2), sat(comp[steel.Mo], 0.5), sat(comp[steel.V], 0.2)}
	for j, d := range temperDrop {
		h.drop[j] = [3]float64{d[0], d[1], d[2]}
		for k, x := range alloy {
			h.drop[j][0] += d[3+k] * x
		}
	}
	h.nickel = 6 * comp[steel.Ni]
	h.limit = 0.75 - 0.1*min(comp[steel.Cr], 2)
	g := comp
	g[steel.C] = h.limit
	whole := 1 - usualRetained(&g)
	for k := range h.richer {
		g[steel.C] = max(h.limit, float64(k)/10)
		h.richer[k] = whole/(1-min(0.5, usualRetained(&g))) - 1
	}
	return h
}

// usualRetained returns the retained austenite at 25 °C of the law that temperDrop was
// fitted with, for what is dissolved. Source: vanbohemen-2012 (from memory).
func usualRetained(g *steel.Composition) float64 {
	return math.Exp(-martensiteRate(g) * max(20, vanBohemenMs(g)-kelvin-25))
}

// temperedHV returns the hardness of one birth of martensite. What carbon makes
// it harder than the base at the limit goes with the first process. The drops stand for
// steel with the retained austenite that belongs to the limit: what holds more carbon
// holds more of it, and its martensite is so much harder, as long as that lasts.
func (h *hardnessLaw) temperedHV(carbon float64, theta *[numRates]float64, size3 float64) float64 {
	low := min(carbon, h.limit)
	hv := interpolate(&temperBase, low)
	extra := martensiteHV(carbon) - hv
	var first, second float64
	for j, x := range theta {
		root := math.Sqrt(x)
		gone := root / (1 + root)
		switch j {
		case 0:
			hv += extra * (1 - gone)
			first = gone
		case relaxed:
			second = gone
		}
		d := h.drop[j][0] + low*(h.drop[j][1]+low*h.drop[j][2])
		if j <= relaxed { // nothing hardens in the first stages
			d = max(0, d)
		}
		hv -= gone * d
		if j == relaxed {
			hv += h.nickel * gone
		}
	}
	if carbon > low {
		hv += (hv - retainedHV) * interpolate(&h.richer, carbon) * first * (1 - second)
	}
	if size3 > freshSize3 {
		return max(hv, h.particles(carbon/carbideC, cubeRoot.at(size3), 1))
	}
	return max(hv, h.ferrite)
}

// particles returns the hardness of ferrite with a fraction f of carbide of
// radius r [µm]: one law from pearlite through spheroidite to martensite tempered high,
//
//	HV = 134 + 28Si + 11Mn + 100f + 41·λ^−0.75 + 75·s·λ^−0.5, λ = 4r(1 − f)/(3f) [µm]
//
// s the share of sub-boundaries that carbide pins. 0.4–1.1 wt % C, λ 0.08–8 µm;
// 3.3 % mean error on 59 plain-carbon rows at 593–704 °C. Fitted by this project
// on hollomon-jaffe-1945 and grange-baughman-1956.
func (h *hardnessLaw) particles(f, r, s float64) float64 {
	if f < 1e-6 {
		return h.ferrite - 30
	}
	lambda := 4 * r * (1 - f) / (3 * f)
	hv := h.ferrite + 100*f + 41*softPower.at(lambda)
	if s > 0 {
		hv += 75 * s / math.Sqrt(lambda)
	}
	return hv
}

// bainiteHV returns the hardness of bainite formed at T [K]:
//
//	HV = 700 − 0.95·(T − 250 °C), above 0.5 wt % C; scaled with carbon below
//
// ±40 HV, 250–500 °C. Own line after maynier-1978.
func bainiteHV(carbon, T float64) float64 {
	hv := 700 - 0.95*(T-kelvin-250)
	if carbon < 0.5 {
		hv *= 0.30 + 1.4*carbon
	}
	return max(hv, 180)
}

// HV returns the hardness of cell i [HV] as it would be read cold.
//
//	HV = (1−w)·[(1−f)·Σ matrix + f·carbide] + w·HV(ferrite with its carbide)
//
// with w the share of free ferrite in the matrix: continuous from martensite to
// spheroidite and from pearlite to free ferrite.
func (m *Metal) HV(c *Cells, i int) float64 {
	f := &c.Fraction
	carb, fer := f[steel.Carbide][i], f[steel.Ferrite][i]
	sum, mix := 0.0, 0.0
	var theta [numRates]float64
	for b := numBirths - 1; b >= 0; b-- { // the oldest last: bainite has seen what it has
		birth := &c.Births[b]
		x := birth.Fraction[i]
		if x <= 0 && b > 0 {
			continue
		}
		for j := range theta {
			theta[j] = birth.Rate[j][i]
		}
		carbon := birth.Carbon[i]
		if carbon < m.hardness.limit { // carbide of vanadium counts as in the bars that the law was fitted on
			carbon = min(m.hardness.limit, carbon+vanadiumC*max(0, m.comp[steel.V]-c.Alloy[alloyV][i]))
		}
		mix += x * m.hardness.temperedHV(carbon, &theta, birth.Size3[i])
		sum += x
	}
	if x := f[steel.Austenite][i] + f[steel.RetainedAustenite][i]; x > 0 {
		mix += x * retainedHV
		sum += x
	}
	if x := f[steel.Pearlite][i]; x > 0 {
		mix += x * (m.hardness.ferrite + 100*c.PearliteCarbon[i]/carbideC + 41*c.PearliteFineness[i])
		sum += x
	}
	if x := f[steel.Bainite][i]; x > 0 {
		hv := bainiteHV(c.BainiteCarbon[i]+m.kept*m.comp[steel.C], c.BainiteT[i]) // without carbide its plates are as fine
		if theta[relaxed] > 0 {
			hv = min(hv, m.hardness.temperedHV(c.BainiteCarbon[i], &theta, c.Births[0].Size3[i]))
		}
		mix += x * hv
		sum += x
	}
	hard, soft := 0.0, 0.0
	if sum > 0 {
		hard = (1-carb)*mix/sum + carb*carbideIn(mix/sum)
	}
	w := fer / (fer + sum)
	if fer > 0 {
		soft = m.freeFerrite(c, i)
	}
	return (1-w)*hard + w*soft
}

// carbideIn returns what a carbide counts for in a matrix of hardness hv: 1050 HV in
// a hard one, no more than the matrix in a soft one, where the laws of tempering and
// of particles have it already.
func carbideIn(hv float64) float64 {
	return hv + (carbideHV-hv)*max(0, min(1, (hv-300)/400))
}

// freeFerrite is the hardness of ferrite with the particles of all classes:
// 1/λ = Σ 1/λ_k. A film on boundaries does not strengthen.
func (m *Metal) freeFerrite(c *Cells, i int) float64 {
	f := c.Fraction[steel.Carbide][i] - c.Film[i]
	var per float64
	for k := range c.Carbides {
		if r := c.Carbides[k].Radius[i]; r > 0 {
			per += c.Carbides[k].Mass[i] / r
		}
	}
	if f < 1e-6 || per <= 0 {
		return m.hardness.particles(0, 1, 0)
	}
	return m.hardness.particles(f, f/per, c.Pinned[i])
}

// Hardness fills hv with the hardness of every cell [HV].
func (m *Metal) Hardness(hv []float64, c *Cells) {
	for i := range hv {
		hv[i] = m.HV(c, i)
	}
}
