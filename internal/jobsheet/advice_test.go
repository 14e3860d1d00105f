package jobsheet

import (
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/sim"
)

// What stands beside the verdict is on the front in few words and on the back in full.
func TestAdviceIsOnTheFront(t *testing.T) {
	job, h := worked(t, "knife.toml")
	h.Verdict = sim.Verdict{Code: sim.HardensThrough, Likelihood: 0.9, Zone: "edge", Medium: "water", Advice: []cite.Note{
		{Code: "study.coupon-first", Source: "common-practice"},
		{Code: "study.may-crack-in-water", Args: []cite.Quantity{cite.Txt("bath", "water")}, Source: "kunitake-1971"},
	}}
	for _, style := range styles {
		s := Compose(job, h, style)
		for _, w := range []string{"Break a coupon first.", "It may well crack in water: take oil if that hardens it."} {
			if !strings.Contains(s.Detail, w) {
				t.Errorf("%v: %q lacks %q", style, s.Detail, w)
			}
		}
		back := ""
		for _, b := range s.Back {
			for _, l := range b.Lines {
				back += l.Text + "\n"
			}
		}
		if !strings.Contains(back, "break it under a rag") || !strings.Contains(back, "a count of signs, no likelihood") {
			t.Errorf("%v: the back does not say it in full", style)
		}
		if s.CountWords() > MaxWords || s.CountLines() > MaxLines {
			t.Errorf("%v: %d words, %d lines", style, s.CountWords(), s.CountLines())
		}
	}
}

// Where the fire or the walk was at fault the bath is not blamed, on either side.
func TestBathIsNotBlamedForTheFire(t *testing.T) {
	job, h := worked(t, "knife.toml")
	for code, blamed := range map[string]bool{"study.remedy-hotter": false, "study.remedy-deeper-hardening-steel": true} {
		h.Verdict = sim.Verdict{Code: sim.DoesNotHarden, Likelihood: 0.9, Zone: "edge", Medium: "oil",
			Remedies: []cite.Note{{Code: code, Args: []cite.Quantity{cite.Num("temperature", 1083, "K")}, Source: "common-practice"}}}
		said := false
		s := Compose(job, h, styles[0])
		for _, b := range s.Back {
			for _, l := range b.Lines {
				said = said || strings.Contains(l.Text, "too hot for too long in this bath")
			}
		}
		if said != blamed {
			t.Errorf("%s: the bath is blamed: %v", code, said)
		}
	}
}

// Nobody is sent hotter whose grain is coarse already.
func TestCoarseGrainGoesNoHotter(t *testing.T) {
	job, h := worked(t, "knife.toml")
	for _, coarse := range []bool{false, true} {
		h.Verdict = sim.Verdict{Code: sim.HardensThrough, Likelihood: 0.9, Zone: "edge", Medium: "oil"}
		if coarse {
			h.Verdict.Advice = []cite.Note{{Code: "study.coarse-grain", Where: "edge", Args: []cite.Quantity{cite.Num("grain", 180e-6, "m")}, Source: "common-practice"}}
		}
		for _, b := range Compose(job, h, styles[0]).Front {
			if b.Part == "failed" && strings.Contains(b.Lines[0].Text, "from a lower heat") != coarse {
				t.Errorf("coarse %v: %q", coarse, b.Lines[0].Text)
			}
		}
	}
}
