package evidence

import (
	"context"
	"io/fs"
	"math"
	"strings"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// gradeSet holds the limits of our grades against the standards' [wt %].
func gradeSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("grade", "c_max"); err != nil {
		return nil, err
	}
	limits := newSample("grade_compositions", "limits", "wt%", "steel.Grade.Range")
	nominal := newSample("grade_compositions", "nominal inside limits", "wt%", "steel.Grade.Nominal")
	for _, r := range t.rows {
		g, err := findPrinted(r.text("grade"))
		if err != nil {
			limits.leave("the grade is not known here")
			continue
		}
		low, high := g.Range()
		c := g.Nominal()
		for e := range steel.NumElements {
			name := strings.ToLower(e.String())
			least, hasLeast := r.num(name + "_min")
			most, hasMost := r.num(name + "_max")
			if hasLeast {
				limits.add(low[e], least)
			}
			if hasMost {
				limits.add(high[e], most)
				nominal.add(c[e], min(max(c[e], r.or(name+"_min", 0)), most))
				nominal.hit(c[e] <= most && c[e] >= r.or(name+"_min", 0))
			}
		}
	}
	list := finish(limits, nominal)
	for i := range list {
		list[i].Remark = "checks that the grades carry the standards' figures, nothing about steel"
	}
	return list, nil
}

// findPrinted finds a grade by a printed head such as "C105U (1.1545)" or "15N20 type, 75Ni8 (1.5634)".
func findPrinted(head string) (steel.Grade, error) {
	g, err := steel.Find(head)
	for _, part := range strings.FieldsFunc(head, func(r rune) bool { return r == '(' || r == ')' || r == ',' || r == ';' }) {
		if err == nil {
			break
		}
		g, err = steel.Find(part)
	}
	return g, err
}

// conversionSet holds the conversion of hardness against the table.
func conversionSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("hrc", "hv", "hbw"); err != nil {
		return nil, err
	}
	hrc := newSample("hardness_conversion", "HV to HRC", "HRC", "unit.HRCofHV", rival{"closed form 119.63 - 1576/sqrt(HV), from 40 HRC", "own-derivation"})
	hb := newSample("hardness_conversion", "HV to HB", "HB", "unit.HBofHV", rival{"HB = 0.95 HV", "iso-18265"})
	hrc.half, hrc.score.Band = unit.ConversionHalf, "±"+digits(unit.ConversionHalf)+" HRC"
	for _, r := range t.rows {
		h, ok := r.num("hrc")
		hv, ok2 := r.num("hv")
		if !ok || !ok2 {
			hrc.leave("no hardness")
			continue
		}
		got, used := unit.HRCofHV(hv)
		if !used {
			got = math.NaN()
		}
		closed := math.NaN()
		if h >= 40 { // where it was fitted
			closed = 119.63 - 1575.96/math.Sqrt(hv)
		}
		hrc.add(got, h, closed)
		if b, ok := r.num("hbw"); ok {
			hb.add(unit.HBofHV(hv), b, 0.95*hv)
		}
	}
	list := finish(hrc, hb)
	for i := range list {
		list[i].Remark = "the table itself is built in: zero is what to expect; the stated band is for the scatter between tables"
	}
	return list, nil
}

// factorSet holds the multiplying factors of the hardenability standard against
// ours: each at both ends of its range and in the middle.
func factorSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("element", "from_wt", "to_wt", "a0", "a1", "a2", "a3"); err != nil {
		return nil, err
	}
	s := newSample("a255_multiplying_factors", "all", "factor", "micro.IdealDiameter")
	s.score.Factor = true
	s.score.Remark = "the standard's own figures are built in: checks the transcription, nothing about steel"
	base := steel.Composition{steel.C: 0.4}
	for _, r := range t.rows {
		e, ok := element(r.text("element"))
		from, ok2 := r.num("from_wt")
		to, ok3 := r.num("to_wt")
		if !ok || !ok2 || !ok3 {
			s.leave("an element that is not kept account of")
			continue
		}
		for _, x := range []float64{from + 0.01*(to-from), (from + to) / 2, to - 0.01*(to-from)} {
			want := r.or("a0", 0) + x*(r.or("a1", 0)+x*(r.or("a2", 0)+x*r.or("a3", 0)))
			c := base
			c[e] = x
			got := micro.IdealDiameter(c) / micro.IdealDiameter(base)
			if e == steel.C {
				got = micro.IdealDiameter(steel.Composition{steel.C: x}) / 25.4e-3
			}
			s.add(got, want)
		}
	}
	return finish(s), nil
}

func element(symbol string) (steel.Element, bool) {
	for e := range steel.NumElements {
		if e.String() == symbol {
			return e, true
		}
	}
	return 0, false
}

// distanceSet holds the dividing factors of the hardenability standard against
// ours, for ideal diameters of 30 to 120 mm.
func distanceSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("distance_mm", "b0", "b1", "b2", "b3", "b4", "b5"); err != nil {
		return nil, err
	}
	s := newSample("a255_distance_factors", "all", "factor", "micro.EndQuench")
	s.score.Factor = true
	s.score.Remark = "the standard's own figures are built in: checks the transcription, nothing about steel"
	for _, r := range t.rows {
		mm, ok := r.num("distance_mm")
		if !ok {
			s.leave("no distance")
			continue
		}
		for _, mn := range []float64{0.5, 0.8, 1.1} {
			for _, cr := range []float64{0.3, 0.6, 1.0} {
				c := steel.Composition{steel.C: 0.4, steel.Mn: mn, steel.Cr: cr, steel.Si: 0.25}
				di := micro.IdealDiameter(c) * 1e3
				want := 0.0
				for b := 5; b >= 0; b-- {
					want = want*di + r.or("b"+string(rune('0'+b)), 0)
				}
				if limit, ok := r.num("use_df_1_above_di_mm"); ok && di > limit || want < 1 {
					want = 1
				}
				s.add(micro.EndQuench(c, 0)/micro.EndQuench(c, mm*1e-3), want)
			}
		}
	}
	return finish(s), nil
}
