package words

import (
	_ "embed"
	"regexp"
	"strings"
	"sync"
	"unicode"

	"github.com/heatwright/heatwright/cite"
	"github.com/pelletier/go-toml/v2"
)

// Part is a stretch of a sentence: words, or a number with who says it.
type Part struct {
	Text string
	From string // the model, source or kind of origin that the number has; empty: no number
}

//go:embed from.toml
var fromText []byte

var origins = sync.OnceValue(func() map[string]map[string]string {
	var all map[string]map[string]string
	if err := toml.Unmarshal(fromText, &all); err != nil {
		panic("words: from.toml: " + err.Error()) // embedded, and read whole by a test
	}
	return all
})

// Origins returns the whole table of who says which quantity of which code.
func Origins() map[string]map[string]string { return origins() }

// From returns who says a quantity of a code, "" where nobody does; name "*"
// stands for the numbers that the sentence itself brings.
func From(code, name string) string { return origins()[code][name] }

// Marks around a quantity while a sentence is cut; no text of the catalog has them.
const (
	markName  = '\ue000'
	markText  = '\ue001'
	markClose = '\ue002'
)

// Parts cuts a sentence that Of made of a code, its Say, Short or Why, at its
// numbers. said is the sentence as it is shown: it may have other capitals, tied
// spaces and more at its end, but no letter more before that.
func (s Style) Parts(said, code string, args ...cite.Quantity) []Part {
	t := filler{s, true}.of(code, args)
	for _, marked := range []string{t.Say, t.Short, t.Why} {
		if parts, ok := cut(said, code, marked); ok {
			return parts
		}
	}
	return []Part{{Text: said}}
}

// NoteParts cuts the sentence of a note. What the table does not know of it comes
// from the source of the note.
func (s Style) NoteParts(said string, n cite.Note) []Part {
	parts := s.Parts(said, n.Code, append([]cite.Quantity{cite.Txt("where", n.Where)}, n.Args...)...)
	if n.Source == "" {
		return parts
	}
	var all []Part
	for _, p := range parts {
		if p.From != "" {
			all = append(all, p)
			continue
		}
		all = append(all, numbers(p.Text, string(n.Source), anyNumber)...)
	}
	return all
}

func cut(said, code, marked string) ([]Part, bool) {
	show := []rune(said)
	var parts []Part
	name, from := "", 0
	at, inName := 0, false
	flush := func() {
		if at > from {
			text := string(show[from:at])
			if name != "" {
				parts = append(parts, numbers(text, From(code, name), anyNumber)...)
			} else {
				parts = append(parts, numbers(text, From(code, "*"), measured)...)
			}
		}
		from = at
	}
	for _, r := range strings.TrimSpace(marked) {
		switch {
		case r == markName:
			flush()
			name, inName = "", true
		case r == markText:
			inName = false
		case r == markClose:
			flush()
			name = ""
		case inName:
			name += string(r)
		default:
			if at == len(show) || !same(show[at], r) {
				return nil, false
			}
			at++
		}
	}
	at = len(show)
	flush()
	return parts, true
}

func same(a, b rune) bool {
	return a == b || unicode.ToLower(a) == unicode.ToLower(b) || a == '\u00a0' && b == ' '
}

const (
	oneNumber = `(?:[±<−]\s?)?(?:\d[\d,]*(?:\.\d+)?(?:[½¼¾⅛⅜⅝⅞]|[- ]\d+/\d+|/\d+)?|½)`
	someUnit  = `(?:[ \x{a0}-](?:°C|°F|%|(?:C|F|mm|in|µm|nm|s|min|h|HRC|HV|L|kg|ppm|m)\b))`
	spanOf    = oneNumber + `(?:–` + oneNumber + `)?(?:[ \x{a0}]\(` + oneNumber + `(?:–` + oneNumber + `)?\))?`
	oddsOf    = `\d+[ \x{a0}]in[ \x{a0}]\d+`
)

var (
	anyNumber = regexp.MustCompile(oddsOf + `|` + spanOf + someUnit + `?`)
	measured  = regexp.MustCompile(oddsOf + `|` + spanOf + someUnit)
)

// Numbers cuts a text at its numbers with a unit, all of them said by from.
func Numbers(text, from string) []Part { return numbers(text, from, measured) }

// Numbered cuts a text at its numbers, with or without a unit.
func Numbered(text, from string) []Part { return numbers(text, from, anyNumber) }

// numbers cuts a text at the numbers that a pattern finds, each said by from.
// Numbers with hardly anything between them stay together.
func numbers(text, from string, pattern *regexp.Regexp) []Part {
	switch {
	case text == "":
		return nil
	case from == "":
		return []Part{{Text: text}}
	}
	var spans [][]int
	for _, m := range pattern.FindAllStringIndex(text, -1) {
		for m[0] < m[1] && text[m[0]] == ' ' {
			m[0]++
		}
		if n := len(spans); n > 0 && m[0]-spans[n-1][1] <= 3 {
			spans[n-1][1] = m[1]
			continue
		}
		spans = append(spans, m)
	}
	var parts []Part
	at := 0
	for _, m := range spans {
		if strings.Contains(text[m[0]:m[1]], "(") && strings.HasPrefix(text[m[1]:], ")") {
			m[1]++
		}
		if m[0] > at {
			parts = append(parts, Part{Text: text[at:m[0]]})
		}
		parts = append(parts, Part{text[m[0]:m[1]], from})
		at = m[1]
	}
	if at < len(text) {
		parts = append(parts, Part{Text: text[at:]})
	}
	return parts
}
