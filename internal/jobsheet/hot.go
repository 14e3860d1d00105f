package jobsheet

import (
	"math"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// hot is the box: six lines for the two minutes that decide everything.
func (c *composer) hot() *Block {
	b := c.block("harden", Boxed)
	if c.fire.cool < 0 {
		return b
	}
	cool := c.job.Steps[c.fire.cool]
	if cool.Do != route.Quench && !c.hardens() {
		b = c.block("soften", Boxed)
	}
	b.Lines = append(b.Lines, c.intoFire()...)
	switch cool.Do {
	case route.Quench:
		b.Lines = append(b.Lines, c.intoBath(cool), c.straighten(), c.handWarm(), c.fileVerdict())
	case route.Bury:
		b.Lines = append(b.Lines, c.intoBox(cool), c.leaveBox(), c.fileVerdict())
	default:
		b.Lines = append(b.Lines, c.intoAir(cool), c.handWarm(), c.fileVerdict())
	}
	keys := map[int]int{0: c.fire.heat, 2: c.fire.cool}
	for line, i := range keys {
		if line < len(b.Lines) {
			c.lines[step(i)] = &b.Lines[line]
		}
	}
	if c.fire.carry >= 0 {
		c.lines[step(c.fire.carry)] = &b.Lines[2]
	}
	last := len(b.Lines) - 1 // the file; before it when the piece is hand-warm
	c.lines["bend"], c.lines["hand-warm"], c.lines["hot"] = &b.Lines[min(3, last)], &b.Lines[last-1], &b.Lines[last]
	return b
}

// intoFire says how the piece comes to hardening heat: until when, and how much longer.
func (c *composer) intoFire() []Line {
	s := c.job.Steps[c.fire.heat]
	place := capital(s.In)
	if s.At.Is() {
		place += " at " + c.typedTemp(s.At.Value, s.At.Text)
	}
	stage, i := c.stage(c.fire.heat, sim.Heating)
	if stage == nil {
		return []Line{c.line("jobsheet.harden-temp", txt("place", place), txt("until", c.until(s.Until)))}
	}
	magnet := c.sign(sim.MagnetLetsGo, i, i)
	shades := ""
	if magnet != nil {
		if above := stage.Peak.Temperature - magnet.Temperature.Value; above < (mostShades+0.5)*words.ShadeStep {
			shades = c.style.Shades(above)
		}
	}
	kiln := false
	if _, ok := c.job.Shop.Oven(s.In); ok {
		kiln = true
	}
	from := stage.Reached
	var first Line
	if c.airHardening() && !kiln {
		first = c.line("jobsheet.harden-kiln", txt("place", place))
	} else if magnet != nil && !kiln {
		from = magnet.Time.Value
		if s.At.Is() { // no fire has a dial: the magnet and the shades tell
			place = c.say("jobsheet.fire-low", txt("name", capital(s.In)))
		}
		first = c.line("jobsheet.harden-magnet", txt("place", place), txt("time", c.span(magnet.Since)))
	} else {
		took := unit.Exactly(stage.Reached - stage.Start)
		first = c.line("jobsheet.harden-temp", txt("place", place), txt("until", c.until(s.Until)), txt("time", c.span(took)))
	}
	more := stage.End - from
	second := c.line("jobsheet.harden-no-more", txt("shades", shades))
	if c.sign(sim.CarbonInSolution, i, i) == nil {
		second = c.line("jobsheet.harden-too-short", txt("shades", shades))
	}
	if more >= 3 {
		second = c.line("jobsheet.harden-more", txt("more", c.half(more)), txt("shades", shades))
	}
	return []Line{first, second}
}

// Nobody counts more shades than this; a dial or a kiln has to tell.
const mostShades = 4

// airHardening tells whether the steel that the job is mostly about hardens in air, 200 K
// above its magnet.
func (c *composer) airHardening() bool {
	if len(c.job.Steel) == 0 {
		return false
	}
	nominal, _, _, err := c.job.Steel[0].Known()
	return err == nil && steel.FamilyOf(nominal) == steel.AirHardening
}

// latest returns how long the piece may be in the air before the bath [s], on
// the careful side; ok is false where the history does not say.
func (c *composer) latest() (sec float64, zone string, ok bool) {
	for i := range c.h.Signs {
		s := &c.h.Signs[i]
		if s.Name == sim.LatestForOil {
			sec, zone, ok = s.Since.Low, s.Zone, true
		}
	}
	return math.Floor(2*sec) / 2, zone, ok
}

// No sheet allows more than this for the way to the bath [s]: a deep-hardening
// steel would bear a minute, and the habit would spoil the next piece.
const longestWalk = 10

func (c *composer) intoBath(s route.Step) Line {
	carry, took := "", 0.0
	if c.fire.carry >= 0 {
		took = c.job.Steps[c.fire.carry].Until.Time
		carry = c.time(took)
	}
	if l, part := c.plunge(s, cmpOr(carry, "one move")); part {
		return l
	}
	sec, zone, ok := c.latest()
	if !ok || sec < 0.5 {
		return c.line("jobsheet.to-bath-carry", txt("name", s.In), txt("carry", cmpOr(carry, "one move")))
	}
	if took > sec {
		return c.line("jobsheet.to-bath-late", txt("name", s.In), txt("latest", c.time(min(sec, longestWalk))), txt("carry", carry))
	}
	return c.line("jobsheet.to-bath", txt("name", s.In), txt("latest", c.time(min(sec, longestWalk))), txt("computed", c.time(sec)), txt("carry", cmpOr(carry, "no time")), txt("zone", zone))
}

func cmpOr(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

// Shortest time between coming out of the bath and setting that is worth a try [s].
const shortestWindow = 4

func (c *composer) straighten() Line {
	if !c.hardens() {
		return c.line("jobsheet.straighten-soft")
	}
	if c.h.Verdict.Likelihood == 0 { // a glance does not look ahead
		return c.line("jobsheet.glance-straighten")
	}
	stage, i := c.stage(c.fire.cool, sim.Quenching)
	if stage == nil {
		return c.line("jobsheet.straighten-tight")
	}
	opens, closes := c.first(sim.WindowOpens, i), c.first(sim.WindowCloses, i)
	if opens == nil || closes == nil {
		return c.line("jobsheet.straighten-tight")
	}
	open, until := math.Ceil(opens.Time.High-stage.Start), math.Floor(closes.Time.Low-stage.Start)
	if until-open < shortestWindow {
		return c.line("jobsheet.straighten-tight")
	}
	return c.line("jobsheet.straighten", txt("open", c.time(open)), txt("close", c.time(until)))
}

func (c *composer) handWarm() Line {
	last, i := c.cooled()
	if last == nil {
		return Line{}
	}
	start := c.h.Steps[i].Start
	since := unit.Exactly(last.End - start)
	for k := i; k < len(c.h.Steps) && c.h.Steps[k].Start <= last.Start; k++ {
		if warm := c.first(sim.HandWarm, k); warm != nil {
			since = unit.Band{Value: warm.Time.Value - start, Low: warm.Time.Low - start, High: warm.Time.High - start}
		}
	}
	if hot := hottestOf(last.Zones); hot > handWarm {
		return c.line("jobsheet.still-hot", txt("at", whole(unit.Celsius(hot), c.style.Units)))
	}
	code := "jobsheet.touch-after"
	if c.hardens() {
		code = "jobsheet.hand-warm"
	}
	if since.High > mostSpread*since.Value { // a bath that is nearly hand-warm itself: the last degrees take for ever
		since = unit.Exactly(since.Value)
	}
	return c.line(code, txt("time", c.span(since)))
}

// A span that ends at so many times its middle helps nobody.
const mostSpread = 4

// A hand can bear this [°C], with the width of the sign for it.
const handWarm = 65

// hottestOf returns the temperature of the hottest zone [°C].
func hottestOf(zones []sim.Zone) float64 {
	top := math.Inf(-1)
	for i := range zones {
		top = math.Max(top, zones[i].Temperature.Value)
	}
	return top
}

func (c *composer) intoBox(s route.Step) Line {
	carry := "one move"
	if c.fire.carry >= 0 {
		carry = c.time(c.job.Steps[c.fire.carry].Until.Time)
	}
	return c.line("jobsheet.to-box", txt("name", s.In), txt("carry", carry))
}

func (c *composer) leaveBox() Line {
	stage, i := c.stage(c.fire.cool, "")
	if stage == nil {
		return Line{}
	}
	nose := ""
	for k, t := range c.h.Series.Time {
		if c.h.Series.Step[k] == i && c.hottest(k) < 500 {
			nose = c.time(t - stage.Start)
			break
		}
	}
	return c.line("jobsheet.leave-box", txt("nose", cmpOr(nose, c.time(stage.End-stage.Start))), txt("time", c.span(stage.Seconds)))
}

// hottest returns the temperature of the hottest zone at a moment of the series [°C].
func (c *composer) hottest(k int) float64 {
	top := math.Inf(-1)
	for i := range c.h.Series.Zones {
		if t := c.h.Series.Zones[i].Temperature; k < len(t) {
			top = math.Max(top, t[k])
		}
	}
	return top
}

func (c *composer) intoAir(s route.Step) Line {
	name := "still air"
	if s.In != "" && s.In != route.Air {
		name = "the air of " + s.In
	}
	return c.line("jobsheet.air-cool", txt("name", name))
}

// Where a file and a drill stop biting [HRC], from common practice.
const (
	drills    = 30
	fileBites = 40
	skates    = 58
)

func (c *composer) fileVerdict() Line {
	stage, _ := c.cooled()
	if stage == nil {
		return Line{}
	}
	if hottestOf(stage.Zones) > handWarm { // austenite still waits in it
		return c.line("jobsheet.file-later")
	}
	z := c.working(stage.Zones)
	hard, high := rockwell(z), math.NaN()
	if z != nil && z.HardnessHRC != nil {
		high = z.HardnessHRC.High // what is to be drilled is judged by its harder end
	}
	switch {
	case hard < skates && z.Constituents.Hardened() >= 0.9*(1-z.Constituents.Carbide):
		return c.line("jobsheet.file-drags")
	case c.job.Steps[c.fire.cool].Do == route.Quench && !(hard >= skates):
		return c.line("jobsheet.file-soft")
	case math.IsNaN(hard) || high < drills:
		return c.line("jobsheet.file-drills")
	case hard < fileBites:
		return c.line("jobsheet.file-no-drill")
	case hard < skates && c.job.Steps[c.fire.cool].Do == route.Bury:
		return c.line("jobsheet.file-hard")
	}
	return c.line("jobsheet.file")
}

// temper says the dial and when the clock starts.
func (c *composer) temper() *Block {
	b := c.block("temper", Plain)
	if c.fire.temper < 0 {
		if c.fire.cool >= 0 && c.job.Steps[c.fire.cool].Do == route.Quench {
			b.Lines = append(b.Lines, c.line("jobsheet.temper-none"))
		}
		return b
	}
	s := c.job.Steps[c.fire.temper]
	if _, oven := c.job.Shop.Oven(s.In); !oven {
		b.Lines = append(b.Lines, c.letDown(s))
		c.lines[step(c.fire.temper)] = &b.Lines[0]
		return b
	}
	offset, true_ := "", ""
	if oven, ok := c.job.Shop.Oven(s.In); ok && oven.Offset.Is() && math.Abs(float64(oven.Offset.Value)) >= 1 {
		offset = oven.Offset.Value.Text(c.style.Units)
		true_ = whole(s.At.Value.Add(oven.Offset.Value), c.style.Units)
		if oven.Offset.Value < 0 {
			offset = strings.TrimPrefix(offset, "-")
		}
	}
	ready := ""
	if stage, i := c.firstStage(c.fire.temper, sim.Tempering); stage != nil {
		if at := c.sign(sim.AtHeat, i, i); at != nil {
			ready = c.style.TimeRange(at.Since.Value, at.Since.Value, at.Since.Value)
		}
	}
	b.Lines = append(b.Lines,
		c.line("jobsheet.temper-dial", txt("name", capital(s.In)), txt("at", c.typedTemp(s.At.Value, s.At.Text)), txt("offset", offset), txt("true", true_)),
		c.line("jobsheet.temper-clock", txt("ready", ready), txt("hold", c.time(float64(s.Hold.Value))), txt("times", words.Times(s.Times))))
	c.lines[step(c.fire.temper)], c.lines["hot"] = &b.Lines[0], &b.Lines[1]
	return b
}

// whole says a temperature to the degree.
func whole(t unit.Temp, s unit.System) string {
	if s == unit.Imperial {
		return unit.Fahrenheit(math.Round(t.F())).Exact(s)
	}
	return unit.Celsius(math.Round(t.C())).Exact(s)
}
