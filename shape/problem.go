package shape

import (
	"errors"
	"fmt"
)

// Problem is a measure that no body can have, or that this program cannot
// mesh: which one, what it was, what is allowed and what to do.
type Problem struct {
	Key    string  // the measure, as the field is called: "thickness", "stations[2].edge"
	Value  float64 // as given [m, rad or –]
	Limits string  // "over 0.05 mm and at most 500 mm"
	Remedy string  // "give the thickness of the bar"
}

// Error gives value, limits and remedy in one line.
func (p *Problem) Error() string {
	return fmt.Sprintf("shape: %s is %s; it must be %s: %s", p.Key, size(p.Key, p.Value), p.Limits, p.Remedy)
}

func size(key string, v float64) string {
	if key == "count" || key == "share" {
		return fmt.Sprintf("%g", v)
	}
	return fmt.Sprintf("%.4g mm", v*1000)
}

// problems gathers what is wrong with a body, so that all of it is told at once.
type problems []error

func (p *problems) add(key string, v float64, limits, remedy string) {
	*p = append(*p, &Problem{key, v, limits, remedy})
}

// within demands lo ≤ v ≤ hi; a NaN is never within.
func (p *problems) within(key string, v, lo, hi float64, remedy string) {
	if !(v >= lo && v <= hi) {
		p.add(key, v, fmt.Sprintf("from %.4g to %.4g mm", lo*1000, hi*1000), remedy)
	}
}

func (p problems) err() error { return errors.Join(p...) }
