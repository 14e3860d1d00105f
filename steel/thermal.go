package steel

import (
	_ "embed"
	"fmt"
	"math"
	"sync"

	"github.com/heatwright/heatwright/cite"
	"github.com/pelletier/go-toml/v2"
)

// One energy. Every constituent has an enthalpy h(T, C) [J/kg], zero for
// ferrite at 20 °C; every heat capacity is its derivative and every latent
// heat is a difference of two of them. Nothing else in the program may add a
// latent heat.
//
// Three functions of temperature carry it: austenite, ferrite and cementite.
//
//	h(ferrite)    = hα(T)
//	h(carbide)    = hθ(T)
//	h(pearlite)   = (1−w) hα + w hθ            w = 0.77/6.67 at the eutectoid
//	h(bainite)    = (1−w) hα + w hθ + 15 kJ/kg  w = C/6.67, C the austenite's carbon
//	h(martensite) = (1−w) hα + w hθ + (25 + 22 C) kJ/kg × (1 − tempered)
//	h(austenite)  = hγ(T) + κ C
//
// hα follows the table of ferrite with carbide (thermal.toml) less the
// cementite in it; beyond 727 °C it goes on to pure ferrite with the rest of
// the Curie peak, 8 kJ/kg centered at 770 °C. hγ − hα is fixed at 912 °C, where
// pure iron changes over with 16 kJ/kg, and κ at the eutectoid, where pearlite
// takes up 82 kJ/kg [hagel-1956]. Both constants then say that cementite
// dissolves with about 240 kJ/kg, near the 250 of the thermodynamic tables.
//
// Held to: EN 1993-1-2, 20 to 1000 °C in total within 5 %; 82 kJ/kg at 727 °C.
const (
	eutectoidC   = 0.77  // [wt %]
	cementiteC   = 6.67  // [wt %]
	eutectoidT   = 1000. // [K], 727 °C
	latentPearl  = 82e3  // [J/kg], hagel-1956: 19.6 cal/g ± 5 %
	latentAlpha  = 16e3  // [J/kg] at 912 °C, kubaschewski-1993
	alphaGammaT  = 1185. // [K], 912 °C
	storedBain   = 15e3  // [J/kg], own choice so that bainite at 400 °C gives about 110 kJ/kg
	storedMart   = 25e3  // [J/kg] …
	storedMartC  = 22e3  // … and per wt % C: 82 to 90 kJ/kg at 250 °C for 0.8 % C (from memory)
	curieT       = 1043. // [K]
	curieHeat    = 8e3   // [J/kg]
	curieHalf    = 25.   // half the foot of the peak [K]
	latentPerMn  = -3800 // [J/kg per wt %], hagel-1956: 75 kJ/kg at 1.85 Mn
	latentPerMo  = -13700
	latentAtMost = 10e3 // the two are measured up to 1.9 Mn and 0.5 Mo: no further
)

// The grid of all tables: uniform, so that a look-up is one multiplication.
const (
	gridLow  = 153.15 // [K]
	gridStep = 5.     // [K]
	gridSize = 361    // to 1953 K
)

// Thermal holds the thermal properties of one steel as tables over temperature.
// It is read-only after Properties returns and may be shared.
type Thermal struct {
	Composition Composition

	nodes []node // len gridSize
	kappa float64
	scale float64 // conductivity at 20 °C over that of the table
}

// node holds, for one interval of the grid, what Mix needs: for the three
// energies h + cp·d + half·d², for the five conductivities k + slope·d.
// d is the distance into the interval [K].
type node struct {
	h, cp, half [3]float64
	k, slope    [5]float64
}

const (
	gamma = iota
	alpha
	theta
)

const (
	kGamma = iota
	kPearlite
	kBainite
	kMartensite
	kTempered
)

//go:embed thermal.toml
var thermalFile []byte

type thermalTable struct {
	Temp []float64 `toml:"temp_C"`
	K    []float64 `toml:"k_W_mK"`
	Cp   []float64 `toml:"cp_J_kgK"`
	Rho  []float64 `toml:"rho_kg_m3"`
}

// at interpolates a column at T [K]. Outside the table it keeps the end value.
func (t thermalTable) at(column []float64, kelvin float64) float64 {
	c := kelvin - 273.15
	last := len(t.Temp) - 1
	switch {
	case c <= t.Temp[0]:
		return column[0]
	case c >= t.Temp[last]:
		return column[last]
	}
	i := 1
	for t.Temp[i] < c {
		i++
	}
	u := (c - t.Temp[i-1]) / (t.Temp[i] - t.Temp[i-1])
	return column[i-1] + u*(column[i]-column[i-1])
}

type thermalSet struct {
	Source  cite.Key     `toml:"source"`
	Where   string       `toml:"where"`
	ReadBy  string       `toml:"read_by"`
	Error   string       `toml:"error"`
	Ferrite thermalTable `toml:"ferrite_carbide"`
	Bainite thermalTable `toml:"bainite"`
	Mart    thermalTable `toml:"martensite"`
	Temper  thermalTable `toml:"tempered_martensite"`
	Gamma   thermalTable `toml:"austenite"`
}

var thermals = sync.OnceValue(func() thermalSet {
	var s thermalSet
	if err := toml.Unmarshal(thermalFile, &s); err != nil {
		panic(fmt.Sprintf("steel: thermal.toml: %v", err)) // embedded: a fault in it is ours
	}
	return s
})

// cpTheta is the heat capacity of cementite [J/kgK] above its Curie point,
// 107.2 + 12.55e-3 T J/mol K; below it the peak is left out.
//
// Source: kubaschewski-1993 (from memory).
func cpTheta(kelvin float64) float64 { return (107.2 + 12.55e-3*kelvin) / 0.17955 }

// cpAlpha is the heat capacity of ferrite [J/kgK]: up to 727 °C the table less
// its cementite, then down to 700 at 912 °C and level, with the Curie peak.
func (s thermalSet) cpAlpha(kelvin float64) float64 {
	const w = eutectoidC / cementiteC
	table := func(k float64) float64 {
		return (s.Ferrite.at(s.Ferrite.Cp, k) - w*cpTheta(k)) / (1 - w)
	}
	cp := table(min(kelvin, eutectoidT))
	if kelvin > eutectoidT {
		cp += (700 - cp) * min(1, (kelvin-eutectoidT)/(alphaGammaT-eutectoidT))
	}
	if off := math.Abs(kelvin-curieT) / curieHalf; off < 1 {
		cp += curieHeat / curieHalf * (1 - off)
	}
	return cp
}

// cpGamma is the heat capacity of austenite [J/kgK]; the table's last slope goes on.
func (s thermalSet) cpGamma(kelvin float64) float64 {
	if c := kelvin - 273.15; c > 1200 {
		return 660 + 0.125*(c-1200)
	}
	return s.Gamma.at(s.Gamma.Cp, kelvin)
}

// energies returns cp and h of austenite, ferrite and cementite at the nodes
// of the grid. Between nodes cp is linear and h its exact integral.
var energies = sync.OnceValue(func() [3]struct{ cp, h []float64 } {
	s := thermals()
	var e [3]struct{ cp, h []float64 }
	for i, cp := range []func(float64) float64{gamma: s.cpGamma, alpha: s.cpAlpha, theta: cpTheta} {
		e[i].cp = make([]float64, gridSize)
		e[i].h = make([]float64, gridSize)
		for n := range gridSize {
			e[i].cp[n] = cp(gridLow + gridStep*float64(n))
			if n > 0 {
				e[i].h[n] = e[i].h[n-1] + gridStep/2*(e[i].cp[n-1]+e[i].cp[n])
			}
		}
	}
	shift := func(i int, at, h float64) {
		off := h - read(e[i].h, e[i].cp, at)
		for n := range e[i].h {
			e[i].h[n] += off
		}
	}
	shift(alpha, 293.15, 0)
	shift(gamma, alphaGammaT, read(e[alpha].h, e[alpha].cp, alphaGammaT)+latentAlpha)
	// Cementite and ferrite are level at 20 °C; what it takes to dissolve
	// cementite is in the carbon of the austenite.
	shift(theta, 293.15, 0)
	return e
})

// read evaluates a tabulated enthalpy at T [K].
func read(h, cp []float64, kelvin float64) float64 {
	x := (kelvin - gridLow) / gridStep
	n := min(max(int(x), 0), gridSize-2)
	d := kelvin - gridLow - gridStep*float64(n)
	return h[n] + cp[n]*d + (cp[n+1]-cp[n])/(2*gridStep)*d*d
}

// Conductivity20 returns the thermal conductivity at 20 °C of a soft steel of
// this composition [W/mK].
//
//	k = 62/(1 + 0.20 C + 0.55 Si + 0.22 Mn + 0.10 Cr + 0.07 Ni + 0.06 Mo + 0.05 V + 0.02 W), at least 14
//
// Error ±15 %; trends after peet-2011, coefficients from memory.
func Conductivity20(c Composition) float64 {
	return max(14, 62/(1+0.20*c[C]+0.55*c[Si]+0.22*c[Mn]+0.10*c[Cr]+0.07*c[Ni]+0.06*c[Mo]+0.05*c[V]+0.02*c[W]))
}

// Properties builds the tables of one steel.
func Properties(c Composition) *Thermal {
	e := energies()
	s := thermals()
	t := &Thermal{Composition: c, nodes: make([]node, gridSize)}
	// Pearlite of the eutectoid takes up 82 kJ/kg at 727 °C: fixes κ. Alloy moves the heat of every α→γ.
	const w = eutectoidC / cementiteC
	at := func(i int) float64 { return read(e[i].h, e[i].cp, eutectoidT) }
	t.kappa = (latentPearl - (at(gamma) - (1-w)*at(alpha) - w*at(theta))) / eutectoidC
	alloy := min(0, max(-latentAtMost, latentPerMn*max(0, c[Mn]-0.4)+latentPerMo*c[Mo]))
	t.scale = Conductivity20(c) / s.Ferrite.K[0]

	ks := [5]thermalTable{kGamma: s.Gamma, kPearlite: s.Ferrite, kBainite: s.Bainite, kMartensite: s.Mart, kTempered: s.Temper}
	for n := range t.nodes {
		node := &t.nodes[n]
		for i := range e {
			node.h[i], node.cp[i] = e[i].h[n], e[i].cp[n]
			if n+1 < gridSize {
				node.half[i] = (e[i].cp[n+1] - e[i].cp[n]) / (2 * gridStep)
			}
		}
		node.h[gamma] += alloy
		for i := range ks {
			here := t.conductivity(i, ks[i], gridLow+gridStep*float64(n))
			node.k[i] = here
			node.slope[i] = (t.conductivity(i, ks[i], gridLow+gridStep*float64(n+1)) - here) / gridStep
		}
	}
	return t
}

// conductivity scales the table by the alloy, fully at 20 °C and less and less
// up to 800 °C, where all steels meet.
func (t *Thermal) conductivity(i int, table thermalTable, kelvin float64) float64 {
	c := kelvin - 273.15
	if i == kGamma {
		return 15 + 0.0135*max(c, -100) // the table's line
	}
	last := table.Temp[len(table.Temp)-1]
	k := table.at(table.K, kelvin)
	if c > last { // joins austenite at 800 °C
		u := min(1, (c-last)/(800-last+1e-9))
		k += u * (15 + 0.0135*min(c, 1200) - k)
	}
	u := min(1, max(0, (c-20)/780))
	return k * (t.scale + (1-t.scale)*u)
}

// carbideShare returns the mass of cementite that carbon [wt %] makes.
func carbideShare(carbon float64) float64 { return carbon / cementiteC }

// Stored returns the energy that untempered martensite holds above ferrite and carbide [J/kg]: 25 + 22 C kJ/kg.
func Stored(carbon float64) float64 { return storedMart + storedMartC*carbon }

// Enthalpy returns the enthalpy of a constituent at T [K] with the given
// carbon [wt %], J/kg above ferrite at 20 °C. Martensite is untempered. Carbon
// counts for austenite, bainite and martensite.
func (t *Thermal) Enthalpy(c Constituent, kelvin, carbon float64) float64 {
	n, d := t.locate(kelvin)
	node := &t.nodes[n]
	h := func(i int) float64 { return node.h[i] + d*(node.cp[i]+d*node.half[i]) }
	w := carbideShare(carbon)
	switch c {
	case Austenite, RetainedAustenite:
		return h(gamma) + t.kappa*carbon
	case Martensite:
		return (1-w)*h(alpha) + w*h(theta) + Stored(carbon)
	case Bainite:
		return (1-w)*h(alpha) + w*h(theta) + storedBain
	case Pearlite:
		w = carbideShare(eutectoidC)
		return (1-w)*h(alpha) + w*h(theta)
	case Carbide:
		return h(theta)
	}
	return h(alpha)
}

// HeatCapacity returns dh/dT of a constituent at T [K], J/kgK.
func (t *Thermal) HeatCapacity(c Constituent, kelvin, carbon float64) float64 {
	n, d := t.locate(kelvin)
	node := &t.nodes[n]
	cp := func(i int) float64 { return node.cp[i] + 2*d*node.half[i] }
	w := carbideShare(carbon)
	switch c {
	case Austenite, RetainedAustenite:
		return cp(gamma)
	case Pearlite:
		w = carbideShare(eutectoidC)
	case Carbide:
		return cp(theta)
	case Ferrite:
		return cp(alpha)
	}
	return (1-w)*cp(alpha) + w*cp(theta)
}

// Conductivity returns the thermal conductivity of a constituent at T [K], W/mK.
func (t *Thermal) Conductivity(c Constituent, kelvin float64) float64 {
	n, d := t.locate(kelvin)
	i := kPearlite
	switch c {
	case Austenite, RetainedAustenite:
		i = kGamma
	case Martensite:
		i = kMartensite
	case Bainite:
		i = kBainite
	}
	return t.nodes[n].k[i] + d*t.nodes[n].slope[i]
}

// locate returns the interval of the grid that T lies in and the distance into
// it. Beyond the grid the last interval is continued.
func (t *Thermal) locate(kelvin float64) (n int, d float64) {
	n = int((kelvin - gridLow) * (1 / gridStep))
	n = min(max(n, 0), gridSize-2)
	return n, kelvin - gridLow - gridStep*float64(n)
}
