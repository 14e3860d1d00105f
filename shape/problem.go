package shape

import (
	"errors"
	"fmt"
	"math"
)

// Problem is a measure that no body can have, or that this program cannot
// mesh: which one, what it was, what is allowed and what to do.
type Problem struct {
	Key       string  // the measure, as the field is called: "thickness", "stations[2].edge"
	Value     float64 // as given [m, rad or –]
	Limits    string  // "over 0.05 mm and at most 500 mm"
	Remedy    string  // "give the thickness of the bar"
	Low, High float64 // the limits, where both are numbers; else both 0
}

// Error gives value, limits and remedy in one line.
func (p *Problem) Error() string {
	return fmt.Sprintf("shape: %s is %s; it must be %s: %s", p.Key, size(p.Key, p.Value), p.Limits, p.Remedy)
}

func size(key string, v float64) string {
	switch key {
	case "count", "share":
		return fmt.Sprintf("%g", v)
	case "angle":
		return fmt.Sprintf("%.4g°", v*180/math.Pi)
	}
	return fmt.Sprintf("%.4g mm", v*1000)
}

// problems gathers what is wrong with a body, so that all of it is told at once.
type problems []error

func (p *problems) add(key string, v float64, limits, remedy string) {
	*p = append(*p, &Problem{Key: key, Value: v, Limits: limits, Remedy: remedy})
}

// within demands lo ≤ v ≤ hi; a NaN is never within.
func (p *problems) within(key string, v, lo, hi float64, remedy string) {
	if !(v >= lo && v <= hi) {
		*p = append(*p, &Problem{key, v, fmt.Sprintf("from %.4g to %.4g mm", lo*1000, hi*1000), remedy, lo, hi})
	}
}

func (p problems) err() error { return errors.Join(p...) }
