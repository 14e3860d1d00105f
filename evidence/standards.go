package evidence

import (
	"context"
	"io/fs"
	"math"
	"strings"

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
	hrc := newSample("hardness_conversion", "HV to HRC", "HRC", "unit.HRCofHV", rival{"closed form of 119.63 - 1576/sqrt(HV)", "own-derivation"})
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
		hrc.add(got, h, 119.63-1575.96/math.Sqrt(hv))
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
