package web

import (
	"errors"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// colorsView is the page of the smith's own charts of glow and temper colors.
type colorsView struct {
	page
	Plan   string // back to it, where there is one
	Job    string // packed
	Asked  []blank
	Charts []colorChart
	Print  button
	PDF    button
	Seen   button
	by     *sayer
}

// Sources are who says the numbers above.
func (v colorsView) Sources() []claim { return v.by.list() }

// Who puts the links under their word.
func (v colorsView) Who(says []whoLink) whoView { return whoView{v.W("says-who"), says} }

// colorChart is one of the charts: drawn, in numbers, and what stands under it.
type colorChart struct {
	Title   []said
	Picture template.HTML
	Says    []whoLink
	Table   table
	Notes   [][]said
}

// temperTimes are the times at heat that are offered [s].
var temperTimes = []float64{60, 300, 600, 1800, 3600, 7200, 14400}

// asked is what a color chart is asked for.
type asked struct {
	light   color.Light
	glasses color.Glasses
	seconds float64
	steel   string
	job     route.Job
	charts  *jobsheet.Colors
}

// chartAsked reads what a request asks of the color chart; what it leaves open is
// taken as is usual, and the steel as the plan has it.
func chartAsked(r *http.Request) (asked, error) {
	q, who := r.URL.Query(), readerOf(r)
	a := asked{light: color.Dim, glasses: color.NoGlasses, seconds: 300, steel: "1084"}
	if l, err := color.ParseLight(q.Get("light")); err == nil {
		a.light = l
	}
	if g, err := color.ParseGlasses(q.Get("glasses")); err == nil {
		a.glasses = g
	}
	if t, err := unit.ParseDuration(q.Get("time")); err == nil && t >= jobsheet.ShortestTemper && t <= jobsheet.LongestTemper {
		a.seconds = float64(t)
	}
	if j := q.Get("j"); j != "" {
		job, problems, err := unpack(j)
		if err != nil || len(problems) > 0 || len(job.Steel) == 0 {
			return a, errors.Join(err, errors.New("the plan has to be put right first"))
		}
		a.job, a.steel = job, job.Steel[0].Called()
		if name := q.Get("steel"); name == "" || name == a.steel {
			comp, _, _, err := job.Steel[0].Known()
			if err != nil {
				return a, err
			}
			a.charts = jobsheet.ColorsOf(a.light, a.glasses, a.seconds, a.steel, comp, who.Style)
			return a, nil
		}
	}
	if name := q.Get("steel"); name != "" {
		a.steel = name
	}
	g, err := steel.Find(a.steel)
	if err != nil {
		return a, err
	}
	a.charts = jobsheet.ColorsOf(a.light, a.glasses, a.seconds, g.Name, g.Nominal(), who.Style)
	return a, nil
}

// query is the request as it was understood, for the papers of it.
func (a asked) query(j string) string {
	q := url.Values{"light": {a.light.Name}, "glasses": {a.glasses.Name}, "time": {fmt.Sprintf("%.0f s", a.seconds)}, "steel": {a.steel}}
	if j != "" {
		q.Set("j", j)
	}
	return q.Encode()
}

// blanks are what can be chosen on the page.
func (a asked) blanks(who reader) []blank {
	light := blank{Name: "light", Label: who.w("colors-light")}
	for _, l := range color.Lights() {
		light.Choices = append(light.Choices, choice{l.Name, who.choice("light " + l.Name), l.Name == a.light.Name})
	}
	glasses := blank{Name: "glasses", Label: who.w("colors-glasses")}
	for _, g := range color.AllGlasses() {
		glasses.Choices = append(glasses.Choices, choice{g.Name, who.choice("glasses " + g.Name), g.Name == a.glasses.Name})
	}
	time := blank{Name: "time", Label: who.w("colors-time")}
	times := append([]float64(nil), temperTimes...)
	if !slices.Contains(times, a.seconds) {
		times = append(times, a.seconds)
		slices.Sort(times)
	}
	for _, s := range times {
		time.Choices = append(time.Choices, choice{fmt.Sprintf("%.0f s", s), who.Seconds(s), s == a.seconds})
	}
	metal := blank{Name: "steel", Label: who.w("colors-steel")}
	names := steelNames()
	if !slices.Contains(names, a.steel) {
		names = append([]string{a.steel}, names...)
	}
	for _, n := range names {
		metal.Choices = append(metal.Choices, choice{n, n, n == a.steel})
	}
	return []blank{light, glasses, metal, time}
}

// colors shows the charts in the light, through the glasses, for the steel and the
// time that are asked for. In the dress for the dark they are in words and numbers.
func (b *bench) colors(w http.ResponseWriter, r *http.Request) {
	who, j := readerOf(r), r.URL.Query().Get("j")
	a, err := chartAsked(r)
	if err != nil {
		b.fail(w, r, err)
		return
	}
	v := colorsView{page: page{who, string(who.Language), who.Theme, who.w("color-chart"), r.URL.RequestURI(), nil}, Asked: a.blanks(who), by: &sayer{who: who, prefix: "says-"}}
	if j != "" {
		v.Job, v.Plan = j, address("/plan", a.job)
	}
	c := a.charts
	glow := colorChart{Title: plain(c.HeatTitle()), Says: v.by.links([]string{"color.heat", "color.planck"}), Table: table{Caption: who.w("colors-glow-caption"), Head: []string{who.w("colors-word"), who.w("colors-middle"), who.w("colors-people"), who.w("colors-beside")}}}
	for _, h := range c.Heats {
		glow.Table.Rows = append(glow.Table.Rows, row{plain(h.Word.String()), v.by.number(c.Temp(h.T.Value), "color.heat"), v.by.number(c.Span(h.T.Low, h.T.High), "color.heat"), v.by.say(words.Numbered(c.Beside(h), "color.heat"))})
	}
	temper := colorChart{Title: v.by.say(words.Numbers(c.TemperTitle(), "plan")), Says: v.by.links([]string{"skin.film", "color.film"}), Table: table{Caption: who.w("colors-temper-caption"), Head: []string{who.w("colors-word"), who.w("colors-middle"), who.w("colors-people")}}}
	for _, t := range c.Tempers {
		temper.Table.Rows = append(temper.Table.Rows, row{plain(t.Word.String()), v.by.number(c.Temp(t.T.Value), "skin.film"), v.by.number(c.Span(t.T.Low, t.T.High), "skin.film")})
	}
	for _, x := range []struct {
		chart *colorChart
		notes []string
		from  string
	}{{&glow, c.HeatNotes(), "color.heat"}, {&temper, c.TemperNotes(), "skin.film"}} {
		for _, n := range x.notes {
			x.chart.Notes = append(x.chart.Notes, v.by.say(words.Numbers(n, x.from)))
		}
	}
	if who.Theme != "forge" {
		glow.Picture, temper.Picture = template.HTML(c.DrawHeats().SVG()), template.HTML(c.DrawTempers().SVG()) //nolint:gosec // our own drawings
	}
	v.Charts = []colorChart{glow, temper}
	v.Print = button{Text: who.w("print"), Href: "/chart?" + a.query(j)}
	v.PDF = button{Text: "PDF", Href: "/chart.pdf?" + a.query(j), Plain: true}
	v.Seen = button{Text: who.w("seen"), Href: seenOf(a.light, a.steel), Plain: true}
	b.render(w, "colors", "layout", http.StatusOK, v)
}

// chart is the color chart on paper.
func (b *bench) chart(pdf bool) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		a, err := chartAsked(r)
		if err != nil {
			b.fail(w, r, err)
			return
		}
		b.print(w, r, jobsheet.ColorChart(a.charts), "color chart", pdf)
	}
}
