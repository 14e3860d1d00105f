package web

import (
	"context"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// folk is every rule of the trade that the bench answers, with a job on which it
// bears and one on which it has to be silent: a name of an example, or a sentence
// of the first screen.
var folk = []struct{ rule, bears, silent string }{
	{"The magnet lets go, so it is ready", "knife", ""},
	{"Critical is one number", "knife", ""},
	{"Color is temperature", "knife", ""},
	{"The temper color is the temperature", "knife", "o1_soft"},
	{"You only get so many heats out of a bar", "knife", "1095_flat"},
	{"Buried overnight is soft", "o1_soft", "knife"},
	{"Where the temper colors end the glow begins", "knife", ""},
	{"A second lost is fatal", "knife", "o1_soft"},
	{"Two hours, twice", "knife", "o1_soft"},
	{"Warm oil is slower", "knife", "o1_soft"},
	{"The oil must be at exactly so many degrees", "knife", "o1_soft"},
	{"The file skates, so it is done", "knife", "o1_soft"},
	{"When table salt melts it is ready", "knife", ""},
	{"A rich flame keeps the carbon", "knife", "make=belt+knife&fire=kiln"},
	{"Charcoal, or used oil, puts carbon in", "knife", "make=belt+knife&fire=kiln&bath=water&steel=W1"},
	{"Pack the edge with light blows, cold", "knife", "o1_round"},
	{"Three times through the fire refines the grain", "knife", "1095_flat"},
	{"A home freezer finishes it", "o1_round", "o1_soft"},
	{"A secret brine hardens any steel", "make=scraper+or+pry+tool&steel=1045&bath=brine", "o1_soft"},
	{"Springs are 5160", "make=flat+spring&steel=unknown", "knife"},
	{"Soak an hour for every inch", "o1_round", ""},
	{"Not on a falling heat", "knife", "o1_soft"},
	{"Blue back is a spring", "make=flat+spring&steel=1095", "knife"},
	{"Forged is better than ground", "knife", "o1_round"},
	{"Harder is better", "knife", "o1_soft"},
	{"Face north when you quench", "knife", "o1_soft"},
}

// Each rule of the trade is answered where it bears, with a number of that piece,
// and not where it doesn't.
func TestRulesBearOrAreSilent(t *testing.T) {
	s := newSmithy(sim.Engine{Name: "heatwright", Version: "test"})
	who := reader{Style: words.Style{Language: words.American, Units: unit.Metric}, Theme: "paper"}
	examples := exampleJobs(t)
	answered := map[string]map[string]string{}
	on := func(name string) map[string]string {
		if got, ok := answered[name]; ok {
			return got
		}
		job, ok := examples[name]
		if !ok {
			q, err := url.ParseQuery(name)
			if err != nil {
				t.Fatal(err)
			}
			if job, _, err = s.plan(context.Background(), readSentence(q, unit.Metric), who); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		a, err := s.work(context.Background(), job, section, nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got := map[string]string{}
		for _, r := range who.rules(context.Background(), a, color.Dim, who.sayer(a, "")) {
			text := ""
			for _, p := range r.Answer {
				text += p.Text
			}
			got[strings.Trim(r.Said, "“”.")] = text
		}
		answered[name] = got
		return got
	}
	has := func(got map[string]string, rule string) string {
		for said, text := range got {
			if strings.HasPrefix(said, rule) {
				return text
			}
		}
		return ""
	}
	for _, f := range folk {
		text := has(on(f.bears), f.rule)
		if text == "" {
			t.Errorf("%q bears on %s and is not answered; it has %v", f.rule, f.bears, keysOf(on(f.bears)))
			continue
		}
		t.Logf("%s: %s", f.rule, text)
		if !strings.ContainsAny(text, "0123456789") || strings.ContainsAny(text, "{}[]") {
			t.Errorf("%q is answered without a number of the piece: %s", f.rule, text)
		}
		if f.silent != "" && has(on(f.silent), f.rule) != "" {
			t.Errorf("%q does not bear on %s, and is answered: %s", f.rule, f.silent, has(on(f.silent), f.rule))
		}
	}
}

func keysOf(m map[string]string) []string {
	var all []string
	for k := range m {
		all = append(all, k)
	}
	slices.Sort(all)
	return all
}
