package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// seenView is the page on which somebody tells what was seen of a piece, and reads
// what it comes to.
type seenView struct {
	page
	Chart  string // the way to the color chart
	Asked  []blank
	Typed  []typed
	Wrong  []string
	Found  []finding
	Notes  [][]said
	Nobody string // what stands where nothing was told
	by     *sayer
}

// Sources are who says the numbers above.
func (v seenView) Sources() []claim { return v.by.list() }

// typed is a reading that is typed in.
type typed struct{ Name, Label, Text, Like string }

// finding is one of the bands, with its warning.
type finding struct {
	What, By string
	Against  []said // where two of them hardly go together
	Band     []said
}

// sayers are who says a finding, by what it is of.
var sayers = map[string]string{"temperature": "color.heat", "hottest while tempered": "skin.film", "hardness": "trade", "soft skin": "trade"}

// seen answers what eye, magnet, file and thermometer tell together. Every blank may
// stay at "don't know". It asks nothing of the browser but a form.
func (b *bench) seen(w http.ResponseWriter, r *http.Request) {
	who, q := readerOf(r), r.URL.Query()
	a, err := chartAsked(r)
	if err != nil {
		b.fail(w, r, err)
		return
	}
	s := observe.Setting{Steel: a.charts.Comp, Glasses: &a.glasses, Seconds: a.seconds, Greasy: q.Get("greasy") != ""}
	if l, err := color.ParseLight(q.Get("light")); err == nil {
		s.Light = &l
	}
	seen, err := jobsheet.SeenOf(who.Style, s)
	if err != nil {
		b.fail(w, r, err)
		return
	}
	v := seenView{
		page:  page{who, string(who.Language), who.Theme, who.w("seen"), r.URL.RequestURI(), nil},
		Asked: who.seenBlanks(a, q, s.Light == nil), by: &sayer{who: who, prefix: "says-"}, Chart: "/colors?" + a.query(""),
	}
	for _, thing := range observe.Things {
		if observe.Numbers(thing) && thing != "slid" && thing != "cut" {
			like := "60 HRC"
			if thing == "thermometer" {
				like = unit.Celsius(812).Text(who.Units)
			}
			v.Typed = append(v.Typed, typed{thing, who.w("seen-" + thing), q.Get(thing), like})
		}
		if err := seen.Tell(thing, q.Get(thing)); err != nil {
			v.Wrong = append(v.Wrong, sentenceOf(asSaid(words.Plain(err))))
		}
	}
	for i, f := range seen.Found() {
		from := sayers[seen.Account.Findings()[i].About]
		v.Found = append(v.Found, finding{f.What, asSaid(f.By), v.by.say(words.Numbers(asSaid(f.Against), from)), v.by.say(words.Numbers(f.Range, from))})
	}
	notes := seen.Notes()
	if len(v.Found) == 0 {
		v.Nobody, notes = who.w("seen-nothing"), nil
	}
	for _, n := range notes {
		v.Notes = append(v.Notes, v.by.say(words.Numbers(n, "trade")))
	}
	b.render(w, "seen", "layout", http.StatusOK, v)
}

// asSaid says "magnet: holds" where a line of the command has magnet=holds.
func asSaid(text string) string { return strings.ReplaceAll(text, "=", ": ") }

// seenBlanks are what can be told by choosing.
func (who reader) seenBlanks(a asked, q url.Values, dark bool) []blank {
	spelled := func(word string) string { return who.Of("seen.word", cite.Txt("w", word)).Say }
	unknown := choice{"", who.w("seen-unknown"), false}
	var all []blank
	for _, thing := range observe.Things {
		if observe.Numbers(thing) {
			continue
		}
		x := blank{Name: thing, Label: who.w("seen-" + thing), Choices: []choice{unknown}}
		for _, word := range observe.Words(thing) {
			x.Choices = append(x.Choices, choice{word, spelled(word), strings.EqualFold(word, q.Get(thing))})
		}
		all = append(all, x)
	}
	for _, x := range a.blanks(who) {
		if x.Name == "light" { // here nobody need know it
			for i := range x.Choices {
				x.Choices[i].On = x.Choices[i].On && !dark
			}
			x.Choices = slices.Insert(x.Choices, 0, choice{"", who.w("seen-unknown"), dark})
		}
		all = append(all, x)
	}
	return all
}

// seenOf is the way from a color chart to what was seen in its light.
func seenOf(light color.Light, metal string) string {
	q := url.Values{"light": {light.Name}}
	if _, err := steel.Find(metal); err == nil {
		q.Set("steel", metal)
	}
	return "/seen?" + q.Encode()
}
