package calphad

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// Check looks for the faults that a database can have although every line of it
// can be read: a reference key without a publication (where the file lists any),
// a parameter that starts above room temperature or ends below 1600 °C, a Gibbs
// energy that jumps where its polynomial changes, an interaction that is stated
// twice in two orders of its constituents, a magnetic parameter that depends on
// temperature. All faults are returned together.
func (p *Parameters) Check() error {
	var faults []error
	add := func(d *PhaseData, q *ParameterData, format string, args ...any) {
		if len(faults) < 50 {
			faults = append(faults, fmt.Errorf("calphad: database line %d, %s of %s: %s", q.Line, q.Kind, d.Name, fmt.Sprintf(format, args...)))
		}
	}
	for _, d := range p.Phases {
		seen := map[string]*ParameterData{}
		for _, q := range d.Parameters {
			if _, ok := p.References[q.Reference]; len(p.References) > 0 && q.Reference != "" && !ok {
				add(d, q, "its reference %q is not in the list", short(q.Reference))
			}
			if low, high := q.curve.low, q.curve.segments[len(q.curve.segments)-1].high; low > 300 || high < Hottest {
				add(d, q, "it holds from %g to %g K; needed is 300 to %g K", low, high, Hottest)
			}
			if at, jump := q.curve.jump(); q.Kind == "G" && jump > 30 {
				add(d, q, "it jumps by %.3g J/mol at %g K", jump, at)
			}
			if q.Kind != "G" && !q.curve.constant() {
				add(d, q, "a magnetic parameter that depends on temperature is not known to this reader")
			}
			key := q.unordered()
			if twin := seen[key]; twin != nil {
				add(d, q, "it is stated again on line %d", twin.Line)
			}
			seen[key] = q
		}
	}
	return errors.Join(faults...)
}

// unordered names a parameter without regard to the order of its constituents.
func (q *ParameterData) unordered() string {
	var b strings.Builder
	fmt.Fprint(&b, q.Kind, q.Order)
	for _, names := range q.Constituents {
		sorted := slices.Sorted(slices.Values(names))
		b.WriteString(":" + strings.Join(sorted, ","))
	}
	return b.String()
}

func (c curve) constant() bool {
	for _, s := range c.segments {
		for k, x := range s.p {
			if x != 0 && k != (power{}) {
				return false
			}
		}
	}
	return true
}

// jump returns the largest step [J/mol] between two neighboring polynomials in
// the range of a question, and its temperature [K].
func (c curve) jump() (at, step float64) {
	for i := 0; i+1 < len(c.segments); i++ {
		T := c.segments[i].high
		if T < 298 || T > Hottest {
			continue
		}
		lnT, d := math.Log(T), 0.0
		for k, x := range c.segments[i].p {
			d += x * k.at(T, lnT).v
		}
		for k, x := range c.segments[i+1].p {
			d -= x * k.at(T, lnT).v
		}
		if math.Abs(d) > step {
			at, step = T, math.Abs(d)
		}
	}
	return at, step
}
