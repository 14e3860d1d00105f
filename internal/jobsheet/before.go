package jobsheet

import (
	"math"
	"slices"
	"strconv"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// Most lines of soft work on the front; the rest goes to the back.
const mostWork = 6

// snapTemper is a first low temper until the real one can be given [K]; common practice.
const snapTemper = 150 + 273.15

// ready lists five ticks before the fire.
func (c *composer) ready() *Block {
	b := c.block("ready", Ticks)
	if c.fire.cool >= 0 {
		s := c.job.Steps[c.fire.cool]
		switch s.Do {
		case route.Quench:
			b.Lines = append(b.Lines, c.readyBath(s))
			for k := c.fire.cool + 1; k < len(c.job.Steps); k++ {
				if goesOn(c.job, c.fire, k) {
					b.Lines = append(b.Lines, c.readyBath(c.job.Steps[k]))
				}
			}
		case route.Bury:
			b.Lines = append(b.Lines, c.line("jobsheet.ready-box", txt("name", s.In)))
		}
	}
	if c.fire.temper >= 0 {
		s := c.job.Steps[c.fire.temper]
		code := "jobsheet.ready-oven"
		if c.fire.heat >= 0 && c.job.Steps[c.fire.heat].In == s.In { // one oven cannot be at both heats
			code = "jobsheet.ready-second-oven"
		}
		if _, block := c.job.Shop.Plate(s.In); block {
			code = "jobsheet.ready-block"
		} else if _, torch := c.job.Shop.Torch(s.In); torch {
			code = "jobsheet.ready-torch"
		}
		b.Lines = append(b.Lines, c.line(code, txt("name", s.In), txt("at", c.typedTemp(s.At.Value, s.At.Text)), cite.Num("snap", snapTemper, "K")))
	}
	for _, code := range []string{"jobsheet.ready-dry", "jobsheet.ready-self", "jobsheet.ready-air", "jobsheet.ready-file"} {
		if len(b.Lines) < 5 {
			b.Lines = append(b.Lines, c.line(code))
		}
	}
	for i := range b.Lines {
		if b.Lines[i].Text == c.say("jobsheet.ready-air") {
			c.lines["air"] = &b.Lines[i]
		}
	}
	c.lines["ready"] = &b.Lines[len(b.Lines)-1]
	return b
}

// readyBath says what has to stand ready of a bath, or of plates.
func (c *composer) readyBath(s route.Step) Line {
	bath, _ := c.job.Shop.Bath(s.In)
	code, warm := "jobsheet.ready-bath", ""
	if _, plates := c.job.Shop.Plate(s.In); plates {
		code = "jobsheet.ready-plates"
	}
	if bath.Kind == "water" || bath.Kind == "brine" {
		code = "jobsheet.ready-water"
	}
	if bath.Warm.Is() {
		warm = c.typedTemp(bath.Warm.Value, bath.Warm.Text)
	}
	return c.line(code, txt("name", s.In), txt("warm", warm))
}

// work lists forging and soft work, a line a step.
func (c *composer) work() *Block {
	b := c.block("work", Plain)
	var keys []string
	for i, s := range c.job.Steps {
		if c.strips(i) || i == c.fire.heat || i == c.fire.carry || i == c.fire.cool || i == c.fire.temper || c.fire.cool >= 0 && i > c.fire.cool && !s.Acts() && s.Do != route.Relieve {
			continue
		}
		if s.Do == route.Forge {
			b.Title = c.say("jobsheet.title-forge")
		}
		line := planned(c.workLine(i))
		if s.Passes() && c.passes() > 1 { // one line for all of them, and each on the back
			c.why = append(c.why, line)
			if c.lines["passes"] != nil {
				continue
			}
			line = c.line("jobsheet.forge-passes", txt("form", string(c.job.Finished().Form)), txt("heats", strconv.Itoa(c.heatsOfPasses())))
			c.lines["passes"] = &line
		}
		b.Lines = append(b.Lines, line)
		keys = append(keys, step(i))
	}
	if len(b.Lines) == 0 {
		b.Lines = append(b.Lines, c.line("jobsheet.as-bought", txt("edge", c.edge())))
		keys = append(keys, "")
	}
	if len(b.Lines) > mostWork {
		more := len(b.Lines) - mostWork + 1
		c.why = append(c.why, b.Lines[mostWork-1:]...)
		b.Lines = append(b.Lines[:mostWork-1:mostWork-1], c.line("jobsheet.and-more", txt("count", strconv.Itoa(more))))
		keys = keys[:mostWork-1]
	}
	if skin, depth := c.skin(); skin != "" {
		code := "jobsheet.skin"
		if edge := c.edgeNow(); edge > 0 && 2*depth >= edge {
			code = "jobsheet.skin-through"
		}
		b.Lines = append(b.Lines, c.line(code, txt("skin", skin), txt("zone", c.working(c.h.Zones).Name)))
	}
	for i, k := range keys {
		if k != "" {
			c.lines[k] = &b.Lines[i]
		}
	}
	return b
}

// planned gives the numbers of a line to the plan, where its code names nobody.
func planned(l Line) Line {
	for _, p := range l.Parts {
		if p.From != "" {
			return l
		}
	}
	l.Parts = words.Numbers(l.Text, "plan")
	return l
}

// step is the key of the line of a job's step.
func step(i int) string { return "step " + strconv.Itoa(i) }

func (c *composer) edge() string {
	if !c.job.Piece.Edge.Is() {
		return ""
	}
	return c.typedLength(c.job.Piece.Edge)
}

// edgeNow is the thickness of the edge as it goes into the last fire, 0 where there is none.
func (c *composer) edgeNow() unit.Length {
	return c.job.PieceBefore(max(c.fire.heat, 0)).Edge.Value
}

func (c *composer) workLine(i int) Line {
	s := c.job.Steps[i]
	heat := txt("heat", c.heat(s))
	times := txt("times", words.Times(s.Times))
	then := txt("then", c.then(s))
	switch s.Do {
	case route.Forge:
		return c.line("jobsheet.forge", heat, times, txt("pass", c.pass(s)), txt("work", c.time(c.atAnvil(i))))
	case route.Drill:
		return c.drillLine(s)
	case route.Coat, route.Strip:
		return c.coatLine(s)
	case route.Bend:
		return c.bendLine(s)
	case route.Normalize:
		return c.line("jobsheet.normalize", heat, times, then)
	case route.Anneal:
		return c.line("jobsheet.anneal", heat, times, then)
	case route.Relieve:
		return c.line("jobsheet.relieve", heat, then)
	case route.Grind:
		off, edge := "", ""
		if s.Off.Is() {
			off = c.typedLength(s.Off)
		}
		if s.Edge.Is() {
			edge = c.typedLength(s.Edge)
		}
		return c.line("jobsheet.grind", txt("off", off), txt("edge", edge))
	}
	return c.line("jobsheet.other", txt("verb", capital(string(s.Do))), txt("place", placeOf(s)), txt("until", c.until(s.Until)))
}

// heat says where a piece is heated, and until when: "Kiln at 760 °C, 30 min".
func (c *composer) heat(s route.Step) string {
	text := capital(s.In)
	if s.At.Is() {
		text += " at " + c.typedTemp(s.At.Value, s.At.Text)
	}
	until := c.until(s.Until)
	if until != "" {
		text += ", " + until
	}
	if s.Hold.Is() {
		text += ", " + c.time(float64(s.Hold.Value))
		if until != "" {
			text += " more"
		}
	}
	return text
}

func placeOf(s route.Step) string {
	if s.In == "" {
		return ""
	}
	return "in " + s.In
}

// until says what ends a stay.
func (c *composer) until(e route.Ending) string {
	switch e.Kind {
	case route.ByTime:
		return "for " + c.time(e.Time)
	case route.ByTemp:
		zone := e.Zone
		if zone == "" {
			zone = "core"
			if zones := c.job.Zones(); !slices.Contains(zones, zone) {
				zone = zones[0]
			}
		}
		return zone + " to " + c.typedTemp(e.Temp, e.Text)
	case route.ByColor:
		return "until " + e.Sign + " at the " + e.Zone
	case route.AtHeat:
		return "until at heat"
	case route.BySign:
		switch e.Sign {
		case route.MagnetOff:
			return "until the magnet lets go"
		case route.ShadowOff:
			return "until the shadow has gone"
		}
		return "until " + e.Sign
	}
	return ""
}

func (c *composer) then(s route.Step) string {
	place := s.Then
	switch place {
	case "", route.Air:
		place = "air"
	case route.OvenOff:
		place = "the oven, switched off"
	}
	if s.To.Is() {
		return place + " " + c.until(s.To)
	}
	return place
}

// skin is the layer of the working zone that has to come off after the fire:
// the depth that lost carbon, high end of its band, and the scale's metal.
func (c *composer) skin() (text string, depth unit.Length) {
	z := c.working(c.h.Zones)
	if z == nil {
		return "", 0
	}
	mm := math.Max(z.Decarb.Value, z.Decarb.High)
	if mm < 0.005 {
		return "", 0
	}
	if c.style.Units == unit.Imperial {
		return c.length(unit.Inch(math.Ceil(mm/25.4*200) / 200)), unit.MM(mm)
	}
	return c.length(unit.MM(math.Ceil(mm*20) / 20)), unit.MM(mm)
}

func hrcText(low, high float64) string {
	return strconv.Itoa(int(math.Round(low))) + "–" + strconv.Itoa(int(math.Round(high)))
}

// hrc prints a hardness with its band: "61 (59–63) HRC".
func hrc(b *unit.Band) string {
	if b == nil {
		return "under 20 HRC"
	}
	text := strconv.Itoa(int(math.Round(b.Value)))
	if math.Round(b.Low) < math.Round(b.High) {
		text += " (" + hrcText(b.Low, b.High) + ")"
	}
	return text + " HRC"
}
