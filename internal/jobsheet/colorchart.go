package jobsheet

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// pullLost is where plain steel lets go of the magnet on heating, which shades of
// glow are counted from [K]; common practice.
const pullLost = 745 + 273.15

// ColorChart lays out a smith's own chart for paper: glow in the light of the own
// shop, as steps beside magnet-off, and temper colors of the own steel by time. It
// is in words and numbers: no printer and no screen shows what a fire shows.
func ColorChart(comp steel.Composition, name string, light color.Light, style words.Style) *Sheet {
	c := &composer{style: style, lines: map[string]*Line{}, said: map[string]bool{}}
	eye := color.NewEye(light, color.NoGlasses)
	s := &Sheet{Title: c.say("chart.title"), Letter: style.Units == unit.Imperial, Verdict: c.say("colors.people"), Foot: c.say("colors.not-a-sensor")}
	s.Words.Back = c.say("wall.back")
	s.Lead = []string{c.say("chart.for", txt("steel", name), txt("where", light.Where))}
	s.Front = []Block{c.glow(eye), c.tempers(comp)}
	s.Front[0].Lines = append(s.Front[0].Lines, c.line("colors.relative"))
	s.Front[1].Lines = append(s.Front[1].Lines, c.line("colors.clean"), c.line("colors.burns"))
	s.Back = []Block{{Title: c.say("wall.how"), Lines: append(c.why, c.line("chart.how"), c.line("colors.longer"))}}
	return s
}

func (c *composer) glow(eye *color.Eye) Block {
	b := Block{Title: c.say("chart.glow"), Kind: Columns}
	b.Lines = append(b.Lines, Line{Cells: []string{c.say("chart.word"), c.say("chart.range"), c.say("chart.beside")}})
	for _, r := range observe.HeatChart(eye, pullLost) {
		span := c.style.Range(r.T.Low, r.T.High, "K")
		if math.IsInf(r.T.High, 1) {
			span = c.say("colors.over", cite.Num("low", r.T.Low, "K"))
		}
		b.Lines = append(b.Lines, Line{Cells: []string{r.Word.String(), span, c.shades(r.Shades)}})
	}
	return b
}

// shades says how bright a heat is beside magnet-off.
func (c *composer) shades(x float64) string {
	n := int(math.Round(x))
	count := txt("n", fmt.Sprint(max(n, -n)))
	switch {
	case n == 0:
		return c.say("colors.shade-same")
	case n == 1:
		return c.say("colors.shade-one-up")
	case n == -1:
		return c.say("colors.shade-one-down")
	case n > 0:
		return c.say("colors.shade-up", count)
	}
	return c.say("colors.shade-down", count)
}

func (c *composer) tempers(comp steel.Composition) Block {
	b := Block{Title: c.say("chart.temper"), Kind: Columns}
	head := []string{c.say("chart.word")}
	var charts [][]observe.TemperRow
	for _, s := range []float64{300, 3600, 7200} {
		head = append(head, c.time(s))
		charts = append(charts, observe.TemperChart(comp, s))
	}
	b.Lines = append(b.Lines, Line{Cells: head})
	for i, r := range charts[0] {
		if r.Word == color.GreyFilm {
			continue
		}
		row := []string{r.Word.String()}
		for _, chart := range charts {
			row = append(row, unit.Temp(chart[i].T.Value).Text(c.style.Units))
		}
		b.Lines = append(b.Lines, Line{Cells: row})
	}
	return b
}
