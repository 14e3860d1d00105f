package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// asQuenched is the hardness of martensite without retained austenite [HV] at
// 0, 0.1 … 1.2 wt % C; ±30 HV. Compiled level of published curves, smoothed.
// Source: krauss-1999, hodge-orehoski-1946 (both from memory).
var asQuenched = [13]float64{250, 370, 450, 530, 620, 705, 790, 850, 890, 915, 935, 950, 960}

// martensiteHV returns the hardness of untempered martensite with carbon c [wt %].
func martensiteHV(c float64) float64 {
	p := math.Max(0, math.Min(c*10, 11.999))
	i := int(p)
	return asQuenched[i] + (p-float64(i))*(asQuenched[i+1]-asQuenched[i])
}

// hardnessLaw holds what of the hardness depends on the bar's composition alone.
type hardnessLaw struct {
	ferrite float64 // hardness of ferrite without any carbide [HV]
	level   [numRates]float64
	rest    float64
}

// Hardness of single things [HV].
const (
	retainedHV = 250.0
	carbideHV  = 1050.0 // cementite, and what alloy carbide counts for in a mixture
)

func newHardnessLaw(comp steel.Composition) hardnessLaw {
	h := hardnessLaw{ferrite: 134 + 28*comp[steel.Si] + 11*comp[steel.Mn]}
	h.level = [numRates]float64{0.16, 0.24, 0.22, 0.20}
	h.rest = 0.18
	return h
}

// temperedHV returns the hardness of one birth of martensite.
func (h *hardnessLaw) temperedHV(carbon float64, theta *[numRates]float64, size3 float64) float64 {
	ratio := h.rest
	for j, x := range theta {
		ratio += h.level[j] / (1 + math.Sqrt(x))
	}
	hv := martensiteHV(carbon) * ratio
	if size3 > freshSize3 {
		return math.Max(hv, h.particles(carbon/carbideC, math.Cbrt(size3), 1))
	}
	return hv
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
	hv := h.ferrite + 100*f + 41*math.Pow(lambda, -0.75)
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
		hv *= 0.55 + 0.9*carbon
	}
	return math.Max(hv, 180)
}

// HV returns the hardness of cell i [HV] as it would be read cold.
//
//	HV = (1−w)·[(1−f)·Σ matrix + f·1050] + w·HV(ferrite with its carbide)
//
// with w the share of free ferrite in the matrix: continuous from martensite to
// spheroidite and from pearlite to free ferrite.
func (m *Metal) HV(c *Cells, i int) float64 {
	f := &c.Fraction
	carb, fer := f[steel.Carbide][i], f[steel.Ferrite][i]
	sum, mix := 0.0, 0.0
	for b := range c.Births {
		birth := &c.Births[b]
		x := birth.Fraction[i]
		if x <= 0 {
			continue
		}
		var theta [numRates]float64
		for j := range theta {
			theta[j] = birth.Rate[j][i]
		}
		mix += x * m.hardness.temperedHV(birth.Carbon[i], &theta, birth.Size3[i])
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
		mix += x * bainiteHV(c.BainiteCarbon[i], c.BainiteT[i])
		sum += x
	}
	hard, soft := 0.0, 0.0
	if sum > 0 {
		hard = (1-carb)*mix/sum + carb*carbideHV
	}
	w := fer / (fer + sum)
	if fer > 0 {
		soft = m.freeFerrite(c, i)
	}
	return (1-w)*hard + w*soft
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
