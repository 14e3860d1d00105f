package sim

import (
	"math"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// hardnessOf returns the mean hardness of a zone [HV].
func (m *March) hardnessOf(p *conduction.Part) float64 {
	sum := 0.0
	for n, i := range p.Cell {
		sum += p.Weight[n] * m.metal.HV(m.now.cells, i)
	}
	return sum
}

// dissolved returns the carbon that the zone's austenite holds, or held when it
// became martensite [wt %]; 0 where there was none.
func (m *March) dissolved(p *conduction.Part) float64 {
	c := m.now.cells
	sum, share := 0.0, 0.0
	for n, i := range p.Cell {
		w := p.Weight[n]
		add := func(f, carbon float64) { sum += w * f * carbon; share += w * f }
		add(c.Fraction[steel.Austenite][i], c.Carbon[i])
		add(c.Fraction[steel.RetainedAustenite][i], c.RetainedCarbon[i])
		for b := range c.Births {
			add(c.Births[b].Fraction[i], c.Births[b].Carbon[i])
		}
	}
	if share < 0.01 {
		return 0
	}
	return sum / share
}

// grain returns the mean austenite grain of the zone [µm].
func (m *March) grain(p *conduction.Part) float64 {
	sum := 0.0
	for n, i := range p.Cell {
		sum += p.Weight[n] * m.metal.Grain(m.now.cells, i) * 1e6
	}
	return sum
}

// Zones returns the state of every zone as the march stands.
func (m *March) Zones() []Zone { return m.zones() }

func (m *March) zones() []Zone {
	decarb := make([]float64, m.coat.Len())
	m.coat.DecarbDepth(decarb, m.now.skin, 0.9)
	soft := make([]float64, m.coat.Len())
	m.coat.SoftSkin(soft, m.now.skin)
	f := &m.now.cells.Fraction
	list := make([]Zone, 0, len(m.mesh.Parts))
	for z := range m.mesh.Parts {
		p := &m.mesh.Parts[z]
		zone := Zone{
			Name:        p.Name,
			Temperature: unit.Exactly(p.Mean(m.now.field.T) - kelvin),
			HardnessHV:  unit.Exactly(m.hardnessOf(p)),
			DissolvedC:  unit.Exactly(m.dissolved(p)),
			Grain:       unit.Exactly(m.grain(p)),
			Toughness:   m.toughness(p),
			Growth:      m.grown(p),
		}
		zone.HardnessHRC = Rockwell(zone.HardnessHV)
		for k := steel.Constituent(0); k < steel.NumConstituents; k++ {
			*zone.Constituents.at(k) = p.Mean(f[k])
		}
		var depth, softest, scale, loss float64
		for _, i := range m.patches[z] {
			depth = math.Max(depth, decarb[i])
			softest = math.Max(softest, soft[i])
			scale = math.Max(scale, m.now.skin.Oxide[i])
			loss = math.Max(loss, m.now.skin.Lost[i])
		}
		zone.Decarb = unit.Exactly(depth * 1e3)
		zone.SoftSkin = unit.Exactly(softest * 1e3)
		zone.Scale = unit.Exactly(scale * 1e6)
		if m.log != nil {
			zone.Film = unit.Exactly(m.log.spots.Oxide[z] * 1e9)
		}
		zone.MetalLoss = unit.Exactly(loss * 1e3)
		list = append(list, zone)
	}
	return list
}

// Rockwell reads a band of Vickers hardness on the Rockwell C scale; nil when
// the value is below 20 HRC. Ends off the scale are held at its ends.
func Rockwell(hv unit.Band) *unit.Band {
	value, ok := unit.HRCofHV(hv.Value)
	if !ok {
		return nil
	}
	b := unit.Exactly(value)
	if b.Low, ok = unit.HRCofHV(hv.Low); !ok {
		b.Low = math.Min(20, value)
	}
	if b.High, ok = unit.HRCofHV(hv.High); !ok {
		b.High = math.Max(68, value)
	}
	return &b
}
