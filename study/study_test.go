package study

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
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

func TestForecasts(t *testing.T) {
	for _, name := range []string{"knife.toml", "1095_blade.toml", "1095_flat.toml", "o1_round.toml", "o1_blade.toml", "o1_soft.toml"} {
		t.Run(name, func(t *testing.T) {
			t0 := time.Now()
			h, err := Forecast(context.Background(), load(t, name), Options{Options: sim.Options{Section: true}}, nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Log(time.Since(t0))
			for _, z := range h.Zones {
				t.Logf("%s %.0f HRC %.1f pearl %.3f-%.3f C %.2f grain %.1f decarb %.3f", z.Name, z.HardnessHV, z.HardnessHRC, z.Spread.Low.Pearlite, z.Spread.High.Pearlite, z.DissolvedC, z.Grain, z.Decarb)
			}
			for _, s := range h.Signs {
				t.Logf("%s %s since %.2f T %.1f", s.Name, s.Zone, s.Since, s.Temperature)
			}
			v := h.Verdict
			t.Logf("%s %.2f %s in %s hardened %.2f hrc %.1f remedies %v aims %+v", v.Code, v.Likelihood, v.Zone, v.Medium, v.Hardened, v.AsQuenched, v.Remedies, v.Aim)
		})
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
