package jobsheet

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/safety"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

var update = flag.Bool("update", false, "write the kept sheet anew")

var styles = []words.Style{
	{Language: words.American, Units: unit.Metric}, {Language: words.American, Units: unit.Imperial},
	{Language: words.British, Units: unit.Metric}, {Language: words.British, Units: unit.Imperial},
}

// worked marches an example on its section. The verdict is the longest that
// there is, so that no real one can be wider.
func worked(t *testing.T, name string) (route.Job, *sim.History) {
	t.Helper()
	folder := filepath.Join("..", "..", "examples")
	text, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, func(n string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, n)) })
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	h, err := sim.Run(context.Background(), job, sim.Options{Section: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	widen(h)
	h.Cautions = safety.Review(job, h)
	h.Verdict = sim.Verdict{
		Code: sim.HardensEdge, Likelihood: 0.55, Zone: "heel", Medium: "medium oil",
		Remedies: []cite.Note{{Code: "study.remedy-hold-below-critical", Args: []cite.Quantity{cite.Num("temperature", 963.15, "K"), cite.Num("time", 14400, "s")}}},
	}
	return job, h
}

// widen gives every hardness and time the band that a forecast would give it.
func widen(h *sim.History) {
	for i := range h.Zones {
		if b := h.Zones[i].HardnessHRC; b != nil {
			b.Low, b.High = b.Value-2.4, b.Value+2.2
		}
	}
	for i := range h.Signs {
		s := &h.Signs[i]
		s.Since.Low, s.Since.High = 0.85*s.Since.Value, 1.2*s.Since.Value
	}
}

func examples(t *testing.T) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	var jobs []string
	for _, n := range names {
		if b := filepath.Base(n); b != "shop.toml" {
			jobs = append(jobs, b)
		}
	}
	if len(jobs) < 6 {
		t.Fatalf("only %d examples", len(jobs))
	}
	return jobs
}

// The front of every example keeps to one side, 40 lines, 260 words and the
// order of its parts, in both units and both Englishes.
func TestFrontKeepsToItsLimits(t *testing.T) {
	order := []string{"ready", "work", "harden", "soften", "temper", "test", "failed", "expected"}
	for _, name := range examples(t) {
		job, h := worked(t, name)
		for _, style := range styles {
			at := fmt.Sprintf("%s, %s, %v", name, style.Language, style.Units)
			s := Compose(job, h, style)
			if n := s.CountLines(); n > MaxLines {
				t.Errorf("%s: %d lines", at, n)
			}
			if n := s.CountWords(); n > MaxWords {
				t.Errorf("%s: %d words", at, n)
			}
			p, err := s.draw()
			if err != nil {
				t.Errorf("%s: %v", at, err)
			}
			if p.lines > MaxLines {
				t.Errorf("%s: %d lines in print", at, p.lines)
			}
			var parts []int
			for _, b := range s.Front {
				parts = append(parts, slices.Index(order, b.Part))
			}
			if !slices.IsSorted(parts) || len(parts) < 5 {
				t.Errorf("%s: parts in the order %v", at, parts)
			}
			if b := s.Front[0]; b.Kind != Ticks || len(b.Lines) != 5 {
				t.Errorf("%s: %d ticks", at, len(b.Lines))
			}
			if !strings.HasPrefix(s.Foot, "A clock and a model") {
				t.Errorf("%s: the foot says %q", at, s.Foot)
			}
			if s.Demo == "" {
				t.Errorf("%s is not marked as demo data", at)
			}
			if strings.Contains(strings.Join(s.texts(), " "), "jobsheet.") {
				t.Errorf("%s says a bare code", at)
			}
		}
	}
}

// The type of the front is 13 points or more in print, and the page of the
// browser asks for no less.
func TestTypeIsLargeEnough(t *testing.T) {
	if base < MinPoint || large < MinPoint {
		t.Errorf("type of %g and %g points", base, large)
	}
	front, _, _ := strings.Cut(page, ".back {")
	for _, rule := range strings.Split(front, "\n") {
		for _, key := range []string{"font: ", "font-size: "} {
			if _, after, ok := strings.Cut(rule, key); ok {
				number, _, _ := strings.Cut(after, "pt")
				if size, err := strconv.ParseFloat(number, 64); err != nil || size < MinPoint {
					t.Errorf("type of %q points in %s", number, rule)
				}
			}
		}
	}
}

// What does not fit is an error; nothing is made smaller.
func TestOverflowIsAnError(t *testing.T) {
	s := &Sheet{Title: "too much", Verdict: "no"}
	b := Block{Title: "WORK"}
	for range 60 {
		b.Lines = append(b.Lines, Line{Text: "grind"})
	}
	s.Front = []Block{b}
	if s.CountLines() <= MaxLines {
		t.Errorf("%d lines are counted", s.CountLines())
	}
	if err := s.PDF(&bytes.Buffer{}); !errors.Is(err, ErrOverflow) {
		t.Errorf("got %v", err)
	}
}

// A hand-made history, so that the sheet can be kept word for word.
func handMade() (route.Job, *sim.History) {
	text := `format = 1
name = "kitchen knife"
mark = "||"
demo = true
notes = "handle of pear"
[piece]
form = "blade"
length = "150 mm"
width = "28 mm"
spine = "2.6 mm"
edge = "0.8 mm"
[steel]
grade = "1084"
bar = "25 x 5 mm flat"
[[shop.forge]]
name = "pipe"
kind = "pipe"
[[shop.oven]]
name = "kiln"
kind = "kiln"
offset = "4 K"
[[shop.bath]]
name = "oil 1"
kind = "fast oil"
warm = "40 C"
[aim]
hardness = { edge = "60-62 HRC" }
[[step]]
do = "heat"
in = "pipe"
until = "magnet off"
hold = "2 min"
[[step]]
do = "carry"
until = "2 s"
[[step]]
do = "quench"
in = "oil 1"
until = "hand-warm"
[[step]]
do = "temper"
in = "kiln"
at = "205 C"
hold = "2 h"
times = 2
`
	job, problems := route.Parse([]byte(text), nil)
	if len(problems) > 0 {
		panic(problems)
	}
	zones := func(hrc, mart, pearl, temp float64) []sim.Zone {
		var all []sim.Zone
		for _, n := range []string{"edge", "spine"} {
			all = append(all, sim.Zone{
				Name: n, Temperature: unit.Exactly(temp), HardnessHV: unit.PlusMinus(700, 25), HardnessHRC: &unit.Band{Value: hrc, Low: hrc - 2, High: hrc + 1.5},
				Constituents: sim.Constituents{Martensite: mart, Pearlite: pearl, RetainedAustenite: 1 - mart - pearl}, Decarb: unit.Band{Value: 0.04, Low: 0.02, High: 0.07},
			})
		}
		return all
	}
	h := &sim.History{
		Format: sim.HistoryFormat, Engine: sim.Engine{Name: "heatwright", Version: "0"}, Mesh: sim.Mesh{Mode: "section", Cells: 112},
		Zones: zones(60.6, 0.86, 0, 25),
		Steps: []sim.Step{
			{Name: "heat", Verb: "heat", Role: sim.Heating, Start: 0, Reached: 110, End: 230, Seconds: unit.Exactly(230), Zones: zones(20, 0, 0, 812), Where: sim.Where{Name: "pipe"}, Peak: sim.Peak{Zone: "edge", Temperature: 815, Time: 230}},
			{Name: "carry", Verb: "carry", Role: sim.Carrying, JobStep: 1, Start: 230, End: 232, Seconds: unit.Exactly(2), Zones: zones(20, 0, 0, 770)},
			{Name: "quench", Verb: "quench", Role: sim.Quenching, JobStep: 2, Start: 232, End: 300, Seconds: unit.Exactly(68), Zones: zones(64.5, 0.86, 0.01, 48), Where: sim.Where{Name: "oil 1"}},
			{Name: "temper", Verb: "temper", Role: sim.Tempering, JobStep: 3, Turn: 1, Turns: 2, Start: 300, End: 7800, Seconds: unit.Exactly(7500), Zones: zones(60.6, 0.86, 0.01, 205), Where: sim.Where{Name: "kiln"}},
		},
		Signs: []sim.Sign{
			{Name: sim.MagnetLetsGo, Zone: "spine", Step: 0, Time: unit.PlusMinus(108, 12), Since: unit.PlusMinus(108, 12), Temperature: unit.Exactly(752)},
			{Name: sim.CarbonInSolution, Zone: "edge", Step: 0, Time: unit.Exactly(130), Since: unit.Exactly(130)},
			{Name: sim.LatestForOil, Zone: "edge", Step: 1, Time: unit.PlusMinus(237, 1), Since: unit.PlusMinus(6.2, 0.9)},
			{Name: sim.WindowOpens, Zone: "piece", Step: 2, Time: unit.Exactly(240), Since: unit.Exactly(8)},
			{Name: sim.WindowCloses, Zone: "piece", Step: 2, Time: unit.Exactly(262), Since: unit.Exactly(30)},
			{Name: sim.HandWarm, Zone: "piece", Step: 2, Time: unit.PlusMinus(296, 8), Since: unit.PlusMinus(64, 8)},
			{Name: sim.AtHeat, Zone: "piece", Step: 3, Time: unit.Exactly(620), Since: unit.Exactly(320)},
		},
		Verdict: sim.Verdict{Code: sim.HardensThrough, Likelihood: 0.91, Zone: "heel", Medium: "oil 1", Aim: []sim.AimMet{{Zone: "edge", Likelihood: 0.74}}},
		Notes:   []cite.Note{{Code: "sim.condition-assumed", Args: []cite.Quantity{cite.Txt("condition", "normalized")}, Source: "common-practice"}},
		Cautions: []cite.Note{
			{Code: "safety.oil-flare", Where: "quench", Args: []cite.Quantity{cite.Num("temperature", 1043, "K")}, Source: "common-practice"},
			{Code: "safety.hard-steel-shatters", Where: "quench", Args: []cite.Quantity{cite.Num("hardness", 850, "HV"), cite.Txt("zone", "edge")}, Source: "common-practice"},
		},
	}
	return job, h
}

// The kept sheet is read in review like prose.
func TestKeptSheet(t *testing.T) {
	job, h := handMade()
	for file, style := range map[string]words.Style{"knife.metric-us.txt": styles[0], "knife.imperial-gb.txt": styles[3]} {
		var b bytes.Buffer
		if err := Compose(job, h, style).Terminal(&b, true); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join("testdata", file)
		if *update {
			if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil { //nolint:gosec // a kept page
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(kept), b.String()); d != "" {
			t.Errorf("%s; if the change is meant: go test ./internal/jobsheet -run KeptSheet -update\n%s", name, d)
		}
	}
}

// Same sheet, same bytes; fonts in the file; degree, diameter and half sign can be drawn.
func TestPDFHoldsItsFonts(t *testing.T) {
	job, h := handMade()
	job.Name = "½ in Ø knife"
	s := Compose(job, h, styles[1])
	var a, b bytes.Buffer
	if err := s.PDF(&a); err != nil {
		t.Fatal(err)
	}
	if err := s.PDF(&b); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two prints of one sheet differ")
	}
	if !bytes.Contains(a.Bytes(), []byte("FontFile2")) {
		t.Error("no font is embedded")
	}
	text := need(t, "pdftotext", a.Bytes(), "pdf", "-layout", "-", "-")
	for _, want := range []string{"½ in Ø knife", "400 °F", "HARDEN", "IF IT", "59–62"} {
		if !strings.Contains(text, want) {
			t.Errorf("the PDF does not say %q:\n%s", want, text)
		}
	}
}

// The page needs nothing from outside, escapes what was typed, and its front
// prints on one side in a browser.
func TestPageForPrint(t *testing.T) {
	job, h := handMade()
	job.Name = `knife <b>"one"</b>`
	s := Compose(job, h, styles[0])
	var b bytes.Buffer
	if err := s.HTML(&b); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for _, outside := range []string{"http:", "https:", "src=", "url(", "<b>\"one\"", "&lt;ul", "&lt;ol"} {
		if strings.Contains(text, outside) {
			t.Errorf("the page holds %q", outside)
		}
	}
	for _, name := range []string{"knife.toml", "1095_blade.toml"} { // the two longest
		job, h := worked(t, name)
		s := Compose(job, h, styles[1])
		s.Back = nil
		b.Reset()
		if err := s.HTML(&b); err != nil {
			t.Fatal(err)
		}
		front := strings.Replace(b.String(), `<aside class="back"`, `<aside hidden class="back"`, 1)
		if n := pages(t, front); n != 1 {
			t.Errorf("%s: the front takes %d pages in the browser", name, n)
		}
	}
}

// pages prints a page in a browser and counts the sides.
func pages(t *testing.T, html string) int {
	t.Helper()
	tool(t, "chromium")
	folder := t.TempDir()
	in, out := filepath.Join(folder, "a.html"), filepath.Join(folder, "a.pdf")
	if err := os.WriteFile(in, []byte(html), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+folder, "--no-pdf-header-footer", "--print-to-pdf="+out, in)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	pdf, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	return bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type /Page "))
}

// tool skips the test where a program of the system is missing; with
// REQUIRE=all that is a failure.
func tool(t *testing.T, name string) {
	t.Helper()
	if _, err := exec.LookPath(name); err == nil {
		return
	}
	if os.Getenv("REQUIRE") == "all" {
		t.Fatalf("%s is not installed", name)
	}
	t.Skipf("skipped: %s is not installed; scripts/needs says how to get it", name)
}

func need(t *testing.T, name string, input []byte, ext string, args ...string) string {
	t.Helper()
	tool(t, name)
	file := filepath.Join(t.TempDir(), "in."+ext)
	if err := os.WriteFile(file, input, 0o600); err != nil {
		t.Fatal(err)
	}
	args = slices.Clone(args)
	args[len(args)-2] = file
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
