package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
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
	Wrong        string // that there is something to be put right
	Verdict      []said
	VerdictSmall []said
	HardenTitle  string
	Harden       []spoken
	Temper       []spoken
	TemperTitle  string
	Failed       []spoken
	FailedTitle  string
	Missed       []said // why the aim cannot be met here
	Drawing      template.HTML
	Caption      string
	Buttons      []button
	Papers       []button // what else comes of it
	Speed        string   // how thoroughly it was worked
	by           *sayer
}

// W returns words of the bench for a template.
func (v answerView) W(key string) string { return v.by.who.w(key) }

// Sources are who says the numbers above.
func (v answerView) Sources() []claim { return v.by.list() }

// button is one thing to do next.
type button struct {
	Text, Href string
	Plain      bool
	Copy       string // what it says once its address is on the clipboard; empty: it is a link
}

func (b *bench) first(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	f := readSentence(r.URL.Query(), who.Units)
	v := firstView{sentence: f}
	v.page = page{who, string(who.Language), who.Theme, who.w("before-the-fire"), r.URL.RequestURI(), nil}
	job, notes, err := b.smithy.plan(r.Context(), f, who)
	var a *worked
	if err == nil {
		a, err = b.asked(w, r, job)
	}
	if r.Context().Err() != nil {
		return
	}
	if err == nil {
		v.Answer = b.answer(a, who.sayer(a, ""))
		v.Answer.Missed = v.Answer.by.missed(notes)
		v.Answer.Buttons = []button{
			{Text: who.w("print"), Href: address("/sheet", job), Plain: false},
			{Text: who.w("show-the-plan"), Href: address("/plan", job), Plain: true},
			{Text: who.w("show-me-inside"), Href: address("/inside", job), Plain: true},
		}
	}
	v.Answer.Problems = problemsOf(err)
	b.reply(w, r, "first", v.Answer, v)
}

// Speeds in which a page asks for an answer, by the header or the field that
// says so: at each key a glance, after a pause the odds, then the whole piece.
var speeds = map[string]depth{"": glanced, "glance": glanced, "section": section, "whole": whole}

// asked works a job as thoroughly as the request asks for. Whoever waits for
// more than a glance hears how far it is: lines of <!--0.42--> before the answer.
func (b *bench) asked(w http.ResponseWriter, r *http.Request, job route.Job) (*worked, error) {
	want, told := speeds[r.Header.Get("Bench-Speed")], -1.0
	if r.Header.Get("Bench-Part") != "answer" {
		want = speeds[r.URL.Query().Get("speed")]
	}
	if want == glanced || r.Header.Get("Bench-Part") != "answer" {
		return b.smithy.work(r.Context(), job, want, nil)
	}
	out := http.NewResponseController(w)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	return b.smithy.work(r.Context(), job, want, func(share float64) {
		if share < told+0.02 {
			return
		}
		told = share
		// An error here means that the browser has gone; its context ends the work.
		_, _ = fmt.Fprintf(w, "<!--%.2f-->\n", share)
		_ = out.Flush()
	})
}

// reply sends the answer alone to a page that asked for it, else the whole page.
func (b *bench) reply(w http.ResponseWriter, r *http.Request, name string, answer answerView, page any) {
	if r.Header.Get("Bench-Part") == "answer" {
		b.render(w, name, "answer", http.StatusOK, answer)
		return
	}
	b.render(w, name, "layout", http.StatusOK, page)
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
	return value
}

// answer reads what a page shows off a worked job.
func (b *bench) answer(a *worked, by *sayer) answerView {
	who := by.who
	s := a.sheet(who)
	v := answerView{Verdict: by.say(s.VerdictParts), VerdictSmall: by.say(s.DetailParts), Speed: a.depth.String(), by: by}
	for _, block := range s.Front {
		switch {
		case block.Kind == jobsheet.Boxed:
			v.HardenTitle, v.Harden = block.Title, by.lines(block.Lines)
		case block.Part == "temper":
			v.TemperTitle, v.Temper = block.Title, by.lines(block.Lines)
		case block.Part == "failed":
			v.FailedTitle, v.Failed = block.Title, by.lines(block.Lines)
		}
	}
	if solid, err := a.job.Body(len(a.job.Steps)); err == nil {
		marks, label := hardnessMarks(a, by)
		v.Drawing = template.HTML(drawing.Piece(solid, marks, who.caliper(by), label)) //nolint:gosec // our own drawing, its texts escaped
		v.Caption = who.w("drawing-caption") + " " + who.w("drawing-section")
		if drawing.FromAbove(solid) {
			v.Caption = who.w("drawing-caption") + " " + who.w("drawing-above")
		}
		if slices.ContainsFunc(marks, func(m drawing.Mark) bool { return m.Hidden }) {
			v.Caption += " " + who.w("drawing-hatched")
		}
	}
	return v
}

// missing are the notes of a plan that the first screen says: why no temper brings the
// piece to its aim, and that the fire will not do.
var missing = map[string]bool{"plan.harder-than-wished": true, "plan.softer-than-wished": true, "plan.needs-kiln": true}

// missed says what stands in the way of the aim, and what to do.
func (s *sayer) missed(notes []cite.Note) []said {
	var all []said
	for _, n := range notes {
		if !missing[n.Code] {
			continue
		}
		args := []cite.Quantity{cite.Txt("where", n.Where)}
		for _, q := range n.Args {
			if q.Unit == "HV" {
				q = cite.Num(q.Name, rockwell(q.Value), "HRC")
			}
			args = append(args, q)
		}
		t := s.who.Of(n.Code, args...)
		if len(all) > 0 {
			all = append(all, said{Text: " "})
		}
		all = append(append(all, s.say(s.who.Parts(tied(t.Say), n.Code, args...))...), said{Text: " " + sentenceOf(t.Remedy)})
	}
	return all
}
