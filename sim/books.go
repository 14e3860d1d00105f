package sim

import (
	"fmt"
	"math"
)

// books keep account of what must not be lost: energy, carbon, iron, and that
// fractions sum to 1.
type books struct {
	energy       float64 // of the mesh when it was last counted anew [J]
	out          float64 // heat that left it since [J]
	turned       float64 // heat that went either way since the start [J]
	carbon, iron float64 // in the mesh when they were last counted anew [kg]
	gone         float64 // carbon that the skin has lost since [kg]
	burnt, chips float64 // carbon lost to gas and scale, and with what was ground off, before that [kg]
	worst        Balance
}

func (b *books) open(m *March) {
	b.energy = m.now.field.Energy()
	b.carbon, b.iron = m.carbonOf(m.now)
	b.burnt, b.gone = b.burnt+b.gone, 0
}

func (b *books) enter(joules float64) {
	b.out += joules
	b.turned += math.Abs(joules)
}

// reshape closes the books of the old shape and opens those of the new one, of
// whose length a meter of the old one makes stretch meters.
func (b *books) reshape(m *March, p *piece, now *state, stretch float64) {
	b.close(m)
	before, _ := m.carbonOf(m.now)
	b.energy, b.out = now.field.Energy(), 0
	b.carbon, b.iron = p.carbonOf(now)
	b.burnt, b.gone = (b.burnt+b.gone)/stretch, 0
	b.chips = (b.chips+before)/stretch - b.carbon
}

// close compares what is there with what should be.
func (b *books) close(m *March) Balance {
	w := &b.worst
	have := m.now.field.Energy()
	// Energy counts from 0 K; a piece that was never heated has turned over nothing.
	turned := math.Max(b.turned, 1e-3*math.Abs(have))
	w.Energy = math.Max(w.Energy, math.Abs(have-b.energy+b.out)/turned)
	carbon, iron := m.carbonOf(m.now)
	w.Carbon = math.Max(w.Carbon, math.Abs((carbon+b.gone)/b.carbon-1))
	w.Iron = math.Max(w.Iron, math.Abs(iron/b.iron-1))
	for i, v := range m.mesh.Volume {
		if v == 0 {
			continue
		}
		sum := 0.0
		for k := range m.now.cells.Fraction {
			f := m.now.cells.Fraction[k][i]
			sum += f
			w.Fractions = math.Max(w.Fractions, -f)
		}
		w.Fractions = math.Max(w.Fractions, math.Abs(sum-1))
	}
	return *w
}

// mostDrift is the largest imbalance of a run [–].
const mostDrift = 1e-6

func (w Balance) check() error {
	for _, x := range []struct {
		of string
		v  float64
	}{{"energy", w.Energy}, {"carbon", w.Carbon}, {"iron", w.Iron}, {"fractions", w.Fractions}} {
		if !(x.v <= mostDrift) {
			return fmt.Errorf("sim: the balance of %s does not close: off by %.2g of what was turned over, at most %.0g is allowed; this is a fault of the program", x.of, x.v, mostDrift)
		}
	}
	return nil
}
