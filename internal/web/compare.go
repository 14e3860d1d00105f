package web

import (
	"fmt"
	"net/http"

	"github.com/heatwright/heatwright/internal/words"
)

// compareView is two plans side by side.
type compareView struct {
	page
	Sides       []side
	Differences []row
}

type side struct {
	Title  string
	Answer answerView
	Plan   string
}

type row struct{ What, A, B string }

// compare shows the plans a and b side by side, and where they end differently.
func (b *bench) compare(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	v := compareView{page: page{who, string(who.Language), who.Theme, who.w("compare"), r.URL.RequestURI(), nil}}
	var both [2]*worked
	for i, name := range []string{"a", "b"} {
		a, ok := b.jobOf(w, r, name)
		if !ok {
			return
		}
		both[i] = a
		ans := b.answer(a, who)
		v.Sides = append(v.Sides, side{fmt.Sprintf("%s %c: %s", who.w("plan-word"), 'A'+i, a.job.Name), ans, address("/plan", a.job)})
	}
	for i, other := range []int{1, 0} {
		v.Sides[i].Answer.Buttons = []button{
			{Text: who.w("change-this"), Href: besideOf(address("/plan", both[i].job), pack(both[other].job)), Plain: true},
			{Text: who.w("take-this"), Href: address("/plan", both[i].job), Plain: true},
		}
	}
	tell := func(what, x, y string) { v.Differences = append(v.Differences, row{what, x, y}) }
	for _, za := range both[0].history.Zones {
		for _, zb := range both[1].history.Zones {
			if za.Name != zb.Name {
				continue
			}
			x, y := who.w("under-20"), who.w("under-20")
			if za.HardnessHRC != nil {
				x = fmt.Sprintf("%.0f HRC", za.HardnessHRC.Value)
			}
			if zb.HardnessHRC != nil {
				y = fmt.Sprintf("%.0f HRC", zb.HardnessHRC.Value)
			}
			tell(za.Name, x, y)
		}
	}
	tell(who.w("bare-verdict"), v.Sides[0].Answer.Verdict, v.Sides[1].Answer.Verdict)
	for _, x := range both[0].history.Verdict.Aim {
		for _, y := range both[1].history.Verdict.Aim {
			if x.Zone == y.Zone {
				tell(who.w("aim-odds")+" "+x.Zone, words.Likelihood(x.Likelihood), words.Likelihood(y.Likelihood))
			}
		}
	}
	sa, sb := both[0].history.Steps, both[1].history.Steps
	tell(who.w("time-in-all"), who.Seconds(sa[len(sa)-1].End), who.Seconds(sb[len(sb)-1].End))
	la, lb := v.stepsOf(both[0]), v.stepsOf(both[1])
	for i := range max(len(la), len(lb)) {
		var x, y string
		if i < len(la) {
			x = la[i]
		}
		if i < len(lb) {
			y = lb[i]
		}
		if x != y {
			tell(fmt.Sprintf("%s %d", who.w("step-word"), i+1), x, y)
		}
	}
	b.render(w, "compare", "layout", http.StatusOK, v)
}

// stepsOf says the steps of a job in words.
func (v compareView) stepsOf(a *worked) []string {
	none := func(place, _, text, _ string, _ ...string) field { return field{Name: place, Text: text} }
	var all []string
	for i, s := range a.job.Steps {
		line := ""
		for _, p := range v.who.stepParts(a.job, s, fmt.Sprintf("step %d", i+1), none) {
			line += p.Words
			if p.Blank != nil {
				if p.Blank.Text == "" {
					line += "–"
				} else {
					line += p.Blank.Text
				}
			}
		}
		all = append(all, line)
	}
	return all
}
