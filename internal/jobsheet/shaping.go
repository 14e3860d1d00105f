package jobsheet

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// pass says what forging does to the shape; empty where the job does not say.
func (c *composer) pass(s route.Step) string {
	say := func(code string, pairs ...string) string {
		return c.style.Of("jobsheet."+code, texts(pairs)...).Say
	}
	if p := s.Into; p.Form != "" {
		width := ""
		if p.Width.Is() {
			width = c.typedLength(p.Width)
		}
		return say("pass-into", "form", string(p.Form), "length", c.typedLength(p.Length), "width", width, "thickness", c.typedLength(p.Thick()))
	}
	if !s.Passes() {
		return ""
	}
	var where, size string
	switch from, over := s.From, s.Over; {
	case over.Is() && (!from.Is() || from.Value == 0):
		where = say("pass-first", "over", c.typedLength(over))
	case over.Is():
		where = say("pass-between", "over", c.typedLength(over), "from", c.typedLength(from))
	case from.Is() && from.Value > 0:
		where = say("pass-from", "from", c.typedLength(from))
	default:
		where = say("pass-all")
	}
	switch {
	case !s.Thickness.Is():
		size = say("pass-wide", "width", c.typedLength(s.Width))
	case !s.Width.Is():
		size = say("pass-thick", "thickness", c.typedLength(s.Thickness))
	default:
		size = say("pass-both", "width", c.typedLength(s.Width), "thickness", c.typedLength(s.Thickness))
	}
	return say("pass-stretch", "where", where, "size", size)
}

// passes counts the forging steps that change the shape, heatsOfPasses their heats.
func (c *composer) passes() int {
	n := 0
	for _, s := range c.job.Steps {
		if s.Passes() {
			n++
		}
	}
	return n
}

func (c *composer) heatsOfPasses() int {
	n := 0
	for _, s := range c.job.Steps {
		if s.Passes() {
			n += max(s.Times, 1)
		}
	}
	return n
}

// texts makes pairs of name and text into quantities.
func texts(pairs []string) []cite.Quantity {
	var all []cite.Quantity
	for i := 0; i+1 < len(pairs); i += 2 {
		all = append(all, cite.Txt(pairs[i], pairs[i+1]))
	}
	return all
}

// atAnvil is the time that a step's piece is worked in each heat [s]: as said, or as the
// history found it from the blows.
func (c *composer) atAnvil(i int) float64 {
	if w := c.job.Steps[i].Work; w.Is() {
		return float64(w.Value)
	}
	most, turn, since := 0.0, -1, 0.0
	for k := range c.h.Steps {
		s := &c.h.Steps[k]
		if s.JobStep != i || s.Role != sim.Working {
			continue
		}
		if s.Turn != turn {
			turn, since = s.Turn, s.Start
		}
		most = math.Max(most, s.End-since)
	}
	return most
}

func (c *composer) drillLine(s route.Step) Line {
	across := ""
	if s.Across.Is() {
		across = c.typedLength(s.Across)
	}
	return c.line("jobsheet.drill", texts([]string{"diameter", c.typedLength(s.Diameter), "from", c.typedLength(s.From), "across", across})...)
}

func (c *composer) bendLine(s route.Step) Line {
	heat, way := c.style.Of("jobsheet.bend-cold").Say, ""
	if s.Hot() {
		heat = c.heat(s)
	}
	if s.Way == route.HardWay {
		way = c.style.Of("jobsheet.bend-hard-way").Say
	}
	angle := fmt.Sprintf("%.0f°", math.Abs(s.Angle.Value.Degrees()))
	return c.line("jobsheet.bend", texts([]string{"angle", angle, "way", way, "over", c.typedLength(s.Over), "from", c.typedLength(s.From), "heat", heat})...)
}
