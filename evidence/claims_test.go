package evidence

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/heatwright/heatwright/internal/opendata"
)

// What does not hold yet, and why. An entry that holds again has to go.
var (
	aimsMissed = map[string]string{}
	bandsOff   = map[string]string{
		"tempering/20 HRC and over, Grange and Hollomon": "one band is stated for all sources: it is wide for two careful ones",
		"tempering/20 HRC and over, Penha":               "and narrow for the third, whose three steels are off by 2.9 HRC on the mean for every formula",
	}
)

// Every figure aimed for is reached and every stated band holds what it claims,
// on the visible rows; what does not is in the lists above.
func TestClaims(t *testing.T) {
	dir := filepath.Dir(opendata.File(t, "ms.csv"))
	start := time.Now()
	r, err := Run(context.Background(), os.DirFS(dir), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.Faults {
		t.Error(f)
	}
	pooled, inside := 0.0, 0.0
	for i := range r.Sets {
		s := &r.Sets[i]
		id := s.Name + "/" + s.Subset
		if s.Reached != nil {
			judge(t, id, *s.Reached, aimsMissed, s.Reach)
		}
		if s.Inside == nil || s.Memory || s.Name == "hardness_conversion" || id == "ms/other" {
			continue
		}
		if s.RowsUsed < 100 {
			if i > 0 && r.Sets[i-1].Name == s.Name { // a part of rows that have been counted
				continue
			}
			pooled += float64(s.RowsUsed)
			inside += float64(s.RowsUsed) * *s.Inside
			continue
		}
		judge(t, id, *s.Inside >= 0.75 && *s.Inside <= 0.88, bandsOff, "75 to 88 % inside the band "+s.Band+", found "+percent(s.Inside))
	}
	if pooled > 0 {
		share := inside / pooled
		judge(t, "small sets pooled", share >= 0.75 && share <= 0.88, bandsOff, "75 to 88 % of the rows of small sets inside, found "+percent(&share))
	}
	t.Logf("%d scores in %s", len(r.Sets), time.Since(start).Round(time.Second))
}

func judge(t *testing.T, id string, ok bool, known map[string]string, what string) {
	t.Helper()
	why, listed := known[id]
	switch {
	case ok && listed:
		t.Errorf("%s holds now: take it off the list (%s)", id, why)
	case !ok && !listed:
		t.Errorf("%s: %s", id, what)
	case !ok:
		t.Logf("%s, as known: %s (%s)", id, why, what)
	}
}
