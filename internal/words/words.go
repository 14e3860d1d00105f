// Package words makes sentences out of codes and quantities. Everything that
// the program says of a problem, a note, a caution, a sign or a remedy is kept
// here in one catalog, in plain words first; the packages below send a stable
// code with typed quantities and never a sentence.
//
// The catalog is written in American English. A second word list turns it into
// British English, and every quantity is printed in the reader's units with
// the other unit behind it where the catalog asks for both.
package words

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"sort"
	"strings"
	"sync"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/unit"
	"github.com/pelletier/go-toml/v2"
)

// Language is a variety of English.
type Language string

// The languages of the catalog.
const (
	American Language = "en-US"
	British  Language = "en-GB"
)

// Style is how a reader wants to be spoken to.
type Style struct {
	Language Language
	Units    unit.System
}

// Entry is what the catalog knows of a code. All but Say may be empty.
type Entry struct {
	Say    string `toml:"say"`    // what is the case, as one sentence or clause
	Short  string `toml:"short"`  // the same for a line of the sheet
	Limits string `toml:"limits"` // what would be taken
	Remedy string `toml:"remedy"` // what to do
	Why    string `toml:"why"`    // the reason, for the back of the sheet
	Term   string `toml:"term"`   // the engineer's word
}

//go:embed catalog/*.toml
var files embed.FS

var catalog = sync.OnceValues(func() (map[string]Entry, error) {
	all := map[string]Entry{}
	names, err := fs.Glob(files, "catalog/*.toml")
	if err != nil {
		return nil, fmt.Errorf("words: list the catalog: %w", err)
	}
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("words: read %s: %w", name, err)
		}
		var part map[string]Entry
		dec := toml.NewDecoder(bytes.NewReader(text))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&part); err != nil {
			return nil, fmt.Errorf("words: parse %s: %w", name, err)
		}
		for code, e := range part {
			if _, twice := all[code]; twice {
				return nil, fmt.Errorf("words: %s: code %q stands twice", name, code)
			}
			all[code] = e
		}
	}
	return all, nil
})

func entries() map[string]Entry {
	all, err := catalog()
	if err != nil {
		panic(err) // the catalog is embedded: a fault in it is ours, and a test reads it whole
	}
	return all
}

// Has reports whether the catalog has words for a code.
func Has(code string) bool { return entries()[code].Say != "" }

// Codes returns all codes of the catalog in order.
func Codes() []string {
	var all []string
	for code := range entries() {
		all = append(all, code)
	}
	sort.Strings(all)
	return all
}

// Text is a code made into sentences.
type Text struct{ Say, Short, Limits, Remedy, Why, Term string }

// Of returns the sentences of a code with its quantities filled in. A code
// without words, which a test forbids, is said as it is.
func (s Style) Of(code string, args ...cite.Quantity) Text { return filler{Style: s}.of(code, args) }

// filler puts quantities into sentences, between marks where they are to be cut.
type filler struct {
	Style
	marked bool
}

func (s filler) of(code string, args []cite.Quantity) Text {
	e, ok := entries()[code]
	if !ok {
		e.Say = code
	}
	fill := func(t string) string { return s.spell(s.fill(t, args)) }
	t := Text{fill(e.Say), fill(e.Short), fill(e.Limits), fill(e.Remedy), fill(e.Why), fill(e.Term)}
	if t.Short == "" {
		t.Short = t.Say
	}
	return t
}

// Note returns the sentences of a note.
func (s Style) Note(n cite.Note) Text {
	return s.Of(n.Code, append([]cite.Quantity{cite.Txt("where", n.Where)}, n.Args...)...)
}

// fill puts quantities into the places of a template: {name}, {name|both},
// {name|percent}. "[…]" around a part drops it when a quantity in it is missing or empty.
func (s filler) fill(t string, args []cite.Quantity) string {
	var b strings.Builder
	for t != "" {
		open := strings.IndexAny(t, "[{")
		if open < 0 {
			b.WriteString(t)
			break
		}
		b.WriteString(t[:open])
		closing := byte('}')
		if t[open] == '[' {
			closing = ']'
		}
		end := strings.IndexByte(t[open:], closing)
		if end < 0 {
			b.WriteString(t[open:])
			break
		}
		inner := t[open+1 : open+end]
		if closing == ']' {
			if s.complete(inner, args) {
				b.WriteString(s.fill(inner, args))
			}
		} else {
			b.WriteString(s.place(inner, args))
		}
		t = t[open+end+1:]
	}
	return b.String()
}

func (s filler) complete(t string, args []cite.Quantity) bool {
	for {
		_, rest, ok := strings.Cut(t, "{")
		if !ok {
			return true
		}
		name, after, _ := strings.Cut(rest, "}")
		if s.place(name, args) == "" {
			return false
		}
		t = after
	}
}

// place prints one quantity, or nothing when it was not sent.
func (s filler) place(name string, args []cite.Quantity) string {
	name, how, _ := strings.Cut(name, "|")
	for _, a := range args {
		if a.Name == name {
			text := s.Quantity(a, how)
			if s.marked && text != "" {
				text = string(markName) + name + string(markText) + text + string(markClose)
			}
			return text
		}
	}
	return ""
}
