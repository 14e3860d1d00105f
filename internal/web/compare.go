package web

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/sim"
)

// compareView is two plans side by side.
type compareView struct {
	page
	Sides       []side
	Differences []difference
}

type side struct {
	Title  string
	Answer answerView
	Plan   string
}

// difference is what the plans end differently in.
type difference struct {
	What string
	A, B []said
}

// compare shows the plans a and b side by side, and where they end differently.
func (b *bench) compare(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	v := compareView{page: page{who, string(who.Language), who.Theme, who.w("compare"), r.URL.RequestURI(), nil}}
	var both [2]*worked
	var by [2]*sayer
	for i, name := range []string{"a", "b"} {
		a, ok := b.jobOf(w, r, name)
		if !ok {
			return
		}
		both[i], by[i] = a, who.sayer(a, name+"-")
		v.Sides = append(v.Sides, side{fmt.Sprintf("%s %c: %s", who.w("plan-word"), 'A'+i, a.job.Name), b.answer(a, by[i]), address("/plan", a.job)})
	}
	for i, other := range []int{1, 0} {
		v.Sides[i].Answer.Buttons = []button{
			{Text: who.w("change-this"), Href: besideOf(address("/plan", both[i].job), pack(both[other].job)), Plain: true},
			{Text: who.w("take-this"), Href: address("/plan", both[i].job), Plain: true},
		}
	}
	tell := func(what string, x, y []said) { v.Differences = append(v.Differences, difference{what, x, y}) }
	for _, za := range both[0].history.Zones {
		for _, zb := range both[1].history.Zones {
			if za.Name == zb.Name {
				tell(za.Name, by[0].hrc(&za), by[1].hrc(&zb))
			}
		}
	}
	tell(who.w("bare-verdict"), v.Sides[0].Answer.Verdict, v.Sides[1].Answer.Verdict)
	for _, x := range both[0].history.Verdict.Aim {
		for _, y := range both[1].history.Verdict.Aim {
			if x.Zone == y.Zone {
				tell(who.w("aim-odds")+" "+x.Zone, by[0].number(words.Likelihood(x.Likelihood), "odds"), by[1].number(words.Likelihood(y.Likelihood), "odds"))
			}
		}
	}
	sa, sb := both[0].history.Steps, both[1].history.Steps
	tell(who.w("time-in-all"), by[0].number(who.Seconds(sa[len(sa)-1].End), "march"), by[1].number(who.Seconds(sb[len(sb)-1].End), "march"))
	la, lb := v.stepsOf(both[0], by[0]), v.stepsOf(both[1], by[1])
	for i := range max(len(la), len(lb)) {
		var x, y []said
		if i < len(la) {
			x = la[i]
		}
		if i < len(lb) {
			y = lb[i]
		}
		same := func(p, q said) bool { return p.Text == q.Text }
		if !slices.EqualFunc(x, y, same) {
			tell(fmt.Sprintf("%s %d", who.w("step-word"), i+1), x, y)
		}
	}
	b.render(w, "compare", "layout", http.StatusOK, v)
}

// stepsOf says the steps of a job in words, what stands in the blanks as said by the plan.
func (v compareView) stepsOf(a *worked, by *sayer) [][]said {
	blank := func(place, _, text, _ string, choices ...string) field {
		f := field{Name: place, Text: text}
		for _, c := range choices {
			f.Choices = append(f.Choices, choice{c, c, c == text})
		}
		return f
	}
	var all [][]said
	for i, s := range a.job.Steps {
		var line []said
		for _, p := range v.who.stepParts(a.job, s, fmt.Sprintf("step %d", i+1), blank) {
			switch {
			case p.Blank == nil:
				line = append(line, said{Text: p.Words})
			case strings.ContainsAny(p.Blank.Text, "0123456789"):
				line = append(line, by.number(p.Blank.Text, "plan")...)
			default:
				line = append(line, said{Text: cmp.Or(p.Blank.shown(), v.who.w("blank-empty"))})
			}
		}
		all = append(all, line)
	}
	return all
}

// shown is what a blank shows: its text, or what the empty choice is called.
func (f field) shown() string {
	for _, c := range f.Choices {
		if c.On {
			return c.Text
		}
	}
	return f.Text
}

// hrc says the hardness of a zone.
func (s *sayer) hrc(z *sim.Zone) []said {
	if z.HardnessHRC == nil {
		return s.number(s.who.w("under-20"), "hard")
	}
	return s.number(fmt.Sprintf("%.0f HRC", z.HardnessHRC.Value), "hard")
}
