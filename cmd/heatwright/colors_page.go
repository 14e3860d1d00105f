package main

import (
	"bytes"
	"fmt"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/observe"
)

// markdown writes docs/colors.md: the computed charts in every light beside what
// the published ones print.
func (c *colorCharts) markdown() []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, `# Colors: what is computed, and what is printed elsewhere

Written by %s. Do not edit: run it again. Temperatures in °C.
A band holds 8 in 10 people. The chart of one light is drawn in [colors.svg](colors.svg).

## Glow of scaled steel

Computed from Planck's law with an emissivity of 0.80, the CIE 1931 observer and an eye adapted to the
light. The chromaticity of hot steel hardly moves; what changes with temperature is the brightness, tenfold
for 100 °C near 750 °C, and the eye's answer to it. So the light in the shop decides which word is said.

`, "`heatwright colors --as markdown`")
	lights := color.Lights()
	fmt.Fprint(&b, "| word |")
	for _, l := range lights {
		fmt.Fprintf(&b, " %s (%.0f lx) |", l.Name, l.Lux)
	}
	fmt.Fprint(&b, " light unknown | printed elsewhere |\n|---|"+strings.Repeat("---|", len(lights)+2)+"\n")
	fmt.Fprint(&b, "| first glow |")
	for _, l := range lights {
		fmt.Fprintf(&b, " %.0f |", color.NewEye(l, color.NoGlasses).Threshold()-zeroC)
	}
	fmt.Fprint(&b, " | Draper: 525 in the dark |\n")
	for h := color.FaintRed; h < color.NumHeats; h++ {
		fmt.Fprintf(&b, "| %s |", h)
		for _, l := range lights {
			eye := color.NewEye(l, color.NoGlasses)
			band, ok := eye.Band(h)
			switch {
			case !ok:
				fmt.Fprint(&b, " – |")
			case h == color.White:
				fmt.Fprintf(&b, " over %.0f |", band.Low-zeroC)
			default:
				fmt.Fprintf(&b, " %.0f–%.0f %s |", band.Low-zeroC, band.High-zeroC, eye.See(band.Value, 1e6))
			}
		}
		all := color.HeatBand(h)
		fmt.Fprintf(&b, " %.0f–%.0f | %s |\n", all.Low-zeroC, all.High-zeroC, printed(color.PublishedHeats(), h.String()))
	}
	in, n := 0, 0
	for _, p := range color.PublishedHeats() {
		if h, ok := color.ParseHeat(p.Word); ok {
			n++
			if b, T := color.HeatBand(h), (p.From+p.To)/2+zeroC; T >= b.Low && T <= b.High {
				in++
			}
		}
	}
	fmt.Fprintf(&b, "\nThe bands of unknown light hold %d of %d printed rows. Where a source prints a range, its middle counts; * marks figures from memory.\n", in, n)
	fmt.Fprint(&b, `
An old list has red heat visible in the dark at 400, in twilight at 474, in daylight at 525 and in sunlight
at 581 °C. Those figures hold for looking into a shielded hole, not for open steel in the sun, and are not
reproduced here.

### Told beside magnet-off

In one light the eye compares well. One shade is a step of 1.75 in brightness.

| °C | shades above magnet-off (745 °C) |
|---|---|
`)
	eye := color.NewEye(color.Dim, color.NoGlasses)
	for _, T := range []float64{700, 745, 770, 790, 800, 815, 830, 850, 900} {
		fmt.Fprintf(&b, "| %.0f | %+.1f |\n", T, eye.Shades(T+zeroC, jobsheet.MagnetOff))
	}
	c.markdownTempers(&b)
	return b.Bytes()
}

const zeroC = 273.15

func (c *colorCharts) markdownTempers(b *bytes.Buffer) {
	fmt.Fprintf(b, `
## Temper colors of clean %s

Computed from the growth of the oxide film and the interference of light in it (measured optical constants of
iron, magnetite and hematite). The growth law is fitted to the printed tables at five minutes; what it says of
other times follows from its exponent, which those tables hardly hold. The bands are those of five minutes.

| word | color | film nm | 1 min | 5 min | 30 min | 1 h | 2 h | 2 × 2 h | band | printed elsewhere |
|---|---|---|---|---|---|---|---|---|---|---|
`, c.Steel)
	times := []float64{60, 300, 1800, 3600, 7200, 14400}
	var charts [][]observe.TemperRow
	for _, s := range times {
		charts = append(charts, observe.TemperChart(c.Comp, s))
	}
	in, n := 0, 0
	for i, r := range charts[1] {
		fmt.Fprintf(b, "| %s | %s | %.0f |", r.Word, r.Screen, r.Word.Film().Value)
		for k := range times {
			fmt.Fprintf(b, " %.0f |", charts[k][i].T.Value-zeroC)
		}
		end := fmt.Sprintf("%.0f–%.0f", r.T.Low-zeroC, r.T.High-zeroC)
		if r.Word == color.GreyFilm {
			end = fmt.Sprintf("over %.0f", r.T.Low-zeroC)
		}
		fmt.Fprintf(b, " %s | %s |\n", end, printed(color.PublishedTempers(), r.Word.String()))
		for _, p := range color.PublishedTempers() {
			if p.Word == r.Word.String() {
				n++
				if p.At+zeroC >= r.T.Low && p.At+zeroC <= r.T.High {
					in++
				}
			}
		}
	}
	fmt.Fprintf(b, "\nThe bands hold %d of %d printed rows.\n\n## Sources\n\n", in, n)
	keys := map[cite.Key]bool{"draper-1847": true, "cie-018-2019": true, "johnson-christy-1974": true, "querry-1985": true}
	for _, p := range append(color.PublishedHeats(), color.PublishedTempers()...) {
		keys[p.Source] = true
	}
	var lines []string
	for k := range keys {
		if s, ok := cite.Find(k); ok {
			lines = append(lines, "- "+s.String())
		}
	}
	sort.Strings(lines)
	fmt.Fprintln(b, strings.Join(lines, "\n"))
}

// printed lists what authors print for a word: "815–870 cherry red", shortest first by temperature.
func printed(all []color.Published, word string) string {
	type entry struct {
		at   float64
		text string
	}
	var list []entry
	for _, p := range all {
		if p.Word != word {
			continue
		}
		at, text := p.At, fmt.Sprintf("%.0f", p.At)
		if p.At == 0 {
			at, text = p.From, fmt.Sprintf("%.0f", p.From)
			if p.To > p.From {
				text = fmt.Sprintf("%.0f–%.0f", p.From, p.To)
			}
		}
		mark := ""
		if p.ReadBy == cite.FromMemory {
			mark = "*"
		}
		list = append(list, entry{at, fmt.Sprintf("%s%s %s", text, mark, p.Printed)})
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].at < list[j].at })
	var text []string
	for _, e := range list {
		text = append(text, e.text)
	}
	return strings.Join(text, "; ")
}
