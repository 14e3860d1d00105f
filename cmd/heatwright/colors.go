package main

import (
	"strings"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// ColorsCmd prints the smith's own charts of glow and temper colors.
type ColorsCmd struct {
	Light   string  `help:"Light in the shop: dark, dim, shade, daylight or sun." default:"dim"`
	Glasses string  `help:"What you look through: none, clear, sunglasses, didymium or green." default:"none"`
	Time    string  `help:"How long the steel is at tempering heat." default:"5 min"`
	Steel   string  `help:"The steel, as it is called." default:"1084"`
	As      string  `help:"text, html (for print), svg, png, or markdown (every light, beside printed charts)." enum:"text,html,svg,png,markdown" default:"text"`
	Job     string  `help:"Instead of a chart, draw how this job looks in that light from step to step: the heat strip, as svg or png." placeholder:"FILE"`
	Draw    string  `help:"With --job: run the colors down that piece from its spine or shank, and say when to stop: hot block, hot plate, torch or shank." placeholder:"FROM" enum:",hot block,hot plate,torch,shank" default:""`
	Hot     string  `help:"Temperature of the block, the plate or the shank." default:"700 C"`
	Mass    string  `help:"Mass of the hot block." default:"1.5 kg"`
	Watts   float64 `help:"Heat that the flame leaves in the steel; 400 to 700 of a plumber's torch." default:"500"`
	Want    string  `help:"Temper color to stop at." default:"straw"`
	At      string  `help:"Where to watch for it: far (edge or end), middle, or near (spine or shank)." enum:"far,middle,near" default:"far"`
	Wet     string  `help:"How much of the edge or end is kept in water." placeholder:"LENGTH"`
	Out     string  `help:"File to write instead of the screen." type:"path" placeholder:"FILE"`
}

// colorCharts are both charts with all that stands on them.
type colorCharts struct{ *jobsheet.Colors }

// Run implements the command.
func (c *ColorsCmd) Run(d *desk) error {
	charts, err := c.charts(d)
	if err != nil {
		return err
	}
	var out []byte
	if c.Draw != "" {
		if c.Job == "" {
			return inputError("--draw wants a piece: name a job file with --job")
		}
		if out, err = c.draw(d, charts); err != nil {
			return err
		}
		return c.write(d, out)
	}
	if c.Job != "" {
		if out, err = c.strip(d, charts); err != nil {
			return err
		}
		return c.write(d, out)
	}
	switch c.As {
	case "svg":
		out = []byte(charts.Drawing().SVG())
	case "png":
		out = charts.Drawing().PNG(2)
	case "markdown":
		out = charts.markdown()
	case "html":
		out, err = charts.Page()
	default:
		out = charts.Text()
	}
	if err != nil {
		return err
	}
	return c.write(d, out)
}

func (c *ColorsCmd) write(d *desk, out []byte) error {
	if c.Out != "" {
		return writeAll(map[string][]byte{c.Out: out})
	}
	_, err := d.out.Write(out)
	return outside(err)
}

// strip works a job through in one cross-section and draws it as it was seen.
func (c *ColorsCmd) strip(d *desk, charts *colorCharts) ([]byte, error) {
	if c.As != "svg" && c.As != "png" {
		return nil, inputError("--job draws a picture: say --as svg or --as png")
	}
	job, err := d.readJob(c.Job)
	if err != nil {
		return nil, err
	}
	h, err := sim.Run(d.ctx, job, sim.Options{Section: true, Engine: engine()}, nil)
	if err != nil {
		return nil, classify(err)
	}
	solid, err := job.Body(len(job.Steps))
	if err != nil {
		return nil, err
	}
	charts.Style = d.style(job.Units)
	scales := color.Scales{Temperature: charts.Temp, Time: charts.Style.Seconds}
	picture := drawing.Heats(h, solid, charts.Eye, scales, 900, 130)
	if picture == nil {
		return nil, inputError("nothing in this job takes any time: there is nothing to see")
	}
	if c.As == "png" {
		return picture.PNG(2), nil
	}
	return []byte(picture.SVG()), nil
}

func (c *ColorsCmd) charts(d *desk) (*colorCharts, error) {
	light, err := color.ParseLight(c.Light)
	if err != nil {
		return nil, inputError("--light: %s", strings.TrimPrefix(err.Error(), "color: "))
	}
	glasses, err := color.ParseGlasses(c.Glasses)
	if err != nil {
		return nil, inputError("--glasses: %s", strings.TrimPrefix(err.Error(), "color: "))
	}
	time, err := unit.ParseDuration(c.Time)
	if err != nil {
		return nil, inputError("--time: %w", err)
	}
	if time < jobsheet.ShortestTemper || time > jobsheet.LongestTemper {
		return nil, inputError("--time %s: between 10 s and 24 h; shorter heats give no even color, longer ones are past the model", c.Time)
	}
	grade, err := steel.Find(c.Steel)
	if err != nil {
		return nil, inputError("--steel: %w", err)
	}
	return &colorCharts{jobsheet.ColorsOf(light, glasses, float64(time), grade.Name, grade.Nominal(), d.style("metric"))}, nil
}
