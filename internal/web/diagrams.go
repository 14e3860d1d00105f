package web

import (
	"context"
	"html/template"
	"math"
	"sort"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// reading returns a temperature [K] as a number on the reader's scale.
func (who reader) reading(kelvin float64) float64 {
	if who.Units == unit.Imperial {
		return unit.Temp(kelvin).F()
	}
	return unit.Temp(kelvin).C()
}

func (who reader) degrees() string {
	if who.Units == unit.Imperial {
		return "°F"
	}
	return "°C"
}

// rates are the even rates of cooling that the diagram is read off at [K/s].
var rates = []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 3, 5, 8, 12, 20, 35, 60, 100, 200}

// products are the lines of the transformation diagram, each with its dash.
var products = []struct {
	of   steel.Constituent
	dash string
}{{steel.Ferrite, "3 4"}, {steel.Carbide, "1 4"}, {steel.Pearlite, ""}, {steel.Bainite, "14 4 3 4"}, {steel.Martensite, "9 5"}}

// cooling draws the transformation diagram of the steel, for austenite as this plan
// makes it, with the ways that the zones of the piece take through it.
func (who reader) cooling(a *worked, by *sayer) (figure, error) {
	h := a.history
	heat, q := hardening(h), coolingStep(h)
	setup, err := sim.Prepare(a.job)
	if err != nil || heat == nil || q < 0 {
		return figure{}, err
	}
	metal, err := micro.New(setup.Steel, setup.Limits)
	if err != nil {
		return figure{}, err
	}
	hot := heat.Peak.Temperature + 273.15
	d := metal.Continuous(micro.Austenitizing{From: setup.Start, T: math.Max(hot, metalUpper(metal)), Hold: math.Max(60, heat.End-heat.Reached)}, rates)
	c := drawing.Chart{
		XTitle: who.w("axis-below-critical"), YTitle: who.degrees(), XLow: 0.1, XHigh: 20000, Clock: true,
		YLow: who.reading(293), YHigh: who.reading(math.Ceil(d.Upper/100)*100 + 20), High: 520,
	}
	for _, p := range products {
		l := drawing.Line{Name: who.w("part-" + p.of.String()), Dash: p.dash}
		for _, line := range d.Coolings {
			for _, m := range line.Marks {
				if m.Product == p.of && m.Time > c.XLow {
					l.X, l.Y = append(l.X, m.Time), append(l.Y, who.reading(m.T))
				}
			}
		}
		sort.Sort(byX(l))
		if len(l.X) > 1 {
			c.Lines = append(c.Lines, l)
		}
	}
	n := 0
	for _, z := range h.Series.Zones {
		l := who.way(h, z, q, d.Upper)
		if len(l.X) < 2 {
			continue
		}
		c.Lines = append(c.Lines, l)
		i := len(l.X) * (1 + n%4) / 5 // no name on another
		n++
		for i < len(l.X)-1 && l.X[i] < 1 {
			i++
		}
		c.Places = append(c.Places, drawing.Place{X: l.X[i], Y: l.Y[i], Text: z.Name})
	}
	title := who.w("diagram-title")
	caption := by.of("bench.diagram-caption", cite.Num("carbon", d.Carbon, "wt%"), cite.Num("start", d.Ms, "K"))
	picture := template.HTML(drawing.Charts(title, c)) //nolint:gosec // our own drawing
	return figure{title, caption, picture, by.links([]string{"micro.pearlite", "micro.bainite", "micro.bs", "micro.ms", "medium.air", "bath"})}, nil
}

// metalUpper is just over the end of the critical range: cooler, there is nothing to draw.
func metalUpper(m *micro.Metal) float64 { return m.Limits().Upper() + 5 }

type byX drawing.Line

func (l byX) Len() int           { return len(l.X) }
func (l byX) Less(i, j int) bool { return l.X[i] < l.X[j] }
func (l byX) Swap(i, j int) {
	l.X[i], l.X[j] = l.X[j], l.X[i]
	l.Y[i], l.Y[j] = l.Y[j], l.Y[i]
}

// coolingStep is the step in which the piece hardens, or cools slowly; −1: none.
func coolingStep(h *sim.History) int {
	at := -1
	for i, s := range h.Steps {
		switch {
		case s.Role == sim.Quenching:
			return i
		case s.Role == sim.Burying || s.Role == sim.Cooling && s.Verb == "cool":
			at = i
		}
	}
	return at
}

// way is how a zone cools from the moment it passes the upper critical
// temperature [K], through the carrying and into the bath.
func (who reader) way(h *sim.History, z sim.ZoneSeries, step int, upper float64) drawing.Line {
	l := drawing.Line{Thin: true}
	for step > 0 && h.Steps[step-1].Role == sim.Carrying {
		step--
	}
	from := math.NaN()
	for i, t := range h.Series.Time {
		T := z.Temperature[i] + 273.15
		switch s := h.Series.Step[i]; {
		case s < step:
			continue
		case h.Steps[s].Role == sim.Tempering || h.Steps[s].Role == sim.Heating:
			return l
		}
		if T > upper {
			from = t
			continue
		}
		if math.IsNaN(from) {
			from = t - 0.1
		}
		l.X, l.Y = append(l.X, math.Max(0.1, t-from)), append(l.Y, who.reading(T))
	}
	return l
}

// phases draws the section through carbon of the equilibrium diagram of this
// steel, with the temperatures that the plan goes to.
func (s *smithy) phases(ctx context.Context, a *worked, by *sayer) (figure, error) {
	who := by.who
	setup, err := sim.Prepare(a.job)
	if err != nil {
		return figure{}, err
	}
	section, err := s.sectionOf(ctx, setup.Steel)
	if err != nil {
		return figure{}, err
	}
	const from, to = 873.15, 1423.15
	c := drawing.Chart{
		XTitle: who.Of("equilibrium.carbon-axis").Say, YTitle: who.degrees(), XLow: 0, XHigh: section.Columns[len(section.Columns)-1].Content,
		YLow: who.reading(from), YHigh: who.reading(to), High: 520, MarkX: setup.Steel[steel.C], MarkText: who.Of("equilibrium.this-steel").Say,
	}
	for _, l := range drawing.Boundaries(section) {
		for i := range l.Y {
			l.Y[i] = who.reading(l.Y[i])
		}
		c.Lines = append(c.Lines, l)
	}
	for _, p := range drawing.FieldNames(section, from, to) {
		p.Y = who.reading(p.Y)
		c.Places = append(c.Places, p)
	}
	x := setup.Steel[steel.C]
	way := drawing.Line{Name: who.w("way-of-plan"), Dash: "9 5"}
	said := map[string]bool{}
	for i := range a.history.Steps {
		st := &a.history.Steps[i]
		if T := st.Peak.Temperature + 273.15; st.Role == sim.Heating && T > from && T < to && !said[st.Name] {
			said[st.Name] = true
			text := "◄ " + st.Name + " " + unit.Temp(T).Text(who.Units)
			c.Places = append(c.Places, drawing.Place{X: x + 0.0095*float64(len(text)), Y: who.reading(T), Text: text})
			way.X, way.Y = append(way.X, x, x), append(way.Y, c.YLow, who.reading(T))
		}
	}
	if len(way.X) > 0 {
		c.Lines = append(c.Lines, way)
	}
	title := who.w("phases-title")
	picture := template.HTML(drawing.Charts(title, c)) //nolint:gosec // our own drawing
	return figure{title, plain(who.w("phases-caption")), picture, by.links([]string{"calphad.ae", "calphad.acm", "plan"})}, nil
}

// sectionOf computes the phase diagram of a composition once.
func (s *smithy) sectionOf(ctx context.Context, c steel.Composition) (calphad.Section, error) {
	s.mu.Lock()
	known, ok := s.sections[c]
	s.mu.Unlock()
	if ok {
		return known, nil
	}
	db, err := calphad.Open()
	if err != nil {
		return calphad.Section{}, err
	}
	var contents []float64
	for x := 0.04; x < 1.7; x += 0.055 {
		contents = append(contents, x)
	}
	section, err := db.Section(ctx, c, steel.C, contents, nil)
	if err != nil {
		return section, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.sections) >= keep {
		clear(s.sections)
	}
	s.sections[c] = section
	return section, nil
}
