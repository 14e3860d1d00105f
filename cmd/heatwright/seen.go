package main

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// SeenCmd turns what eye, magnet and file tell of a piece into a band.
type SeenCmd struct {
	Told    []string `arg:"" optional:"" help:"What was seen, as thing=word: magnet=off glow=\"medium red\" shadow=gone thermometer=\"812 C\" hand=warm film=straw file=\"bites, skates after 12\" slid=\"55 HRC\" cut=\"60 HRC\" tester=\"61 HRC\" rebound=\"58 HRC\" scale=flaking. \"don't know\" is always right." placeholder:"THING=WORD"`
	Light   string   `help:"Light that it was seen in: dark, dim, shade, daylight or sun; left out, nobody knows."`
	Glasses string   `help:"What you looked through: none, clear, sunglasses, didymium or green." default:"none"`
	Steel   string   `help:"The steel, as it is called." default:"1084"`
	Time    string   `help:"How long it was at tempering heat, for a film." default:"5 min"`
	Greasy  bool     `help:"The film grew on oil or finger grease."`
	Job     string   `help:"Take the steel from this job; with nothing told, say what there is to see at the end of each step." placeholder:"FILE"`
	Step    string   `help:"With --job: hold what was seen beside the end of this step of the plan." placeholder:"NAME"`
}

// Run implements the command.
func (c *SeenCmd) Run(d *desk) error {
	job, units, err := c.job(d)
	if err != nil {
		return err
	}
	s, err := c.setting(job)
	if err != nil {
		return err
	}
	seen, err := jobsheet.SeenOf(d.style(units), s)
	if err != nil {
		return inputError("%s", err)
	}
	for _, line := range c.Told {
		thing, word, ok := strings.Cut(line, "=")
		if !ok {
			thing = line
			if observe.Words(thing) != nil {
				word = "nothing" // so that the answer is what can be said
			}
		}
		if err := seen.Tell(strings.ToLower(strings.TrimSpace(thing)), word); err != nil {
			return inputError("%s", err)
		}
	}
	out := &bytes.Buffer{}
	switch {
	case job == nil:
	case c.Step == "" && len(c.Told) == 0:
		return c.expected(d, *job, seen)
	case c.Step != "":
		if err := c.beside(d, out, *job, seen); err != nil {
			return err
		}
	}
	if len(c.Told) == 0 && c.Step == "" {
		return inputError("%s", seen.Notes()[0])
	}
	found := &bytes.Buffer{}
	t := tabwriter.NewWriter(found, 0, 0, 2, ' ', 0)
	for _, f := range seen.Found() {
		fmt.Fprintf(t, "%s\t%s\t%s\n", f.What, f.Range, f.By)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	for _, f := range seen.Found() {
		if f.Against != "" {
			fmt.Fprintf(found, "\n! %s\n", f.Against)
		}
	}
	if found.Len() > 0 {
		found.WriteString("\n")
	}
	if len(c.Told) > 0 {
		fmt.Fprintln(found, strings.Join(seen.Notes(), "\n"))
	}
	_, err = d.out.Write(append(found.Bytes(), out.Bytes()...))
	return outside(err)
}

func (c *SeenCmd) job(d *desk) (*route.Job, string, error) {
	switch {
	case c.Job != "":
		job, err := d.readJob(c.Job)
		return &job, job.Units, err
	case c.Step != "":
		return nil, "", inputError("--step wants a plan: name a job file with --job")
	}
	return nil, "metric", nil
}

func (c *SeenCmd) setting(job *route.Job) (s observe.Setting, err error) {
	if c.Light != "" && !strings.EqualFold(c.Light, "unknown") {
		light, err := color.ParseLight(c.Light)
		if err != nil {
			return s, inputError("--light: %s", strings.TrimPrefix(err.Error(), "color: "))
		}
		s.Light = &light
	}
	glasses, err := color.ParseGlasses(c.Glasses)
	if err != nil {
		return s, inputError("--glasses: %s", strings.TrimPrefix(err.Error(), "color: "))
	}
	s.Glasses, s.Greasy = &glasses, c.Greasy
	time, err := unit.ParseDuration(c.Time)
	if err != nil {
		return s, inputError("--time: %w", err)
	}
	if time < jobsheet.ShortestTemper || time > jobsheet.LongestTemper {
		return s, inputError("--time %s: between 10 s and 24 h; shorter heats give no even color, longer ones are past the model", c.Time)
	}
	s.Seconds = float64(time)
	if job != nil {
		s.Steel, _, _, err = job.Steel[0].Known()
		if err != nil {
			return s, inputError("%s", err)
		}
		return s, nil
	}
	grade, err := steel.Find(c.Steel)
	if err != nil {
		return s, inputError("--steel: %w", err)
	}
	s.Steel = grade.Nominal()
	return s, nil
}

func (c *SeenCmd) march(d *desk, job route.Job) (*sim.History, error) {
	h, err := sim.Run(d.ctx, job, sim.Options{Section: true, Engine: engine()}, nil)
	if err != nil {
		return nil, classify(err)
	}
	return h, nil
}

// expected says what there is to see at the end of each step of the plan.
func (c *SeenCmd) expected(d *desk, job route.Job, seen *jobsheet.Seen) error {
	h, err := c.march(d, job)
	if err != nil {
		return err
	}
	light := color.Dim
	if seen.Account.Light != nil {
		light = *seen.Account.Light
	}
	eye := color.NewEye(light, *seen.Account.Glasses)
	fmt.Fprintf(d.out, "%s\n\n", seen.Style.Of("seen.expected", cite.Txt("name", h.Name), cite.Txt("where", light.Where)).Say)
	t := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', 0)
	for _, x := range jobsheet.ExpectedOf(seen.Style, h, eye) {
		end := x.Magnet
		if x.File != "" {
			end += "; " + x.File
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\n", x.Step, x.Zone, x.Temperature, x.Looks, end)
	}
	return outside(t.Flush())
}

// beside holds what was seen beside the end of one step of the plan.
func (c *SeenCmd) beside(d *desk, out *bytes.Buffer, job route.Job, seen *jobsheet.Seen) error {
	h, err := c.march(d, job)
	if err != nil {
		return err
	}
	var names []string
	for _, st := range h.Steps {
		if strings.EqualFold(st.Name, c.Step) && len(st.Zones) > 0 {
			fmt.Fprintf(out, "\n%s\n", strings.Join(seen.Beside(st), ". "))
			return nil
		}
		names = append(names, st.Name)
	}
	return inputError("--step %q is no step of this plan; its steps are %s", c.Step, strings.Join(names, ", "))
}
