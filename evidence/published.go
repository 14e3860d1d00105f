package evidence

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// The published formulas that the models compete with, transcribed as printed;
// all but Andrews' from memory. Compositions in wt %, temperatures in °C.

type formula struct {
	rival
	at func(c steel.Composition, more extra) float64
}

// extra holds what some formulas know beyond steel.Composition [wt %].
type extra struct{ co, al, nb, ti, b float64 }

func extraOf(r record) extra {
	return extra{r.or("co_wt", 0), r.or("al_wt", 0), r.or("nb_wt", 0), r.or("ti_wt", 0), r.or("b_wt", 0)}
}

func names(list []formula) []rival {
	var r []rival
	for _, f := range list {
		r = append(r, f.rival)
	}
	return r
}

func values(list []formula, c steel.Composition, x extra) []float64 {
	var v []float64
	for _, f := range list {
		v = append(v, f.at(c, x))
	}
	return v
}

var msFormulas = []formula{
	{rival{"van Bohemen", "vanbohemen-2012"}, func(c steel.Composition, _ extra) float64 {
		return 565 - (31*c[steel.Mn] + 13*c[steel.Si] + 10*c[steel.Cr] + 18*c[steel.Ni] + 12*c[steel.Mo]) - 600*(1-math.Exp(-0.96*c[steel.C]))
	}},
	{rival{"Barbier", "barbier-2014"}, func(c steel.Composition, x extra) float64 {
		return 545 - 601.2*(1-math.Exp(-0.868*c[steel.C])) - 34.4*c[steel.Mn] - 13.7*c[steel.Si] - 9.2*c[steel.Cr] - 17.3*c[steel.Ni] - 15.4*c[steel.Mo] +
			10.8*c[steel.V] + 4.7*x.co - 1.4*x.al - 16.3*c[steel.Cu] - 361*x.nb - 2.44*x.ti - 3448*x.b
	}},
	{rival{"Capdevila", "capdevila-2002"}, func(c steel.Composition, x extra) float64 {
		return 764.2 - 302.6*c[steel.C] - 30.6*c[steel.Mn] - 16.6*c[steel.Ni] - 8.9*c[steel.Cr] + 2.4*c[steel.Mo] - 11.3*c[steel.Cu] + 8.58*x.co + 7.4*c[steel.W] - 14.5*c[steel.Si] - 273.15
	}},
	{rival{"Andrews", "andrews-1965"}, func(c steel.Composition, _ extra) float64 {
		return 539 - 423*c[steel.C] - 30.4*c[steel.Mn] - 17.7*c[steel.Ni] - 12.1*c[steel.Cr] - 7.5*c[steel.Mo]
	}},
	{rival{"Steven and Haynes", "steven-haynes-1956"}, func(c steel.Composition, _ extra) float64 {
		return 561 - 474*c[steel.C] - 33*c[steel.Mn] - 17*c[steel.Ni] - 17*c[steel.Cr] - 21*c[steel.Mo]
	}},
	{rival{"Payson and Savage", "payson-savage-1944"}, func(c steel.Composition, _ extra) float64 {
		return 499 - 317*c[steel.C] - 33*c[steel.Mn] - 28*c[steel.Cr] - 17*c[steel.Ni] - 11*(c[steel.Si]+c[steel.Mo]+c[steel.W])
	}},
}

var bsFormulas = []formula{
	{rival{"van Bohemen", "vanbohemen-2012"}, func(c steel.Composition, _ extra) float64 {
		return 839 - (86*c[steel.Mn] + 23*c[steel.Si] + 67*c[steel.Cr] + 33*c[steel.Ni] + 75*c[steel.Mo]) - 270*(1-math.Exp(-1.33*c[steel.C]))
	}},
	{rival{"Steven and Haynes", "steven-haynes-1956"}, func(c steel.Composition, _ extra) float64 {
		return 830 - 270*c[steel.C] - 90*c[steel.Mn] - 37*c[steel.Ni] - 70*c[steel.Cr] - 83*c[steel.Mo]
	}},
	{rival{"Kirkaldy", "kirkaldy-1984"}, func(c steel.Composition, _ extra) float64 {
		return 656 - 58*c[steel.C] - 35*c[steel.Mn] - 75*c[steel.Si] - 15*c[steel.Ni] - 34*c[steel.Cr] - 41*c[steel.Mo]
	}},
}

var ac1Formulas = []formula{
	{rival{"Andrews", "andrews-1965"}, func(c steel.Composition, _ extra) float64 {
		return 723 - 10.7*c[steel.Mn] - 16.9*c[steel.Ni] + 29.1*c[steel.Si] + 16.9*c[steel.Cr] + 6.38*c[steel.W]
	}},
	{rival{"Grange", "grange-1961"}, func(c steel.Composition, _ extra) float64 {
		return (1333 - 25*c[steel.Mn] + 40*c[steel.Si] + 42*c[steel.Cr] - 26*c[steel.Ni] - 32) / 1.8
	}},
	{rival{"Trzaska and Dobrzański", "trzaska-2007"}, func(c steel.Composition, _ extra) float64 {
		return 739 - 22.8*c[steel.C] - 6.8*c[steel.Mn] + 18.2*c[steel.Si] + 11.7*c[steel.Cr] - 15*c[steel.Ni] - 6.4*c[steel.Mo] - 5*c[steel.V] - 28*c[steel.Cu]
	}},
}

var ac3Formulas = []formula{
	{rival{"Andrews", "andrews-1965"}, func(c steel.Composition, _ extra) float64 {
		return 910 - 203*math.Sqrt(c[steel.C]) - 15.2*c[steel.Ni] + 44.7*c[steel.Si] + 104*c[steel.V] + 31.5*c[steel.Mo] + 13.1*c[steel.W] - 30*c[steel.Mn] - 11*c[steel.Cr] - 20*c[steel.Cu] + 700*c[steel.P]
	}},
	{rival{"Grange", "grange-1961"}, func(c steel.Composition, _ extra) float64 {
		return (1570 - 323*c[steel.C] - 25*c[steel.Mn] + 80*c[steel.Si] - 3*c[steel.Cr] - 32*c[steel.Ni] - 32) / 1.8
	}},
	{rival{"Trzaska and Dobrzański", "trzaska-2007"}, func(c steel.Composition, _ extra) float64 {
		return 937.3 - 224.5*math.Sqrt(c[steel.C]) - 17*c[steel.Mn] + 34*c[steel.Si] - 14*c[steel.Ni] + 21.6*c[steel.Mo] + 41.8*c[steel.V] - 20*c[steel.Cu]
	}},
}

// initialHardness is that of full martensite by ASTM A255 [HRC]:
//
//	IH = 33.087 + 50.723 C + 33.662 C² − 2.7048 C³ − 107.02 C⁴ + 43.523 C⁵
func initialHardness(c float64) float64 {
	return 33.087 + c*(50.723+c*(33.662+c*(-2.7048+c*(-107.02+c*43.523))))
}

// justHardness is Just's line of full martensite, 20 + 60 √C [HRC], C < 0.6.
func justHardness(c float64) float64 { return 20 + 60*math.Sqrt(min(c, 0.6)) }

// grangeBase is the hardness of Fe–C martensite tempered one hour [HV], read
// from the figure of Grange, Hribal and Porter (from memory, ±25 HV), with
// indicative increments per percent of alloy (from memory).
var grangeBase = struct {
	celsius, carbon []float64
	hv              [][]float64
	alloy           map[steel.Element][]float64
}{
	celsius: []float64{204, 316, 427, 538, 649},
	carbon:  []float64{0.2, 0.4, 0.6, 0.8},
	hv: [][]float64{
		{380, 540, 650, 710}, {310, 420, 500, 560}, {250, 330, 385, 420}, {195, 250, 285, 310}, {150, 185, 210, 230},
	},
	alloy: map[steel.Element][]float64{
		steel.Mn: {10, 35, 45, 40, 35}, steel.Si: {20, 50, 40, 30, 25}, steel.Cr: {0, 15, 45, 50, 45},
		steel.Mo: {0, 17, 67, 150, 150}, steel.Ni: {6, 6, 6, 6, 6}, steel.V: {0, 0, 100, 300, 450},
	},
}

// grange returns the hardness [HV] after tempering at T [°C] for hours, other
// times than one hour by the Hollomon–Jaffe parameter with K = 18 (h). NaN
// outside 150–720 °C of equal one-hour temperature or 0.15–1.0 % C.
func grange(c steel.Composition, celsius, hours float64) float64 {
	g := &grangeBase
	t := (celsius+273.15)*(18+math.Log10(hours))/18 - 273.15
	if t < 150 || t > 720 || c[steel.C] < 0.15 || c[steel.C] > 1.0 {
		return math.NaN()
	}
	column := make([]float64, len(g.celsius))
	for i := range g.celsius {
		column[i] = line(g.carbon, g.hv[i], c[steel.C])
		for e, per := range g.alloy {
			column[i] += per[i] * c[e]
		}
	}
	return line(g.celsius, column, t)
}

// line interpolates linearly and goes on beyond the ends.
func line(x, y []float64, at float64) float64 {
	i := 1
	for i < len(x)-1 && x[i] < at {
		i++
	}
	return y[i-1] + (y[i]-y[i-1])*(at-x[i-1])/(x[i]-x[i-1])
}
