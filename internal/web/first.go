package web

import (
	"html/template"
	"net/http"

	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/unit"
)

// firstView is the first screen.
type firstView struct {
	page
	sentence sentence
	Answer   answerView
}

// choice is one thing that a blank can be filled with.
type choice struct {
	Value, Text string
	On          bool
}

// blank is a blank of the sentence with its choices.
type blank struct {
	Name, Label string
	Choices     []choice
	Reload      bool // the other blanks follow this one
}

// answerView is what stands below the sentence and on the plan.
type answerView struct {
	Problems     []problem
	Verdict      string
	VerdictSmall string
	HardenTitle  string
	Harden       []jobsheet.Line
	Temper       []jobsheet.Line
	TemperTitle  string
	Drawing      template.HTML
	Caption      string
	Buttons      []button
	Rough        bool // one section only, so far
}

// button is one thing to do next.
type button struct {
	Text, Href string
	Plain      bool
}

func (b *bench) first(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	f := readSentence(r.URL.Query(), who.Units)
	v := firstView{sentence: f}
	v.page = page{who, string(who.Language), who.Theme, who.w("before-the-fire"), r.URL.RequestURI(), nil}
	job, err := b.smithy.plan(r.Context(), f, who)
	if err == nil {
		var a *worked
		a, err = b.smithy.work(r.Context(), job, r.Header.Get("Bench-Speed") == "whole", nil)
		if err == nil {
			v.Answer = b.answer(a, who)
			v.Answer.Buttons = []button{
				{who.w("print"), address("/sheet", job), false},
				{who.w("show-the-plan"), address("/plan", job), true},
				{who.w("show-me-inside"), address("/inside", job), true},
			}
		}
	}
	if r.Context().Err() != nil {
		return
	}
	v.Answer.Problems = problemsOf(err, who)
	if r.Header.Get("Bench-Part") == "answer" {
		b.render(w, "first", "answer", http.StatusOK, v.Answer)
		return
	}
	b.render(w, "first", "layout", http.StatusOK, v)
}

// Blank returns a blank of the sentence for the page.
func (v firstView) Blank(name string) blank {
	f := v.sentence
	plain := func(values []string, on string) []choice {
		var all []choice
		found := false
		for _, x := range values {
			all = append(all, choice{x, v.who.choice(x), x == on})
			found = found || x == on
		}
		if !found {
			all = append([]choice{{on, on, true}}, all...)
		}
		return all
	}
	bl := blank{Name: name, Label: v.W("blank-" + name)}
	switch name {
	case "make":
		var names []string
		for _, u := range plan.Uses() {
			names = append(names, u.Name)
		}
		bl.Choices, bl.Reload = plain(names, f.make), true
	case "steel":
		bl.Choices = plain(append(steelNames(), unknownSteel), f.steel)
	case "back":
		bl.Choices = plain(backs(v.who.Units), f.back)
	case "edge":
		bl.Choices = plain(edges(v.who.Units), f.edge)
	case "fire":
		bl.Choices = plain(fires, f.fire)
	case "bath":
		bl.Choices = plain(baths, f.bath)
	case "oven":
		bl.Choices = plain(ovens, f.oven)
	}
	return bl
}

// HasEdge reports whether what is made has an edge of its own thickness.
func (v firstView) HasEdge() bool {
	u, _ := plan.FindUse(v.sentence.make)
	return u.Edge > 0
}

// choice returns how a choice is said: "a gas forge and a magnet".
func (who reader) choice(value string) string {
	if t := who.Of("bench.choice-" + dashed(value)).Say; t != "bench.choice-"+dashed(value) {
		return t
	}
	if l, err := unit.ParseLength(value); err == nil {
		return prettyLength(value, l)
	}
	return value
}

// answer reads what a page shows off a worked job.
func (b *bench) answer(a *worked, who reader) answerView {
	s := a.sheet(who)
	v := answerView{Verdict: s.Verdict, VerdictSmall: s.Detail, Rough: !a.whole}
	for _, block := range s.Front {
		switch {
		case block.Kind == jobsheet.Boxed:
			v.HardenTitle, v.Harden = block.Title, block.Lines
		case block.Title == who.Of("jobsheet.title-temper").Say:
			v.TemperTitle, v.Temper = block.Title, block.Lines
		}
	}
	if solid, err := finalShape(a.job).Solid(); err == nil {
		marks, label := hardnessMarks(a, who)
		v.Drawing = template.HTML(drawing.Piece(solid, marks, label)) //nolint:gosec // our own drawing, its texts escaped
		v.Caption = who.w("drawing-caption")
	}
	return v
}
