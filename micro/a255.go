package micro

import (
	"github.com/heatwright/heatwright/steel"
)

// Hardenability by the standard method: ideal critical diameter from multiplying
// factors, hardness along the end-quenched bar from dividing factors. It knows
// nothing of undissolved carbide and is not for more than 0.8 wt % C.
//
// Held against the band limits of H grades: mid-range heats inside at 96 % of
// points. Source: astm-a255 (2010, read in a handbook page that quotes it).

// a255Factor returns the multiplying factor of an element, inch convention.
func a255Factor(e steel.Element, x float64) float64 {
	switch e {
	case steel.C:
		switch {
		case x <= 0.39:
			return 0.54 * x
		case x <= 0.55:
			return 0.171 + 0.001*x + 0.265*x*x
		case x <= 0.65:
			return 0.115 + 0.268*x - 0.038*x*x
		case x <= 0.75:
			return 0.143 + 0.2*x
		}
		x = min(x, 0.9)
		return 0.062 + 0.409*x - 0.135*x*x
	case steel.Mn:
		if x <= 1.2 {
			return 1 + 3.3333*x
		}
		return -1.12 + 5.1*min(x, 1.95)
	case steel.Si:
		return 1 + 0.7*min(x, 2)
	case steel.Ni:
		if x <= 1.5 {
			return 1 + 0.363*x
		}
		x = min(x, 3.5)
		return 0.3211 + x*(1.4501+x*(-0.6119+0.1253*x))
	case steel.Cr:
		return 1 + 2.16*min(x, 2.5)
	case steel.Mo:
		return 1 + 3.0*min(x, 0.55)
	case steel.Cu:
		return 1 + 0.365*min(x, 0.55)
	case steel.V:
		return 1 + 1.73*min(x, 0.2)
	}
	return 1
}

// IdealDiameter returns the ideal critical diameter [m]: the round that is half
// martensite at its center in a quench of infinite severity, grain number 7.
func IdealDiameter(comp steel.Composition) float64 {
	d := 1.0
	for _, e := range []steel.Element{steel.C, steel.Mn, steel.Si, steel.Ni, steel.Cr, steel.Mo, steel.Cu, steel.V} {
		d *= a255Factor(e, comp[e])
	}
	return d * 25.4e-3
}

// dividing holds the polynomials in DI [mm] of the dividing factor at distances
// [mm] from the quenched end, and the DI above which it is 1 (0: none given).
var dividing = [...]struct {
	at   float64
	b    [6]float64
	most float64
}{
	{3, [6]float64{0.170547, 0.173925, -0.0109281, 0.000313863, -4.32086e-06, 2.31674e-08}, 47},
	{5, [6]float64{3.03987, -0.0855161, 0.00138048, -9.98717e-06, 2.64963e-08, 5.46044e-12}, 84},
	{7, [6]float64{4.32366, -0.134451, 0.00228151, -1.9625e-05, 8.35338e-08, -1.38456e-10}, 110},
	{9, [6]float64{4.46324, -0.0992003, 0.00119387, -7.40686e-06, 2.26087e-08, -2.46815e-11}, 123.5},
	{11, [6]float64{4.40915, -0.0792024, 0.000674319, -1.97223e-06, -3.21758e-09, 2.08025e-11}, 134.5},
	{13, [6]float64{4.60261, -0.0820023, 0.000718416, -2.528e-06, 2.30089e-10, 1.25368e-11}, 143.5},
	{15, [6]float64{5.01595, -0.0957696, 0.00095624, -4.62213e-06, 8.92787e-09, -8.74859e-13}, 150},
	{20, [6]float64{5.51133, -0.10431, 0.00115299, -7.51801e-06, 2.75126e-08, -4.311e-11}, 171},
	{25, [6]float64{6.15369, -0.127486, 0.00157885, -1.12233e-05, 4.21359e-08, -6.4246e-11}, 175.5},
	{30, [6]float64{7.16001, -0.171328, 0.0024282, -1.91259e-05, 7.6732e-08, -1.21571e-10}, 0},
	{35, [6]float64{8.46964, -0.229424, 0.00354915, -2.97166e-05, 1.24831e-07, -2.0543e-10}, 0},
	{40, [6]float64{9.13657, -0.252296, 0.00394419, -3.33383e-05, 1.41462e-07, -2.35541e-10}, 0},
	{45, [6]float64{8.84696, -0.223317, 0.00325787, -2.6293e-05, 1.0819e-07, -1.76244e-10}, 0},
	{50, [6]float64{8.10202, -0.171039, 0.00212643, -1.52754e-05, 5.78179e-08, -8.7989e-11}, 0},
}

func dividingAt(k int, di float64) float64 {
	d := &dividing[k]
	if d.most > 0 && di > d.most {
		return 1
	}
	di = max(di, 25)
	sum := 0.0
	for j := 5; j >= 0; j-- {
		sum = sum*di + d.b[j]
	}
	return max(1, sum)
}

// InitialHardness returns the hardness at the quenched end [HRC] for carbon c [wt %], to 0.69.
func InitialHardness(c float64) float64 {
	c = min(c, 0.69)
	return 33.087 + c*(50.723+c*(33.662+c*(-2.7048+c*(-107.02+43.523*c))))
}

// EndQuench returns the hardness [HRC] at a distance [m] from the end of the
// end-quenched bar of ISO 642 by the standard's calculation.
func EndQuench(comp steel.Composition, distance float64) float64 {
	di := IdealDiameter(comp) * 1e3
	first := InitialHardness(comp[steel.C])
	x := distance * 1e3
	if x <= 1.5 {
		return first
	}
	before, factor := 1.5, 1.0
	for k, d := range dividing {
		next := dividingAt(k, di)
		if x <= d.at {
			return first / (factor + (next-factor)*(x-before)/(d.at-before))
		}
		before, factor = d.at, next
	}
	return first / factor
}
