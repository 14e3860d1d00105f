package calphad

import (
	"fmt"
	"slices"
	"strings"
)

// System is the database joined to one set of elements: the phases that can
// form from them, with only the parameters that these elements need.
type System struct {
	symbols []string  // elements in the order of the database, "FE" among them
	mass    []float64 // molar masses [g/mol]
	phases  []*phase
	basis   *basis
}

// Phases that a calculation of steel leaves aside: graphite, because heat
// treatment runs against metastable cementite, and phases that never become
// stable in the covered steels. Some of them would only compete by an
// extrapolation of their parameters.
var aside = []string{"GRAPHITE", "DIAMOND_A4", "V3C2", "M5C2", "M3C2", "CR2VC2", "FE8SI2C", "FE4N"}

func (s *System) index(symbol string) int { return slices.Index(s.symbols, symbol) }

// join builds the system of the given elements from the phases that keep
// accepts.
func (p *Parameters) join(symbols []string, keep func(name string) bool) (*System, error) {
	s := &System{}
	for _, e := range p.Elements {
		if e.Symbol != "VA" && slices.Contains(symbols, e.Symbol) {
			s.symbols = append(s.symbols, e.Symbol)
			s.mass = append(s.mass, e.Mass)
		}
	}
	if len(s.symbols) != len(symbols) {
		return nil, fmt.Errorf("calphad: the database does not hold all of %s", strings.Join(symbols, ", "))
	}
	var curves []curve
	for _, ph := range p.Phases {
		for _, d := range ph.Parameters {
			curves = append(curves, d.curve)
		}
	}
	s.basis = newBasis(curves)
	for _, d := range p.Phases {
		if !keep(d.Name) {
			continue
		}
		ph, ok, err := d.join(s, s.basis)
		if err != nil {
			return nil, fmt.Errorf("calphad: %w", err)
		}
		if ok {
			s.phases = append(s.phases, ph)
		}
	}
	return s, nil
}

func (s *System) phase(name string) int {
	return slices.IndexFunc(s.phases, func(p *phase) bool { return p.name == name })
}

// values holds the parameters of one phase at one temperature: value, slope and
// curvature in T.
type values struct {
	T        float64
	v, d, dd []float64
}

func newValues(p *phase) *values {
	n := len(p.par)
	return &values{v: make([]float64, n), d: make([]float64, n), dd: make([]float64, n)}
}
