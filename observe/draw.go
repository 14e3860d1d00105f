package observe

import (
	"math"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/unit"
)

// ChartText is what a chart says, in the reader's English and units.
type ChartText struct {
	Title string
	Range func(low, high float64) string // of temperatures [K]
	Tick  func(T float64) string         // of one temperature [K]
	Step  float64                        // between ticks [K]
	First float64                        // a tick falls on this temperature [K]
	Word  func(w string) string
	Under []string // lines below the chart
}

// chartRow is what a line of any chart shows.
type chartRow struct {
	word   string
	screen color.RGB
	band   unit.Band
	aside  string
}

// DrawHeats draws the chart of glow for one light; aside is what stands behind each row.
func DrawHeats(rows []HeatRow, text ChartText, aside func(HeatRow) string) *color.Drawing {
	var all []chartRow
	for _, r := range rows {
		all = append(all, chartRow{r.Word.String(), r.Screen, r.T, aside(r)})
	}
	return drawChart(all, text)
}

// DrawTempers draws the chart of temper colors for one time.
func DrawTempers(rows []TemperRow, text ChartText) *color.Drawing {
	var all []chartRow
	for _, r := range rows {
		all = append(all, chartRow{r.Word.String(), r.Screen, r.T, ""})
	}
	return drawChart(all, text)
}

// drawChart lays a line per word: the color, the word, the numbers, and the same
// numbers as a bar on one scale. Colors are a help and carry nothing alone.
func drawChart(rows []chartRow, text ChartText) *color.Drawing {
	const width, line, top, swatch, names, numbers, bars, right = 760, 30, 58, 12, 104, 232, 392, 748
	d := &color.Drawing{Width: width, Height: top + line*float64(len(rows)) + 12 + 18*float64(len(text.Under)), Title: text.Title}
	d.Text(color.Black, 18, color.Point{X: 12, Y: 24}, 's', text.Title)
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rows {
		low, high = min(low, r.band.Low), max(high, min(r.band.High, r.band.Value+120))
	}
	x := func(T float64) float64 { return bars + (right-bars)*(min(T, high)-low)/(high-low) }
	for n := math.Ceil((low - text.First) / text.Step); text.First+n*text.Step <= high; n++ {
		T := text.First + n*text.Step
		d.Line(color.RGB{R: 150, G: 150, B: 150}, 0.6, color.Point{X: x(T), Y: top - 4}, color.Point{X: x(T), Y: top + line*float64(len(rows))})
		d.Text(color.Black, 11, color.Point{X: x(T), Y: top - 9}, 'm', text.Tick(T))
	}
	for i, r := range rows {
		y := top + line*float64(i)
		d.Polygon(r.screen, color.Point{X: swatch, Y: y + 2}, color.Point{X: names - 12, Y: y + 2}, color.Point{X: names - 12, Y: y + line - 2}, color.Point{X: swatch, Y: y + line - 2})
		d.Line(color.Black, 0.8, color.Point{X: swatch, Y: y + 2}, color.Point{X: names - 12, Y: y + 2}, color.Point{X: names - 12, Y: y + line - 2}, color.Point{X: swatch, Y: y + line - 2}, color.Point{X: swatch, Y: y + 2})
		d.Text(color.Black, 15, color.Point{X: names, Y: y + 20}, 's', text.Word(r.word))
		d.Text(color.Black, 15, color.Point{X: numbers, Y: y + 20}, 's', text.Range(r.band.Low, r.band.High))
		mid := y + line/2
		d.Line(color.Black, 2, color.Point{X: x(r.band.Low), Y: mid}, color.Point{X: x(r.band.High), Y: mid})
		d.Polygon(color.Black, color.Point{X: x(r.band.Value) - 5, Y: mid}, color.Point{X: x(r.band.Value), Y: mid - 6}, color.Point{X: x(r.band.Value) + 5, Y: mid}, color.Point{X: x(r.band.Value), Y: mid + 6})
		if r.aside != "" {
			at, anchor := x(min(r.band.High, high))+8, byte('s')
			if at+6.2*float64(len([]rune(r.aside))) > right {
				at, anchor = x(r.band.Low)-8, 'e'
			}
			d.Label(11, color.Point{X: at, Y: mid + 4}, anchor, r.aside)
		}
	}
	for i, s := range text.Under {
		d.Text(color.Black, 12, color.Point{X: 12, Y: top + line*float64(len(rows)) + 20 + 18*float64(i)}, 's', s)
	}
	return d
}

// Stack puts drawings below one another.
func Stack(parts ...*color.Drawing) *color.Drawing {
	all := &color.Drawing{}
	for i, p := range parts {
		if i > 0 {
			all.Title += "; "
		}
		all.Title += p.Title
		all.Append(p, 0, all.Height)
		all.Width = max(all.Width, p.Width)
		all.Height += p.Height + 10
	}
	return all
}
