package micro

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// MagnetLost is the pull below which a hand magnet is felt to let go [–].
const MagnetLost = 0.1

// curie is the Curie temperature of ferrite [K], 769–770 °C.
const curie = 1043.0

// magnetization of ferrite relative to 0 K, by table:
//
//	m(τ) = [1 − 0.35τ^1.5 − 0.65τ^4]^(1/3), τ = T/1043 K
//
// m(600 °C)/m(20 °C) = 0.759. Source: kuzmin-2005 (from memory).
var magnetization = func() (table [tableLen]float64) {
	for i := range table {
		tau := tableT(i) / curie
		if tau < 1 {
			table[i] = math.Cbrt(1 - 0.35*math.Pow(tau, 1.5) - 0.65*math.Pow(tau, 4))
		}
	}
	return table
}()

// PullCell returns the pull of a hand magnet at cell i when it is at T [K], as a
// share of that of cold ferrite: everything that is not austenite or carbide, times
// the magnetization of ferrite.
func (m *Metal) PullCell(c *Cells, i int, T float64) float64 {
	f := &c.Fraction
	alpha := f[steel.Martensite][i] + f[steel.Pearlite][i] + f[steel.Bainite][i] + f[steel.Ferrite][i]
	k, w := at(T)
	return alpha * (magnetization[k] + w*(magnetization[k+1]-magnetization[k]))
}

// Pull fills dst with PullCell of every cell.
func (m *Metal) Pull(dst, T []float64, c *Cells) {
	for i := range dst {
		dst[i] = m.PullCell(c, i, T[i])
	}
}

// InSolution returns how far the austenite of cell i at T has taken up the carbon
// that equilibrium there would dissolve: 0 while none is austenite, 1 when it holds
// all of it.
func (m *Metal) InSolution(c *Cells, i int, T float64) float64 {
	aus := c.Fraction[steel.Austenite][i]
	if T <= m.ae1 || aus < 0.02 {
		return 0
	}
	k, w := at(T)
	ceq := min(m.carbonOf(c, i), m.hot[k].carbon+w*(m.hot[k+1].carbon-m.hot[k].carbon))
	return min(1, aus*c.Carbon[i]/ceq)
}

// Accuracy tells how far the models of this package may be off: half widths of
// 80 % bands.
func Accuracy() []cite.Accuracy { return accuracies }

// Accuracy tells how far the models of this package may be off.
func (m *Metal) Accuracy() []cite.Accuracy { return accuracies }

var accuracies = []cite.Accuracy{
	{Model: "micro.ms", Quantity: "martensite start", Unit: "K", Half: 28, Covers: "0.1–1.1 wt % C, low-alloy and tool steel",
		HeldTo: "920 rows: 82 % inside; 0.5–1.1 C 79 %; over 1.2 C hardly any; leaving out whole alloys 82 %", Source: "wentzien-2024"},
	{Model: "micro.ms-tool", Quantity: "martensite start of tool steel hardened as usual", Unit: "K", Half: 45, Covers: "tool steel with carbide that stays, hot-work steel from 0.2 wt % C",
		HeldTo: "100 rows; leaving out whole alloys 80 % inside", Source: "wentzien-2024"},
	{Model: "micro.bs", Quantity: "bainite start", Unit: "K", Half: 26, Covers: "0.1–1.0 wt % C, low-alloy", HeldTo: "95 rows: 82 % inside", Source: "schuscha-2025"},
	{Model: "micro.pearlite", Quantity: "time of pearlite", Half: 2.5, Factor: true, Covers: "Mn ≤ 1.5, Cr ≤ 1.6, Mo ≤ 0.5 dissolved",
		HeldTo: "12 critical diameters in brine and oil, W-type to 4140: all within 1.35×; six constants for 165 figures, two of which rest on one steel each (8620, 4340)", Source: "li-1998"},
	{Model: "micro.bainite", Quantity: "time of bainite", Half: 3, Factor: true, Covers: "0.1–1.1 wt % C, Mn ≤ 1.6, Cr ≤ 1.6", Source: "own-derivation"},
	{Model: "micro.worked", Quantity: "austenite grain after a forging pass", Half: 1.5, Factor: true, Covers: "C–Mn steel, 850–1150 °C; carbon over 0.3 % by judgment", HeldTo: "nothing yet: coefficients from memory", Source: "hodgson-gibbs-1992"},
	{Model: "micro.hardness", Quantity: "as-quenched hardness", Unit: "HV", Half: 35, Covers: "0.2–1.2 wt % C",
		HeldTo: "initial hardness of the hardenability standard, quenched in cells at 100–300 K/s: within 1.5 HRC from 0.2 C; softer at 0.1 C, where ferrite forms", Source: "krauss-1999"},
	{Model: "micro.tempering", Quantity: "tempered hardness", Unit: "HRC", Half: 2.6, Covers: "0.2–1.1 wt % C, 100–700 °C",
		HeldTo: "878 rows from 20 HRC: 85 % inside; two careful sources 91 %, a third 56 %; from 0.5 C 80 %; leaving out whole alloys 79 %", Source: "grange-baughman-1956"},
	{Model: "micro.tempering-tool", Quantity: "tempered hardness of tool steel hardened as its sheet says", Unit: "HRC", Half: 1.9, Covers: "O1, L6, W2, S7, H13, D2 types, 38–650 °C",
		HeldTo: "58 rows of makers' sheets: 85 % inside; leaving out whole curves 76 %", Source: "own-derivation"},
	{Model: "micro.end-quench", Quantity: "hardness along the end-quenched bar", Unit: "HRC", Half: 4, Covers: "0.15–0.65 wt % C, H grades",
		HeldTo: "band limits of 7 H grades: mid-range heats inside at all of 164 points", Source: "astm-a255"},
	{Model: "micro.retained", Quantity: "retained austenite", Half: 1.8, Factor: true, Covers: "0.6–1.2 wt % C in solution",
		HeldTo: "52100 at three temperatures, second hand: within 1.4×", Source: "vanbohemen-2012"},
	{Model: "micro.grain", Quantity: "austenite grain", Half: 1.5, Factor: true, Covers: "800–1150 °C", Source: "lee-lee-2008"},
	{Model: "micro.toughness", Quantity: "rank of toughness", Covers: "hardened steel, as a rank of its states: no energy, no measurement",
		HeldTo: "the order in makers' Charpy tables: as quenched, tempered low, tempered as usual, spring steel over O1", Source: "stormvinter-2011"},
	{Model: "micro.crack", Quantity: "rank of a quench crack", Covers: "a count of signs, no likelihood: what raises none may crack all the same",
		HeldTo: "nothing: which steel goes into which bath by its sheet", Source: "kunitake-1971"},
	{Model: "micro.length", Quantity: "length change on hardening", Half: 1.5, Factor: true, Covers: "O1 type", Source: "asm-1991"},
	{Model: "micro.soft", Quantity: "hardness of ferrite with carbide", Unit: "%", Half: 8, Covers: "0.4–1.1 wt % C",
		HeldTo: "59 rows of plain steel at 593–704 °C: 3.3 % mean, 13 % worst", Source: "hollomon-jaffe-1945"},
	{Model: "micro.dissolution", Quantity: "time of carbide dissolution", Half: 2, Factor: true, Covers: "plain, O1 type, 52100", Source: "molinder-1956"},
}
