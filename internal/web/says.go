package web

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/forging"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// claim is what a model says of itself: how far off it may be, for what, held
// against what, and from which source; or, where no model says a number, what
// else it is (Why).
type claim struct{ ID, At, What, Off, Covers, HeldTo, Source, Why string }

// claims lists what every model behind the numbers says of itself.
func (who reader) claims() []claim {
	var all []claim
	for _, list := range [][]cite.Accuracy{micro.Accuracy(), medium.Accuracy(), skin.Accuracy(), shop.Accuracy(), steel.Accuracy(), calphad.Accuracy(), color.Accuracy(), forging.Accuracy()} {
		for _, a := range list {
			c := claim{ID: a.Model, What: sentenceOf(a.Quantity), Covers: a.Covers, HeldTo: a.HeldTo}
			switch {
			case a.Half == 0:
				c.Off = who.w("off-not-said")
			case a.Factor:
				c.Off = fmt.Sprintf("×/÷ %.3g", a.Half)
			case a.Unit == "K":
				c.Off = "± " + who.Quantity(cite.Num("", a.Half, "K-step"), "")
			default:
				c.Off = strings.TrimSpace(fmt.Sprintf("± %.3g %s", a.Half, a.Unit))
			}
			if s, ok := cite.Find(a.Source); ok {
				c.Source = s.String()
			}
			all = append(all, c)
		}
	}
	return all
}

// origins are the kinds of number that no model says.
var origins = []string{"plan", "trade", "odds", "march"}

// claim finds who says a number: a model, a kind of origin, or a source of the bibliography.
func (who reader) claim(id string) (claim, bool) {
	if slices.Contains(origins, id) {
		t := who.Of("bench.says-" + id)
		return claim{ID: id, What: sentenceOf(t.Say), Why: t.Why}, true
	}
	for _, c := range who.claims() {
		if c.ID == id {
			return c, true
		}
	}
	if s, ok := cite.Find(cite.Key(id)); ok {
		return claim{ID: id, What: sentenceOf(s.Title), Source: s.String()}, true
	}
	return claim{}, false
}

// said is a stretch of a sentence: words, or a number with the way to who says it.
type said struct{ Text, Href string }

// Long reports whether a number may go on in the next line.
func (s said) Long() bool { return len(s.Text) > 24 }

// sayer gives numbers their ways to the list of sources of one page, or of one
// side of a page, and keeps which are asked for.
type sayer struct {
	who    reader
	prefix string            // of the ids in the list
	alias  map[string]string // what stands for the fire, the bath and the hardness of this piece
	used   []string
}

// sayer returns the sayer of a worked job.
func (who reader) sayer(a *worked, prefix string) *sayer {
	s := &sayer{who: who, prefix: prefix + "says-", alias: map[string]string{"fire": "medium.fire", "bath": "medium.oil", "hard": "micro.soft"}}
	for i := range a.history.Steps {
		switch st := &a.history.Steps[i]; st.Role {
		case sim.Heating:
			s.alias["fire"] = "medium.fire"
			if _, ok := a.job.Shop.Oven(st.Where.Name); ok {
				s.alias["fire"] = "medium.oven"
			}
		case sim.Quenching:
			s.alias["bath"], s.alias["hard"] = bathModel(st.Where.Kind), "micro.hardness"
		case sim.Tempering:
			s.alias["hard"] = "micro.tempering"
		}
	}
	return s
}

// href is the way to who says a number, "" where nobody is known to.
func (s *sayer) href(from string) string {
	if to, ok := s.alias[from]; ok {
		from = to
	}
	if _, ok := s.who.claim(from); !ok {
		return ""
	}
	if !slices.Contains(s.used, from) {
		s.used = append(s.used, from)
	}
	return "#" + s.prefix + from
}

// say gives the numbers of a sentence that was cut their ways.
func (s *sayer) say(parts []words.Part) []said {
	var all []said
	for _, p := range parts {
		x := said{Text: p.Text}
		if p.From != "" {
			x.Href = s.href(p.From)
		}
		all = append(all, x)
	}
	return all
}

// number is a text that is a number as a whole.
func (s *sayer) number(text, from string) []said { return []said{{text, s.href(from)}} }

// of says a code of the bench, cut at its numbers; shown is what is done to the
// sentence first, letter by letter.
func (s *sayer) of(code string, args ...cite.Quantity) []said {
	return s.say(s.who.Parts(tied(s.who.Of(code, args...).Say), code, args...))
}

// lines gives the lines of a sheet their ways.
func (s *sayer) lines(lines []jobsheet.Line) []spoken {
	var all []spoken
	for _, l := range lines {
		whole := ""
		for _, p := range l.Parts {
			whole += p.Text
		}
		if whole != l.Text { // a line that was put together of several: what it says is in the plan
			l.Parts = words.Numbers(l.Text, "plan")
		}
		all = append(all, spoken{s.say(l.Parts), s.say(l.Warning)})
	}
	return all
}

// spoken is a line with the caution behind it.
type spoken struct{ Said, Warning []said }

// list is who says the numbers that were given a way, in the order they came in.
func (s *sayer) list() []claim {
	var all []claim
	for _, id := range s.used {
		c, _ := s.who.claim(id)
		c.At = s.prefix + id
		all = append(all, c)
	}
	return all
}

// rest is every model that no number led to.
func (s *sayer) rest() []claim {
	var all []claim
	for _, c := range s.who.claims() {
		if !slices.Contains(s.used, c.ID) {
			c.At = s.prefix + c.ID
			all = append(all, c)
		}
	}
	return all
}

// plain is a text without numbers that anybody says.
func plain(text string) []said { return []said{{Text: text}} }

// links names the claims behind a picture or a part of the story.
func (s *sayer) links(ids []string) []whoLink {
	var all []whoLink
	for _, id := range ids {
		href := s.href(id)
		if c, ok := s.who.claim(s.known(id)); ok && href != "" {
			all = append(all, whoLink{template.URL(href), strings.TrimSpace(strings.TrimSuffix(c.What, ".") + " " + c.Off)}) //nolint:gosec // a fragment of our own
		}
	}
	return all
}

func (s *sayer) known(id string) string {
	if to, ok := s.alias[id]; ok {
		return to
	}
	return id
}

// whoLink leads to the claims behind a line.
type whoLink struct {
	Href template.URL
	Text string
}
