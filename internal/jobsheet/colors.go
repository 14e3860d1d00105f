package jobsheet

import (
	"bytes"
	"fmt"
	"html/template"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// MagnetOff is where a magnet lets go of steels of 0.45 % carbon and more on
// heating, which shades of glow are counted from [K]; common practice.
const MagnetOff = 745 + 273.15

// Times at heat for which temper colors can be asked [s]: shorter heats give no
// even color, longer ones are past the model.
const (
	ShortestTemper = 10
	LongestTemper  = 24 * 3600
)

// Colors are a smith's own charts: glow in one light through one pair of glasses,
// and temper colors of one steel after one time at heat, with all that stands on
// them in words.
type Colors struct {
	Style   words.Style
	Eye     *color.Eye
	Heats   []observe.HeatRow
	Tempers []observe.TemperRow
	Seconds float64
	Steel   string // as it is called
	Comp    steel.Composition
	Melts   float64 // where it begins to melt [K]; 0: not known
}

// ColorsOf computes the charts.
func ColorsOf(light color.Light, glasses color.Glasses, seconds float64, name string, comp steel.Composition, style words.Style) *Colors {
	eye, melts := color.NewEye(light, glasses), 0.0
	if limits, err := micro.Equilibrium(comp); err == nil {
		melts = limits.Solidus()
	}
	return &Colors{
		Style: style, Eye: eye, Heats: observe.HeatChart(eye, MagnetOff, melts),
		Tempers: observe.TemperChart(comp, seconds), Melts: melts, Seconds: seconds, Steel: name, Comp: comp,
	}
}

// Say says a code of the charts.
func (c *Colors) Say(code string, args ...cite.Quantity) string {
	return c.Style.Of("colors."+code, args...).Say
}

// Temp says a temperature [K].
func (c *Colors) Temp(T float64) string { return c.Style.Quantity(cite.Num("", T, "K"), "") }

func (c *Colors) step(dT float64) string {
	return c.Style.Quantity(cite.Num("", dT, "K-step"), "")
}

// Span writes a range; words without an end are "over" something.
func (c *Colors) Span(low, high float64) string {
	if math.IsInf(high, 1) {
		return c.Say("over", cite.Num("low", low, "K"))
	}
	return c.Style.Range(low, high, "K")
}

// Beside says how bright a heat is beside magnet-off.
func (c *Colors) Beside(r observe.HeatRow) string {
	n := int(math.Round(r.Shades))
	count := cite.Txt("n", fmt.Sprint(max(n, -n)))
	switch {
	case n == 0:
		return c.Say("shade-same")
	case n == 1:
		return c.Say("shade-one-up")
	case n == -1:
		return c.Say("shade-one-down")
	case n > 0:
		return c.Say("shade-up", count)
	}
	return c.Say("shade-down", count)
}

// HeatTitle is the title of the chart of glow.
func (c *Colors) HeatTitle() string {
	through := ""
	if c.Eye.Glasses.Name != color.NoGlasses.Name {
		through = c.Say("through", cite.Txt("glasses", c.Eye.Glasses.Name))
	}
	return strings.Replace(c.Say("heats", cite.Txt("where", c.Eye.Light.Where), cite.Txt("glasses", "\x00")), "\x00", through, 1)
}

// TemperTitle is the title of the chart of temper colors.
func (c *Colors) TemperTitle() string {
	return c.Say("tempers", cite.Txt("steel", c.Steel), cite.Num("time", c.Seconds, "s"))
}

// HeatNotes are the lines under the chart of glow.
func (c *Colors) HeatNotes() []string {
	var list []string
	for _, l := range color.Lights() {
		if low, high, ok := color.NewEye(l, c.Eye.Glasses).Ends(color.Cherry); ok {
			list = append(list, fmt.Sprintf("%s %s", l.Name, c.Temp((low+high)/2)))
		}
	}
	hardening := 800 + 273.15
	notes := []string{
		c.Say("first-glow", cite.Num("first", c.Eye.Threshold(), "K"), cite.Num("hole", c.Eye.HoleThreshold(), "K")),
		c.Say("shift", cite.Txt("word", color.Cherry.String()), cite.Txt("list", strings.Join(list, ", "))),
		c.Say("apart", cite.Txt("step", c.step(c.Eye.Brighter(hardening, 1)-hardening))),
		c.Say("relative"),
		c.Say("people"),
	}
	if c.Melts > 0 {
		notes = append(notes, c.Say("melts", cite.Txt("steel", c.Steel), cite.Num("melts", c.Melts, "K")))
	}
	return notes
}

// TemperNotes are the lines under the chart of temper colors.
func (c *Colors) TemperNotes() []string {
	brown := color.Brown.Film().Value
	at := func(s float64) float64 { return skin.FilmTemperature(c.Comp, brown, s) }
	notes := []string{c.Say("clean")}
	if c.Seconds <= 1200 {
		notes = append(notes, c.Say("time", cite.Txt("hour", c.step(at(c.Seconds)-at(3600))), cite.Txt("two", c.step(at(c.Seconds)-at(7200)))))
	}
	if shift := at(c.Seconds) - skin.FilmTemperature(steel.Composition{}, brown, c.Seconds); shift > 4 {
		notes = append(notes, c.Say("alloy", cite.Txt("shift", c.step(shift))))
	}
	return append(notes, c.Say("longer"), c.Say("burns"), c.Say("not-a-sensor"))
}

// Text writes both charts for a terminal.
func (c *Colors) Text() []byte {
	var b, rows bytes.Buffer
	for _, r := range c.Heats {
		fmt.Fprintf(&rows, "  %s\t%s\t%s\t%s\n", r.Word, c.Temp(r.T.Value), c.Span(r.T.Low, r.T.High), c.Beside(r))
	}
	c.section(&b, c.HeatTitle(), &rows, c.HeatNotes())
	b.WriteByte('\n')
	rows.Reset()
	for _, r := range c.Tempers {
		fmt.Fprintf(&rows, "  %s\t%s\t%s\n", r.Word, c.Temp(r.T.Value), c.Span(r.T.Low, r.T.High))
	}
	c.section(&b, c.TemperTitle(), &rows, c.TemperNotes())
	return b.Bytes()
}

// section writes a title, rows in columns and the lines under them.
func (c *Colors) section(b *bytes.Buffer, title string, rows *bytes.Buffer, notes []string) {
	fmt.Fprintf(b, "%s\n\n", title)
	w := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	_, err := w.Write(rows.Bytes())
	if e := w.Flush(); err != nil || e != nil {
		panic("jobsheet: a buffer that refuses text")
	}
	b.WriteByte('\n')
	for _, s := range notes {
		fmt.Fprintf(b, "  %s\n", s)
	}
}

// chartText is how both charts write; ticks are round in the reader's unit.
func (c *Colors) chartText(title string, step float64) observe.ChartText {
	t := observe.ChartText{
		Title: title, Tick: c.Temp, Word: func(w string) string { return w }, Step: step, First: 273.15,
		Range: c.Span,
	}
	if c.Style.Units == unit.Imperial {
		t.First, t.Step = 273.15-32/1.8, step*2/1.8
	}
	return t
}

// DrawHeats draws the chart of glow.
func (c *Colors) DrawHeats() *color.Drawing {
	return observe.DrawHeats(c.Heats, c.chartText(c.HeatTitle(), 200), c.Beside)
}

// DrawTempers draws the chart of temper colors.
func (c *Colors) DrawTempers() *color.Drawing {
	return observe.DrawTempers(c.Tempers, c.chartText(c.TemperTitle(), 50))
}

// Drawing draws both charts under each other.
func (c *Colors) Drawing() *color.Drawing {
	return observe.Stack(c.DrawHeats(), c.DrawTempers())
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

// Page writes both charts as a page for print that needs nothing else.
func (c *Colors) Page() ([]byte, error) {
	var b bytes.Buffer
	err := colorsPage.Execute(&b, map[string]any{
		"Language": string(c.Style.Language), "Heat": c.HeatTitle(),
		"HeatChart": template.HTML(c.DrawHeats().SVG()), "TemperChart": template.HTML(c.DrawTempers().SVG()), //nolint:gosec // our own drawing
		"HeatNotes": c.HeatNotes(), "TemperNotes": c.TemperNotes(),
	})
	return b.Bytes(), err
}
