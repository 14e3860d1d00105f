package calphad

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// finish resolves functions and parameters to curves and drops what the reader
// cannot carry.
func (r *tdb) finish() error {
	known := map[string]bool{}
	for _, e := range r.p.Elements {
		known[e.Symbol] = true
	}
	for _, m := range r.magnets {
		if ph := r.phases[m.phase]; ph != nil && strings.Contains(ph.typeCodes, m.code) {
			ph.AntiFerro, ph.ShortRange = m.factor, m.shortness
		}
	}
	for _, ph := range r.p.Phases {
		if err := r.phaseCurves(ph, known); err != nil {
			return err
		}
	}
	r.p.Phases = slices.DeleteFunc(r.p.Phases, func(ph *PhaseData) bool { return r.skipped[ph.Name] })
	if len(r.p.Phases) == 0 {
		return errors.New("the database holds no phase that this reader can use")
	}
	return nil
}

func (r *tdb) phaseCurves(ph *PhaseData, known map[string]bool) error {
	if ph.Constituents == nil {
		r.leaveOut(ph, "it has no constituents")
	}
	for _, lattice := range ph.Constituents {
		if len(lattice) == 0 {
			return fmt.Errorf("phase %s has an empty sublattice", ph.Name)
		}
		for _, c := range lattice {
			if !known[c] && c != "VA" {
				r.leaveOut(ph, fmt.Sprintf("its constituent %s is no element", c))
			}
		}
	}
	if r.skipped[ph.Name] {
		return nil
	}
	for _, d := range ph.Parameters {
		if err := ph.fits(d); err != nil {
			return fmt.Errorf("database line %d: %w", d.Line, err)
		}
		c, err := r.resolve(d.pieces, 0)
		if err != nil {
			return fmt.Errorf("database line %d: parameter of %s: %w", d.Line, ph.Name, err)
		}
		d.curve = c
	}
	return nil
}

// fits checks a parameter against the sublattices of its phase.
func (ph *PhaseData) fits(d *ParameterData) error {
	if len(d.Constituents) != len(ph.Sites) {
		return fmt.Errorf("a parameter of %s names %d sublattices of %d", ph.Name, len(d.Constituents), len(ph.Sites))
	}
	mixed, widest := 0, 1
	for s, names := range d.Constituents {
		for i, c := range names {
			if c != "*" && !slices.Contains(ph.Constituents[s], c) {
				return fmt.Errorf("a parameter of %s names %s, which is no constituent of sublattice %d", ph.Name, short(c), s+1)
			}
			if slices.Contains(names[:i], c) {
				return fmt.Errorf("a parameter of %s names %s twice on a sublattice", ph.Name, short(c))
			}
		}
		if len(names) > 1 {
			mixed++
		}
		widest = max(widest, len(names))
	}
	switch {
	case widest > 3:
		return fmt.Errorf("a parameter of %s mixes %d constituents on one sublattice; up to 3 are known", ph.Name, widest)
	case mixed > 2 || mixed == 2 && (widest > 2 || d.Order > 0):
		return fmt.Errorf("a parameter of %s mixes on several sublattices; known is one pair on each of two, order 0", ph.Name)
	case mixed == 0 && d.Order > 0:
		return fmt.Errorf("an end-member of %s has order %d", ph.Name, d.Order)
	case widest == 3 && d.Order > 2:
		return fmt.Errorf("a three-constituent parameter of %s has order %d; 0 to 2 are known", ph.Name, d.Order)
	}
	return nil
}

// resolve turns pieces of text into one curve, cut wherever a function that it
// calls changes its own polynomial.
func (r *tdb) resolve(list []piece, depth int) (curve, error) {
	c := curve{low: list[0].low}
	for _, p := range list {
		cuts, err := r.cuts(p, depth)
		if err != nil {
			return curve{}, err
		}
		low := p.low
		for _, high := range append(cuts, p.high) {
			mid := (low + high) / 2
			poly, err := (&reader{s: p.text, work: &r.work, lookup: func(name string) (polynomial, error) {
				f, err := r.call(name, depth)
				if err != nil {
					return nil, err
				}
				return f.curve.on(mid), nil
			}}).parse()
			if err != nil {
				return curve{}, err
			}
			c.segments = append(c.segments, segment{high, poly})
			low = high
		}
		if len(c.segments) > maxSegments {
			return curve{}, fmt.Errorf("more than %d temperature ranges", maxSegments)
		}
	}
	return c, nil
}

// cuts returns the temperatures inside a piece where a called function breaks.
func (r *tdb) cuts(p piece, depth int) ([]float64, error) {
	var at []float64
	for i := 0; i < len(p.text); {
		if !isName(p.text[i]) || isDigit(p.text[i]) {
			if isDigit(p.text[i]) || p.text[i] == '.' {
				i = max(numberEnd(p.text, i), i+1)
			} else {
				i++
			}
			continue
		}
		start := i
		for i < len(p.text) && isName(p.text[i]) {
			i++
		}
		switch word := strings.ToUpper(p.text[start:i]); word {
		case "T", "R", "LN", "LOG", "EXP":
		default:
			f, err := r.call(word, depth)
			if err != nil {
				return nil, err
			}
			at = append(at, f.curve.breaks(p.low, p.high)...)
			if r.work += len(at); len(at) > 64*maxSegments || r.work > maxWork {
				return nil, fmt.Errorf("more than %d temperature ranges", maxSegments)
			}
		}
	}
	return sortedUnique(at), nil
}

func (r *tdb) call(name string, depth int) (*Function, error) {
	f := r.p.Functions[name]
	switch {
	case f == nil:
		return nil, fmt.Errorf("unknown function %q", short(name))
	case f.state == 1:
		return nil, fmt.Errorf("function %s calls itself", short(name))
	case f.state == 2:
		return f, nil
	case depth >= maxDepth:
		return nil, fmt.Errorf("functions call each other more than %d deep", maxDepth)
	}
	f.state = 1
	c, err := r.resolve(f.pieces, depth+1)
	if err != nil {
		return nil, fmt.Errorf("function %s: %w", short(name), err)
	}
	f.curve, f.state = c, 2
	return f, nil
}
