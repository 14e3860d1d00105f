package evidence

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
)

// Reckoned by hand: errors −1, 0, 2, 3.
func TestStatistics(t *testing.T) {
	s := statsOf([]float64{-1, 0, 2, 3})
	for _, x := range []struct {
		what      string
		got, want float64
	}{{"mean", s.mean, 1}, {"mae", s.mae, 1.5}, {"rms", s.rms, math.Sqrt(3.5)}, {"median", s.median, 1.5}, {"p90", s.p90, 2.7}} {
		if math.Abs(x.got-x.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", x.what, x.got, x.want)
		}
	}
	if statsOf(nil) != (stats{}) {
		t.Error("no errors have statistics")
	}
}

func TestSampleCountsBandsAndRivals(t *testing.T) {
	claims := []cite.Accuracy{{Model: "a", Unit: "K", Half: 2}, {Model: "b", Half: 2, Factor: true}}
	s := newSample("set", "all", "K", "model", rival{"r", "own-derivation"}).claims(claims, "a")
	s.add(10, 11, 13)
	s.add(10, 13, math.NaN())
	s.add(math.NaN(), 3, 4)
	c := s.done()
	if c.RowsUsed != 2 || c.RowsLeftOut != 1 || c.MeanError != -2 || *c.Inside != 0.5 || c.Band != "±2.00 K" {
		t.Errorf("%+v", c)
	}
	if len(c.Competitors) != 1 || c.Competitors[0].MAE != 2 {
		t.Errorf("competitors: %+v", c.Competitors)
	}
	f := newSample("set", "all", "factor", "model").claims(claims, "b")
	f.score.Factor = true
	f.add(4, 2)
	f.add(5, 2)
	if c := f.done(); *c.Inside != 0.5 || math.Abs(c.MAE-(math.Log(2)+math.Log(2.5))/2) > 1e-12 || c.size(c.MAE) != "×2.24" {
		t.Errorf("ratios: %+v, %s", c, c.size(c.MAE))
	}
}

// The names of the fields are a promise to whoever reads the JSON.
func TestReportFields(t *testing.T) {
	s := newSample("ms", "tool", "°C", "m", rival{"r", "own-derivation"})
	s.add(1, 2, 3)
	text, err := json.Marshal(Report{Format: ReportFormat, Sets: []Score{s.done()}})
	if err != nil {
		t.Fatal(err)
	}
	var back struct {
		Sets []map[string]any `json:"sets"`
	}
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	for _, f := range []string{"name", "subset", "unit", "rows_used", "rows_left_out", "mean_error", "mae", "rms", "median", "p90", "inside_stated_band", "competitors"} {
		if _, ok := back.Sets[0][f]; !ok {
			t.Errorf("the field %s is missing: %s", f, text)
		}
	}
	rivals, _ := back.Sets[0]["competitors"].([]any)
	one, _ := rivals[0].(map[string]any)
	for _, f := range []string{"name", "mae", "rms", "p90"} {
		if _, ok := one[f]; !ok {
			t.Errorf("the competitor's field %s is missing: %s", f, text)
		}
	}
	if strings.Contains(string(text), "Points") {
		t.Error("single points are in the JSON")
	}
}
