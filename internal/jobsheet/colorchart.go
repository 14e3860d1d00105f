package jobsheet

import (
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/unit"
)

// ColorChart lays out a smith's own charts for paper: glow in the light of the own
// shop, as steps beside magnet-off, and temper colors of the own steel by time. It
// is in words and numbers: no printer and no screen shows what a fire shows.
func ColorChart(own *Colors) *Sheet {
	style := own.Style
	c := &composer{style: style, lines: map[string]*Line{}, said: map[string]bool{}}
	s := &Sheet{Title: c.say("chart.title"), Letter: style.Units == unit.Imperial, Verdict: c.say("colors.people"), Foot: c.say("colors.not-a-sensor"), Lang: string(style.Language)}
	s.Words.Back = c.say("wall.back")
	s.Lead = []string{c.say("chart.for", txt("steel", own.Steel), txt("where", own.where()))}
	s.Front = []Block{c.glow(own), c.tempers(own)}
	s.Front[0].Lines = append(s.Front[0].Lines, c.line("colors.relative"))
	s.Front[1].Lines = append(s.Front[1].Lines, c.line("colors.clean"), c.line("colors.burns"))
	s.Back = []Block{{Title: c.say("wall.how"), Lines: append(c.why, c.line("chart.how"), c.line("colors.longer"))}}
	return s
}

// where says in what light and through what the charts hold.
func (c *Colors) where() string {
	if c.Eye.Glasses.Name == color.NoGlasses.Name {
		return c.Eye.Light.Where
	}
	return c.Eye.Light.Where + c.Say("through", cite.Txt("glasses", c.Eye.Glasses.Name))
}

func (c *composer) glow(own *Colors) Block {
	b := Block{Title: c.say("chart.glow"), Kind: Columns}
	b.Lines = append(b.Lines, Line{Cells: []string{c.say("chart.word"), c.say("chart.range"), c.say("chart.beside")}})
	for _, r := range own.Heats {
		b.Lines = append(b.Lines, Line{Cells: []string{r.Word.String(), own.Span(r.T.Low, r.T.High), own.Beside(r)}})
	}
	return b
}

// The times at heat that a chart on paper has [s], beside the one that was asked for.
var paperTimes = []float64{300, 3600, 7200}

func (c *composer) tempers(own *Colors) Block {
	b := Block{Title: c.say("chart.temper"), Kind: Columns}
	times := append([]float64(nil), paperTimes...)
	if !slices.Contains(times, own.Seconds) {
		times = append(times, own.Seconds)
		slices.Sort(times)
	}
	head := []string{c.say("chart.word")}
	var charts [][]observe.TemperRow
	for _, s := range times {
		head = append(head, c.time(s))
		charts = append(charts, observe.TemperChart(own.Comp, s))
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
