package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/unit"
)

// drawn is a run of colors with what is said of it.
type drawn struct {
	charts *colorCharts
	from   observe.Running
	ran    *observe.Ran
	doubt  unit.Band
	ends   [2]string // the names of where the colors start and where they are watched
}

// draw runs the colors down the piece of a job, hardened as it stands, from a
// block, a plate, a torch or its own shank.
func (c *ColorsCmd) draw(d *desk, charts *colorCharts) ([]byte, error) {
	job, err := d.readJob(c.Job)
	if err != nil {
		return nil, err
	}
	solid, err := job.Body(len(job.Steps))
	if err != nil {
		return nil, err
	}
	comp, _, _, err := job.Steel[0].Known()
	if err != nil {
		return nil, inputError("%s", err)
	}
	charts.Style = d.style(job.Units)
	r := observe.Running{Solid: solid, Steel: comp, From: observe.Draw(c.Draw), Watts: c.Watts, Watch: 1, Line: 0.75}
	if err := c.fill(&r, solid); err != nil {
		return nil, err
	}
	ran, err := r.Run()
	if err != nil {
		return nil, inputError("%s", strings.TrimPrefix(err.Error(), "observe: "))
	}
	doubt, err := r.Doubt(ran)
	if err != nil {
		return nil, err
	}
	names := ran.History.Names
	w := &drawn{charts, r, ran, doubt, [2]string{names[0], names[len(names)-1]}}
	switch c.At {
	case "near":
		w.ends[1] = names[0]
	case "middle":
		w.ends[1] = "middle"
	}
	switch c.As {
	case "svg":
		return []byte(w.picture().SVG()), nil
	case "png":
		return w.picture().PNG(2), nil
	case "text":
		return w.text(), nil
	}
	return nil, inputError("--draw writes text, svg or png")
}

// fill reads the flags of a run.
func (c *ColorsCmd) fill(r *observe.Running, solid *shape.Solid) error {
	want, ok := color.ReadTemper(c.Want)
	if !ok {
		return inputError("--want %q is no temper color; say faint straw, straw, dark straw, brown, brown-purple, purple, dark purple, blue or pale blue", c.Want)
	}
	r.Want = want
	r.Watch = map[string]float64{"far": 1, "middle": 0.5, "near": 0}[c.At]
	if r.From != observe.TorchRun {
		hot, err := unit.ParseTemp(c.Hot)
		if err != nil {
			return inputError("--hot: %w", err)
		}
		r.Hot = float64(hot)
	}
	if r.From == observe.HotBlock {
		mass, err := unit.ParseMass(c.Mass)
		if err != nil {
			return inputError("--mass: %w", err)
		}
		r.Mass = float64(mass)
	}
	if c.Wet == "" {
		return nil
	}
	wet, err := unit.ParseLength(c.Wet)
	if err != nil {
		return inputError("--wet: %w", err)
	}
	length, width, _ := solid.Extent()
	r.Wet = float64(wet) / width
	if r.From == observe.Shank {
		r.Wet = float64(wet) / length
	}
	if r.Watch > 1-r.Wet {
		return inputError("--wet %s keeps the far side cold, and no color comes there: watch it --at near or --at middle", c.Wet)
	}
	return nil
}

func (w *drawn) say(code string, args ...cite.Quantity) string { return w.charts.Say(code, args...) }

func (w *drawn) picture() *color.Drawing {
	moments, titles := w.ran.Stop.Frames(w.ran.History, 6)
	for i, t := range titles {
		if t != "" {
			titles[i] = w.say("frame-" + strings.ReplaceAll(t, " ", "-"))
		}
	}
	return w.charts.Eye.DrawFrames(w.ran.History, moments, titles, color.Scales{Temperature: w.charts.Temp, Time: w.charts.Style.Seconds})
}

func (w *drawn) text() []byte {
	var b, rows bytes.Buffer
	s := w.ran.Stop
	watched := w.ends[1]
	want := cite.Txt("want", w.from.Want.String())
	title, left := "draw-title", "draw-left"
	if w.from.From == observe.Shank {
		title, left = "draw-title-shank", "draw-left-shank"
	}
	fmt.Fprintf(&b, "%s\n\n", w.say(title, cite.Txt("from", w.ends[0]), cite.Txt("source", string(w.from.From)), want))
	if !s.Reached {
		fmt.Fprintf(&b, "%s\n", w.say("draw-never", want, cite.Txt("place", watched)))
	} else {
		move := "draw-move"
		switch now := s.Seen == w.from.Want; {
		case now && w.from.From == observe.Shank:
			move = "draw-dip"
		case w.from.From == observe.Shank:
			move = "draw-dip-before"
		case now:
			move = "draw-move-now"
		}
		fmt.Fprintf(&b, "%s\n", w.say(move, cite.Txt("place", watched), cite.Txt("seen", s.Seen.String()), want,
			cite.Txt("time", w.charts.Style.Range(w.doubt.Low, w.doubt.High, "s"))))
		fmt.Fprintf(&b, "%s\n", w.say("draw-window", want, cite.Num("window", s.Window(), "s"), cite.Txt("late", s.IfSlow.String())))
		if s.TooFast(observe.HumanLag) {
			fast := "draw-too-fast"
			if w.from.From == observe.Shank {
				fast = "draw-too-fast-shank"
			}
			fmt.Fprintf(&b, "%s\n", w.say(fast))
		}
	}
	h := w.ran.History
	fmt.Fprintf(&b, "\n%s\n\n", w.say(left))
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for k, p := range h.Place {
		if k%3 != 0 && k != len(h.Place)-1 {
			continue
		}
		T, film := h.At(s.At, p)
		name := h.Names[k]
		if name == "" {
			name = fmt.Sprintf("%.0f %%", 100*p)
		}
		fmt.Fprintf(&rows, "  %s\t%s\t%s\t%s\n", name, color.TemperOf(film), w.charts.Temp(T), hardness(w.ran.HRC[k]))
	}
	_, err := t.Write(rows.Bytes())
	if e := t.Flush(); err != nil || e != nil {
		panic("colors: a buffer that refuses text")
	}
	fmt.Fprintf(&b, "\n%s\n%s\n%s\n", w.say("draw-doubt"), w.say("draw-hands"), w.say("burns"))
	return b.Bytes()
}

func hardness(hrc float64) string {
	if math.IsNaN(hrc) {
		return "under 20 HRC"
	}
	return fmt.Sprintf("%.0f HRC", hrc)
}
