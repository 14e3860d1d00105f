package sim

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/forging"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/unit"
)

// What a shop minds when metal is worked. Common practice.
const (
	drillsTo    = 35.          // harder than this dulls a drill [HRC]
	bendsColdTo = 40.          // harder than this springs back or breaks [HRC]
	forgesFrom  = 800 + kelvin // colder, carbon steel cracks under the hammer or work hardens [K]
	blueFrom    = 200 + kelvin // between these steel is brittle: the blue heat [K]
	blueTo      = 400 + kelvin
)

// act changes the shape of the piece, or lays a coat on it.
func (m *March) act() error {
	st := m.stageNow()
	if m.log != nil {
		m.log.begin(m)
		defer m.log.finish(m)
	}
	if st.Coats {
		m.coatOver(st.Act)
		return nil
	}
	if st.Change == nil {
		return nil
	}
	m.cover = nil // it goes with the metal
	p, err := newPiece(m.setup, m.opts, st.Change.To, m.metal)
	if err != nil {
		return err
	}
	p.size.Lying = st.Lying
	now, transfer, err := p.reshape(m.piece, m.now, st.Change)
	if err != nil {
		return err
	}
	clear(now.skin.Coat)
	if st.Act.Do == route.Forge {
		p.work(now, st.Change, m.setup.Stages[m.index+1].Until.Time)
	}
	told := m.told[:len(m.told):len(m.told)]
	if n, ok := m.minded(st, transfer); ok {
		told = append(told, n)
	}
	p.told = told
	m.books.reshape(m, p, now, transfer.Stretch)
	m.piece = p
	m.take(now)
	return nil
}

// work lets the pass refine the grain, by the strain that the metal got there and
// the time under the hammer that is left, and warms it by the work it took: nearly
// all of σε becomes heat (common practice), a few kelvins in a heat. To and fro the
// blows do more than what is left of them, which is not reckoned with.
func (p *piece) work(s *state, change *shape.Change, seconds float64) {
	m := p.mesh
	for i := range m.NI {
		u := m.Fineness.At
		if !m.Flat {
			u = (m.U[i] + m.U[i+1]) / 2
		}
		strain := change.Strain(u)
		if strain < 1e-4 {
			continue
		}
		for c := i * m.NJ * m.NK; c < (i+1)*m.NJ*m.NK; c++ {
			if m.Volume[c] > 0 {
				p.metal.Work(s.cells, c, s.field.T[c], strain, seconds)
				sigma, _ := forging.Flow(p.setup.Steel, s.field.T[c], strain, blowRate)
				s.field.H[c] += workToHeat * sigma.Value * strain / density
			}
		}
	}
	p.metal.Temperature(s.field.T, s.field.H, s.cells)
}

const (
	workToHeat = 0.95 // as in forging.Warming
	blowRate   = 100. // strain rate of a blow [1/s]: the most that the relation for flow covers
)

// minded finds what a smith should hear of an act as the piece is when it is done.
func (m *March) minded(st *Stage, t *conduction.Transfer) (cite.Note, bool) {
	note := func(code string, args ...cite.Quantity) (cite.Note, bool) {
		return cite.Note{Code: code, Where: st.Name, Args: args, Source: "common-practice"}, true
	}
	switch st.Act.Do {
	case route.Forge:
		if _, T := m.worked(st.Change); T < forgesFrom {
			return note("sim.forged-cold", cite.Num("temperature", T, "K"), cite.Num("least", forgesFrom, "K"))
		}
	case route.Drill:
		if hv := m.drilledThrough(t, st.Change); hv > unit.HVofHRC(drillsTo) {
			return note("sim.too-hard-to-drill", hardnessSaid(hv), cite.Num("most", drillsTo, "HRC"))
		}
	case route.Bend:
		hv, T := m.worked(st.Change)
		switch {
		case T > blueFrom && T < blueTo:
			return note("sim.bent-blue", cite.Num("temperature", T, "K"))
		case T <= blueFrom && hv > unit.HVofHRC(bendsColdTo):
			return note("sim.bent-hard", hardnessSaid(hv), cite.Num("most", bendsColdTo, "HRC"))
		}
	}
	return cite.Note{}, false
}

func hardnessSaid(hv float64) cite.Quantity {
	if hrc, ok := unit.HRCofHV(hv); ok {
		return cite.Num("hardness", math.Round(hrc), "HRC")
	}
	return cite.Num("hardness", math.Round(hv), "HV")
}

// worked returns the mean hardness [HV] and temperature [K] of the metal that an act moves: of all
// of a cross-section, of the slabs that forging strains or a bend turns.
func (m *March) worked(c *shape.Change) (hv, T float64) {
	mass := 0.0
	for i, x := range m.now.field.Mass {
		if n := i / (m.mesh.NJ * m.mesh.NK); !m.mesh.Flat && !c.Moves((m.mesh.U[n]+m.mesh.U[n+1])/2) {
			continue
		}
		mass += x
		hv += x * m.metal.HV(m.now.cells, i)
		T += x * m.now.field.T[i]
	}
	if mass == 0 {
		return 0, m.now.field.T[0]
	}
	return hv / mass, T / mass
}

// drilledThrough returns the mean hardness of the metal that a hole takes away [HV], of a
// cross-section beside the hole that of what it would take there.
func (m *March) drilledThrough(t *conduction.Transfer, c *shape.Change) float64 {
	hole := c.To.Voids[len(c.To.Voids)-1].Box
	mass, hv := 0.0, 0.0
	for i, x := range m.now.field.Mass {
		share := t.Lost[i]
		if j := i / m.mesh.NK % m.mesh.NJ; m.mesh.Flat && m.mesh.V[j+1] > hole.V0 && m.mesh.V[j] < hole.V1 {
			share = 1
		}
		mass += share * x
		hv += share * x * m.metal.HV(m.now.cells, i)
	}
	if mass == 0 {
		return 0
	}
	return hv / mass
}
