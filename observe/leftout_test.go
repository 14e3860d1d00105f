package observe

import (
	"testing"

	"github.com/heatwright/heatwright/color"
)

// What is foretold and not only fitted: each table or chart that was read is left
// out in turn, and the bands of what is settled on the others hold at least 80 % of
// its rows too.
func TestLeftOut(t *testing.T) {
	for _, set := range []struct {
		name string
		all  []LeftOut
		rows int
		mean float64 // mean distance of the charts that were settled on all [K]
	}{
		{"temper colors", LeftOutTempers(carbonSteel()), 28, 12},
		{"glow", LeftOutHeats(), 35, 80},
	} {
		rows, fit, law, free, off := 0, 0, 0, 0, 0.0
		for _, l := range set.all {
			t.Logf("%s, %s: %d rows; fit %+v, law %+v, all %+v", set.name, l.Source, l.Rows, l.Fit, l.Law, l.All)
			rows, fit, law, free = rows+l.Rows, fit+l.Fit.In, law+l.Law.In, free+l.All.In
			off += l.Fit.Mean * float64(l.Rows)
		}
		t.Logf("%s: of %d rows the bands hold %d, with the law left out %d, with all left out %d", set.name, rows, fit, law, free)
		if rows != set.rows {
			t.Errorf("%s: %d rows were read, not %d", set.name, rows, set.rows)
		}
		if float64(free) < 0.8*float64(rows) || set.name != "glow" && float64(law) < 0.8*float64(rows) {
			t.Errorf("%s: left out, the bands hold %d and %d of %d rows", set.name, law, free, rows)
		}
		if off/float64(rows) > set.mean {
			t.Errorf("%s: %.0f K off on the mean", set.name, off/float64(rows))
		}
	}
}

// Refitting to what the charts already say changes nothing: the way of refitting
// adds no error of its own.
func TestRefittingToItselfChangesNothing(t *testing.T) {
	want := make([]float64, color.NumHeats)
	for h := range color.NumHeats {
		want[h] = color.HeatBand(h).Value
	}
	was := color.Corners()
	for i, c := range settle(was, want) {
		if c != was[i] {
			t.Errorf("corner %d moves from %v to %v", i, was[i], c)
		}
	}
}
