package calphad

import (
	"context"
	"fmt"

	"github.com/heatwright/heatwright/steel"
)

// Section is a cut through the phase diagram: one element runs, the others stay,
// iron is the rest.
type Section struct {
	Element steel.Element
	Columns []Column
}

// Column is the section at one content.
type Column struct {
	Content     float64 // [wt %]
	Transitions Transitions
}

// Section returns the transitions at each content [wt %] of an element in an
// otherwise given composition. It stops when ctx ends; progress, if not nil,
// hears how many of how many are done.
func (db *Database) Section(ctx context.Context, c steel.Composition, e steel.Element, contents []float64, progress func(done, total int)) (Section, error) {
	s := Section{Element: e}
	for i, x := range contents {
		if err := ctx.Err(); err != nil {
			return s, fmt.Errorf("calphad: section: %w", err)
		}
		c[e] = x
		tr, err := db.Transitions(c)
		if err != nil {
			return s, fmt.Errorf("calphad: section at %.3g %% %s: %w", x, e, err)
		}
		s.Columns = append(s.Columns, Column{x, tr})
		if progress != nil {
			progress(i+1, len(contents))
		}
	}
	return s, nil
}
