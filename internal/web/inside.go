package web

import (
	"fmt"
	"html/template"
	"math"
	"net/http"
	"slices"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// insideView is what stands behind "Show me inside".
type insideView struct {
	page
	Plan     string
	Verdict  []said
	Strips   []figure
	Story    []tale
	Diagrams []figure
	Curves   []figure
	Zones    table
	Moves    table
	Rules    []rule
	Sources  []claim
	Others   others // the models that none of the numbers led to
	Says     []blockView
	Lights   []choice
	Job      string
}

// whoView is the way to who says so, under a word for it.
type whoView struct {
	Word string
	Says []whoLink
}

// Who puts the links under their word.
func (v insideView) Who(says []whoLink) whoView { return whoView{v.W("says-who"), says} }

// others are more claims, folded away.
type others struct {
	who     reader
	Sources []claim
}

// W returns words of the bench for a template.
func (o others) W(key string) string { return o.who.w(key) }

// blockView is a part of the back of the sheet.
type blockView struct {
	Title string
	Lines []spoken
	Cited bool // it is a list of sources itself
}

// figure is a picture with what it says and who says it.
type figure struct {
	Title   string
	Caption []said
	Picture template.HTML
	Says    []whoLink
}

// table is numbers as text, for those who do not read curves.
type table struct {
	Caption string
	Head    []string
	Rows    []row
}

// row is the cells of a line of a table.
type row [][]said

func (b *bench) inside(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	a, ok := b.jobOf(w, r, "j")
	if !ok {
		return
	}
	light, err := color.ParseLight(r.URL.Query().Get("light"))
	if err != nil {
		light = color.Dim
	}
	s := a.sheet(who)
	v := insideView{page: page{who, string(who.Language), who.Theme, who.w("inside-title") + ": " + a.job.Name, r.URL.RequestURI(), nil}, Plan: address("/plan", a.job), Job: pack(a.job)}
	by := who.sayer(a, "")
	v.Verdict = by.say(s.VerdictParts)
	for _, l := range color.Lights() {
		v.Lights = append(v.Lights, choice{l.Name, who.choice("light " + l.Name), l.Name == light.Name})
	}
	for _, block := range s.Back {
		switch block.Part {
		case "why", "figures", "sources", "assumed":
			v.Says = append(v.Says, blockView{block.Title, by.lines(block.Lines), block.Part == "sources"})
		}
	}
	v.Strips, v.Story = who.strips(a.history, light, by), who.story(a, by)
	for _, draw := range []func() (figure, error){
		func() (figure, error) { return who.cooling(a, by) },
		func() (figure, error) { return b.smithy.phases(r.Context(), a, by) },
	} {
		f, err := draw()
		if r.Context().Err() != nil {
			return
		}
		if err == nil && f.Picture != "" {
			v.Diagrams = append(v.Diagrams, f)
		}
	}
	v.Curves, v.Zones, v.Moves = who.curves(a.history, by), who.zoneTable(a.history, by), who.moves(a, by)
	v.Rules = who.rules(r.Context(), a, light, by)
	v.Sources = by.list()
	v.Others = others{who, by.rest()}
	b.render(w, "inside", "layout", http.StatusOK, v)
}

// jobOf reads the job of an address and works it; where that fails it has answered.
func (b *bench) jobOf(w http.ResponseWriter, r *http.Request, name string) (*worked, bool) {
	who := readerOf(r)
	job, problems, err := unpack(r.URL.Query().Get(name))
	if err != nil {
		b.fail(w, r, err)
		return nil, false
	}
	if len(problems) > 0 {
		b.openWith(w, r, http.StatusUnprocessableEntity, openView{Problems: told(problems, who), Text: string(route.Write(job))})
		return nil, false
	}
	a, err := b.smithy.work(r.Context(), job, section, nil)
	if err != nil {
		b.fail(w, r, err)
		return nil, false
	}
	return a, true
}

// order is how zones stand in a strip, from the top down.
var order = []string{"spine", "struck end", "poll", "shank", "eye", "taper", "core", "blade", "edge", "point", "face", "peen", "surface"}

// strips draws the heat strip of the hardening: place down, time across, as it
// would look in this light; once for the heating, once for the way into the bath.
// In the dress for the dark there is none: a bright picture spoils eyes that are
// used to the dark, and a color on a screen is not what the fire shows.
func (who reader) strips(h *sim.History, light color.Light, by *sayer) []figure {
	heat, q := hardening(h), coolingStep(h)
	if heat == nil || q < 0 || who.Theme == "forge" {
		return nil
	}
	through := math.Max(20, 1.4*(heat.Reached-heat.Start))
	var all []figure
	for _, w := range []struct {
		title    string
		from, to float64
	}{
		{"strip-heating", heat.Start, math.Min(heat.End, heat.Start+through)},
		{"strip-title", math.Max(heat.Start, heat.End-2), math.Min(h.Steps[q].End, heat.End+20)},
	} {
		if svg := who.strip(h, light, w.from, w.to); svg != "" {
			all = append(all, figure{who.w(w.title), plain(who.w("strip-caption")), svg, by.links([]string{"color.planck", "fire", "medium.air", "bath"})})
		}
	}
	return all
}

func (who reader) strip(h *sim.History, light color.Light, t0, t1 float64) template.HTML {
	hist := &color.History{}
	var zones []int
	for _, name := range order {
		for k, z := range h.Series.Zones {
			if z.Name == name {
				zones = append(zones, k)
				hist.Names = append(hist.Names, name)
			}
		}
	}
	if len(zones) < 2 {
		return ""
	}
	for i := range zones {
		hist.Place = append(hist.Place, float64(i)/float64(len(zones)-1))
	}
	for i, t := range h.Series.Time {
		if t < t0 || t > t1 || len(hist.Time) > 0 && t-t0 <= hist.Time[len(hist.Time)-1] {
			continue
		}
		hist.Time = append(hist.Time, t-t0)
		for _, k := range zones {
			hist.T = append(hist.T, h.Series.Zones[k].Temperature[i]+273.15)
		}
	}
	if len(hist.Time) < 2 {
		return ""
	}
	eye := color.NewEye(light, color.NoGlasses)
	d := eye.DrawStrip(hist, 820, 150, color.Scales{
		Temperature: func(T float64) string { return unit.Temp(T).Text(who.Units) },
		Time:        who.Seconds,
	}, []float64{900, 1000, 1100})
	return template.HTML(d.SVG()) //nolint:gosec // our own drawing
}

// curves draws structure and temperature over time at the working zone in the quench.
func (who reader) curves(h *sim.History, by *sayer) []figure {
	var all []figure
	for i, s := range h.Steps {
		if s.Role != sim.Quenching && (s.Role != sim.Cooling || s.Verb != "cool") && s.Role != sim.Burying {
			continue
		}
		for _, z := range h.Series.Zones {
			if slices.Contains([]string{"edge", "point", "face", "surface", "core", "spine", "shank", "blade"}, z.Name) {
				if f, ok := who.structure(h, i, z, by); ok {
					all = append(all, f)
				}
			}
		}
	}
	return all
}

func (who reader) structure(h *sim.History, step int, z sim.ZoneSeries, by *sayer) (figure, bool) {
	s := h.Steps[step]
	var t []float64
	pick := make([][]float64, 4)
	for i, x := range h.Series.Time {
		if h.Series.Step[i] != step || len(t) > 0 && x-s.Start <= t[len(t)-1] {
			continue
		}
		t = append(t, x-s.Start)
		for k, y := range [][]float64{z.Austenite, z.Martensite, z.Pearlite, z.Bainite} {
			pick[k] = append(pick[k], 100*y[i])
		}
	}
	if len(t) < 3 {
		return figure{}, false
	}
	names := []string{"austenite", "martensite", "pearlite", "bainite"}
	dashes := []string{"", "10 5", "2 4", "12 4 2 4"}
	var curves []drawing.Curve
	for k := range names {
		if maxOf(pick[k]) > 0.5 {
			curves = append(curves, drawing.Curve{Name: names[k], Y: pick[k], Dash: dashes[k]})
		}
	}
	title := fmt.Sprintf("%s: %s, %s", who.w("structure-title"), s.Name, z.Name)
	picture := template.HTML(drawing.Curves(t, curves, true, who.w("axis-time"), "%", title)) //nolint:gosec // our own drawing
	return figure{title, plain(who.w("structure-caption")), picture, by.links([]string{"micro.pearlite", "micro.bainite", "micro.ms"})}, true
}

func maxOf(v []float64) float64 {
	most := math.Inf(-1)
	for _, x := range v {
		most = math.Max(most, x)
	}
	return most
}

// zoneTable is the end state in numbers.
func (who reader) zoneTable(h *sim.History, by *sayer) table {
	t := table{Caption: who.w("zones-caption"), Head: []string{who.w("zone-word"), "HRC", "HV", "martensite", "austenite", "pearlite", "bainite", who.w("carbon-dissolved"), who.w("grain")}}
	for _, z := range h.Zones {
		hrc := who.w("under-20")
		if z.HardnessHRC != nil {
			hrc = fmt.Sprintf("%.0f (%.0f–%.0f)", z.HardnessHRC.Value, z.HardnessHRC.Low, z.HardnessHRC.High)
		}
		share := func(x float64, from string) []said { return by.number(fmt.Sprintf("%.0f\u00a0%%", 100*x), from) }
		c := z.Constituents
		t.Rows = append(t.Rows, row{
			plain(z.Name), by.number(hrc, "hard"), by.number(fmt.Sprintf("%.0f", 5*math.Round(z.HardnessHV.Value/5)), "hard"),
			share(c.Martensite, "micro.ms"), share(c.RetainedAustenite+c.Austenite, "micro.retained"), share(c.Pearlite, "micro.pearlite"), share(c.Bainite, "micro.bainite"),
			by.number(fmt.Sprintf("%.2f\u00a0%%", z.DissolvedC.Value), "micro.dissolution"), by.number(fmt.Sprintf("%.0f\u00a0µm", z.Grain.Value), "micro.grain"),
		})
	}
	return t
}
