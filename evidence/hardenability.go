package evidence

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"strings"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// jet is the water jet on the quenched end: its coefficient rises as the surface
// cools from the vapor's range into the boiling one, from 3 kW/m²K at 700 °C and over
// to 20 at 250 °C and under. With it the bar of ISO 642 cools through 704 °C at 282,
// 54, 17.3 and 5.7 K/s at 1.6, 6.4, 12.7 and 25.4 mm; the rates that belong to those
// distances in the hardenability standard are 272, 69, 18 and 5.6 (from memory). A
// calibration of the apparatus, not of the steel.
func jet(Ts float64) (q, dq float64) {
	const hot, cold, over, under, water = 3e3, 20e3, 700 + zero, 250 + zero, 297
	if Ts >= over {
		return hot * (Ts - water), hot
	}
	if Ts <= under {
		return cold * (Ts - water), cold
	}
	slope := (hot - cold) / (over - under)
	h := cold + slope*(Ts-under)
	return h * (Ts - water), h + slope*(Ts-water)
}

const residualCopper = 0.12 // [wt %]; the tables have no column for it

// jominySet holds mid-range heats of the H grades against the limits of their bands.
func jominySet(ctx context.Context, t *table, dir fs.FS) ([]Score, error) {
	if err := t.needs("steel", "austenitise_c", "distance_mm", "hrc_min", "hrc_max"); err != nil {
		return nil, err
	}
	heats, err := midHeats(dir)
	if err != nil {
		return nil, err
	}
	const how = "mid-range heat against the middle of the band"
	rivals := []rival{{"ASTM A255", "astm-a255"}}
	kinetic := newSample("jominy_bands", "kinetic model, end quench computed", "HRC", "micro in the end-quenched bar", rivals...)
	standard := newSample("jominy_bands", "end-quench reading", "HRC", "micro.Metal.EndQuenched", rivals...)
	for _, s := range []*sample{kinetic, standard} {
		s.score.Memory = true
		s.score.Remark = how + "; the bands are recalled; a point without one of the limits has no middle and counts for the share inside alone"
	}
	curves := jominyCurves(ctx, t, heats)
	for _, r := range t.rows {
		c, known := heats[r.text("steel")]
		mm, ok := r.num("distance_mm")
		curve := curves[curveKey(r)]
		if !known || !ok || curve.why != "" {
			kinetic.leave(first(curve.why, "no composition or no distance"))
			standard.leave(first(curve.why, "no composition or no distance"))
			continue
		}
		k := line(curve.at, curve.hrc, mm*1e-3)
		e := curve.reading(mm)
		a := a255(c, mm)
		kinetic.hit(insideLimits(r, k), insideLimits(r, a))
		standard.hit(insideLimits(r, e), insideLimits(r, a))
		low, hasLow := r.num("hrc_min")
		high, hasHigh := r.num("hrc_max")
		if hasLow && hasHigh {
			kinetic.add(k, (low+high)/2, a)
			standard.add(e, (low+high)/2, a)
		}
	}
	list := finish(kinetic, standard)
	for i := range list {
		if s := &list[i]; s.Within != nil && len(s.Competitors) > 0 && s.Competitors[0].Within != nil {
			s.aim("96 % of points inside, and not below plain A255", *s.Within >= 0.96 && *s.Within >= *s.Competitors[0].Within)
		}
	}
	return list, ctx.Err()
}

func insideLimits(r record, hrc float64) bool {
	low, hasLow := r.num("hrc_min")
	high, hasHigh := r.num("hrc_max")
	return (!hasLow || hrc >= low) && (!hasHigh || hrc <= high)
}

// midHeats reads the composition ranges of the H grades and returns their middles.
func midHeats(dir fs.FS) (map[string]steel.Composition, error) {
	t, err := readTable(dir, "jominy_band_compositions.csv")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil // the rows are left out, with that reason
	}
	if err != nil {
		return nil, fmt.Errorf("evidence: the bands need their compositions: %w", err)
	}
	m := map[string]steel.Composition{}
	for _, r := range t.rows {
		var c steel.Composition
		for e := range steel.NumElements {
			n := strings.ToLower(e.String())
			c[e] = (r.or(n+"_min", 0) + r.or(n+"_max", 0)) / 2
		}
		c[steel.Cu] = residualCopper
		m[r.text("steel")] = c
	}
	return m, nil
}

type jominyCurve struct {
	at, hrc []float64 // distance from the quenched end [m], rising; HRC
	read    map[float64]float64
	why     string
}

// reading is what micro reads for a distance [mm].
func (c *jominyCurve) reading(mm float64) float64 {
	if x, ok := c.read[mm*1e-3]; ok {
		return x
	}
	return math.NaN()
}

func curveKey(r record) string { return r.text("steel") + "/" + r.text("austenitise_c") }

func jominyCurves(ctx context.Context, t *table, heats map[string]steel.Composition) map[string]jominyCurve {
	at := map[string]int{}
	var rows []record
	for _, r := range t.rows {
		if _, seen := at[curveKey(r)]; !seen {
			at[curveKey(r)] = len(rows)
			rows = append(rows, r)
		}
	}
	distances := map[string][]float64{}
	for _, r := range t.rows {
		if mm, ok := r.num("distance_mm"); ok {
			distances[curveKey(r)] = append(distances[curveKey(r)], mm*1e-3)
		}
	}
	list := make([]jominyCurve, len(rows))
	spread(ctx, len(rows), func(i int) {
		c, ok := heats[rows[i].text("steel")]
		T, ok2 := rows[i].num("austenitise_c")
		if !ok || !ok2 {
			list[i].why = "no composition or no hardening temperature"
			return
		}
		list[i] = endQuench(c, T+zero, distances[curveKey(rows[i])])
	})
	curves := map[string]jominyCurve{}
	for key, i := range at {
		curves[key] = list[i]
	}
	return curves
}

// endQuench computes the end-quenched bar, normalized, half an hour at T [K], and
// reads micro's own answer at the distances [m].
func endQuench(c steel.Composition, T float64, distances []float64) jominyCurve {
	s, why := newSpecimen(c, micro.Normalized)
	if why != "" {
		return jominyCurve{why: why}
	}
	s.to(T, 2)
	s.hold(1800)
	b, at := endBar(48)
	b.of(s)
	b.quench, b.air = jet, 45 // radiation and convection of the side, of no weight at the end
	b.run(1200, func(float64) bool { return b.T[0] < 373 })
	n := len(at)
	curve := jominyCurve{at: make([]float64, n), hrc: make([]float64, n), read: map[float64]float64{}}
	for i, hrc := range s.metal.EndQuenched(T, distances) {
		curve.read[distances[i]] = hrc
	}
	hv := make([]float64, n)
	b.metal.Hardness(hv, b.cells)
	for i := range n {
		curve.at[i], curve.hrc[i] = at[n-1-i], hrcOf(hv[n-1-i])
	}
	return curve
}

// a255 is the hardness at a distance [mm] by the calculation of the standard.
func a255(c steel.Composition, mm float64) float64 { return micro.EndQuench(c, mm*1e-3) }

// diameterSet holds the critical diameter of W steels in brine.
func diameterSet(ctx context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("c_wt", "quench_severity_h_per_inch", "critical_diameter_observed_mm", "critical_diameter_calculated_mm"); err != nil {
		return nil, err
	}
	rivals := []rival{{"ASTM A255 and Grossmann", "astm-a255"}}
	coarse := newSample("w_steel_critical_diameter", "coarser column", "factor", "micro in rounds, half martensite at the center", rivals...)
	fine := newSample("w_steel_critical_diameter", "finer column", "factor", "micro in rounds, half martensite at the center", rivals...)
	coarse.score.Factor, fine.score.Factor = true, true
	coarse.score.Remark = "a blank, below 12.7 mm, counts as met when the model says less; errors are logarithms of ratios"
	fine.score.Remark = "errors are logarithms of ratios"
	type answer struct {
		mm  float64
		why string
	}
	got := make([]answer, len(t.rows))
	spread(ctx, len(t.rows), func(i int) {
		r := t.rows[i]
		s, why := newSpecimen(r.composition(), micro.Spheroidized)
		if why != "" {
			got[i].why = why
			return
		}
		s.to(790+zero, 5)
		s.hold(1200)
		got[i].mm = 1e3 * criticalDiameter(s, r.or("quench_severity_h_per_inch", 5), 293)
	})
	limit := math.Log(1.35)
	for i, r := range t.rows {
		if got[i].why != "" {
			coarse.leave(got[i].why)
			continue
		}
		rival := 1e3 * grossmann(micro.IdealDiameter(r.composition()), r.or("quench_severity_h_per_inch", 5))
		if d, ok := r.num("critical_diameter_calculated_mm"); ok {
			coarse.add(got[i].mm, d, rival)
			coarse.hit(math.Abs(math.Log(got[i].mm/d)) <= limit, math.Abs(math.Log(rival/d)) <= limit)
		} else {
			coarse.hit(got[i].mm < 12.7*1.35, rival < 12.7*1.35)
		}
		if d, ok := r.num("critical_diameter_observed_mm"); ok {
			fine.add(got[i].mm, d, rival)
			fine.hit(math.Abs(math.Log(got[i].mm/d)) <= limit, math.Abs(math.Log(rival/d)) <= limit)
		}
	}
	list := finish(coarse, fine)
	for i := range list {
		if s := &list[i]; s.Within != nil && s.Subset == coarse.score.Subset {
			s.aim("80 % within 1.35×", *s.Within >= 0.8)
		}
	}
	return list, ctx.Err()
}

// criticalDiameter returns the diameter [m] whose center is half martensite
// after a quench of severity H [1/inch] to T [K], by halving.
func criticalDiameter(s *specimen, severity, T float64) float64 {
	lo, hi := 1e-3, 0.15
	for hi/lo > 1.02 {
		d := math.Sqrt(lo * hi)
		b := round(d, 9)
		b.of(s)
		b.quench = constant(2*30*severity/25.4e-3, T)
		b.run(4000, func(float64) bool { return b.T[0] < 380 })
		if b.hardened(0) > 0.5 {
			lo = d
		} else {
			hi = d
		}
	}
	return math.Sqrt(lo * hi)
}

// grossmann returns the critical diameter [m] at severity H [1/inch] of a steel
// of that ideal diameter [m]: rounds whose centers take the same time to half of
// their temperature, one-term solution of the long cylinder.
func grossmann(ideal, severity float64) float64 {
	halfTime := func(biot float64) float64 { // Fourier number
		lo, hi := 1e-6, 2.4048
		for range 60 {
			l := (lo + hi) / 2
			if l*math.J1(l)/math.J0(l) < biot {
				lo = l
			} else {
				hi = l
			}
		}
		j0, j1 := math.J0(lo), math.J1(lo)
		return math.Log(4/lo*j1/(j0*j0+j1*j1)) / (lo * lo)
	}
	lo, hi := 0.0, ideal
	for range 60 {
		d := (lo + hi) / 2
		if d*d*halfTime(severity/25.4e-3*d) < ideal*ideal*halfTime(1e6) {
			lo = d
		} else {
			hi = d
		}
	}
	return lo
}
