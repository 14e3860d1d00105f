package calphad

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Spread between published databases [K], as half of the range from the 10th to
// the 90th percentile: the smallest honest uncertainty of a computed
// temperature. Two databases were compared over eight steels (hallstedt-2017,
// povoden-2016); nickel, chromium and molybdenum together differ most.
const (
	spreadAe       = 3.0
	spreadAeAlloy  = 8.0 // 5 % Cr, or Ni with Cr and Mo
	spreadAcm      = 8.0
	spreadAcmAlloy = 23.0
	spreadSolidus  = 8.0
)

// alloyed reports whether a steel is of the kind in which databases differ most.
func alloyed(c steel.Composition) bool {
	return c[steel.Cr] > 3 || c[steel.Ni] > 1 && c[steel.Cr] > 0.4 && c[steel.Mo] > 0.15
}

// Spread returns how far published databases lie apart for a steel: half of the
// range from the 10th to the 90th percentile [K] of Ae1 and Ae3, of Acm, and of
// the solidus. What is not known of the composition comes on top.
func Spread(c steel.Composition) (ae, acm, solidus float64) {
	if alloyed(c) {
		return spreadAeAlloy, spreadAcmAlloy, spreadSolidus
	}
	return spreadAe, spreadAcm, spreadSolidus
}

// Accuracy returns what this package claims of its named temperatures.
func Accuracy() []cite.Accuracy {
	const held = "two published databases over eight steels"
	covers := "0–2.1 % C, 0–13 % Cr, 0–4 % Ni, 0–3 % Si and Mn, 0–2 % Mo, V and W; 400–1500 °C"
	return []cite.Accuracy{
		{Model: "calphad.ae", Quantity: "Ae1 and Ae3", Unit: "K", Half: spreadAe, Covers: covers + "; under 3 % Cr and not Ni, Cr and Mo together", HeldTo: held + ": up to 3 K", Source: "hallstedt-2017"},
		{Model: "calphad.ae-alloyed", Quantity: "Ae1 and Ae3 of steels with 3 % Cr or more, or with Ni, Cr and Mo", Unit: "K", Half: spreadAeAlloy, Covers: covers, HeldTo: held + ": up to 8 K", Source: "hallstedt-2017"},
		{Model: "calphad.acm", Quantity: "end of the solution of cementite", Unit: "K", Half: spreadAcm, Covers: covers + "; not Ni, Cr and Mo together", HeldTo: held + ": up to 8 K", Source: "hallstedt-2017"},
		{Model: "calphad.acm-alloyed", Quantity: "end of the solution of cementite with Ni, Cr and Mo", Unit: "K", Half: spreadAcmAlloy, Covers: covers, HeldTo: held + ": up to 23 K", Source: "hallstedt-2017"},
	}
}

// Critical holds the named temperatures of a grade [K] with their bands: the
// grade's range of compositions and the spread between databases together. A
// temperature that the typical steel does not have is zero.
type Critical struct {
	Ae1Start, Ae1End, Ae3, Acm, Solidus unit.Band
	Notes                               []cite.Note
}

// criticalSamples compositions stand for a grade's range.
const criticalSamples = 60

// Critical returns the named temperatures of the typical composition of a grade
// and their bands over its range [wt %]. Compositions are drawn evenly over the
// range, from a fixed seed; each is a neighbor of the typical one.
func (db *Database) Critical(typical, low, high steel.Composition) (Critical, error) {
	middle := typical // where neighbors start from: it holds every element of the range
	for e := range middle {
		if middle[e] <= trace {
			middle[e] = (low[e] + high[e]) / 2
		}
	}
	t, err := db.Table(typical)
	if err != nil {
		return Critical{}, err
	}
	from, err := db.Table(middle)
	if err != nil {
		return Critical{}, err
	}
	read := []func(t *Table) float64{(*Table).Ae1Start, (*Table).Ae1End, (*Table).Ae3, (*Table).Acm, (*Table).Solidus}
	values := make([][]float64, len(read))
	r := rand.New(rand.NewPCG(1, 1)) //nolint:gosec // a fixed seed: the same answer every time
	for range criticalSamples {
		var delta steel.Composition
		for e := range delta {
			if hi, lo := max(high[e], typical[e]), min(low[e], typical[e]); hi > lo {
				delta[e] = max(lo+(hi-lo)*r.Float64(), 2*trace) - middle[e]
			}
		}
		n, err := from.Near(delta)
		if err != nil {
			return Critical{}, fmt.Errorf("calphad: range of the grade: %w", err)
		}
		for i, f := range read {
			if x := f(n); x > 0 {
				values[i] = append(values[i], x)
			}
		}
	}
	ae, acm, solidus := Spread(typical)
	var c Critical
	for i, dst := range []*unit.Band{&c.Ae1Start, &c.Ae1End, &c.Ae3, &c.Acm, &c.Solidus} {
		*dst = band(read[i](t), values[i], [...]float64{ae, ae, ae, acm, solidus}[i])
	}
	c.Notes = t.Notes()
	return c, nil
}

// band joins the spread of the samples with that of the model, as independent.
func band(value float64, samples []float64, half float64) unit.Band {
	if value == 0 || len(samples) == 0 {
		return unit.Band{}
	}
	slices.Sort(samples)
	low, high := samples[len(samples)/10], samples[len(samples)-1-len(samples)/10]
	return unit.Band{Value: value, Low: min(low, value), High: max(high, value)}.Widen(half)
}
