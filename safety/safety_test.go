package safety

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/heatwright/heatwright/cite"
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

func reviewOf(t *testing.T, job route.Job) (codes map[string]cite.Note, h *sim.History) {
	t.Helper()
	h, err := sim.Run(context.Background(), job, sim.Options{Section: true, NoSeries: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	codes = map[string]cite.Note{}
	for _, n := range Review(job, h) {
		codes[n.Code] = n
		if n.Source == "" {
			t.Errorf("%s names no source", n.Code)
		} else if _, ok := cite.Find(n.Source); !ok {
			t.Errorf("%s: source %q is not in the bibliography", n.Code, n.Source)
		}
		if n.Where != "" && !names(h, n.Where) {
			t.Errorf("%s stands on step %q, which is not in the history", n.Code, n.Where)
		}
	}
	return codes, h
}

func names(h *sim.History, step string) bool {
	for i := range h.Steps {
		if h.Steps[i].Name == step {
			return true
		}
	}
	return false
}

// What every oil-quenched knife from a gas forge has to be told: common practice.
func TestKnifeIsTold(t *testing.T) {
	codes, _ := reviewOf(t, load(t, "knife.toml"))
	for _, want := range []string{
		"safety.carbon-monoxide-alarm", "safety.gas-leak", "safety.oil-flare", "safety.oil-wet-tongs", "safety.hard-steel-shatters",
		"safety.hidden-cracks", "safety.temper-at-once", "safety.hot-until", "safety.grinding-dust", "safety.local-codes-first",
	} {
		if _, ok := codes[want]; !ok {
			t.Errorf("no word of %s", want)
		}
	}
	for _, wrong := range []string{"safety.never-tempered", "safety.old-vermiculite", "safety.water-cracks", "safety.temper-brittle"} {
		if n, ok := codes[wrong]; ok {
			t.Errorf("told %v without reason", n)
		}
	}
}

// Oil that comes within 28 K of its flash point is a stop (wac-296-835); within
// 60 K a warning (common practice). Too little oil warms by what the blade gives it.
func TestFlashPoint(t *testing.T) {
	job := load(t, "knife.toml")
	for _, c := range []struct {
		liters float64
		want   string
	}{{0.53, "safety.oil-at-flash-point"}, {1.2, "safety.oil-near-flash-point"}, {30, ""}} {
		j := job
		j.Shop.Baths = append([]route.Bath(nil), job.Shop.Baths...)
		for i := range j.Shop.Baths {
			b := &j.Shop.Baths[i]
			b.Flash = route.Temp{Text: "given", Value: unit.Temp(107 + 273.15)}
			b.Warm = route.Temp{Text: "given", Value: unit.Temp(45 + 273.15)}
			b.Limit = route.Temp{}
			b.Volume = route.Volume{Text: "given", Value: unit.Volume(c.liters / 1000)}
		}
		codes, h := reviewOf(t, j)
		got := ""
		for _, code := range []string{"safety.oil-at-flash-point", "safety.oil-near-flash-point"} {
			if _, ok := codes[code]; ok {
				got = code
			}
		}
		for i := range h.Steps {
			if s := &h.Steps[i]; s.Role == sim.Quenching && got != c.want {
				t.Errorf("%g L: oil from %.0f to %.0f °C: told %q, want %q", c.liters, s.Where.Start, s.Where.Peak, got, c.want)
			}
		}
	}
}

// The time for which it looks cold and burns counts from the moment that it leaves the
// oven, however long it lay in there; without an oven before, from the step's beginning.
func TestBlackHeatCountsFromTheOven(t *testing.T) {
	since := func(n cite.Note) (seconds float64, place string) {
		for _, q := range n.Args {
			switch q.Name {
			case "since":
				seconds = q.Value
			case "place":
				place = q.Text
			}
		}
		return seconds, place
	}
	job := load(t, "knife.toml")
	var first float64
	for _, hold := range []float64{3600, 4 * 3600} {
		j := job
		j.Steps = append([]route.Step(nil), job.Steps...)
		last := &j.Steps[len(j.Steps)-1]
		if last.Do != route.Temper {
			t.Fatalf("the example ends with %s", last.Do)
		}
		last.Hold.Value = unit.Duration(hold)
		codes, h := reviewOf(t, j)
		n, ok := codes["safety.hot-until"]
		sec, place := since(n)
		if !ok || place != last.In || sec < 60 || sec > 1800 {
			t.Errorf("held %.0f s: %.0f s after %q; %v", hold, sec, place, h.Steps[len(h.Steps)-1].Role)
		}
		if first > 0 && (sec > 1.2*first || sec < first/1.2) {
			t.Errorf("held longer it burns %.0f s instead of %.0f", sec, first)
		}
		first = sec
	}
}

// A quench without a temper after it is told.
func TestUntempered(t *testing.T) {
	job := load(t, "knife.toml")
	for i := range job.Steps {
		if job.Steps[i].Do == route.Temper {
			job.Steps = job.Steps[:i]
			break
		}
	}
	if codes, _ := reviewOf(t, job); codes["safety.never-tempered"].Code == "" {
		t.Error("hardened, not tempered, and not told")
	}
}

// Tempering at 300 °C lies in the range of tempered-martensite embrittlement,
// 250–400 °C (temper-embrittlement-lecture); at 200 °C it does not.
func TestBrittleRange(t *testing.T) {
	for _, c := range []struct {
		temper float64
		want   bool
	}{{300, true}, {200, false}} {
		job := load(t, "knife.toml")
		job.Steps = append([]route.Step(nil), job.Steps...)
		for i := range job.Steps {
			if job.Steps[i].Do == route.Temper {
				job.Steps[i].At = route.Temp{Text: "given", Value: unit.Temp(c.temper + 273.15)}
			}
		}
		codes, _ := reviewOf(t, job)
		if _, got := codes["safety.temper-brittle"]; got != c.want {
			t.Errorf("temper at %g °C: brittle range told: %v, want %v", c.temper, got, c.want)
		}
	}
}

// No sentence and no code of this package calls anything safe.
func TestNothingIsCalledSafe(t *testing.T) {
	for _, name := range []string{"knife.toml", "o1_soft.toml", "1095_blade.toml"} {
		codes, _ := reviewOf(t, load(t, name))
		if len(codes) == 0 {
			t.Errorf("%s: nothing is told, which reads like a promise", name)
		}
		for _, word := range []string{"safety.safe", "safety.ok", "safety.none"} {
			if _, ok := codes[word]; ok {
				t.Errorf("%s is told", word)
			}
		}
	}
}
