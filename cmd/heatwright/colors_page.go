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
	"github.com/heatwright/heatwright/unit"
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
No word goes past 1400 °C, where steel for edges and springs has begun to melt.

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
	charts := make([]map[color.Heat]observe.HeatRow, len(lights))
	for i, l := range lights {
		charts[i] = map[color.Heat]observe.HeatRow{}
		for _, r := range observe.HeatChart(color.NewEye(l, color.NoGlasses), jobsheet.MagnetOff, 0) {
			charts[i][r.Word] = r
		}
	}
	for h := color.FaintRed; h < color.NumHeats; h++ {
		fmt.Fprintf(&b, "| %s |", h)
		for i := range lights {
			r, ok := charts[i][h]
			switch {
			case !ok:
				fmt.Fprint(&b, " – |")
			case h == color.White:
				fmt.Fprintf(&b, " over %.0f |", r.T.Low-zeroC)
			default:
				fmt.Fprintf(&b, " %.0f–%.0f %s |", r.T.Low-zeroC, r.T.High-zeroC, r.Screen)
			}
		}
		all := color.HeatBand(h)
		fmt.Fprintf(&b, " %.0f–%.0f | %s |\n", all.Low-zeroC, all.High-zeroC, printed(color.PublishedHeats(), h.String()))
	}
	fmt.Fprintf(&b, "\n%s * marks figures from memory, which count for nothing.\nWhere a source prints a range, its middle counts. The corners between the words and the whites of the lights were\nset on these charts, none of which tells its light.\n",
		held("of unknown light", color.PublishedHeats(), func(p color.Published) unit.Band {
			h, _ := color.ParseHeat(p.Word)
			return color.HeatBand(h)
		}))
	fmt.Fprint(&b, `
To see what is foretold and not only fitted, each chart that was read is left out in turn and the corners are settled
anew on the others, so that the middle of each word comes nearest to their median (the whites of the lights stay).

`)
	leftOut(&b, observe.LeftOutHeats(), false)
	fmt.Fprint(&b, `
### The first glow

The thresholds of the chart are those of open steel: its scale sends back a fifth of the light of the shop, and the
glow has to add 4 % to that. An old list is far below them. It holds for an eye that is used to the light and looks
into a hole where none of it falls: there the least luminance that is seen goes with the root of the one that the eye
is used to. The factor is set on the list's sunlight and the floor on its dark; twilight and daylight, with 10 and
1000 lx for what the list only names, are foretold.

| light | listed, red heat seen | ours, in a hole | ours, open steel |
|---|---|---|---|
`)
	for _, row := range []struct {
		name   string
		lux, C float64
	}{{"dark", 0, 400}, {"twilight, 10 lx", 10, 474}, {"daylight, 1000 lx", 1000, 525}, {"sunlight, 60000 lx", 60000, 581}} {
		eye := color.NewEye(color.Light{Name: row.name, Lux: row.lux, White: 100}, color.NoGlasses)
		fmt.Fprintf(&b, "| %s | %.0f | %.0f | %.0f |\n", row.name, row.C, eye.HoleThreshold()-zeroC, eye.Threshold()-zeroC)
	}
	fmt.Fprint(&b, `
Draper's 525 °C, for all bodies in a darkened room, lies between our open steel in pitch dark (478) and beside a lamp
of 20 lx (589). The luminance of a black body there is 0.0076 cd/m².

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
	band := map[string]unit.Band{}
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
		band[r.Word.String()] = r.T
	}
	fmt.Fprintf(b, "\n%s Of brown-purple, which two authors both put at\n260 °C and a recalled one at 271, ours is the one word outside of the span of what was read.\n", held("of five minutes", color.PublishedTempers(), func(p color.Published) unit.Band { return band[p.Word] }))
	fmt.Fprint(b, `
The two constants of the growth law and the ten corners between the words were settled on these tables. Left out in
turn, each table that was read fares as follows: with the law refitted to the medians of the others and the corners
kept, and with the corners free too, so that each word comes where the others have it.

`)
	leftOut(b, observe.LeftOutTempers(c.Comp), true)
	fmt.Fprint(b, "\n## Sources\n\n")
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

// held says how many printed rows the bands hold, those read apart from those recalled.
func held(what string, all []color.Published, band func(color.Published) unit.Band) string {
	var in, n [2]int
	for _, p := range all {
		if p.Word == "" {
			continue
		}
		k := 0
		if p.ReadBy == cite.FromMemory {
			k = 1
		}
		T := p.At + zeroC
		if p.At == 0 {
			T = (p.From+p.To)/2 + zeroC
		}
		n[k]++
		if b := band(p); T >= b.Low && T <= b.High {
			in[k]++
		}
	}
	return fmt.Sprintf("The bands %s hold %d of %d printed rows that were read (and %d of %d recalled).", what, in[0], n[0], in[1], n[1])
}

// leftOut writes how each source fares when it is left out.
func leftOut(b *bytes.Buffer, all []observe.LeftOut, law bool) {
	head, rule := "| source | rows | as it is: off by | inside |", "|---|---|---|---|"
	if law {
		head, rule = head+" law left out: off by | inside |", rule+"---|---|"
	}
	fmt.Fprintf(b, "%s left out: off by | inside |\n%s---|---|\n", head, rule)
	var sum observe.LeftOut
	add := func(to *observe.Miss, m observe.Miss, rows int) {
		to.Bias, to.Mean, to.In = to.Bias+m.Bias*float64(rows), to.Mean+m.Mean*float64(rows), to.In+m.In
	}
	line := func(name string, l observe.LeftOut, share float64) {
		fmt.Fprintf(b, "| %s | %d |", name, l.Rows)
		each := []observe.Miss{l.Fit, l.All}
		if law {
			each = []observe.Miss{l.Fit, l.Law, l.All}
		}
		for _, m := range each {
			fmt.Fprintf(b, " %.0f K (%+.0f) | %d |", m.Mean*share, m.Bias*share, m.In)
		}
		fmt.Fprintln(b)
	}
	for _, l := range all {
		line(string(l.Source), l, 1)
		sum.Rows += l.Rows
		add(&sum.Fit, l.Fit, l.Rows)
		add(&sum.Law, l.Law, l.Rows)
		add(&sum.All, l.All, l.Rows)
	}
	line("all", sum, 1/float64(sum.Rows))
	fmt.Fprint(b, "\nOff by: mean distance, and in brackets the mean of ours less theirs.\n")
}
