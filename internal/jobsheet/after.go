package jobsheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// The usual set of hardness files [HRC] goes from 40 to 65 by five.
const softestFile, hardestFile = 40, 65

func (c *composer) soft() bool {
	return c.fire.cool >= 0 && c.job.Steps[c.fire.cool].Do != route.Quench && !(rockwell(c.working(c.h.Zones)) >= fileBites)
}

// test says how to see whether it came out, and how hot grinding may make it.
func (c *composer) test() *Block {
	b := c.block("test", Plain)
	hard := rockwell(c.working(c.h.Zones))
	if math.IsNaN(hard) || hard < 38 {
		b.Lines = append(b.Lines, c.line("jobsheet.test-soft"))
	} else {
		low, high := 5*int(math.Floor((hard-1)/5)), ""
		if h := 5 * int(math.Ceil((hard+1)/5)); h <= hardestFile {
			high = strconv.Itoa(h)
		}
		if low < softestFile {
			b.Lines = append(b.Lines, c.line("jobsheet.test-file-bites", txt("high", high)))
		} else {
			b.Lines = append(b.Lines, c.line("jobsheet.test-files", txt("low", strconv.Itoa(min(low, hardestFile))), txt("high", high)))
		}
	}
	switch {
	case c.fire.temper >= 0 && !c.job.Steps[c.fire.temper].At.Is(): // one side was let down, the other not
		b.Lines = append(b.Lines, c.line("jobsheet.grind-untempered"))
	case c.fire.temper >= 0:
		b.Lines = append(b.Lines, c.line("jobsheet.grind-limit", txt("limit", c.typedTemp(c.job.Steps[c.fire.temper].At.Value, c.job.Steps[c.fire.temper].At.Text))))
	case c.soft():
		b.Lines = append(b.Lines, c.line("jobsheet.grind-free"))
	}
	c.lines["grind"] = &b.Lines[len(b.Lines)-1]
	return b
}

func (c *composer) failed() *Block {
	b := c.block("failed", Plain)
	if c.fire.cool < 0 {
		return b
	}
	if c.job.Steps[c.fire.cool].Do != route.Quench && !c.hardens() {
		b.Lines = append(b.Lines, c.line("jobsheet.failed-soft"))
		return b
	}
	again := "jobsheet.failed-bites"
	if c.airHardening() {
		again = "jobsheet.failed-bites-anneal"
	}
	bites := c.line(again, txt("longer", c.longer()))
	if r := c.h.Verdict.Remedies; !c.good() && len(r) > 0 {
		bites = c.line("jobsheet.failed-as-said", txt("remedy", strings.TrimSuffix(c.style.Note(r[0]).Short, ".")))
	}
	b.Lines = append(b.Lines, bites, c.line("jobsheet.failed-bent"), c.line("jobsheet.failed-crack"))
	c.lines["crack"] = &b.Lines[2]
	return b
}

// longer says which way a second try should differ, from what the history shows.
func (c *composer) longer() string {
	stage, i := c.stage(c.fire.heat, sim.Heating)
	if stage == nil {
		return ""
	}
	for _, n := range c.h.Verdict.Advice {
		if strings.HasPrefix(n.Code, "study.coarse-grain") {
			return "from a lower heat"
		}
	}
	if z := c.working(stage.Zones); z != nil && c.sign(sim.CarbonInSolution, i, i) == nil {
		return "hold twice as long"
	}
	return "a shade hotter"
}

// expected shows the end by zone with its band, and what was assumed.
func (c *composer) expected() *Block {
	b := c.block("expected", Columns)
	for _, name := range c.job.Zones() {
		z := zone(c.h.Zones, name)
		if z == nil || leftOut[name] || name == "core" && zone(c.h.Zones, "spine") != nil || len(b.Lines) == mostZones {
			continue
		}
		b.Lines = append(b.Lines, Line{Cells: []string{z.Name, hrc(z.HardnessHRC), c.structure(c.asQuenched(z))}})
	}
	var assumed []string
	for _, m := range c.job.Steel {
		if m.Grade == "" || m.Certificate != "" || len(assumed) > 0 {
			continue
		}
		assumed = append(assumed, c.style.Of("jobsheet.assumed-bar", txt("grade", m.Grade)).Say)
	}
	for _, n := range c.h.Notes {
		if moves[n.Code] && len(assumed) < 3 {
			assumed = append(assumed, strings.TrimSuffix(c.style.Note(n).Short, "."))
		}
	}
	if len(assumed) > 0 {
		b.Lines = append(b.Lines, c.line("jobsheet.assumed", txt("what", strings.Join(assumed, "; "))))
	}
	return b
}

// Most zones on the front; the tip and the heel of a blade go with its edge.
const mostZones = 4

var leftOut = map[string]bool{"tip": true, "heel": true, "end": true}

// asQuenched returns a zone as it was after the quench, before tempering changed
// what its parts are called; without a quench, as it is.
func (c *composer) asQuenched(z *sim.Zone) *sim.Zone {
	if c.fire.cool < 0 {
		return z
	}
	stage, _ := c.cooled()
	if stage == nil {
		return z
	}
	if was := zone(stage.Zones, z.Name); was != nil && hottestOf(stage.Zones) <= handWarm {
		return was
	}
	return z
}

// moves holds the assumptions that move the hardness; the others stand on the back.
var moves = map[string]bool{
	"sim.condition-assumed": true, "sim.one-steel": true, "shop.fire-heat-assumed": true, "shop.oven-not-checked": true,
	"shop.bath-temperature-assumed": true, "shop.bath-volume-assumed": true, "shop.filling-taken-dry": true,
}

// structure names the constituent that a zone is mostly of, in a smith's word.
func (c *composer) structure(z *sim.Zone) string {
	f := z.Constituents
	parts := []struct {
		share float64
		name  string
	}{{f.Martensite, "martensite"}, {f.Pearlite, "pearlite"}, {f.Bainite, "bainite"}, {f.Ferrite, "ferrite"}, {f.RetainedAustenite, "soft austenite"}, {f.Carbide, "carbide"}}
	if hard := f.Hardened() / (1 - f.Carbide); hard >= 0.5 { // undissolved carbide is no soft part
		return strconv.Itoa(int(math.Round(hard*100))) + " % hardened"
	}
	best := parts[0]
	for _, p := range parts[1:] {
		if p.share > best.share {
			best = p
		}
	}
	return strconv.Itoa(int(math.Round(best.share*100))) + " % " + best.name
}

// caution puts each caution on the line of its step as long as the front keeps
// to its limits, most urgent first; all of them stand in full on the back.
func (c *composer) caution(s *Sheet) {
	told, left := map[string]bool{}, map[string]bool{}
	s.Foot = c.say("jobsheet.foot")
	for _, n := range c.h.Cautions {
		short := strings.TrimSuffix(c.style.Note(n).Short, ".")
		l := c.lineOf(n)
		if l == nil || told[short] || onTheFront[n.Code] || n.Code == "safety.hard-steel-shatters" && !c.hardens() {
			continue
		}
		if said := strings.Split(l.Caution, "; "); l.Caution != "" && slices.ContainsFunc(said, func(s string) bool { return strings.Contains(short, s) }) {
			continue // "near the brittle range" behind "brittle range"
		}
		before, was := l.Caution, l.Warning
		if l.Caution != "" {
			l.Caution += "; "
			l.Warning = append(l.Warning[:len(l.Warning):len(l.Warning)], words.Part{Text: "; "})
		}
		l.Caution += short
		l.Warning = append(l.Warning, c.style.NoteParts(short, n)...)
		if !must[n.Code] && (s.CountWords() > MaxWords-footWords || s.CountLines() > MaxLines) {
			l.Caution, l.Warning = before, was
			left[short] = true
			continue
		}
		told[short] = true
	}
	if len(left) > 0 {
		code := "jobsheet.more-cautions"
		if len(left) == 1 {
			code = "jobsheet.one-more-caution"
		}
		s.Foot += " " + c.say(code, txt("count", strconv.Itoa(len(left))))
	}
}

// Words that are kept free for telling that more cautions stand on the back.
const footWords = 3

// must holds what stands on the front whatever else has room there.
var must = map[string]bool{
	"safety.carbon-monoxide-hood": true, "safety.oil-at-flash-point": true, "safety.oil-too-shallow": true, "safety.never-tempered": true,
	"safety.damp-filling": true,
}

// onTheFront holds the cautions that a fixed line of the front says already:
// the alarm and the dry tongs are ticks, the way into the temper is a line of
// the box. All of them stand in full on the back.
var onTheFront = map[string]bool{
	"safety.carbon-monoxide-alarm": true, "safety.oil-wet-tongs": true, "safety.temper-at-once": true, "safety.local-codes-first": true,
	"safety.oil-no-lid": true, "safety.hidden-cracks": true, "safety.grinding-gloves": true,
}

// placed names the line for cautions that belong to a moment within a step.
var placed = map[string]string{
	"safety.carbon-monoxide-hood": "air", "safety.hard-steel-shatters": "bend", "safety.hot-until": "hot", "safety.hot-until-later": "hot",
	"safety.never-tempered": "hand-warm", "safety.grinding-heat": "grind", "safety.grinding-gloves": "grind", "safety.grinding-dust": "grind",
}

// lineOf returns the line that a caution belongs to: that of its moment or its
// step, or the last of what has to be ready.
func (c *composer) lineOf(n cite.Note) *Line {
	if l := c.lines[placed[n.Code]]; l != nil {
		return l
	}
	for i := range c.h.Steps {
		h := &c.h.Steps[i]
		if h.Name != n.Where && h.Verb != n.Where {
			continue
		}
		if l := c.lines[step(h.JobStep)]; l != nil {
			return l
		}
	}
	return c.lines["ready"]
}
