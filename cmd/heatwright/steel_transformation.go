package main

import (
	"math"
	"os"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// diagram draws what was asked for with --diagram.
func (c *steelCmd) diagram(d *desk) error {
	name := strings.Join(c.Name, " ")
	ask := EquilibriumCmd{Steel: name, Composition: c.Composition, Diagram: c.Diagram, Out: c.Out}
	switch c.Diagram {
	case "phases":
		if c.Austenitize != "" {
			return inputError("--austenitize: the phases are those at equilibrium, however the austenite was made; leave it out, or ask for --diagram it or cc")
		}
		return ask.Run(d)
	case "it", "cc":
	default:
		return inputError("--diagram %s: there are three\n  it      what forms while the steel is held at a temperature\n  cc      what forms while it cools steadily\n  phases  what there is at equilibrium\n  do: name one of them", c.Diagram)
	}
	comp, called, made, err := c.asked()
	if err != nil {
		return err
	}
	m, err := micro.New(comp, nil)
	if err != nil {
		return inputError("%s", strings.TrimPrefix(strings.TrimPrefix(err.Error(), "micro: "), "calphad: "))
	}
	style := d.style("metric")
	if made, err = c.austenitizing(m, made, style); err != nil {
		return err
	}
	if made.From.Condition, err = micro.ParseCondition(c.Bar); err != nil {
		return inputError("--bar %s: how does the bar come?\n  do: write one of spheroidized, lamellar, normalized, hardened, as-forged", c.Bar)
	}
	for _, n := range m.Notes() {
		if _, err := d.err.Write([]byte(style.Note(n).Say + "\n")); err != nil {
			return outside(err)
		}
	}
	picture := drawing.Transformation{Steel: called, Diagram: transformations(m, made, c.Diagram == "cc"), Made: made, Units: style.Units, Say: say(style)}
	return d.deliver(c.Out, picture.SVG())
}

// The temperatures and the longest time of an isothermal diagram.
const (
	isothermalStep = 5   // K
	isothermalMost = 1e6 // s
)

// transformations reads a diagram off the model.
func transformations(m *micro.Metal, made micro.Austenitizing, cooling bool) micro.Diagram {
	if !cooling {
		return m.Isothermal(made, isothermalStep, isothermalMost)
	}
	return m.Continuous(made, drawing.CoolingRates())
}

// say makes the words of a drawing.
func say(s words.Style) func(string, ...cite.Quantity) (string, string) {
	return func(code string, args ...cite.Quantity) (string, string) {
		t := s.Of(code, args...)
		return t.Say, t.Term
	}
}

// asked returns the composition that was asked about, what it is called, and how
// the sheets of its grade harden it; zero where none does.
func (c *steelCmd) asked() (comp steel.Composition, called string, made micro.Austenitizing, err error) {
	name := strings.Join(c.Name, " ")
	switch {
	case name != "" && c.Composition != "":
		return comp, "", made, inputError("%s and --composition both name a steel: give one of them", name)
	case c.Composition != "":
		if comp, err = steel.ParseComposition(c.Composition); err != nil {
			return comp, "", made, inputError("--composition: %w", err)
		}
		return comp, c.Composition, made, nil
	case name == "":
		return comp, "", made, inputError("what steel? give its name, as heatwright steel O1 --diagram %s, or --composition \"C 0.95, Mn 1.2, Cr 0.5\"", c.Diagram)
	}
	g, err := steel.Find(name)
	if err != nil {
		return comp, "", made, inputError("%w", err)
	}
	if p := g.Practice; p != nil && p.Harden[0] > 0 {
		made.T = unit.Celsius((p.Harden[0] + p.Harden[1]) / 2).K()
		made.Hold = 60 * (p.SoakMinutes[0] + p.SoakMinutes[1]) / 2
	}
	return g.Nominal(), g.Name, made, nil
}

// What is done where neither the user nor a sheet says it: as far above Ae3 or
// Acm as common practice has it, and long enough for carbide to dissolve.
const (
	usualAbove = 30  // K
	usualHold  = 600 // s
)

// austenitizing reads --austenitize "815 C, 5 min"; what it leaves out is as given.
func (c *steelCmd) austenitizing(m *micro.Metal, made micro.Austenitizing, s words.Style) (micro.Austenitizing, error) {
	_, first := m.Limits().Ae1()
	low, high := math.Ceil(first), math.Floor(m.Limits().Solidus())
	if made.T == 0 {
		made.T = math.Min(m.Limits().Upper()+usualAbove, high-usualAbove)
	}
	if made.Hold == 0 {
		made.Hold = usualHold
	}
	temperature, hold, both := strings.Cut(c.Austenitize, ",")
	if strings.TrimSpace(temperature) != "" {
		T, err := unit.ParseTemp(temperature)
		if err != nil {
			return made, inputError("--austenitize: %w\n  do: write a temperature and a time, as \"815 C, 5 min\"", err)
		}
		made.T = T.K()
	}
	if both {
		hold = strings.TrimSpace(hold)
		t, err := unit.ParseDuration(hold)
		if err != nil {
			return made, inputError("--austenitize: %w\n  do: write a temperature and a time, as \"815 C, 5 min\"", err)
		}
		if t < 1 || t > 360000 {
			return made, inputError("--austenitize: %s is held for %s\n  limits: from 1 s to 100 h\n  do: name a time in these limits", s.Quantity(cite.Num("", made.T, "K"), ""), hold)
		}
		made.Hold = float64(t)
	}
	code := ""
	switch {
	case made.T < low:
		code = "transformation.too-cold"
	case made.T > high:
		code = "transformation.too-hot"
	default:
		return made, nil
	}
	t := s.Of(code, cite.Num("temperature", made.T, "K"), cite.Num("low", low, "K"), cite.Num("high", high, "K"))
	return made, inputError("--austenitize: %s\n  limits: %s\n  do: %s", t.Say, t.Limits, t.Remedy)
}

// deliver writes a drawing to a file, or to the screen where none is named.
func (d *desk) deliver(file, svg string) error {
	if file == "" {
		_, err := d.out.Write([]byte(svg))
		return outside(err)
	}
	if err := os.WriteFile(file, []byte(svg), 0o644); err != nil {
		return outsideError("the drawing cannot be written: %w", err)
	}
	return nil
}
