package micro

import (
	"fmt"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// The rate tables: uniform in temperature, linear between points. At 2 K the
// steepest rate (290 kJ/mol at 1000 K) is off by 0.2 %.
const (
	tableFrom = 150.0 // K
	tableStep = 2.0   // K
	tableLen  = 776   // to 1700 K
	perStep   = 1 / tableStep
)

// hotRates serve above Ae1.
type hotRates struct {
	change   float64 // (ΔT/20)^2.5/t50 with t20 = 1 s: progress of the change to austenite, per s
	ferrite  float64 // ferrite left at equilibrium between the begin and the end of Ae1, share
	line     float64 // wt % C in austenite with ferrite
	dissolve float64 // 1/τ of spheroids of 1 µm radius, 1/s
	carbon   float64 // wt % C in austenite with carbide
	loosen   float64 // rate at which free ferrite dissolves, 1/s
	grain    float64 // d(d^4.739)/dt without pinning [µm^4.739/s]
	alloy    [numAlloy]float64
}

// coldRates serve austenite below its upper limit.
type coldRates struct {
	pearlite, pearliteBound float64 // rate with all alloy in solution and with what carbide leaves, fading out where bainite has taken over
	network                 float64 // exp(−Q/RT)
	bainite                 float64 // exp(−Q/RT), the undercooling below Bs is the cell's own
	ferriteC, carbideC      float64 // carbon of austenite with ferrite, with carbide [wt %]
	carbideBound, bainiteC  float64 // the latter with bound alloy; at T0
	fineness                float64 // ΔT^0.75, for the spacing of pearlite
	back                    float64 // D of carbon [µm²/s], for carbide that grows back
	divorced                float64 // rate of the divorced eutectoid on particles, per µm⁻²
}

// temperRates serve everything below Ae1 that is not austenite.
type temperRates struct {
	rate      [numRates]float64
	retained  float64 // first-order decomposition of retained austenite, 1/s
	condition float64 // loss of carbon by retained austenite, 1/s
	coarsen   float64 // dr³/dt [µm³/s]
	breakUp   float64 // 1/t50 of lamellae of 0.15 µm spacing times ln 2, 1/s
}

// Metal is one steel: its composition, limits and rate tables. It is not
// changed by use and may be shared by any number of marches.
type Metal struct {
	comp        steel.Composition
	limits      Limits
	bound, free *forces // with as much alloy as carbide leaves at Ae1, with all of it
	boundAlloy  steel.Composition
	kept        float64 // share of its carbon that bainite leaves to the austenite
	k           *kinetics
	ae1, ae1End float64 // K
	upper       float64 // K
	temperFrom  float64 // K, below it tempering is not followed
	hypo        bool    // less carbon than the eutectoid
	eutectoid   float64 // wt % C of austenite where the three-phase field ends
	softTime    float64 // half time of the change from spheroidite, 20 K above Ae1 [s]
	partition   [numAlloy]float64
	rich        [numAlloy]float64 // what carbide of spheroidized stock holds [wt %]
	follow      []int             // elements of which there is more than a trace
	hot         [tableLen]hotRates
	cold        [tableLen]coldRates
	temper      [tableLen]temperRates
	hardness    hardnessLaw
	lean        *leanMetals
	thermal     *steel.Thermal
	notes       []cite.Note
}

// New returns the metal of a composition [wt %] with the given phase limits; nil
// means those of Equilibrium. Compositions without the physics behind them are refused.
func New(comp steel.Composition, limits Limits) (*Metal, error) {
	if c := comp[steel.C]; !(c >= 0.03 && c <= 2.1) {
		return nil, fmt.Errorf("micro: carbon %.2f %% is outside 0.03–2.1 %%: not a steel that hardens by these models; check the certificate", c)
	}
	if cr := comp[steel.Cr]; cr > 14 {
		return nil, fmt.Errorf("micro: chromium %.1f %% is over 14 %%: stainless steel follows other laws than these cover; check the certificate", cr)
	}
	if comp.Fe() < 70 {
		return nil, fmt.Errorf("micro: %.0f %% of alloy is more than 30 %%: no model here covers it", 100-comp.Fe())
	}
	if limits == nil {
		var err error
		if limits, err = Equilibrium(comp); err != nil {
			return nil, err
		}
	}
	m := &Metal{comp: comp, limits: limits, k: committed, lean: &leanMetals{}}
	m.takeForces()
	m.ae1, m.ae1End = limits.Ae1()
	m.upper = limits.Upper()
	m.eutectoid = min(limits.FerriteSide(m.ae1End), limits.CarbideSide(m.ae1End))
	m.hypo = comp[steel.C] < m.eutectoid
	m.temperFrom = 320
	m.softTime = halfSpheroid + (halfChromium-halfSpheroid)*min(1, comp[steel.Cr]/1.5)
	m.hardness = newHardnessLaw(comp)
	m.kept = keptCarbon(&comp)
	m.fillHot()
	m.fillRich()
	m.fillCold()
	m.fillTemper()
	m.thermal = steel.Properties(comp)
	m.notes = coverage(comp)
	return m, nil
}

// Composition returns the bar's composition [wt %].
func (m *Metal) Composition() steel.Composition { return m.comp }

// Limits returns the phase limits the metal was made with.
func (m *Metal) Limits() Limits { return m.limits }

// Notes tells where the composition lies outside of what the models were held against.
func (m *Metal) Notes() []cite.Note { return m.notes }

// at returns table position and weight for a temperature [K].
func at(T float64) (i int, w float64) {
	p := (T - tableFrom) * perStep
	if !(p > 0) {
		return 0, 0
	}
	if p >= tableLen-1 {
		return tableLen - 2, 1
	}
	i = int(p)
	return i, p - float64(i)
}

func tableT(i int) float64 { return tableFrom + tableStep*float64(i) }

// coverage notes elements beyond the range in which the laws were held against data.
func coverage(comp steel.Composition) []cite.Note {
	most := map[steel.Element]float64{
		steel.C: 1.4, steel.Si: 2.2, steel.Mn: 2, steel.Cr: 2, steel.Ni: 3.5, steel.Mo: 0.6, steel.V: 0.4, steel.W: 1,
	}
	var notes []cite.Note
	for e := steel.C; e < steel.NumElements; e++ {
		top, ok := most[e]
		if !ok || comp[e] <= top {
			continue
		}
		notes = append(notes, cite.Note{
			Code:   "micro.composition-beyond-range",
			Args:   []cite.Quantity{cite.Txt("element", e.String()), cite.Num("value", comp[e], "wt%"), cite.Num("limit", top, "wt%")},
			Source: "li-1998",
		})
	}
	return notes
}
