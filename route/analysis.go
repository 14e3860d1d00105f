package route

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/steel"
)

// Shares of an element's content that an analysis may be off by: a works
// analysis gives two digits after the point. From memory.
const (
	analysisShare = 0.02
	analysisLeast = 0.01 // [wt %]
)

// analysis reads a composition and the band that its digits allow.
func analysis(text string) (nominal, low, high steel.Composition, err error) {
	c, err := parseComposition(text)
	if err != nil {
		return c, c, c, err
	}
	low, high = c, c
	for e, x := range c {
		if x == 0 {
			continue
		}
		half := max(analysisShare*x, analysisLeast)
		low[e], high[e] = max(0, x-half), x+half
	}
	return c, low, high, nil
}

func parseComposition(text string) (c steel.Composition, err error) {
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		f := strings.Fields(strings.TrimSuffix(strings.TrimSpace(part), "%"))
		if len(f) != 2 {
			return c, fmt.Errorf("%q is no element with its percentage", strings.TrimSpace(part))
		}
		x, err := strconv.ParseFloat(f[1], 64)
		e := slices.IndexFunc(elements(), func(s string) bool { return strings.EqualFold(s, f[0]) })
		if err != nil || e < 0 {
			return c, fmt.Errorf("%q is no element with its percentage", strings.TrimSpace(part))
		}
		c[e] = x
	}
	return c, c.Check()
}

func elements() []string {
	all := make([]string, steel.NumElements)
	for e := range steel.NumElements {
		all[e] = e.String()
	}
	return all
}
