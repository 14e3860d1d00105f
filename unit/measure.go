package unit

import (
	"fmt"
	"math"
	"strings"
)

// A scale turns a figure into SI: si = (v + offset)·factor.
type scale struct {
	factor, offset float64
	symbol         string
}

func (s scale) si(v float64) float64 { return (v + s.offset) * s.factor }

// A measure is one kind of quantity: the names of its units, its limits, and
// what to tell a person whose text is not one.
type measure struct {
	want      string           // "a length"
	units     map[string]scale // by lower-case name without spaces
	low, high float64          // limits [SI]
	limits    string
	remedy    string
	about     float64                   // what "about" means, as a share of the value …
	aboutSI   float64                   // … and at least this [SI]
	tails     map[string]bool           // nouns that may follow: "5-gal bucket"
	compound  bool                      // "5 ft 6 in", "1 h 30 min"
	impliedBy func(n number) (s string) // unit that the way of writing implies, or ""
}

// names builds the unit table of a measure: "in inch inches" → one scale.
func names(list ...any) map[string]scale {
	m := map[string]scale{}
	for i := 0; i < len(list); i += 2 {
		all := strings.Fields(list[i].(string))
		s, ok := list[i+1].(scale)
		if !ok {
			s = scale{factor: list[i+1].(float64)}
		}
		s.symbol = all[0]
		for _, n := range all {
			m[n] = s
		}
	}
	return m
}

func tailSet(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}

func (m *measure) fail(text, why string) error {
	remedy := m.remedy
	if why == whyComma {
		remedy = "write 1475 or 1.475"
	}
	return &Error{Text: shown(text), Want: m.want, Why: why, Remedy: remedy}
}

// unit consumes the longest name of a unit at the reader.
func (m *measure) unit(r *reader) (scale, bool) {
	start := r.at
	if r.peek(0).kind == '-' && r.peek(1).kind == 'w' { // 5-gal
		r.at++
	}
	best, bestAt, found := scale{}, 0, false
	joined := ""
	for i := range 5 {
		t := r.peek(i)
		if t.kind != 'w' && t.kind != '/' && (t.kind != '-' || i == 0) {
			break
		}
		if t.kind != '-' {
			joined += t.text
		}
		if s, ok := m.units[joined]; ok {
			best, bestAt, found = s, r.at+i+1, true
		}
	}
	if !found {
		r.at = start
		return scale{}, false
	}
	r.at = bestAt
	return best, true
}

// figure is a number with its unit, when it has one.
type figure struct {
	value float64
	scale scale
	known bool
	n     number
	first bool // the unit stood before the number
}

// figure reads "1-1/2 in", "an hour and a half", "5 ft 6 in".
func (m *measure) figure(r *reader) (figure, bool) {
	start := r.at
	s, first := m.unit(r) // "inch and a half", "HRC 60"
	if first && r.peek(0).kind == '-' {
		r.at++
	}
	if first && r.word("and") {
		r.sign('-')
		r.word("a")
		r.sign('-')
		if f := fractionWords[r.peek(0).text]; f > 0 && r.peek(0).kind == 'w' {
			r.at++
			n := number{1 + f, true}
			return figure{s.si(n.value), s, true, n, false}, true
		}
		r.at = start
		return figure{}, false
	}
	n, ok := r.number()
	if !ok {
		if first && r.done() { // "inch"
			n = number{1, false}
			return figure{s.si(1), s, true, n, true}, true
		}
		r.at = start
		return figure{}, false
	}
	if first {
		return figure{s.si(n.value), s, true, n, true}, true
	}
	s, ok = m.unit(r)
	if !ok {
		return figure{n.value, scale{}, false, n, false}, true
	}
	f := figure{s.si(n.value), s, true, n, false}
	mark := r.at
	if r.word("and") {
		r.word("a")
		if extra := fractionWords[r.peek(0).text]; extra > 0 && r.peek(0).kind == 'w' { // "two hours and a half"
			r.at++
			f.value += s.factor * extra
			return f, true
		}
		r.at = mark
	}
	if m.compound && n.value >= 0 {
		m.more(r, &f)
	}
	return f, true
}

// more adds smaller units: the 6 in of "5 ft 6 in".
func (m *measure) more(r *reader, f *figure) {
	smallest := f.scale.factor
	for {
		mark := r.at
		r.word("and")
		r.sign(',')
		n, ok := r.unsigned()
		if !ok {
			r.at = mark
			return
		}
		s, ok := m.unit(r)
		if !ok || s.factor >= smallest {
			r.at = mark
			return
		}
		f.value += s.si(n.value)
		smallest = s.factor
	}
}

// settle gives a figure without a unit the unit of its neighbor, of its way of
// writing, or the caller's default.
func (m *measure) settle(text string, f *figure, neighbor *figure, def []string) error {
	if f.known {
		return nil
	}
	name := ""
	switch {
	case neighbor != nil && neighbor.known:
		f.value, f.scale, f.known = neighbor.scale.si(f.n.value), neighbor.scale, true
		return nil
	case m.impliedBy != nil && m.impliedBy(f.n) != "":
		name = m.impliedBy(f.n)
	case len(def) > 0 && def[0] != "":
		name = def[0]
	default:
		return m.fail(text, whyNoUnit)
	}
	s, ok := m.units[strings.ToLower(name)]
	if !ok {
		panic(fmt.Sprintf("unit: default unit %q is not one of %s", name, m.want))
	}
	f.value, f.scale, f.known = s.si(f.n.value), s, true
	return nil
}

func (m *measure) within(text string, v float64) error {
	if v >= m.low && v <= m.high { // NaN fails too
		return nil
	}
	return &Error{Text: shown(text), Want: m.want, Why: "it lies outside what is possible here", Limits: m.limits, Remedy: "check the number and its unit"}
}

// value reads one quantity and nothing else.
func (m *measure) value(text string, def []string) (float64, error) {
	b, width, err := m.read(text, def)
	if err != nil {
		return 0, err
	}
	if width {
		return 0, &Error{Text: shown(text), Want: m.want, Why: "one value is wanted here, not a range", Remedy: "give one number with its unit"}
	}
	return b.Value, nil
}

// read reads one quantity, a range ("10-15 min", "10 to 15 min"), a tolerance
// ("800 ± 10 C") or a guess ("about 800 C") as a band. width tells whether the text had a width.
func (m *measure) read(text string, def []string) (b Band, width bool, err error) {
	tokens, why := scan(text)
	if why == "" && len(tokens) == 0 {
		why = whyEmpty
	}
	if why != "" {
		return Band{}, false, m.fail(text, why)
	}
	r := &reader{tokens: tokens}
	about := r.word("about", "around", "approx", "approximately", "roughly", "circa", "ca", "some")
	a, ok := m.figure(r)
	if !ok {
		return Band{}, false, m.fail(text, whyNumber)
	}
	c, kind := m.second(r)
	m.tail(r)
	if !r.done() {
		return Band{}, false, m.fail(text, fmt.Sprintf("%q makes no sense there", r.peek(0).text))
	}
	if err := m.settle(text, &a, &c, def); err != nil {
		return Band{}, false, err
	}
	switch kind {
	case "to":
		if err := m.settle(text, &c, &a, def); err != nil {
			return Band{}, false, err
		}
		b = Band{(a.value + c.value) / 2, min(a.value, c.value), max(a.value, c.value)}
	case "±":
		s := a.scale
		if c.known {
			s = c.scale
		}
		half := math.Abs(c.n.value) * s.factor
		b = PlusMinus(a.value, half)
	default:
		b = Exactly(a.value)
	}
	if about {
		b = b.Widen(max(m.aboutSI, m.about*math.Abs(b.Value)))
	}
	for _, v := range []float64{b.Value, b.Low, b.High} {
		// The ends of a guess may pass the limits, what was written may not.
		if about {
			v = b.Value
		}
		if err := m.within(text, v); err != nil {
			return Band{}, false, err
		}
	}
	return b, about || kind != "", nil
}

// second reads what follows a dash, "to", or ±.
func (m *measure) second(r *reader) (figure, string) {
	start := r.at
	kind := ""
	switch {
	case r.sign('-'), r.word("to", "or"):
		kind = "to"
	case r.word("±"):
		kind = "±"
	case r.sign('+') && r.sign('/') && r.sign('-'):
		kind = "±"
	}
	if kind != "" {
		if c, ok := m.figure(r); ok {
			return c, kind
		}
	}
	r.at = start
	return figure{}, ""
}

func (m *measure) tail(r *reader) {
	for {
		t, ahead := r.peek(0), 1
		if t.kind == '-' {
			t, ahead = r.peek(1), 2
		}
		if t.kind != 'w' || !m.tails[t.text] {
			return
		}
		r.at += ahead
	}
}
