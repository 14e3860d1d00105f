package web

import (
	"context"
	"html/template"
	"math"

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
	made := micro.Austenitizing{From: setup.Start, T: math.Max(heat.Peak.Temperature+273.15, metalUpper(metal)), Hold: math.Max(60, heat.End-heat.Reached)}
	d := drawing.Transformation{
		Steel: a.job.Steel[0].Called(), Diagram: metal.Continuous(made, drawing.CoolingRates()), Made: made, Units: who.Units,
		Say: func(code string, args ...cite.Quantity) (string, string) {
			t := who.Of(code, args...)
			return t.Say, t.Term
		},
	}
	for _, name := range order {
		if z := seriesOf(h, name); z != nil && len(d.Paths) < mostPaths {
			d.Paths = append(d.Paths, pathOf(h, z, q))
		}
	}
	caption := by.of("bench.diagram-caption", cite.Num("carbon", d.Diagram.Carbon, "wt%"), cite.Num("start", d.Diagram.Ms, "K"))
	return figure{who.w("diagram-title"), caption, template.HTML(d.SVG()), by.links([]string{"micro.pearlite", "micro.bainite", "micro.bs", "micro.ms", "medium.air", "bath"})}, nil //nolint:gosec // our own drawing
}

// mostPaths is how many ways through the diagram have a sign of their own.
const mostPaths = 4

// pathOf is how a zone cools, up to where it is heated again.
func pathOf(h *sim.History, z *sim.ZoneSeries, step int) drawing.Path {
	p := drawing.Path{Name: z.Name}
	for i, t := range h.Series.Time {
		s := h.Series.Step[i]
		if s > step && (h.Steps[s].Role == sim.Tempering || h.Steps[s].Role == sim.Heating) {
			break
		}
		p.Time, p.T = append(p.Time, t), append(p.T, z.Temperature[i]+273.15)
	}
	return p
}

// metalUpper is just over the end of the critical range: cooler, there is nothing to draw.
func metalUpper(m *micro.Metal) float64 { return m.Limits().Upper() + 5 }

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
