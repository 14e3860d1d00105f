package jobsheet

import (
	"slices"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// back gathers what does not fit beside the fire.
func (c *composer) back() []Block {
	blocks := []Block{
		{Part: "cautions", Title: "Cautions", Lines: c.cautions()},
		{Part: "why", Title: "Why", Lines: c.why},
		{Part: "units", Title: "In the other unit", Lines: c.units()},
		{Part: "steps", Title: "Step by step, as computed", Lines: c.steps()},
		{Part: "assumed", Title: "What was assumed, and where a model left its ground", Lines: c.notes()},
	}
	if c.job.Notes != "" {
		blocks = append(blocks, Block{Part: "notes", Title: "Your notes", Lines: []Line{{Text: c.job.Notes}}})
	}
	blocks = append(blocks,
		Block{Part: "figures", Title: "About the figures", Lines: []Line{c.line("jobsheet.model"), c.line("jobsheet.back-bands"), {Text: c.engine()}}},
		Block{Part: "sources", Title: "Sources", Lines: c.sources()})
	var kept []Block
	for _, b := range blocks {
		if len(b.Lines) > 0 {
			kept = append(kept, b)
		}
	}
	return kept
}

func (c *composer) cautions() []Line {
	var lines []Line
	var texts []string
	where := map[string][]string{} // the steps that a caution is said of
	for _, n := range c.h.Cautions {
		t := c.style.Note(n)
		text := strings.TrimSpace(sentence(t.Say) + sentence(t.Remedy))
		if _, said := where[text]; !said {
			texts = append(texts, text)
		}
		if !slices.Contains(where[text], n.Where) {
			where[text] = append(where[text], n.Where)
		}
	}
	for _, text := range texts {
		steps := strings.Join(where[text], ", ")
		if steps != "" {
			text = capital(steps) + ": " + text
		}
		lines = append(lines, Line{Text: held(text)})
	}
	return lines
}

// sentence writes a text as a whole sentence with a space behind it.
func sentence(s string) string {
	s = capital(strings.TrimSpace(s))
	if s == "" {
		return ""
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return s + " "
}

func (c *composer) units() []Line {
	if len(c.other) == 0 {
		return nil
	}
	return []Line{{Text: strings.Join(c.other, " · ")}}
}

func (c *composer) steps() []Line {
	var lines []Line
	for i := range c.h.Steps {
		s := &c.h.Steps[i]
		if s.Role == sim.Acting || s.Role == sim.Carrying || s.Turn > 0 && s.Turn < s.Turns {
			continue // of what repeats, the last turn speaks for all
		}
		if s.Role == sim.Working && i+1 < len(c.h.Steps) && c.h.Steps[i+1].Role == sim.Acting {
			continue // the second half of the work tells how it ends
		}
		name := s.Name
		if s.Turns > 1 {
			name += " " + words.Times(s.Turns)
		}
		text := capital(name)
		if s.Where.Name != "" {
			text += ", " + s.Where.Name
		}
		text += ": " + c.time(s.End-s.Start)
		if z := c.working(s.Zones); z != nil && s.Role != sim.Acting {
			t := unit.Celsius(z.Temperature.Value)
			text += "; " + z.Name + " then at " + t.Both(c.style.Units)
			if s.Role == sim.Cooling || s.Role == sim.Burying || s.Role == sim.Quenching {
				text += ", " + hrc(z.HardnessHRC)
				if s.Verb != string(route.Temper) {
					text += ", " + c.structure(z)
				}
			}
		}
		lines = append(lines, Line{Text: held(text) + "."})
	}
	return lines
}

func (c *composer) notes() []Line {
	var lines []Line
	for _, n := range c.h.Notes {
		t := c.style.Note(n)
		text := sentence(t.Say) + sentence(t.Remedy)
		if n.Where != "" && !strings.Contains(text, n.Where) {
			text = capital(n.Where) + ": " + text
		}
		from := string(n.Source)
		if from == "" {
			from = "trade"
		}
		text = held(text)
		lines = append(lines, Line{Text: text, Parts: words.Numbers(text, from)})
	}
	return lines
}

func (c *composer) engine() string {
	e := c.h.Engine
	text := strings.TrimSpace(e.Name + " " + e.Version)
	if e.Build != "" {
		text += ", build " + e.Build
	}
	text += "; " + c.h.Mesh.Mode + " of " + strconv.Itoa(c.h.Mesh.Cells) + " cells"
	if len(c.h.JobSHA256) >= 12 {
		text += "; job " + c.h.JobSHA256[:12]
	}
	return text + "."
}

// shortly names a source as a sheet has room for it.
func shortly(s cite.Source) string {
	text := s.Authors
	if s.Year != 0 {
		text += " (" + strconv.Itoa(s.Year) + ")"
	}
	return text + ": " + s.Title + "."
}

// sources lists what the cautions and notes rest on.
func (c *composer) sources() []Line {
	var lines []Line
	seen := map[cite.Key]bool{}
	for _, n := range append(append([]cite.Note(nil), c.h.Cautions...), c.h.Notes...) {
		if n.Source == "" || seen[n.Source] {
			continue
		}
		seen[n.Source] = true
		if s, ok := cite.Find(n.Source); ok && s.ReadBy != cite.Practice && s.ReadBy != cite.Derived {
			lines = append(lines, Line{Text: shortly(s)})
		}
	}
	return append(lines, c.line("jobsheet.back-practice"))
}
