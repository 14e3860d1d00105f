package jobsheet

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// WallChart lays out what hangs on the wall of a shop: dial settings, how many
// pieces each bath takes, the thickest section that hardens by steel, and temper
// colors after 5 minutes and 2 hours on plain steel. All of it is computed and
// says so; beside each figure is room for what was measured. A shop of many baths and
// ovens has its rounds and then every other dial setting left out, so that it fits on one side.
func WallChart(w *plan.Wall, shop string, demo bool, plain steel.Composition, style words.Style) *Sheet {
	var s *Sheet
	for _, leave := range []leftOff{{}, {rounds: true}, {rounds: true, dials: true}} {
		s = wallChart(w, shop, demo, plain, style, leave)
		if _, err := s.draw(); err == nil {
			break
		}
	}
	return s
}

// leftOff is what a crowded chart goes without.
type leftOff struct{ rounds, dials bool }

func wallChart(w *plan.Wall, shop string, demo bool, plain steel.Composition, style words.Style, leave leftOff) *Sheet {
	c := &composer{style: style, lines: map[string]*Line{}, said: map[string]bool{}}
	s := &Sheet{Title: c.say("wall.title"), Letter: style.Units == unit.Imperial, Verdict: c.say("wall.computed"), Foot: c.say("jobsheet.foot")}
	s.Words.Back, s.Words.Mark = c.say("wall.back"), ""
	if shop != "" {
		s.Lead = []string{shop}
	}
	if demo {
		s.Demo = "demo data"
	}
	s.Front = []Block{c.wallDials(w, leave.dials), c.wallBaths(w), c.wallSteels(w, leave.rounds), c.wallColors(plain)}
	s.Back = []Block{{Title: c.say("wall.how"), Lines: c.why}}
	return s
}

func (c *composer) wallDials(w *plan.Wall, fewer bool) Block {
	b := Block{Title: c.say("wall.ovens"), Kind: Columns}
	for i, d := range w.Dials {
		if fewer && i%2 == 0 {
			continue
		}
		b.Lines = append(b.Lines, Line{Cells: []string{
			unit.Temp(d.Set).Text(c.style.Units), d.Oven,
			c.style.Range(d.Piece.Low, d.Piece.High, "K"),
			fmt.Sprintf("%s / %s", c.time(d.Thin), c.time(d.Thick)),
		}})
	}
	b.Lines = append(b.Lines, c.line("wall.ovens-how", cite.Num("thin", c.usable(0.003), "m"), cite.Num("thick", c.usable(0.006), "m")))
	return b
}

func (c *composer) wallBaths(w *plan.Wall) Block {
	b := Block{Title: c.say("wall.baths")}
	for _, l := range w.Baths {
		args := []cite.Quantity{txt("bath", l.Bath), cite.Num("mass", math.Round(l.Mass*100)/100, "kg"), cite.Num("rise", l.Rise, "K-step"), cite.Num("from", l.From, "K"), cite.Num("to", l.To, "K"), txt("pieces", fmt.Sprint(l.Pieces))}
		if l.To == 0 {
			b.Lines = append(b.Lines, c.line("wall.bath-no-limit", args...))
		} else {
			b.Lines = append(b.Lines, c.line("wall.bath", args...))
		}
	}
	return b
}

// wallSteels has a row for each bath and a column for each steel, flats above rounds.
func (c *composer) wallSteels(w *plan.Wall, flats bool) Block {
	b := Block{Title: c.say("wall.steels"), Kind: Columns}
	for _, round := range []bool{false, true} {
		head := Line{Cells: []string{c.say("wall.flats")}}
		if round && flats {
			break
		}
		if round {
			head.Cells[0] = c.say("wall.rounds")
		}
		var rows []Line
		for _, d := range w.Steel {
			if len(rows) == 0 || rows[len(rows)-1].Cells[0] != d.Bath {
				rows = append(rows, Line{Cells: []string{d.Bath}})
			}
			if len(rows) == 1 {
				head.Cells = append(head.Cells, d.Steel)
			}
			thick := d.Flat
			if round {
				thick = d.Round
			}
			row := &rows[len(rows)-1]
			row.Cells = append(row.Cells, c.thickest(thick, d.Beyond && thick.Value >= d.Round.Value))
		}
		b.Lines = append(append(b.Lines, head), rows...)
	}
	b.Lines = append(b.Lines, c.line("wall.steels-how"))
	return b
}

func (c *composer) thickest(x unit.Band, beyond bool) string {
	switch {
	case x.Value == 0:
		return c.say("wall.not-at-all")
	case beyond:
		step := 0.005 // what it was tried to, less a little, is said in round figures
		if c.style.Units == unit.Imperial {
			step = 0.0254 / 2
		}
		return c.say("wall.over", cite.Num("thickness", step*math.Floor(x.Value/step+1e-9), "m"))
	case c.usable(x.Low) == 0:
		return c.say("wall.up-to", cite.Num("thickness", c.usable(x.High), "m"))
	}
	return c.style.Range(c.usable(x.Low), c.usable(x.High), "m")
}

// usable rounds a thickness to what a smith can use: sixteenths of an inch, or
// half a mm under 10 mm and whole ones above.
func (c *composer) usable(m float64) float64 {
	step := 0.001
	switch {
	case c.style.Units == unit.Imperial && m < 0.0254/8:
		step = 0.0254 / 64
	case c.style.Units == unit.Imperial:
		step = 0.0254 / 16
	case m < 0.01:
		step = 0.0005
	}
	return step * math.Round(m/step)
}

func (c *composer) wallColors(plain steel.Composition) Block {
	b := Block{Title: c.say("wall.colors"), Kind: Columns}
	quick, slow := observe.TemperChart(plain, 300), observe.TemperChart(plain, 7200)
	for i, r := range quick {
		if r.Word == color.GreyFilm || math.IsInf(r.T.High, 0) {
			continue
		}
		b.Lines = append(b.Lines, Line{Cells: []string{r.Word.String(), unit.Temp(r.T.Value).Text(c.style.Units), unit.Temp(slow[i].T.Value).Text(c.style.Units)}})
	}
	b.Lines = append(b.Lines, c.line("wall.colors-how"))
	return b
}
