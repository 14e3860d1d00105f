package unit

import (
	"fmt"
	"math"
	"strconv"
)

// Duration is a length of time [s].
type Duration float64

// Minutes returns the time in minutes.
func (d Duration) Minutes() float64 { return float64(d) / 60 }

// Hours returns the time in hours.
func (d Duration) Hours() float64 { return float64(d) / 3600 }

var durations = &measure{
	want: "a time",
	units: names(
		"s sec secs second seconds count counts", 1.0,
		"min mins minute minutes m", 60.0,
		"h hr hrs hour hours", 3600.0,
		"d day days", 86400.0,
	),
	low: 0, high: 30 * 86400,
	limits:   "0 to 30 days",
	remedy:   `write it with its unit, as "90 s", "10 min" or "2 h"`,
	about:    0.2,
	tails:    tailSet("soak hold long count"),
	compound: true,
}

// ParseDuration reads a time: "90 s", "10-minute soak", "1 h 30 min", "an hour
// and a half", "a ten count" (a count is a second).
func ParseDuration(text string, def ...string) (Duration, error) {
	v, err := durations.value(text, def)
	return Duration(v), err
}

// ParseDurationBand reads a time with its width [s]: "5-10 min", "about 10 min" (±20 %).
func ParseDurationBand(text string, def ...string) (Band, error) {
	b, _, err := durations.read(text, def)
	return b, err
}

// Text returns the time with the digits a person can keep: half seconds below
// 3 s, seconds to 20 s, 5 s to 2 min, 15 s to 10 min, minutes above.
func (d Duration) Text(System) string {
	a := math.Abs(float64(d))
	step := 60.0
	switch {
	case a < 3:
		step = 0.5
	case a < 20:
		step = 1
	case a < 120:
		step = 5
	case a < 600:
		step = 15
	}
	a = toStep(a, step)
	text := ""
	switch {
	case a < 120:
		text = strconv.FormatFloat(a, 'f', -1, 64) + " s"
	case a < 600 && math.Mod(a, 60) != 0:
		text = fmt.Sprintf("%d min %d s", int(a)/60, int(a)%60)
	case a < 3600:
		text = fmt.Sprintf("%d min", int(a)/60)
	case math.Mod(a, 3600) == 0:
		text = fmt.Sprintf("%d h", int(a)/3600)
	default:
		text = fmt.Sprintf("%d h %d min", int(a)/3600, int(a)%3600/60)
	}
	if d < 0 && a != 0 {
		return "-" + text
	}
	return text
}

// Exact returns the time with all the digits it needs to be read back.
func (d Duration) Exact(System) string {
	v := float64(d)
	switch {
	case v >= 3600 && math.Mod(v, 3600) == 0:
		return shortest(v/3600) + " h"
	case v >= 60 && math.Mod(v, 60) == 0:
		return shortest(v/60) + " min"
	}
	return shortest(v) + " s"
}

// Repeat is a time that is gone through more than once: "two hours twice".
type Repeat struct {
	Times int
	Each  Duration
}

const mostRepeats = 20

var repeatWords = map[string]int{"once": 1, "twice": 2, "thrice": 3, "double": 2, "triple": 3}

// ParseRepeat reads a repeated time: "two hours twice", "2×2h", "2 h x 2",
// "three times 10 min", "twice for an hour", or a plain "2 h".
func ParseRepeat(text string, def ...string) (Repeat, error) {
	tokens, why := scan(text)
	if why == "" && len(tokens) == 0 {
		why = whyEmpty
	}
	if why != "" {
		return Repeat{}, repeats.fail(text, why)
	}
	r := &reader{tokens: tokens}
	times, ok := r.times()
	if ok {
		r.word("for", "of")
	}
	f, found := durations.figure(r)
	if !found {
		return Repeat{}, repeats.fail(text, whyNumber)
	}
	if !ok {
		r.word("each")
		r.sign(',')
		times, ok = r.times()
	}
	if !ok {
		times = 1
	}
	r.word("each")
	durations.tail(r)
	if !r.done() {
		return Repeat{}, repeats.fail(text, fmt.Sprintf("%q makes no sense there", r.peek(0).text))
	}
	if err := durations.settle(text, &f, nil, def); err != nil {
		return Repeat{}, err
	}
	if err := durations.within(text, f.value); err != nil {
		return Repeat{}, err
	}
	if times < 1 || times > mostRepeats {
		return Repeat{}, &Error{Text: shown(text), Want: repeats.want, Why: "the count of repeats is out of reach", Limits: "1 to 20 times", Remedy: "write how many times"}
	}
	return Repeat{times, Duration(f.value)}, nil
}

var repeats = &measure{want: "a time with its repeats", remedy: `write it as "2 h twice" or "2x2 h"`}

// times reads "twice", "2 x", "x 2", "three times".
func (r *reader) times() (int, bool) {
	start := r.at
	if t := r.peek(0); t.kind == 'w' && repeatWords[t.text] > 0 {
		r.at++
		return repeatWords[t.text], true
	}
	before := r.word("x")
	n, ok := r.unsigned()
	if ok && n.value == math.Trunc(n.value) && math.Abs(n.value) < 1000 {
		after := r.word("x", "times")
		if after || before && (r.done() || r.word("times")) {
			return int(n.value), true
		}
	}
	r.at = start
	return 0, false
}

// Text returns the repeat as it is spoken: "2 h twice".
func (r Repeat) Text(s System) string { return r.print(r.Each.Text(s)) }

// Exact returns the repeat with all the digits it needs to be read back.
func (r Repeat) Exact(s System) string { return r.print(r.Each.Exact(s)) }

func (r Repeat) print(each string) string {
	switch r.Times {
	case 1:
		return each
	case 2:
		return each + " twice"
	}
	return fmt.Sprintf("%s, %d times", each, r.Times)
}
