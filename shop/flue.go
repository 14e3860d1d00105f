package shop

import (
	"bytes"
	_ "embed" // the polynomials
	"math"
	"sync"

	"github.com/pelletier/go-toml/v2"

	"github.com/heatwright/heatwright/medium"
)

//go:embed data/gases.toml
var gasesFile []byte

// species of the flue.
type species int

const (
	co2 species = iota
	h2o
	n2
	o2
	co
	h2
	numSpecies
)

const gasConstant = 8.314462618 // [J/mol K]

type polynomial struct {
	Name      string     `toml:"name"`
	MolarG    float64    `toml:"molar_g"`
	Low, High [7]float64 `toml:"-"`
	LowRow    []float64  `toml:"low"`
	HighRow   []float64  `toml:"high"`
}

var gases = sync.OnceValue(func() [numSpecies]polynomial {
	var file struct {
		Source string       `toml:"source"`
		ReadBy string       `toml:"read_by"`
		Gas    []polynomial `toml:"gas"`
	}
	dec := toml.NewDecoder(bytes.NewReader(gasesFile))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&file); err != nil {
		panic("shop: gases.toml: " + err.Error()) // embedded: the fault is ours
	}
	order := map[string]species{"CO2": co2, "H2O": h2o, "N2": n2, "O2": o2, "CO": co, "H2": h2}
	var all [numSpecies]polynomial
	for _, g := range file.Gas {
		copy(g.Low[:], g.LowRow)
		copy(g.High[:], g.HighRow)
		all[order[g.Name]] = g
	}
	return all
})

func (p *polynomial) row(T float64) *[7]float64 {
	if T < 1000 {
		return &p.Low
	}
	return &p.High
}

// enthalpy returns the molar enthalpy with that of formation [J/mol].
func (p *polynomial) enthalpy(T float64) float64 {
	a := p.row(T)
	return gasConstant * T * (a[0] + T*(a[1]/2+T*(a[2]/3+T*(a[3]/4+T*a[4]/5))) + a[5]/T)
}

// entropy returns the molar entropy at 1 bar [J/mol K].
func (p *polynomial) entropy(T float64) float64 {
	a := p.row(T)
	return gasConstant * (a[0]*math.Log(T) + T*(a[1]+T*(a[2]/2+T*(a[3]/3+T*a[4]/4))) + a[6])
}

// shift returns the equilibrium constant of CO + H₂O ⇌ CO₂ + H₂ at T [K].
func shift(T float64) float64 {
	g := gases()
	gibbs := func(s species) float64 { return g[s].enthalpy(T) - T*g[s].entropy(T) }
	return math.Exp(-(gibbs(co2) + gibbs(h2) - gibbs(co) - gibbs(h2o)) / (gasConstant * T))
}

// fuelData: carbon and hydrogen atoms, molar mass [kg/mol], lower heating value [J/kg] at 25 °C.
type fuelData struct{ c, h, molar, lower float64 }

var fuels = map[Fuel]fuelData{
	Propane:    {3, 8, 0.044097, 46.35e6},
	NaturalGas: {1, 4, 0.016043, 50.03e6}, // counted as methane
}

// Burn is the flue of one kilogram of fuel with a given share of the air that
// complete burning needs.
type Burn struct {
	Fuel Fuel
	Air  float64 // air over stoichiometric air: 1.12 lean, 1 neutral, 0.82 rich
	mol  [numSpecies]float64
}

// frozenAt is where the water-gas shift stops following the cooling flue [K]: the
// chamber it leaves, 1200–1250 °C; outside it cools too fast to react.
const frozenAt = 1500

// NewBurn balances the atoms. With too little air the rest of the carbon and
// hydrogen leaves as CO and H₂ in the equilibrium of the water-gas shift; with
// enough air all burns. Soot and what burns at the door are not counted.
//
// Source: own derivation from the atom balance; equilibrium by the polynomials of gri-mech-3.
func NewBurn(fuel Fuel, air float64) Burn {
	f := fuels[fuel]
	n := 1 / f.molar // mol of fuel in a kilogram
	need := f.c + f.h/4
	oxygen := air * need
	b := Burn{Fuel: fuel, Air: air}
	b.mol[n2] = n * oxygen * 0.7905 / 0.2095
	if air >= 1 {
		b.mol[co2], b.mol[h2o], b.mol[o2] = n*f.c, n*f.h/2, n*(oxygen-need)
		return b
	}
	// x of CO₂, c−x CO, and water from oxygen: 2x + (c−x) + w = 2·oxygen.
	k := shift(frozenAt)
	lo, hi := 0.0, f.c
	for range 60 {
		x := 0.5 * (lo + hi)
		w := 2*oxygen - f.c - x
		// k = x·h2/(co·h2o) rises with x.
		if w <= 0 || x*(f.h/2-w) > k*(f.c-x)*w {
			hi = x
		} else {
			lo = x
		}
	}
	x := 0.5 * (lo + hi)
	w := min(max(2*oxygen-f.c-x, 0), f.h/2)
	b.mol[co2], b.mol[co], b.mol[h2o], b.mol[h2] = n*x, n*(f.c-x), n*w, n*(f.h/2-w)
	return b
}

// BurnWithCO returns the burn whose wet flue holds this volume fraction of CO.
func BurnWithCO(fuel Fuel, share float64) Burn {
	lo, hi := 0.4, 1.0
	for range 60 {
		air := 0.5 * (lo + hi)
		if b := NewBurn(fuel, air); b.mol[co]/b.moles() > share {
			lo = air
		} else {
			hi = air
		}
	}
	return NewBurn(fuel, 0.5*(lo+hi))
}

func (b *Burn) moles() float64 {
	sum := 0.0
	for _, m := range b.mol {
		sum += m
	}
	return sum
}

// Volume returns the wet flue of a kilogram of fuel [m³] at 20 °C, 1 atm.
func (b *Burn) Volume() float64 { return b.moles() * gasConstant * 293.15 / 101325 }

// Share returns the volume fraction of CO in the wet flue.
func (b *Burn) Share() float64 { return b.mol[co] / b.moles() }

// Available returns the part of the lower heating value that is left in the
// forge when the flue leaves at T [K]: unburnt CO and H₂ and the heat of the flue
// are gone.
//
// Held against the available heat of CH₄ and C₃H₈ with 0 to 30 % excess air,
// computed elsewhere from gri-mech-3: within 0.01.
func (b *Burn) Available(T float64) float64 {
	g := gases()
	gone := 0.0
	for s, m := range b.mol {
		gone += m * (g[s].enthalpy(T) - g[s].enthalpy(298.15))
	}
	gone += b.mol[co]*283.0e3 + b.mol[h2]*241.8e3 // heats of burning [J/mol]
	return 1 - gone/fuels[b.Fuel].lower
}

// unmixed is how far the air of parts of a flame is from its mean: gas forges mix
// no better (from memory), so that a neutral flame holds oxygen and CO at once.
const unmixed = 0.06

// Atmosphere returns the flue of a flame as what the steel meets.
func Atmosphere(fuel Fuel, air float64) medium.Atmosphere {
	a := medium.Atmosphere{Kind: "neutral", Free: 1}
	switch {
	case air > 1.03:
		a.Kind = "lean"
	case air < 0.94:
		a.Kind = "rich"
	}
	for _, d := range []float64{-unmixed, 0, unmixed} {
		b := NewBurn(fuel, air+d)
		n := 3 * b.moles()
		a.O2 += b.mol[o2] / n
		a.CO += b.mol[co] / n
		a.CO2 += b.mol[co2] / n
		a.H2O += b.mol[h2o] / n
		a.H2 += b.mol[h2] / n
	}
	return a
}
