package study

import (
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// What to do instead names what was at fault and not the steel: a heat under
// critical, a walk of minutes, a bath left after a second, an edge without its carbon
// (common practice).
func TestTheFaultIsNamed(t *testing.T) {
	seconds := func(s float64) route.Ending {
		return route.Ending{Text: "a while", Kind: route.ByTime, Time: s}
	}
	at := func(c float64) route.Temp { return route.Temp{Text: "so hot", Value: unit.Celsius(c)} }
	for _, c := range []struct {
		name, code string
		change     func(s *route.Step)
	}{
		{"too cold", "study.remedy-hotter", func(s *route.Step) {
			if s.Do == route.Heat {
				s.In, s.At, s.Until = "kiln", at(700), route.Ending{Text: "at heat", Kind: route.AtHeat}
			}
		}},
		{"too late", "study.remedy-sooner", func(s *route.Step) {
			if s.Do == route.Carry {
				s.Until = seconds(120)
			}
		}},
		{"out too early", "study.remedy-longer-in-bath", func(s *route.Step) {
			if s.Do == route.Quench {
				s.Until = seconds(1)
			}
		}},
		{"burnt", "study.remedy-keep-carbon", func(s *route.Step) {
			if s.Do == route.Heat {
				s.In, s.At, s.Until, s.Hold.Value = "kiln", at(850), route.Ending{Text: "at heat", Kind: route.AtHeat}, 1200
			}
			if s.Do == route.Grind {
				s.Edge = route.Length{Text: "0.1 mm", Value: unit.MM(0.1)}
			}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			job := load(t, "knife.toml")
			for i := range job.Steps {
				c.change(&job.Steps[i])
			}
			v := forecast(t, job, 2).Verdict
			if v.Code == sim.HardensThrough || len(v.Remedies) == 0 || v.Remedies[0].Code != c.code {
				t.Errorf("verdict %s, remedies %v, want %s", v.Code, v.Remedies, c.code)
			}
		})
	}
}

// A steel that hardens in air is judged where it hangs, and a plain one that was
// hung there to harden has not hardened.
func TestAirIsAQuench(t *testing.T) {
	job := load(t, "o1_blade.toml")
	for i := range job.Steps {
		switch s := &job.Steps[i]; s.Do {
		case route.Heat:
			s.At = route.Temp{Text: "970 C", Value: unit.Celsius(970)}
		case route.Quench:
			*s = route.Step{Do: route.Cool, Until: route.Ending{Text: "hand-warm", Kind: route.BySign, Sign: "hand-warm"}}
		}
	}
	for grade, code := range map[string]string{"A2": sim.HardensThrough, "1084": sim.DoesNotHarden} {
		job.Steel = []route.Metal{{Grade: grade, Condition: route.Spheroidized}}
		if grade == "1084" {
			for i := range job.Steps {
				if job.Steps[i].Do == route.Heat {
					job.Steps[i].At.Value = unit.Celsius(815)
				}
			}
		}
		if v := forecast(t, job, 2).Verdict; v.Code != code || v.Medium != "air" {
			t.Errorf("%s in air: %s in %q with %.2f, want %s", grade, v.Code, v.Medium, v.Likelihood, code)
		}
	}
}
