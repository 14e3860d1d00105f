package main

import (
	"fmt"
	"math"
	"slices"
	"text/tabwriter"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// showCritical prints the temperatures where phases come and go in a grade, for
// the typical composition and over its range.
func (d *desk) showCritical(typical, low, high steel.Composition) error {
	db, err := calphad.Open()
	if err != nil {
		return err
	}
	c, err := db.Critical(typical, low, high)
	if err != nil {
		return err
	}
	s := d.style("metric")
	fmt.Fprintf(d.out, "\n%s\n", s.Of("equilibrium.critical").Say)
	w := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', 0)
	for _, row := range []struct {
		code string
		b    unit.Band
	}{{"ae1-start", c.Ae1Start}, {"ae1-end", c.Ae1End}, {"ae3", c.Ae3}, {"acm", c.Acm}, {"solidus", c.Solidus}} {
		if row.b.Value == 0 {
			continue
		}
		t := s.Of("equilibrium." + row.code)
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", t.Say, t.Term, toTheDegree(s, row.b.Value), fmt.Sprintf("%.0f–%.0f %s", reading(s, row.b.Low), reading(s, row.b.High), degrees(s)))
	}
	if err := w.Flush(); err != nil {
		return outside(err)
	}
	for _, n := range c.Notes {
		fmt.Fprintln(d.out, s.Note(n).Say)
	}
	return nil
}

// phaseDrawing returns the section through carbon and the amounts of the phases
// over temperature, as one SVG drawing.
func (d *desk) phaseDrawing(db *calphad.Database, c steel.Composition, name string) (string, error) {
	s := d.style("metric")
	var contents []float64
	for x := 0.02; x < 2.1; x += 0.04 {
		contents = append(contents, x)
	}
	section, err := db.Section(d.ctx, c, steel.C, contents, nil)
	if err != nil {
		return "", err
	}
	amounts, err := amountsOf(db, c)
	if err != nil {
		return "", err
	}
	label := s.Of("equilibrium.drawing", cite.Txt("steel", name)).Say
	return drawing.Charts(label, sectionChart(s, section, c), amounts.chart(s, 100, false), amounts.chart(s, amounts.carbideTop(), true)), nil
}

// reading returns a temperature [K] as a number on the reader's scale.
func reading(s words.Style, T float64) float64 {
	if s.Units == unit.Imperial {
		return (T-273.15)*1.8 + 32
	}
	return T - 273.15
}

func degrees(s words.Style) string {
	if s.Units == unit.Imperial {
		return "°F"
	}
	return "°C"
}

// The temperatures that the drawing shows [K].
const (
	drawFrom = 873.15
	drawTo   = 1823.15
)

func sectionChart(s words.Style, section calphad.Section, c steel.Composition) drawing.Chart {
	last := section.Columns[len(section.Columns)-1].Content
	chart := drawing.Chart{
		XTitle: s.Of("equilibrium.carbon-axis").Say, YTitle: degrees(s), XLow: 0, XHigh: last,
		YLow: reading(s, drawFrom), YHigh: reading(s, drawTo), High: 560,
		MarkX: c[steel.C], MarkText: s.Of("equilibrium.this-steel").Say,
	}
	for _, l := range drawing.Boundaries(section) {
		for i := range l.Y {
			l.Y[i] = reading(s, l.Y[i])
		}
		chart.Lines = append(chart.Lines, l)
	}
	for _, p := range drawing.FieldNames(section, drawFrom, drawTo) {
		p.Y = reading(s, p.Y)
		chart.Places = append(chart.Places, p)
	}
	return chart
}

// phaseAmounts are mass fractions over temperature.
type phaseAmounts struct {
	T     []float64
	names []string
	of    map[string][]float64
}

func amountsOf(db *calphad.Database, c steel.Composition) (*phaseAmounts, error) {
	walk, err := db.Walk(c)
	if err != nil {
		return nil, err
	}
	a := &phaseAmounts{of: map[string][]float64{}}
	for T := drawFrom; T <= drawTo; T += 5 {
		q, err := walk.At(T)
		if err != nil {
			return nil, err
		}
		a.T = append(a.T, T)
		for _, p := range q.Phases {
			if a.of[p.Name] == nil {
				a.names = append(a.names, p.Name)
				a.of[p.Name] = make([]float64, 0, 200)
			}
			for len(a.of[p.Name]) < len(a.T) {
				a.of[p.Name] = append(a.of[p.Name], 0)
			}
			a.of[p.Name][len(a.T)-1] += 100 * p.MassFraction
		}
	}
	for n := range a.of {
		for len(a.of[n]) < len(a.T) {
			a.of[n] = append(a.of[n], 0)
		}
	}
	slices.Sort(a.names)
	return a, nil
}

func carbide(name string) bool {
	return !slices.Contains([]string{calphad.Austenite, calphad.Ferrite, calphad.Liquid, calphad.Copper, calphad.Hexagonal}, name)
}

func (a *phaseAmounts) carbideTop() float64 {
	top := 1.0
	for n, y := range a.of {
		if carbide(n) {
			top = max(top, slices.Max(y))
		}
	}
	return math.Ceil(top * 1.1)
}

var dashes = []string{"", "9 5", "3 4", "14 4 3 4", "6 3 1 3 1 3"}

func (a *phaseAmounts) chart(s words.Style, top float64, carbidesOnly bool) drawing.Chart {
	code := "equilibrium.amount-axis"
	if carbidesOnly {
		code = "equilibrium.carbide-axis"
	}
	chart := drawing.Chart{
		XTitle: degrees(s), YTitle: s.Of(code).Say, XLow: reading(s, drawFrom), XHigh: reading(s, drawTo),
		YLow: 0, YHigh: top, High: 360,
	}
	for _, n := range a.names {
		if carbidesOnly != carbide(n) && (carbidesOnly || slices.Max(a.of[n]) < 2) {
			continue
		}
		l := drawing.Line{Name: n, Dash: dashes[len(chart.Lines)%len(dashes)]}
		for i, T := range a.T {
			y := a.of[n][i]
			if y < 1e-9 && (i == 0 || a.of[n][i-1] == 0) && (i+1 == len(a.T) || a.of[n][i+1] == 0) {
				y = math.NaN()
			}
			l.X = append(l.X, reading(s, T))
			l.Y = append(l.Y, y)
		}
		chart.Lines = append(chart.Lines, l)
	}
	return chart
}
