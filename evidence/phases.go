package evidence

import (
	"context"
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/steel"
)

var perElement = regexp.MustCompile(`([0-9.]+)([A-Z][a-z]?)`)

// writtenSteel reads "0.95C-1.2Mn-0.3Si" [wt %]; what is not named is zero.
func writtenSteel(text string) (steel.Composition, error) {
	var c steel.Composition
	for _, part := range strings.Split(text, "-") {
		m := perElement.FindStringSubmatch(part)
		if m == nil || m[0] != part {
			return c, fmt.Errorf("evidence: %q is no content of a steel", part)
		}
		x, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			return c, err
		}
		found := false
		for e := range steel.NumElements {
			if e.String() == m[2] {
				c[e], found = x, true
			}
		}
		if !found {
			return c, fmt.Errorf("evidence: element %s is not kept account of", m[2])
		}
	}
	return c, nil
}

// equilibriaSet holds the equilibrium engine against another solver, and
// against another published database, whose distance is the state of the art.
func equilibriaSet(ctx context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("database", "steel_wt%", "quantity", "T_C"); err != nil {
		return nil, err
	}
	db, err := calphad.Open()
	if err != nil {
		return nil, err
	}
	const same, other = "same parameters", "another database"
	in := map[string]*sample{}
	var order []*sample
	get := func(subset, unitName string) *sample {
		s := in[subset]
		if s == nil {
			s = newSample("equilibria", subset, unitName, "calphad")
			in[subset] = s
			order = append(order, s)
		}
		return s
	}
	tr := map[string]calphad.Transitions{}
	for _, r := range t.rows {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		of := same
		if r.text("database") != "toolsteel_thermo" {
			of = other
		}
		name := r.text("steel_wt%")
		T, ok := r.num("T_C")
		c, err := writtenSteel(name)
		if err != nil || !ok {
			get("temperatures, "+of, "°C").leave("the steel or the temperature cannot be read")
			continue
		}
		if r.text("quantity") == "equilibrium" {
			q, err := db.Equilibrium(c, T+zero)
			if err != nil {
				get("carbon in austenite, "+of, "wt%").leave("the engine refuses it")
				continue
			}
			a, _ := q.Find(calphad.Austenite)
			if x, ok := r.num("aust_wt%_C"); ok && a.MassFraction > 0 {
				get("carbon in austenite, "+of, "wt%").add(a.Composition[steel.C], x)
			}
			if x, ok := r.num("wt%_aust"); ok {
				get("austenite, "+of, "wt%").add(100*a.MassFraction, x)
			}
			continue
		}
		if _, known := tr[name]; !known {
			x, err := db.Transitions(c)
			if err != nil {
				get("temperatures, "+of, "°C").leave("the engine refuses it")
				continue
			}
			tr[name] = x
		}
		got := transition(r.text("quantity"), T+zero, tr[name]) - zero
		kind := "others"
		if strings.HasPrefix(r.text("quantity"), "Ae") {
			kind = "Ae1, Ae3"
		}
		get(kind+", "+of, "°C").add(got, T)
	}
	list := finish(order...)
	for i := range list {
		s := &list[i]
		if strings.HasSuffix(s.Subset, same) {
			s.Remark = "two solvers on the same parameters: proves the solver, nothing about steel"
		} else {
			s.Remark = "two published assessments of the same thermodynamics: how well such temperatures are known at all"
		}
	}
	return list, nil
}

// transition picks the temperature [K] that a printed quantity names; T is the
// printed value, to tell several changes of one phase apart.
func transition(quantity string, T float64, tr calphad.Transitions) float64 {
	what, rest, _ := strings.Cut(quantity, " ")
	switch {
	case what == "Ae1":
		return tr.Ae1Start
	case what == "Ae3":
		return tr.Ae3
	case what == "solidus":
		return tr.Solidus
	case rest == "gone":
		best := math.NaN()
		for _, c := range tr.Changes {
			if c.Phase == what && !c.Appears && !(math.Abs(c.T-T) >= math.Abs(best-T)) {
				best = c.T
			}
		}
		return best
	}
	return math.NaN()
}

// criticalReadSet holds Ae1 and Ae3 against temperatures read in texts, which
// were measured on heating: some kelvin above equilibrium is right.
func criticalReadSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("steel", "quantity", "value_c"); err != nil {
		return nil, err
	}
	db, err := calphad.Open()
	if err != nil {
		return nil, err
	}
	s := newSample("critical_points_read", "Ac1, Ac3", "°C", "calphad, equilibrium", rival{"Andrews", "andrews-1965"})
	s.score.Remark = "measured on heating; the model is at equilibrium, so a mean error of −5 to −20 is right"
	for _, r := range t.rows {
		T, ok := r.num("value_c")
		g, err := steel.Find(r.text("steel"))
		kind := r.text("quantity")
		if !ok || err != nil || strings.HasPrefix(kind, "Ar") {
			s.leave("on cooling, or the steel is not known here")
			continue
		}
		tr, err := db.Transitions(g.Nominal())
		if err != nil {
			s.leave("the engine refuses it")
			continue
		}
		if kind == "Ac3" {
			s.add(tr.Ae3-zero, T, ac3Formulas[0].at(g.Nominal(), extra{}))
		} else {
			s.add(tr.Ae1Start-zero, T, ac1Formulas[0].at(g.Nominal(), extra{}))
		}
	}
	return finish(s), nil
}

// criticalSet holds Ae1 and Ae3 against the handbook's table for slow heating, recalled.
func criticalSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("c_wt", "ac1_c", "ac3_c"); err != nil {
		return nil, err
	}
	db, err := calphad.Open()
	if err != nil {
		return nil, err
	}
	ac1 := newSample("critical_temperatures", "Ac1, 28 °C/h, start of austenite", "°C", "calphad, start of austenite", names(ac1Formulas)...)
	end := newSample("critical_temperatures", "Ac1, 28 °C/h, end of the three-phase field", "°C", "calphad, end of the three-phase field", names(ac1Formulas)...)
	ac3 := newSample("critical_temperatures", "Ac3, 28 °C/h", "°C", "calphad, last ferrite gone", names(ac3Formulas)...)
	for _, s := range []*sample{ac1, end, ac3} {
		s.score.Memory = true
	}
	ac1.score.Remark = "the temperature that a dilatometer shows lies between start and end of the three-phase field"
	for _, r := range t.rows {
		c := r.composition()
		tr, err := db.Transitions(c)
		if err != nil {
			ac1.leave("the engine refuses it")
			continue
		}
		if T, ok := r.num("ac1_c"); ok {
			ac1.add(tr.Ae1Start-zero, T, values(ac1Formulas, c, extra{})...)
			if tr.Ae1End > 0 {
				end.add(tr.Ae1End-zero, T, values(ac1Formulas, c, extra{})...)
			}
		}
		if T, ok := r.num("ac3_c"); ok && c[steel.C] < 0.8 {
			ac3.add(tr.Ae3-zero, T, values(ac3Formulas, c, extra{})...)
		} else {
			ac3.leave("no Ac3 for carbon above the eutectoid")
		}
	}
	return finish(ac1, end, ac3), nil
}
