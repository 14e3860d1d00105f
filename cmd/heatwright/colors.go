package main

import (
	"bytes"
	"fmt"
	"html/template"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/skin"
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

// magnetOff is where a magnet lets go of steels of 0.45 % carbon and more on heating [K].
const magnetOff = 745 + 273.15

// colorCharts are both charts with all that stands on them.
type colorCharts struct {
	style   words.Style
	eye     *color.Eye
	heats   []observe.HeatRow
	tempers []observe.TemperRow
	seconds float64
	steel   string
	comp    steel.Composition
}

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
		out = []byte(charts.drawing().SVG())
	case "png":
		out = charts.drawing().PNG(2)
	case "markdown":
		out = charts.markdown()
	case "html":
		out, err = charts.page()
	default:
		out = charts.text()
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
	solid, err := job.Piece.Solid()
	if err != nil {
		return nil, err
	}
	charts.style = d.style(job.Units)
	scales := color.Scales{Temperature: charts.temp, Time: charts.style.Seconds}
	picture := drawing.Heats(h, solid, charts.eye, scales, 900, 130)
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
	if time < 10 || time > 24*3600 {
		return nil, inputError("--time %s: between 10 s and 24 h; shorter heats give no even color, longer ones are past the model", c.Time)
	}
	grade, err := steel.Find(c.Steel)
	if err != nil {
		return nil, inputError("--steel: %w", err)
	}
	eye := color.NewEye(light, glasses)
	return &colorCharts{
		style: d.style("metric"), eye: eye, heats: observe.HeatChart(eye, magnetOff),
		tempers: observe.TemperChart(grade.Nominal(), float64(time)), seconds: float64(time), steel: grade.Name, comp: grade.Nominal(),
	}, nil
}

func (c *colorCharts) say(code string, args ...cite.Quantity) string {
	return c.style.Of("colors."+code, args...).Say
}

func (c *colorCharts) temp(T float64) string { return c.style.Quantity(cite.Num("", T, "K"), "") }

func (c *colorCharts) step(dT float64) string {
	return c.style.Quantity(cite.Num("", dT, "K-step"), "")
}

// span writes a range; words without an end are "over" something.
func (c *colorCharts) span(low, high float64) string {
	if math.IsInf(high, 1) {
		return c.say("over", cite.Num("low", low, "K"))
	}
	return c.style.Range(low, high, "K")
}

// shades says how bright a heat is beside magnet-off.
func (c *colorCharts) shades(r observe.HeatRow) string {
	n := int(math.Round(r.Shades))
	count := cite.Txt("n", fmt.Sprint(max(n, -n)))
	switch {
	case n == 0:
		return c.say("shade-same")
	case n == 1:
		return c.say("shade-one-up")
	case n == -1:
		return c.say("shade-one-down")
	case n > 0:
		return c.say("shade-up", count)
	}
	return c.say("shade-down", count)
}

func (c *colorCharts) heatTitle() string {
	through := ""
	if c.eye.Glasses.Name != color.NoGlasses.Name {
		through = c.say("through", cite.Txt("glasses", c.eye.Glasses.Name))
	}
	return strings.Replace(c.say("heats", cite.Txt("where", c.eye.Light.Where), cite.Txt("glasses", "\x00")), "\x00", through, 1)
}

func (c *colorCharts) temperTitle() string {
	return c.say("tempers", cite.Txt("steel", c.steel), cite.Num("time", c.seconds, "s"))
}

// heatNotes are the lines under the chart of glow.
func (c *colorCharts) heatNotes() []string {
	var list []string
	for _, l := range color.Lights() {
		if low, high, ok := color.NewEye(l, c.eye.Glasses).Ends(color.Cherry); ok {
			list = append(list, fmt.Sprintf("%s %s", l.Name, c.temp((low+high)/2)))
		}
	}
	hardening := 800 + 273.15
	return []string{
		c.say("first-glow", cite.Num("first", c.eye.Threshold(), "K")),
		c.say("shift", cite.Txt("word", color.Cherry.String()), cite.Txt("list", strings.Join(list, ", "))),
		c.say("apart", cite.Txt("step", c.step(c.eye.Brighter(hardening, 1)-hardening))),
		c.say("relative"),
		c.say("people"),
	}
}

// temperNotes are the lines under the chart of temper colors.
func (c *colorCharts) temperNotes() []string {
	brown := color.Brown.Film().Value
	at := func(s float64) float64 { return skin.FilmTemperature(c.comp, brown, s) }
	notes := []string{c.say("clean")}
	if c.seconds <= 1200 {
		notes = append(notes, c.say("time", cite.Txt("hour", c.step(at(c.seconds)-at(3600))), cite.Txt("two", c.step(at(c.seconds)-at(7200)))))
	}
	if shift := at(c.seconds) - skin.FilmTemperature(steel.Composition{}, brown, c.seconds); shift > 4 {
		notes = append(notes, c.say("alloy", cite.Txt("shift", c.step(shift))))
	}
	return append(notes, c.say("longer"), c.say("burns"), c.say("not-a-sensor"))
}

func (c *colorCharts) text() []byte {
	var b, rows bytes.Buffer
	for _, r := range c.heats {
		fmt.Fprintf(&rows, "  %s\t%s\t%s\t%s\n", r.Word, c.temp(r.T.Value), c.span(r.T.Low, r.T.High), c.shades(r))
	}
	c.section(&b, c.heatTitle(), &rows, c.heatNotes())
	b.WriteByte('\n')
	rows.Reset()
	for _, r := range c.tempers {
		fmt.Fprintf(&rows, "  %s\t%s\t%s\n", r.Word, c.temp(r.T.Value), c.span(r.T.Low, r.T.High))
	}
	c.section(&b, c.temperTitle(), &rows, c.temperNotes())
	return b.Bytes()
}

// section writes a title, rows in columns and the lines under them.
func (c *colorCharts) section(b *bytes.Buffer, title string, rows *bytes.Buffer, notes []string) {
	fmt.Fprintf(b, "%s\n\n", title)
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	_, err := w.Write(rows.Bytes())
	if e := w.Flush(); err != nil || e != nil {
		panic("colors: a buffer that refuses text")
	}
	b.WriteByte('\n')
	for _, s := range notes {
		fmt.Fprintf(b, "  %s\n", s)
	}
}

// chartText is how both charts write; ticks are round in the reader's unit.
func (c *colorCharts) chartText(title string, step float64) observe.ChartText {
	t := observe.ChartText{
		Title: title, Tick: c.temp, Word: func(w string) string { return w }, Step: step, First: 273.15,
		Range: c.span,
	}
	if c.style.Units == unit.Imperial {
		t.First, t.Step = 273.15-32/1.8, step*2/1.8
	}
	return t
}

func (c *colorCharts) drawing() *color.Drawing {
	return observe.Stack(
		observe.DrawHeats(c.heats, c.chartText(c.heatTitle(), 100), c.shades),
		observe.DrawTempers(c.tempers, c.chartText(c.temperTitle(), 50)),
	)
}

var colorsPage = template.Must(template.New("colors").Parse(`<!doctype html>
<html lang="{{.Language}}"><head><meta charset="utf-8"><title>{{.Heat}}</title>
<style>
@page { size: A4; margin: 14mm }
body { font: 11pt/1.35 "Liberation Sans", Arial, sans-serif; color: #000; background: #fff; max-width: 190mm; margin: 4mm auto }
svg { width: 100%; height: auto; display: block; -webkit-print-color-adjust: exact; print-color-adjust: exact }
ul { margin: 1mm 0 6mm; padding-left: 5mm }
</style></head><body>
{{.HeatChart}}<ul>{{range .HeatNotes}}<li>{{.}}</li>{{end}}</ul>
{{.TemperChart}}<ul>{{range .TemperNotes}}<li>{{.}}</li>{{end}}</ul>
</body></html>
`))

func (c *colorCharts) page() ([]byte, error) {
	var b bytes.Buffer
	heats := observe.DrawHeats(c.heats, c.chartText(c.heatTitle(), 100), c.shades)
	tempers := observe.DrawTempers(c.tempers, c.chartText(c.temperTitle(), 50))
	err := colorsPage.Execute(&b, map[string]any{
		"Language": string(c.style.Language), "Heat": c.heatTitle(),
		"HeatChart": template.HTML(heats.SVG()), "TemperChart": template.HTML(tempers.SVG()), //nolint:gosec // our own drawing
		"HeatNotes": c.heatNotes(), "TemperNotes": c.temperNotes(),
	})
	return b.Bytes(), err
}
