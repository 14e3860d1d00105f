package web

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// blanks lists the blanks of a step's sentence by their places, with what stands in them.
func blanks(t *testing.T, job route.Job, i int) map[string]string {
	t.Helper()
	who := reader{Style: words.Style{Language: words.American, Units: unit.Metric}}
	found := map[string]string{}
	put := func(place, _, text, _ string, _ ...string) field {
		found[place] = text
		return field{Name: place, Text: text}
	}
	said := ""
	for _, p := range who.stepParts(job, job.Steps[i], "step 1", put) {
		said += p.Words
	}
	if strings.Contains(said, "bench.") || !strings.HasSuffix(said, ".") {
		t.Errorf("%s is said as %q", job.Steps[i].Do, said)
	}
	return found
}

// Every key of the steps of the forged knife has a blank that says what was typed.
func TestStepsOfAForgedKnifeCanBeChanged(t *testing.T) {
	dir := filepath.Join("..", "..", "examples")
	text, err := os.ReadFile(filepath.Join(dir, "forged_knife.toml"))
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, n)) })
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for i, want := range []map[string]string{
		{"over": "30 mm", "thickness": "7 mm", "width": "14 mm", "into, form": "", "times": "5"},
		{"into, form": "blade", "into, length": "120 mm", "into, spine_tip": "3 mm", "work": "14 s"},
		nil,
		{"from": "25 mm", "diameter": "4 mm", "across": ""},
	} {
		found := blanks(t, job, i)
		for key, text := range want {
			if got, ok := found["step 1, "+key]; !ok || got != text {
				t.Errorf("step %d: %s has %q, want %q", i+1, key, got, text)
			}
		}
	}
}

// A new step of either verb is right as it stands on a usual knife, and its blanks are all there.
func TestNewDrillAndBend(t *testing.T) {
	s, err := sentence{make: "belt knife", steel: "1084", back: "3 mm", edge: "0.8 mm", fire: "gas forge", bath: "cooking oil", oven: "kitchen oven"}.wish(unit.Metric)
	if err != nil {
		t.Fatal(err)
	}
	for verb, keys := range map[route.Verb][]string{
		route.Drill: {"from", "diameter", "across"},
		route.Bend:  {"from", "over", "angle", "way", "in", "until", "work"},
	} {
		job := route.Job{Format: route.Format, Name: "knife", Piece: s.Piece, Steel: []route.Metal{s.Steel}, Shop: s.Shop}
		if !apply(&job, "add "+string(verb)) {
			t.Fatalf("no step to %s can be added", verb)
		}
		if _, problems := route.Parse(route.Write(job), nil); len(problems) > 0 {
			t.Errorf("%s: %v", verb, problems)
		}
		found := blanks(t, job, 0)
		for _, k := range keys {
			if _, ok := found["step 1, "+k]; !ok {
				t.Errorf("%s has no blank for %s", verb, k)
			}
		}
	}
}

// A form that a step newly forges to comes with usual measures, and goes with all of them.
func TestFormToForgeTo(t *testing.T) {
	job := route.Job{Steps: []route.Step{{Do: route.Forge}}}
	was := intoForms(job)
	if !set(&job, "step 1, into, form", "punch") {
		t.Fatal("the form has no place")
	}
	reformInto(&job, was, unit.Metric)
	if p := job.Steps[0].Into; p.Form != route.Punch || !p.Length.Is() || !p.Point.Is() {
		t.Errorf("forged to %+v", p)
	}
	was = intoForms(job)
	if !set(&job, "step 1, into, length", "90 mm") {
		t.Fatal("its length has no place")
	}
	reformInto(&job, was, unit.Metric)
	if job.Steps[0].Into.Length.Text != "90 mm" {
		t.Error("what was typed is lost")
	}
	was = intoForms(job)
	set(&job, "step 1, into, form", "")
	reformInto(&job, was, unit.Metric)
	if p := job.Steps[0].Into; p.Form != "" || p.Length.Is() {
		t.Errorf("no form has %+v", p)
	}
}
