package sim

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/heatwright/heatwright/route"
)

// load reads a job of the examples folder.
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

// Every example marches to its end, its books balance, and its history says
// what a sheet needs.
func TestExamplesMarch(t *testing.T) {
	files, err := filepath.Glob("../examples/*.toml")
	if err != nil || len(files) < 2 {
		t.Fatal(err, files)
	}
	for _, f := range files {
		if filepath.Base(f) == "shop.toml" {
			continue
		}
		t.Run(filepath.Base(f), func(t *testing.T) {
			h, err := Run(context.Background(), load(t, filepath.Base(f)), Options{Section: true}, nil)
			if err != nil {
				t.Fatal(err)
			}
			show(t, h)
		})
	}
}

func show(t *testing.T, h *History) {
	t.Helper()
	if !testing.Verbose() {
		return
	}
	for _, s := range h.Steps {
		t.Logf("%-10s %-10s %9.1f–%9.1f s in %s", s.Name, s.Role, s.Start, s.End, s.Where.Name)
		for _, z := range s.Zones {
			hrc := 0.0
			if z.HardnessHRC != nil {
				hrc = z.HardnessHRC.Value
			}
			t.Logf("      %-6s %6.1f C %5.0f HV %4.1f HRC %.3f C%.2f grain %.0f", z.Name, z.Temperature.Value, z.HardnessHV.Value, hrc, z.Constituents, z.DissolvedC.Value, z.Grain.Value)
		}
	}
	for _, s := range h.Signs {
		t.Logf("%-18s %-6s step %d %9.2f s (%.2f) %6.1f C", s.Name, s.Zone, s.Step, s.Time.Value, s.Since.Value, s.Temperature.Value)
	}
	t.Logf("%+v %+v series %d", h.Mesh, h.Balance, len(h.Series.Time))
}
