package jobsheet

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// Compose writes the sheet of a job from its history, in the words and units of
// a reader.
func Compose(job route.Job, h *sim.History, style words.Style) *Sheet {
	c := &composer{job: job, h: h, style: style, fire: findFire(job), lines: map[string]*Line{}, said: map[string]bool{}}
	s := &Sheet{Title: capital(job.Name), Mark: job.Mark, Letter: style.Units == unit.Imperial && style.Language == words.American, Lang: string(style.Language)}
	s.Words.Back, s.Words.Mark = "Reasons, the other unit, notes", "mark on the tang"
	if job.Demo {
		s.Demo = "demo data"
	}
	s.Lead = c.lead()
	c.verdict(s)
	front := []*Block{c.ready(), c.work(), c.hot(), c.temper(), c.test(), c.failed(), c.expected()}
	c.handle()
	for _, b := range front {
		if len(b.Lines) > 0 {
			s.Front = append(s.Front, *b)
		}
	}
	c.caution(s)
	s.Back = c.back()
	return s
}

// composer gathers what the sheet says and what it leaves for the back.
type composer struct {
	job   route.Job
	h     *sim.History
	style words.Style
	fire  fire
	lines map[string]*Line // where the caution of a step goes
	said  map[string]bool  // reasons that are on the back already
	why   []Line
	other []string // the front's quantities in the other unit
}

// say fills the words of a code, keeps its reason and its quantities for the back.
func (c *composer) say(code string, args ...cite.Quantity) string {
	t := c.style.Of(code, args...)
	if t.Why != "" && !c.said[t.Why] {
		c.said[t.Why] = true
		why := held(t.Why)
		c.why = append(c.why, Line{Text: why, Parts: c.style.Parts(why, code, args...)})
	}
	return held(capital(t.Say))
}

var withUnit = regexp.MustCompile(`(\d[½)]?|½) (°C|°F|%|(?:mm|in|s|min|h|HRC|HV|L|kg|ppm|shades?|times)\b)`)

// held ties a number to its unit, and a bet to its ten, so that no line ends between them.
func held(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, " in 10", "\u00a0in\u00a010"), " in 20", "\u00a0in\u00a020")
	return withUnit.ReplaceAllString(s, "$1\u00a0$2")
}

// block starts a part of the front under its title.
func (c *composer) block(part string, kind Kind) *Block {
	return &Block{Part: part, Title: c.style.Of("jobsheet.title-" + part).Say, Kind: kind}
}

func (c *composer) line(code string, args ...cite.Quantity) Line {
	text := c.say(code, args...)
	return Line{Text: text, Parts: c.style.Parts(text, code, args...)}
}

// Quantities as the sheet says them: what the smith typed keeps its digits in
// his own unit; the other unit is kept for the back.

func (c *composer) temp(t unit.Temp) string {
	return c.both(t.Text(c.style.Units), t.Text(c.style.Units.Other()))
}

func (c *composer) length(l unit.Length) string {
	return c.both(measured(l, c.style.Units), measured(l, c.style.Units.Other()))
}

// measured says a length as a caliper shows it: small inches in thousandths.
func measured(l unit.Length, s unit.System) string {
	if in := l.Inches(); s == unit.Imperial && in < 1./32 {
		return strconv.FormatFloat(in, 'f', 3, 64) + " in"
	}
	if mm := l.MM(); s == unit.Metric && mm < 0.1 {
		return strconv.FormatFloat(mm, 'f', 2, 64) + " mm"
	}
	return l.Text(s)
}

// typedTemp says a temperature with the digits it was typed with.
func (c *composer) typedTemp(t unit.Temp, text string) string {
	if !typedIn(text, c.style.Units) {
		return c.temp(t)
	}
	return c.both(t.Exact(c.style.Units), t.Text(c.style.Units.Other()))
}

// typedLength says a length with the digits it was typed with.
func (c *composer) typedLength(l route.Length) string {
	if !typedIn(l.Text, c.style.Units) || c.style.Units == unit.Imperial {
		return c.length(l.Value)
	}
	return c.both(l.Value.Exact(unit.Metric), measured(l.Value, unit.Imperial))
}

// typedIn reports whether a quantity was typed in a unit of the system.
func typedIn(text string, s unit.System) bool {
	lower := strings.ToLower(text)
	imperial := strings.ContainsAny(lower, "f\"'") || strings.Contains(lower, "in")
	return imperial == (s == unit.Imperial)
}

func (c *composer) both(first, other string) string {
	pair := first + " = " + other
	if first != other && !c.said[pair] {
		c.said[pair] = true
		c.other = append(c.other, pair)
	}
	return first
}

func (c *composer) time(sec float64) string { return c.style.Seconds(sec) }

// half says a time to half minutes, once it is long enough for that.
func (c *composer) half(sec float64) string {
	if sec <= 120 || sec > 600 {
		return c.time(sec)
	}
	n := int(math.Round(sec / 30))
	if n%2 == 0 {
		return strconv.Itoa(n/2) + " min"
	}
	return strconv.Itoa(n/2) + "½ min"
}

// span says a time with its band: "2–3 min", or "about 2 min" without one.
func (c *composer) span(b unit.Band) string {
	return c.style.TimeRange(max(0, b.Low), max(0, b.Value), max(0, b.High))
}

// txt is a named text, empty when it is not known, so that its part is left out.
func txt(name, text string) cite.Quantity { return cite.Txt(name, text) }

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}

// lead says what lies on the bench and what it is to become.
func (c *composer) lead() []string {
	var what []string
	for _, m := range c.job.Steel {
		text := m.Called()
		if m.Region != "" {
			text = m.Region + " " + text
		}
		if m.Bar != "" {
			text += ", " + m.Bar
		}
		what = append(what, text)
	}
	lead := capital(strings.Join(what, "; ")) + "."
	var aims []string
	for _, w := range c.job.Aim.Hardness {
		aims = append(aims, w.Zone+" "+dashed(w.Band.Text))
	}
	aim := c.say("jobsheet.no-aim")
	if len(aims) > 0 {
		aim = c.say("jobsheet.aim", txt("aim", strings.Join(aims, ", ")))
	}
	return []string{lead + " " + aim}
}

// dashed prints the hyphen between two numbers as the dash it stands for.
func dashed(s string) string {
	r := []rune(s)
	for i := 1; i+1 < len(r); i++ {
		if r[i] == '-' && r[i-1] >= '0' && r[i-1] <= '9' && r[i+1] >= '0' && r[i+1] <= '9' {
			r[i] = '–'
		}
	}
	return string(r)
}

var verdictCodes = map[string]string{
	sim.HardensThrough: "jobsheet.verdict-hardens-through", sim.HardensEdge: "jobsheet.verdict-hardens-edge-only",
	sim.DoesNotHarden: "jobsheet.verdict-does-not-harden", sim.NotForAnEdge: "jobsheet.verdict-not-for-an-edge",
	sim.DrawsSoft: "jobsheet.verdict-draws-soft", sim.StaysHard: "jobsheet.verdict-stays-hard",
	sim.NoHardeningStep: "jobsheet.verdict-no-hardening-step",
}

func (c *composer) verdict(s *Sheet) {
	v := c.h.Verdict
	code, known := verdictCodes[v.Code]
	switch {
	case !known:
		code = verdictCodes[sim.NoHardeningStep]
	case v.Code == sim.DoesNotHarden && len(v.Remedies) > 0 && faults[v.Remedies[0].Code]: // the remedy says why
		code = "jobsheet.verdict-does-not-harden-at-fault"
	case v.Code == sim.HardensEdge && zone(c.h.Zones, "surface") != nil:
		code = "jobsheet.verdict-hardens-case"
	}
	if v.Likelihood == 0 && v.Code != sim.NoHardeningStep { // a glance: nothing was varied
		code = strings.Replace(code, "verdict-", "glance-", 1)
	}
	said := c.line(code, txt("working", c.job.Piece.Zones()[0]), txt("medium", v.Medium), txt("zone", v.Zone), txt("degree", words.Degree(v.Likelihood)), txt("odds", words.Likelihood(v.Likelihood)))
	s.Verdict, s.VerdictParts = said.Text, said.Parts
	s.Good = c.good()
	var more []Line
	for _, n := range v.Advice {
		t := c.style.Note(n)
		more = append(more, c.line("jobsheet.advice", txt("advice", strings.TrimSuffix(t.Short, "."))))
		c.tell(n)
	}
	if v.Zone != "" && (v.Code == sim.HardensThrough && v.Likelihood < 0.95 || v.Code == sim.DoesNotHarden || v.Code == sim.StaysHard) {
		more = append(more, c.line("jobsheet.weakest", txt("zone", v.Zone)))
	}
	if !s.Good {
		for i, r := range v.Remedies {
			t := c.style.Note(r)
			if i == 0 {
				more = append(more, c.line("jobsheet.instead", txt("remedy", strings.TrimSuffix(t.Short, "."))))
			}
			c.tell(r)
		}
	}
	if len(v.Aim) > 0 && s.Good {
		more = append(more, c.aimLine(&v.Aim[0]))
	}
	for i, l := range more {
		if i > 0 {
			s.Detail += " "
			s.DetailParts = append(s.DetailParts, words.Part{Text: " "})
		}
		s.Detail += l.Text
		s.DetailParts = append(s.DetailParts, l.Parts...)
	}
}

// tell puts a note in full on the back, among the reasons.
func (c *composer) tell(n cite.Note) {
	say := strings.TrimSuffix(capital(c.style.Note(n).Say), ".") + "."
	c.why = append(c.why, Line{Text: say, Parts: c.style.NoteParts(say, n)})
}

// faults are remedies that say why a hardening failed: it was not the bath.
var faults = map[string]bool{"study.remedy-hotter": true, "study.remedy-sooner": true, "study.remedy-longer-in-bath": true, "study.remedy-keep-carbon": true}

// good reports whether the verdict is what was hoped for: hard through, or soft
// to be worked, or hard at the edge where no wish asks for more.
func (c *composer) good() bool {
	switch c.h.Verdict.Code {
	case sim.HardensThrough, sim.DrawsSoft:
		return true
	case sim.HardensEdge:
		for _, w := range c.job.Aim.Hardness {
			if !atTheEdge[w.Zone] && w.Band.Value.HV().High > unit.HVofHRC(softWish) {
				return false
			}
		}
		return len(c.job.Aim.Hardness) > 0
	}
	return false
}

// A wish below this is one for a soft part [HRC]: tangs, struck ends, eyes. Common practice.
const softWish = 46

var atTheEdge = map[string]bool{"edge": true, "point": true, "face": true, "surface": true, "tip": true, "heel": true}

func (c *composer) aimLine(a *sim.AimMet) Line {
	if a.Likelihood == 0 && c.h.Verdict.Likelihood == 0 {
		return c.line("jobsheet.glance-aim", txt("zone", a.Zone), txt("found", hrc(a.FoundHRC)))
	}
	if a.Likelihood >= 0.5 || a.Found.Value >= a.Low && a.Found.Value <= a.High {
		return c.line("jobsheet.aim-met", txt("zone", a.Zone), txt("degree", words.Degree(a.Likelihood)), txt("odds", words.Likelihood(a.Likelihood)))
	}
	return c.line("jobsheet.aim-missed", txt("zone", a.Zone), txt("odds", words.Likelihood(a.Likelihood)), txt("found", hrc(a.FoundHRC)))
}
