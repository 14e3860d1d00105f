package steel

import (
	"embed"
	"fmt"
	"io/fs"
	"sort"
	"strings"
	"sync"

	"github.com/heatwright/heatwright/cite"
	"github.com/pelletier/go-toml/v2"
)

// Grade is a steel as a standard or a person names it: a range of
// compositions, not a point.
type Grade struct {
	Name     string
	Use      string   // what it is, in a few words
	Source   cite.Key // the standard
	ReadBy   string   // how the limits were read
	Family   Family
	Same     []string // other designations of this steel
	Near     []string // steels of other standards that come close
	Asked    string   // the name it was found by, when that is a near one; else ""
	Practice *Practice

	low, high [NumElements]float64 // limits [wt %]; NaN-free: see given
	given     [NumElements]limit
	nominal   [NumElements]float64 // the usual bar, where the standard is wide
}

// limit tells what a standard says of an element.
type limit int

const (
	silent limit = iota // not specified, which is not the same as absent
	atMost
	atLeast
	between
)

//go:embed grades/*.toml
var gradeFiles embed.FS

type gradeFile struct {
	Source cite.Key `toml:"source"`
	Grade  []struct {
		Name    string                `toml:"name"`
		Use     string                `toml:"use"`
		ReadBy  string                `toml:"read_by"`
		Range   map[string][2]float64 `toml:"range"`
		Min     map[string]float64    `toml:"min"`
		Max     map[string]float64    `toml:"max"`
		Nominal map[string]float64    `toml:"nominal"`
		Same    []string              `toml:"same"`
		Near    []string              `toml:"near"`
	} `toml:"grade"`
}

var book = sync.OnceValue(func() []Grade {
	files, err := fs.Glob(gradeFiles, "grades/*.toml")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	var all []Grade
	for _, name := range files {
		text, err := gradeFiles.ReadFile(name)
		if err != nil {
			panic(err)
		}
		list, err := readGrades(text)
		if err != nil {
			panic(fmt.Sprintf("steel: %s: %v", name, err)) // embedded: a fault in it is ours
		}
		all = append(all, list...)
	}
	sort.Slice(all, func(i, j int) bool { return all[i].Name < all[j].Name })
	return all
})

func readGrades(text []byte) ([]Grade, error) {
	var file gradeFile
	dec := toml.NewDecoder(strings.NewReader(string(text)))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&file); err != nil {
		return nil, err
	}
	var all []Grade
	for _, g := range file.Grade {
		grade := Grade{Name: g.Name, Use: g.Use, Source: file.Source, ReadBy: g.ReadBy, Same: g.Same, Near: g.Near}
		for s, r := range g.Range {
			e, ok := elementOf(s)
			if !ok || r[0] > r[1] || r[0] < 0 {
				return nil, fmt.Errorf("%s: range of %s", g.Name, s)
			}
			grade.low[e], grade.high[e], grade.given[e] = r[0], r[1], between
		}
		for s, most := range g.Max {
			e, ok := elementOf(s)
			if !ok || most <= 0 {
				return nil, fmt.Errorf("%s: limit of %s", g.Name, s)
			}
			grade.high[e], grade.given[e] = most, atMost
		}
		for s, least := range g.Min {
			e, ok := elementOf(s)
			if !ok || least <= 0 || g.Nominal[s] <= least {
				return nil, fmt.Errorf("%s: least %s, which needs a nominal above it", g.Name, s)
			}
			grade.low[e], grade.high[e], grade.given[e] = least, 2*g.Nominal[s]-least, atLeast
		}
		for s, x := range g.Nominal {
			e, ok := elementOf(s)
			if !ok {
				return nil, fmt.Errorf("%s: nominal %s", g.Name, s)
			}
			grade.nominal[e] = x
		}
		grade.Family = FamilyOf(grade.Nominal())
		grade.Practice = practiceOf(g.Name)
		all = append(all, grade)
	}
	return all, nil
}

// Grades returns all grades by name. The list is the caller's own.
func Grades() []Grade { return append([]Grade(nil), book()...) }

// Nominal returns the composition of a typical bar [wt %]: the middle of each
// range, typical residuals where the standard is silent, and the smaller of
// limit and residual where only a limit is printed.
func (g Grade) Nominal() Composition {
	var c Composition
	for e := range NumElements {
		switch {
		case g.nominal[e] > 0:
			c[e] = g.nominal[e]
		case g.given[e] == between:
			c[e] = (g.low[e] + g.high[e]) / 2
		case g.given[e] == atMost:
			c[e] = min(residuals[e].typical, g.high[e])
		default:
			c[e] = residuals[e].typical
		}
	}
	return c
}

// Range returns the least and most of each element that the standard lets pass
// [wt %]; where it is silent, the 10th and 90th percentile of residuals; where it
// prints the least alone, up to as far above the usual bar as that lies above the least.
func (g Grade) Range() (low, high Composition) {
	for e := range NumElements {
		switch g.given[e] {
		case between, atMost, atLeast:
			low[e], high[e] = g.low[e], g.high[e]
		default:
			low[e], high[e] = residuals[e].low, residuals[e].high
		}
	}
	return low, high
}

// aimed is the part of a standard's range that 80 % of casts fall in, counted
// from its middle: works aim at the middle, and ±2σ fills the range.
const aimed = 0.32

// Spread returns the 10th and 90th percentile of each element from cast to
// cast [wt %].
func (g Grade) Spread() (low, high Composition) {
	mid := g.Nominal()
	for e := range NumElements {
		switch g.given[e] {
		case between, atLeast:
			width := g.high[e] - g.low[e]
			low[e] = max(g.low[e], mid[e]-aimed*width)
			high[e] = min(g.high[e], mid[e]+aimed*width)
		case atMost:
			if g.nominal[e] > 0 { // A36: only the most is printed, and it is far above what is made
				low[e], high[e] = 0.6*g.nominal[e], g.high[e]
				continue
			}
			low[e], high[e] = min(residuals[e].low, mid[e]), min(residuals[e].high, g.high[e])
		default:
			low[e], high[e] = residuals[e].low, residuals[e].high
		}
	}
	return low, high
}

// Specified reports whether the standard names limits for the element.
func (g Grade) Specified(e Element) bool { return g.given[e] != silent }

// Residual is what scrap leaves in steel of an element that nobody asked for.
type residual struct{ typical, low, high float64 }

// Typical residuals of scrap-based steel [wt %]: typical, 10th, 90th percentile.
//
// Source: scrap-residuals (from memory). Vanadium and tungsten: none.
var residuals = [NumElements]residual{
	Si: {0.20, 0.12, 0.32},
	Mn: {0.45, 0.30, 0.75},
	Cr: {0.08, 0.03, 0.16},
	Ni: {0.08, 0.03, 0.16},
	Mo: {0.015, 0.005, 0.04},
	Cu: {0.12, 0.04, 0.24},
	N:  {0.007, 0.004, 0.010},
	P:  {0.014, 0.007, 0.024},
	S:  {0.012, 0.003, 0.025},
}
