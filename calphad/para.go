package calphad

import (
	"bytes"
	_ "embed"
	"fmt"
	"math"
	"slices"
	"sync"

	"github.com/pelletier/go-toml/v2"

	"github.com/heatwright/heatwright/steel"
)

//go:embed parameters/paraequilibrium.toml
var paraTOML []byte

// addition is an end-member of cementite that only para-equilibrium uses.
type addition struct {
	Element     string  `toml:"element"`
	Function    string  `toml:"function"`
	A           float64 `toml:"a_J"`
	Uncertainty float64 `toml:"uncertainty_J"`
	ReadBy      string  `toml:"read_by"`
	Note        string  `toml:"note"`
}

var additions = sync.OnceValue(func() []addition {
	var file struct {
		Source string         `toml:"source"`
		Covers map[string]any `toml:"covers"`
		Row    []addition     `toml:"row"`
	}
	dec := toml.NewDecoder(bytes.NewReader(paraTOML))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&file); err != nil {
		panic(fmt.Sprintf("calphad: embedded para-equilibrium data: %v", err)) // a test reads it
	}
	return file.Row
})

// paraParameters returns the parameters with cementite that can inherit silicon
// and copper. shift adds to the value of silicon [J per mole of M3C], for
// finding what its uncertainty does.
func (p *Parameters) paraParameters(shift float64) *Parameters {
	q := *p
	q.Phases = nil
	for _, d := range p.Phases {
		if d.Name == "CEMENTITE" {
			d = d.withAdditions(p, shift)
		}
		q.Phases = append(q.Phases, d)
	}
	return &q
}

func (d *PhaseData) withAdditions(p *Parameters, shift float64) *PhaseData {
	e := *d
	e.Constituents = slices.Clone(d.Constituents)
	e.Constituents[0] = slices.Clone(d.Constituents[0])
	e.Parameters = slices.Clone(d.Parameters)
	for _, a := range additions() {
		metal, carbon := p.Functions[a.Function], p.Functions["GHSERCC"]
		if metal == nil || carbon == nil || slices.Contains(e.Constituents[0], a.Element) {
			continue
		}
		A := a.A
		if a.Element == "SI" {
			A += shift
		}
		e.Constituents[0] = append(e.Constituents[0], a.Element)
		e.Parameters = append(e.Parameters, &ParameterData{Kind: "G", Constituents: [][]string{{a.Element}, {"C"}}, curve: addCurves(metal.curve, 3, carbon.curve, 1, A)})
	}
	slices.Sort(e.Constituents[0])
	return &e
}

// addCurves returns a·f + b·g + c over the common range.
func addCurves(f curve, a float64, g curve, b, c float64) curve {
	low := max(f.low, g.low)
	high := min(f.segments[len(f.segments)-1].high, g.segments[len(g.segments)-1].high)
	sum := curve{low: low}
	for _, T := range append(sortedUnique(append(f.breaks(low, high), g.breaks(low, high)...)), high) {
		mid := (low + T) / 2
		p := polynomial{power{}: c}.plus(f.on(mid), a).plus(g.on(mid), b)
		sum.segments = append(sum.segments, segment{T, p})
		low = T
	}
	return sum
}

// Para is what carbon-only equilibrium says of austenite, or of ferrite with the
// carbon of martensite, at one temperature: all metals stay in place, and alloy
// carbides, which need them to move, do not exist. Positive driving forces act.
//
// It is the lower bound of what drives a real transformation: between A1 and
// about 600 °C the metals do move at the interface. Silicon's value in cementite
// is known to ±50 kJ, which moves Cementite by 250 J at 0.25 % Si. Source:
// hillert-1998; values of the additions in parameters/paraequilibrium.toml.
type Para struct {
	Cementite       float64 // from the parent [J per mole of M3C]
	Ferrite         float64 // from austenite, carbon redistributed [J per mole of metal atoms]
	NoPartition     float64 // from austenite to ferrite of the same carbon [J per mole of metal atoms]
	Pearlite        float64 // from austenite to ferrite and cementite together [J per mole of metal atoms]
	CarbonPotential float64 // in the parent [J/mol]
}

// ParaEquilibrium returns the driving forces of carbon-only equilibrium from a
// parent, Austenite or Ferrite, of composition c [wt %] at temperature T [K].
func (db *Database) ParaEquilibrium(parent string, c steel.Composition, T float64) (Para, error) {
	if err := checkTemperature(T); err != nil {
		return Para{}, err
	}
	h, err := db.inherit(c)
	if err != nil {
		return Para{}, err
	}
	defer h.done()
	h.at(T)
	l := &h.fcc
	switch parent {
	case Austenite:
	case Ferrite:
		l = &h.bcc
	default:
		return Para{}, fmt.Errorf("calphad: para-equilibrium from %q; the parent is %s or %s", parent, Austenite, Ferrite)
	}
	return h.para(l, h.z(c[steel.C])), nil
}

func (h *inherited) para(l *lattice, z float64) Para {
	G, mu, _ := h.energy(l, z)
	Gc, _, _ := h.energy(&h.cem, 0)
	metal := G - z*mu // of the metals together, per metal atom
	p := Para{Cementite: 3*metal + mu - 3*Gc, CarbonPotential: mu}
	if l != &h.fcc {
		return p
	}
	za, Ga := h.ferriteAt(mu)
	p.Ferrite = metal + za*mu - Ga
	Gb, _, _ := h.energy(&h.bcc, z)
	p.NoPartition = G - Gb
	if m, ok := h.ferriteCementite(Gc, mu); ok {
		zf, Gf := h.ferriteAt(m)
		p.Pearlite = G - (Gf + (z-zf)*m)
	}
	return p
}

// ferriteCementite returns the potential of carbon where ferrite and cementite
// hold each other in carbon-only equilibrium: their common tangent meets
// cementite at one carbon atom for three metal atoms.
func (h *inherited) ferriteCementite(Gc, start float64) (float64, bool) {
	mu := start
	for range 80 {
		z, G := h.ferriteAt(mu)
		// at the tangent: G + (1/3 − z)·μ = Gc
		d := Gc - G - (1.0/3-z)*mu
		if math.Abs(d) < 1e-7*R*h.w.T {
			return mu, true
		}
		mu += d / (1.0/3 - z) * min(1, 4*R*h.w.T/math.Abs(d)) // ∂(G − zμ)/∂μ = −z: what is left is 1/3 − z
	}
	return mu, false
}

// ParaAcm returns the carbon [wt %] of austenite in carbon-only equilibrium with
// cementite at temperature T [K], for the metals of c. ok is false when it would
// lie above 3 %: enough silicon keeps cementite from forming at all.
func (db *Database) ParaAcm(c steel.Composition, T float64) (carbon float64, ok bool, err error) {
	if err := checkTemperature(T); err != nil {
		return 0, false, err
	}
	h, err := db.inherit(c)
	if err != nil {
		return 0, false, err
	}
	defer h.done()
	h.at(T)
	low, high := 1e-6, h.z(3)
	force := func(z float64) float64 { return h.para(&h.fcc, z).Cementite }
	if force(high) < 0 {
		return 0, false, nil
	}
	return h.percent(bisect(force, low, high)), true, nil
}

// ParaAcmTemperature returns the temperature [K] below which cementite is driven
// from austenite of composition c [wt %] in carbon-only equilibrium. ok is false
// when there is none above 150 °C.
func (db *Database) ParaAcmTemperature(c steel.Composition) (T float64, ok bool, err error) {
	return db.zeroOf(c, 1473.15, func(h *inherited, z float64) float64 { return h.para(&h.fcc, z).Cementite })
}

// T0 returns the temperature [K] where austenite of composition c [wt %] and
// ferrite of the same composition have the same Gibbs energy: above it nothing
// can form without carbon moving. ok is false when there is none above 150 °C.
// Source: hillert-1998.
func (db *Database) T0(c steel.Composition) (T float64, ok bool, err error) {
	return db.zeroOf(c, 1183.15, func(h *inherited, z float64) float64 {
		G, _, _ := h.energy(&h.fcc, z)
		Gb, _, _ := h.energy(&h.bcc, z)
		return G - Gb
	})
}

// zeroOf finds where a force that falls with temperature vanishes.
func (db *Database) zeroOf(c steel.Composition, highest float64, force func(h *inherited, z float64) float64) (float64, bool, error) {
	h, err := db.inherit(c)
	if err != nil {
		return 0, false, err
	}
	defer h.done()
	z := h.z(c[steel.C])
	f := func(T float64) float64 {
		h.at(T)
		return force(h, z)
	}
	if f(Coldest) < 0 || f(highest) > 0 {
		return 0, false, nil
	}
	return bisect(f, Coldest, highest), true, nil
}

// bisect returns where f changes sign between a and b.
func bisect(f func(float64) float64, a, b float64) float64 {
	up := f(a) < 0
	for range 60 {
		m := (a + b) / 2
		if (f(m) < 0) == up {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}
