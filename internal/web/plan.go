package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// planView is the plan: the verdict, the drawing, the box, and the blanks
// behind which everything can be changed.
type planView struct {
	page
	Job      string // packed
	Name     field
	Steps    []stepView
	Piece    []field
	Form     string
	Forms    []choice
	Stations []group // of a blade
	Tang     []field // of a blade
	Metals   []group
	Grades   []choice
	Aim      []field
	Shop     []gearView
	Verbs    []choice
	Answer   answerView
	zone     string
	zones    []string
	Beside   string // packed: the plan that this one is compared with
	Against  string // where both are shown
}

// Zones are the zones of the piece, for regions of steel.
func (v planView) Zones() []string { return v.zones }

// IsBlade reports whether the piece has sections and a tang.
func (v planView) IsBlade() bool { return v.Form == string(route.Blade) }

// FirstZone is the zone that does the work.
func (v planView) FirstZone() string { return v.zone }

// Owned is what can be added to the shop.
func (v planView) Owned() []string { return owned }

// Uses are the uses that have a usual hardness.
func (v planView) Uses() []plan.Use { return plan.Uses() }

// field is one blank with what is typed in it.
type field struct {
	ID, Name, Label, Text string
	Choices               []choice
	Nudge                 string // one step up or down; empty: no nudging
	Reload                bool   // other fields follow this one
	List                  string // id of a list of what is usually said
	Empty                 string // what it shows while nothing is typed
	Problems              []problem
}

// stepView is a step as a sentence with blanks.
type stepView struct {
	N        int
	Parts    []part
	Problems []problem
	First    bool
	Last     bool
	ByEye    []glowGroup // heats by their color, where the step has one
}

// part is words or a blank.
type part struct {
	Words string
	Blank *field
}

// gearView is a piece of equipment as a sentence.
type gearView struct {
	Parts    []part
	Problems []problem
}

// plan shows a job for changing. Fields in the address are laid over the job,
// then a button's wish is done; what comes of it has an address of its own, so
// that going back undoes it.
func (b *bench) plan(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	q := r.URL.Query()
	job, _, err := unpack(q.Get("j"))
	if err != nil {
		b.fail(w, r, err)
		return
	}
	if form := route.Form(q.Get("piece, form")); form != "" && form != job.Piece.Form && slices.Contains(route.Forms(), form) {
		reform(&job, form, who.Units)
		http.Redirect(w, r, besideOf(address("/plan", job), q.Get("beside")), http.StatusSeeOther)
		return
	}
	was := intoForms(job)
	for place, texts := range q {
		if place != "j" && place != "do" && place != "add" && place != "own" && place != "beside" && place != "pick" && len(texts) > 0 {
			set(&job, place, texts[0])
		}
	}
	reformInto(&job, was, who.Units)
	beside := q.Get("beside")
	if place, text, ok := strings.Cut(q.Get("pick"), "="); ok && set(&job, place, text) {
		http.Redirect(w, r, besideOf(address("/plan", job), beside), http.StatusSeeOther)
		return
	}
	if do := q.Get("do"); do != "" {
		if do == "add" {
			do = "add " + q.Get("add")
		}
		if do == "own" {
			do = "own " + q.Get("own")
		}
		if n, ok := strings.CutPrefix(do, "glow "); ok {
			set(&job, "step "+n+", at", q.Get(do))
		} else {
			apply(&job, do)
		}
		http.Redirect(w, r, besideOf(address("/plan", job), beside), http.StatusSeeOther)
		return
	}
	parsed, problems := route.Parse(route.Write(job), nil)
	v := b.planView(job, problems, who, r)
	compare := button{Text: who.w("try-another-way"), Href: besideOf(address("/plan", parsed), pack(parsed)), Plain: true}
	if other, wrong, err := unpack(beside); beside != "" && err == nil && len(wrong) == 0 {
		v.Beside, v.Against = beside, compareOf(other, parsed)
		compare = button{Text: who.w("compare-both"), Href: v.Against, Plain: true}
	}
	if len(problems) == 0 {
		a, err := b.asked(w, r, parsed)
		if r.Context().Err() != nil {
			return
		}
		if err != nil {
			v.Answer.Problems = problemsOf(err)
		} else {
			v.Answer = b.answer(a, who.sayer(a, ""))
			v.Answer.Buttons = []button{
				{Text: who.w("print"), Href: address("/sheet", parsed), Plain: false},
				{Text: who.w("show-me-inside"), Href: address("/inside", parsed), Plain: true},
				compare,
			}
			v.Answer.Papers = []button{
				{Text: who.w("pocket-card"), Href: address("/card", parsed), Plain: true},
				{Text: who.w("wall-chart"), Href: address("/wall", parsed), Plain: true},
				{Text: who.w("color-chart"), Href: address("/colors", parsed), Plain: true},
				{Text: who.w("save"), Href: address("/job.toml", parsed), Plain: true},
				{Text: who.w("copy-link"), Href: address("/plan", parsed), Plain: true, Copy: who.w("copied")},
			}
		}
	} else {
		v.Answer.Problems, v.Answer.Wrong = told(problems, who), who.w("put-right-first")
	}
	b.reply(w, r, "plan", v.Answer, v)
}

// besideOf adds the plan that is compared with to an address.
func besideOf(there, beside string) string {
	if beside == "" {
		return there
	}
	return there + "&beside=" + beside
}

func compareOf(a, b route.Job) string { return "/compare?a=" + pack(a) + "&b=" + pack(b) }

// told makes sentences of the problems of a job, each with its field.
func told(problems route.Problems, who reader) []problem {
	var all []problem
	for _, p := range problems {
		t := who.Of(p.Code, p.Args...)
		x := problem{Field: p.Key, What: sentenceOf(p.Key + ": " + t.Say), Remedy: sentenceOf(t.Remedy)}
		if t.Limits != "" {
			x.Limits = sentenceOf(who.w("taken") + " " + t.Limits)
		}
		if p.Key == "steel, grade" {
			for _, a := range p.Args {
				if a.Name == "near" && a.Text != "" {
					x.Choices = strings.Split(a.Text, ", ")
				}
			}
		}
		all = append(all, x)
	}
	return all
}

func (b *bench) planView(job route.Job, problems route.Problems, who reader, r *http.Request) planView {
	v := planView{page: page{who, string(who.Language), who.Theme, job.Name, r.URL.RequestURI(), nil}, Job: pack(job), Form: string(job.Piece.Form)}
	of := map[string][]problem{}
	for _, p := range told(problems, who) {
		of[p.Field] = append(of[p.Field], p)
	}
	put := func(place, label, text, nudge string, choices ...string) field {
		f := field{ID: id(place), Name: place, Label: label, Text: text, Nudge: nudge, Problems: of[place]}
		for _, c := range choices {
			f.Choices = append(f.Choices, choice{c, who.choice(c), c == text})
		}
		return f
	}
	v.Name = put("name", who.w("name"), job.Name, "")
	small, large := "0.1", "5"
	if who.Units == unit.Imperial {
		small, large = "0.01", "0.25"
	}
	p := job.Piece
	var forms []string
	for _, f := range route.Forms() {
		forms = append(forms, string(f))
	}
	v.Piece = []field{put("piece, form", who.w("form"), string(p.Form), "", forms...)}
	v.Piece[0].Reload = true
	for _, m := range route.Measures(p) {
		nudge := small
		if m.Value.Value > unit.MM(12) || !m.Value.Is() && m.Most > unit.MM(50) {
			nudge = large
		}
		if len(m.One) > 0 {
			nudge = ""
		}
		v.Piece = append(v.Piece, put("piece, "+m.Key, who.measure(m), m.Text, nudge, m.One...))
	}
	if p.Form == route.Blade {
		v.Stations, v.Tang = who.stations(p, put, small, large), who.tang(p.Tang, put, small, large)
	}
	v.Metals = who.metals(job, put)
	for _, g := range steel.Grades() {
		v.Grades = append(v.Grades, choice{g.Name, g.Name + " · " + g.Use, false})
	}
	v.Aim = []field{put("aim, use", who.w("aim-use"), job.Aim.Use, "")}
	v.Aim[0].List = "uses"
	zones := job.Zones()
	v.zone, v.zones = zones[0], zones
	for _, z := range zones {
		text := ""
		for _, w := range job.Aim.Hardness {
			if w.Zone == z {
				text = w.Band.Text
			}
		}
		v.Aim = append(v.Aim, put("aim, hardness, "+z, who.w("aim-at")+" "+z, text, ""))
	}
	for i, s := range job.Steps {
		place := fmt.Sprintf("step %d", i+1)
		v.Steps = append(v.Steps, stepView{N: i + 1, ByEye: who.byEye(s, i+1), Parts: who.stepParts(job, s, place, put), Problems: of[place], First: i == 0, Last: i == len(job.Steps)-1})
	}
	v.Shop = who.shopParts(job.Shop, put)
	for _, verb := range []route.Verb{route.Forge, route.Normalize, route.Anneal, route.Relieve, route.Grind, route.Drill, route.Bend, route.Heat, route.Carry, route.Quench, route.Cool, route.Bury, route.Temper} {
		v.Verbs = append(v.Verbs, choice{string(verb), string(verb), verb == route.Temper})
	}
	return v
}

// measure labels a measure of the piece: its own words, else what the job file says of it.
func (who reader) measure(m route.Measure) string {
	if t := who.Of("bench.piece-" + m.Key).Say; t != "bench.piece-"+m.Key {
		return t
	}
	if m.Key == "length" {
		return who.w("length")
	}
	return sentenceOf(m.Doc)
}

// id makes a place into an id that HTML takes.
func id(place string) string {
	return strings.NewReplacer(", ", "-", " ", "-", "_", "-").Replace(place)
}
