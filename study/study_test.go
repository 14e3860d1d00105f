package study

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

func load(t testing.TB, name string) route.Job {
	t.Helper()
	dir := filepath.Join("..", "examples")
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, n)) })
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return job
}

func forecast(t testing.TB, job route.Job, workers int) *sim.History {
	t.Helper()
	h, err := Forecast(context.Background(), job, Options{Options: sim.Options{Section: true}, Workers: workers}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// What the sheet says at its top, for each example. Hardening through, or not, and
// what to do instead: common practice for these steels and sections.
func TestVerdicts(t *testing.T) {
	for _, c := range []struct {
		name   string
		code   string
		least  float64
		remedy bool
	}{
		{"knife.toml", sim.HardensThrough, 0.8, false},
		{"o1_round.toml", sim.HardensThrough, 0.9, false},
		{"o1_blade.toml", sim.HardensThrough, 0.9, false},
		{"1095_flat.toml", sim.DoesNotHarden, 0.6, true},
		{"o1_soft.toml", sim.StaysHard, 0.6, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := forecast(t, load(t, c.name), 2).Verdict
			t.Logf("%s %.2f, weakest %s in %s, %d remedies", v.Code, v.Likelihood, v.Zone, v.Medium, len(v.Remedies))
			if v.Code != c.code || v.Likelihood < c.least {
				t.Errorf("%s with %.2f, want %s with at least %.2f", v.Code, v.Likelihood, c.code, c.least)
			}
			if (len(v.Remedies) > 0) != c.remedy {
				t.Errorf("remedies: %v", v.Remedies)
			}
			if c.code == sim.DoesNotHarden && v.Remedies[0].Code != "study.remedy-deeper-hardening-steel" { // its fire and its walk are right
				t.Errorf("first remedy %v", v.Remedies[0])
			}
		})
	}
}

// 1095 in thin sections is where the published evidence conflicts: the verdict
// has to be open about it, and the spine has a band.
func TestThin1095IsUncertain(t *testing.T) {
	h := forecast(t, load(t, "1095_blade.toml"), 2)
	v := h.Verdict
	t.Logf("%s %.2f, %s: hardened %.2f", v.Code, v.Likelihood, v.Zone, *v.Hardened)
	if v.Code != sim.HardensThrough && v.Code != sim.HardensEdge {
		t.Errorf("verdict %s", v.Code)
	}
	if v.Likelihood > 0.97 {
		t.Errorf("too sure of it: %.2f", v.Likelihood)
	}
	if v.Hardened.High-v.Hardened.Low < 0.02 {
		t.Errorf("the weakest zone has no band: %v", *v.Hardened)
	}
}

// Mild steel is not for an edge, whatever its quench.
func TestMildSteelIsNotForAnEdge(t *testing.T) {
	job := load(t, "1095_blade.toml")
	job.Steel = []route.Metal{{Grade: "1018", Condition: route.ColdRolled}}
	for i := range job.Steps {
		if job.Steps[i].Do == route.Heat {
			job.Steps[i].At = route.Temp{Text: "900 C", Value: unit.Temp(900 + 273.15)}
			job.Steps[i].Until = route.Ending{Text: "5 min", Kind: route.ByTime, Time: 300}
		}
	}
	if v := forecast(t, job, 2).Verdict; v.Code != sim.NotForAnEdge || len(v.Remedies) == 0 {
		t.Errorf("verdict %+v", v)
	}
}

// The same job gives the same bytes with one worker and with many.
func TestWorkersDoNotMatter(t *testing.T) {
	job := load(t, "o1_soft.toml")
	var first []byte
	for _, n := range []int{1, 2, 5} {
		b, err := json.Marshal(forecast(t, job, n))
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b
		} else if !bytes.Equal(first, b) {
			t.Fatalf("%d workers give another answer", n)
		}
	}
}

// Every band holds its value, and hardness is never known better than the models claim.
func TestBandsHoldTheirValue(t *testing.T) {
	h := forecast(t, load(t, "knife.toml"), 2)
	n := 0
	for _, a := range aspects(h) {
		if b := a.band; !(b.Low <= b.Value && b.Value <= b.High) {
			t.Errorf("%s: %v", a.key, *b)
		}
		n++
	}
	if n < 100 {
		t.Errorf("only %d bands", n)
	}
	for _, z := range h.Zones {
		if half := (z.HardnessHV.High - z.HardnessHV.Low) / 2; half < 20 || half > 120 {
			t.Errorf("%s: hardness ± %.0f HV", z.Name, half)
		}
		if z.HardnessHRC == nil || z.HardnessHRC.High > 70 {
			t.Errorf("%s: %v HRC", z.Name, z.HardnessHRC)
		}
	}
	for i := range h.Signs {
		if s := &h.Signs[i]; s.Name == sim.MagnetLetsGo && s.Since.High-s.Since.Low < 0.1 {
			t.Errorf("the magnet at %s has no band: %v", s.Zone, s.Since)
		}
	}
}

// At least ten runs stand behind the bands, and each thing that was varied has moved something.
func TestEveryMoveMoves(t *testing.T) {
	setup, err := sim.Prepare(load(t, "knife.toml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := SpreadOf(context.Background(), setup, Options{})
	if err != nil {
		t.Fatal(err)
	}
	runs := 0
	for _, m := range s.Moves {
		moved := false
		for _, h := range m.Runs {
			runs++
			for i := range h.Steps {
				for k := range h.Steps[i].Zones {
					a, b := &h.Steps[i].Zones[k], &s.Base.Steps[i].Zones[k]
					moved = moved || a.HardnessHV.Value != b.HardnessHV.Value || a.Temperature.Value != b.Temperature.Value || a.Constituents != b.Constituents
				}
			}
		}
		if !moved {
			t.Errorf("%s moves nothing", m.Name)
		}
	}
	t.Logf("%d runs in %d moves", runs, len(s.Moves))
	if runs < 10 {
		t.Errorf("only %d runs", runs)
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Forecast(ctx, load(t, "knife.toml"), Options{}, nil); err == nil {
		t.Error("a canceled forecast answers")
	}
}

// BenchmarkForecast is what one waits for while typing: a section with its bands.
func BenchmarkForecast(b *testing.B) {
	job := load(b, "knife.toml")
	for b.Loop() {
		if _, err := Forecast(context.Background(), job, Options{Options: sim.Options{Section: true}}, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkForecastOnTwo is the same by one worker and by two: how much sooner two
// are done. The base run goes ahead of what is varied from it, and the equilibria of
// each composition are solved by whoever comes first.
func BenchmarkForecastOnTwo(b *testing.B) {
	job := load(b, "knife.toml")
	run := func(workers int) float64 {
		start := time.Now()
		if _, err := Forecast(context.Background(), job, Options{Options: sim.Options{Section: true}, Workers: workers}, nil); err != nil {
			b.Fatal(err)
		}
		return time.Since(start).Seconds()
	}
	run(2)
	one, two := 0.0, 0.0
	for b.Loop() {
		one += run(1)
		two += run(2)
	}
	b.ReportMetric(one/two, "sooner")
}
