package route

import (
	"errors"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

// Known returns the steel of a region: what is most likely there, and the 10th
// and 90th percentile of each element [wt %]. A certificate is trusted to its
// digits, a grade spreads from cast to cast as its standard allows.
func (m Metal) Known() (nominal, low, high steel.Composition, err error) {
	switch {
	case m.Certificate != "":
		return analysis(m.Certificate)
	case m.Composition != "":
		return analysis(m.Composition)
	case m.Unknown:
		g := steel.Unknown()
		low, high = g.Spread()
		return g.Nominal(), low, high, nil
	}
	g, err := steel.Find(m.Grade)
	if err != nil {
		return nominal, low, high, err
	}
	low, high = g.Spread()
	return g.Nominal(), low, high, nil
}

// Called returns the name that a sheet gives the steel.
func (m Metal) Called() string {
	switch {
	case m.Grade != "":
		return m.Grade
	case m.Unknown:
		return "mystery steel"
	case m.Certificate != "":
		return m.Certificate
	}
	return m.Composition
}

// checkMetal tells of a steel that is said in no way, in two ways, or that
// nobody knows.
func (d *decoder) checkMetal(m *Metal, path string, several bool) {
	ways := 0
	for _, given := range []bool{m.Grade != "", m.Certificate != "", m.Composition != "", m.Unknown} {
		if given {
			ways++
		}
	}
	switch {
	case ways == 0:
		d.at(path, "route.steel-not-said")
		return
	case ways > 2, ways == 2 && (m.Grade == "" || m.Certificate == ""):
		d.at(path, "route.steel-said-twice")
		return
	}
	if several && m.Region == "" {
		d.at(path, "route.no-region")
	}
	if m.Grade != "" {
		d.checkGrade(m.Grade, joined(path, "grade"))
	}
	if m.Certificate != "" {
		d.checkAnalysis(m.Certificate, joined(path, "certificate"))
	}
	if m.Composition != "" {
		d.checkAnalysis(m.Composition, joined(path, "composition"))
	}
}

func (d *decoder) checkGrade(name, path string) {
	_, err := steel.Find(name)
	var bad *steel.Error
	if !errors.As(err, &bad) {
		return
	}
	code := "route.unknown-grade"
	if bad.Ask {
		code = "route.ambiguous-grade"
	}
	d.at(path, code, cite.Txt("name", name), cite.Txt("near", strings.Join(bad.Near, ", ")))
}

func (d *decoder) checkAnalysis(text, path string) {
	_, _, _, err := analysis(text)
	if err == nil {
		return
	}
	args := []cite.Quantity{cite.Txt("reason", err.Error())}
	var bad *steel.Error
	if errors.As(err, &bad) {
		args = []cite.Quantity{cite.Txt("reason", bad.Text+": "+bad.Why), cite.Txt("limits", bad.Limits), cite.Txt("remedy", bad.Remedy)}
	}
	d.at(path, "route.bad-composition", args...)
}
