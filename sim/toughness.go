package sim

import (
	"math"
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Toughness ranks a hardened zone among states of steel. It is a rank, no energy.
type Toughness struct {
	Rank    int      `json:"rank"`              // 1 brittle … 5 tough
	Index   float64  `json:"index"`             // 0–100; two that differ by less than a fifth are not told apart
	Reasons []string `json:"reasons,omitempty"` // what takes from it: micro.Reasons
}

// Crack ranks a quench by the indicators of quench cracking that it raises. It is a
// rank, no likelihood; 0 says that no indicator was raised, never that nothing can crack.
type Crack struct {
	Rank   int      `json:"rank"` // 0 … 4
	Zone   string   `json:"zone"` // where it is highest
	Raised []string `json:"raised"`
}

// richInChromium is air-hardening tool steel [wt %]: A2, D2 and their like.
const richInChromium = 3

// hardShare is the share of martensite from which a cell counts as hard and brittle [–].
const hardShare = 0.3

// toughness returns the rank of a zone by the mean index of its hardened cells, with
// the reasons that half of them have; nil where less than half of it is hardened.
func (m *March) toughness(p *conduction.Part) *Toughness {
	c := m.now.cells
	sum, share := 0.0, 0.0
	why := map[string]float64{}
	for n, i := range p.Cell {
		if c.Fraction[steel.Martensite][i] < hardShare {
			continue
		}
		t, w := m.metal.ToughnessOf(c, i), p.Weight[n]
		sum += w * t.Index
		share += w
		for _, r := range t.Reasons {
			why[r] += w
		}
	}
	if share < 0.5 {
		return nil
	}
	t := &Toughness{Index: sum / share, Rank: micro.RankOf(sum / share)}
	for _, r := range micro.Reasons() {
		if why[r] >= 0.5*share {
			t.Reasons = append(t.Reasons, r)
		}
	}
	return t
}

// grown returns how much longer a zone is than it was soft-annealed, as a gauge would
// find it cold [–]; nil where hardly any of it was hardened, and for steel so rich in
// chromium that micro.LengthChange does not cover it.
func (m *March) grown(p *conduction.Part) *unit.Band {
	if m.setup.Steel[steel.Cr] > richInChromium {
		return nil
	}
	c := m.now.cells
	sum, share := 0.0, 0.0
	for n, i := range p.Cell {
		sum += p.Weight[n] * m.metal.LengthChange(c, i)
		share += p.Weight[n] * (c.Fraction[steel.Martensite][i] + c.Fraction[steel.RetainedAustenite][i])
	}
	if share < 0.5 {
		return nil
	}
	b := unit.Exactly(sum)
	return &b
}

// severity is Grossmann's H of still baths [1/inch]: for telling oil from water only.
// Common practice.
var severity = map[medium.Quenchant]float64{
	medium.SlowOil: 0.25, medium.MediumOil: 0.35, medium.FastOil: 0.5, medium.VegetableOil: 0.4, medium.HotOil: 0.3,
	medium.Water: 1, medium.Brine: 2,
}

// oneSided is how much deeper one flat side may have lost carbon than the other
// before it pulls on it [m]; common practice.
const oneSided = 0.05e-3

// cracks ranks the quench that left the piece as it stands, with so long until the temper [s].
func (m *March) cracks(bath string, untempered float64) *Crack {
	e, err := m.bench.Find(bath)
	if err != nil {
		return nil
	}
	q := micro.Quench{
		SectionRatio: m.thickToThin(), Holes: len(m.solid.Voids) > 0, Decarb: m.oneSidedSkin(), UntilTemper: untempered,
		Through: true,
	}
	for z := range m.mesh.Parts {
		q.Through = q.Through && m.hardShareOf(&m.mesh.Parts[z]) >= 0.5
	}
	if pool, ok := e.(*shop.Pool); ok {
		q.Severity = severity[pool.Liquid]
	}
	worst := &Crack{Rank: -1}
	for z := range m.mesh.Parts {
		for _, i := range m.mesh.Parts[z].Cell {
			if m.now.cells.Fraction[steel.Martensite][i] < hardShare {
				continue
			}
			if rank, raised := m.metal.CrackRank(m.now.cells, i, q); rank > worst.Rank {
				worst = &Crack{rank, m.mesh.Parts[z].Name, raised}
			}
		}
	}
	if worst.Rank < 0 {
		return nil
	}
	return worst
}

// hardShareOf returns martensite and retained austenite of a zone [–].
func (m *March) hardShareOf(p *conduction.Part) float64 {
	f := &m.now.cells.Fraction
	return p.Mean(f[steel.Martensite]) + p.Mean(f[steel.RetainedAustenite])
}

// thickToThin returns the thickest over the thinnest place of the cross-section that
// stands for the piece [–]: of a blade its spine over its edge. Bars have none, and tools
// with their edge on the end taper so gently that none is counted.
func (p *piece) thickToThin() float64 {
	s := p.solid
	if slices.Contains([]shape.Form{shape.Flat, shape.Round, shape.Square, shape.Hex, shape.Octagon}, s.Form) || s.EndOn {
		return 1
	}
	thin, thick := math.Inf(1), 0.0
	for v := 0.0; v <= 1; v += 0.05 {
		front, back := s.Across(s.Cut, v, 1), s.Across(s.Cut, v, -1)
		t := math.Hypot(front.Y-back.Y, front.Z-back.Z)
		thin, thick = math.Min(thin, t), math.Max(thick, t)
	}
	if thin <= 0 {
		return 1
	}
	return thick / thin
}

// oneSidedSkin tells whether one flat side has lost more carbon than the other.
func (m *March) oneSidedSkin() bool {
	if m.mirror {
		return false
	}
	depth := make([]float64, m.coat.Len())
	m.coat.DecarbDepth(depth, m.now.skin, 0.9)
	var sum, area [2]float64
	f := &m.mesh.Faces
	for n, i := range m.outer {
		side := 0
		switch f.Side[i] {
		case conduction.Front:
		case conduction.Back:
			side = 1
		default:
			continue
		}
		sum[side] += f.Area[i] * depth[n]
		area[side] += f.Area[i]
	}
	return area[0] > 0 && area[1] > 0 && math.Abs(sum[0]/area[0]-sum[1]/area[1]) > oneSided
}

// tempers reports whether a temper comes before the piece is heated again.
func (m *March) tempers() bool {
	for _, st := range m.setup.Stages[m.index+1:] {
		switch st.Role {
		case route.Tempering, route.Holding:
			return true
		case route.Heating:
			return false
		}
	}
	return false
}

// rankCracks ranks the quench that ends, and again when its temper begins and the
// time that it lay hard is known.
func (r *recorder) rankCracks(m *March, begins bool) {
	last := len(r.steps) - 1
	switch role := m.stageNow().Role; {
	case role == route.Quenching && !begins:
		wait := 0.0
		if !m.tempers() {
			wait = math.Inf(1)
		}
		r.steps[last].Crack = m.cracks(r.steps[last].Where.Name, wait)
	case (role == route.Tempering || role == route.Holding) && begins:
		for i := last - 1; i >= 0 && r.steps[i].Role != Heating && r.steps[i].Role != Tempering; i-- {
			if r.steps[i].Role == Quenching && r.steps[i].Crack != nil {
				if again := m.cracks(r.steps[i].Where.Name, m.clock-r.steps[i].End); again != nil {
					r.steps[i].Crack = again
				}
				return
			}
		}
	}
}

// crackNotes tells the signs of a crack that quenches of a high rank raise.
func crackNotes(steps []Step) []cite.Note {
	var notes []cite.Note
	for i := range steps {
		c := steps[i].Crack
		if c == nil || c.Rank < micro.CrackHigh {
			continue
		}
		for _, what := range c.Raised {
			notes = append(notes, cite.Note{Code: "sim.crack-" + what, Where: steps[i].Name, Source: "kunitake-1971"})
		}
	}
	return notes
}
