package route

import (
	"bytes"
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/heatwright/heatwright/cite"
	"github.com/pelletier/go-toml/v2/unstable"
)

// Largest job file that is read [bytes]. A long job takes a few thousand.
const maxFile = 1 << 20

// Most problems that one file is told of: past these it is no job file.
const maxProblems = 60

// kind of a value in a document.
type kind int

const (
	missing kind = iota
	aText
	aNumber
	aFlag
	aDate
	aList
	aTable
)

// node is a value of a TOML document with the place where it stands.
type node struct {
	kind   kind
	text   string // the value of a text, or the characters of any other scalar
	at     int    // offset of the value in the file
	keyAt  int    // offset of its key
	keys   []string
	fields map[string]*node
	items  []*node
	closed bool // an inline table: nothing may be added
	made   bool // its own header has been read
}

func newTable(at int) *node {
	return &node{kind: aTable, at: at, keyAt: at, fields: map[string]*node{}}
}

func (n *node) put(key string, v *node) {
	n.keys = append(n.keys, key)
	n.fields[key] = v
}

// document reads the text into a tree. After a line it cannot read it goes on
// with the next one, so that one slip does not hide the others.
func document(text []byte, tell func(at int, key, value, code string, args ...cite.Quantity)) *node {
	root := newTable(0)
	here := root
	var p unstable.Parser
	for base := 0; base < len(text); {
		part := text[base:]
		p.Reset(part)
		for p.NextExpression() {
			e := p.Expression()
			switch e.Kind {
			case unstable.KeyValue:
				place(here, e, base, tell)
			case unstable.Table, unstable.ArrayTable:
				here = open(root, e, base, tell)
			}
		}
		if p.Error() == nil {
			break
		}
		at := len(part)
		var bad *unstable.ParserError
		reason := p.Error().Error()
		if errors.As(p.Error(), &bad) {
			reason = bad.Message
			if off := cap(part) - cap(bad.Highlight); off >= 0 && off <= len(part) {
				at = off
			}
		}
		line, _, _ := strings.Cut(string(part[lineStart(part, at):]), "\n")
		tell(base+at, "", strings.TrimSpace(clip(line)), "route.unreadable", cite.Txt("reason", reason))
		next := bytes.IndexByte(part[min(at, len(part)):], '\n')
		if next < 0 {
			break
		}
		base += at + next + 1
	}
	return root
}

func lineStart(b []byte, at int) int {
	return bytes.LastIndexByte(b[:min(at, len(b))], '\n') + 1
}

// clip shortens a value for saying it back.
func clip(s string) string {
	const most = 60
	end := ""
	if utf8.RuneCountInString(s) > most {
		s, end = string([]rune(s)[:most]), "…"
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return '?' // nothing that a terminal would obey
		}
		return r
	}, s) + end
}

// place sets one key of a table, walking through dotted keys.
func place(t *node, e *unstable.Node, base int, tell func(int, string, string, string, ...cite.Quantity)) {
	it := e.Key()
	for it.Next() {
		k := it.Node()
		name, at := string(k.Data), base+int(k.Raw.Offset)
		old := t.fields[name]
		if !it.IsLast() {
			switch {
			case old == nil:
				next := newTable(at)
				t.put(name, next)
				t = next
			case old.kind == aTable && !old.closed:
				t = old
			default:
				tell(at, name, "", "route.twice")
				return
			}
			continue
		}
		if old != nil {
			tell(at, name, "", "route.twice")
			return
		}
		v := value(e.Value(), at, base, tell)
		v.keyAt = at
		t.put(name, v)
	}
}

// open finds or makes the table that a [header] or [[header]] names.
func open(root *node, e *unstable.Node, base int, tell func(int, string, string, string, ...cite.Quantity)) *node {
	t := root
	it := e.Key()
	for it.Next() {
		k := it.Node()
		name, at := string(k.Data), base+int(k.Raw.Offset)
		old, last := t.fields[name], it.IsLast()
		list := last && e.Kind == unstable.ArrayTable
		switch {
		case old == nil && list:
			item := newTable(at)
			t.put(name, &node{kind: aList, at: at, keyAt: at, items: []*node{item}, made: true})
			t = item
		case old == nil:
			next := newTable(at)
			next.made = last
			t.put(name, next)
			t = next
		case list && old.kind == aList && old.made:
			item := newTable(at)
			old.items = append(old.items, item)
			t = item
		case !last && old.kind == aList && old.made:
			t = old.items[len(old.items)-1]
		case old.kind == aTable && !old.closed && !list && (!last || !old.made):
			old.made = old.made || last
			t = old
		default:
			tell(at, name, "", "route.twice")
			return newTable(at) // what stands below goes nowhere
		}
	}
	return t
}

func value(v *unstable.Node, at, base int, tell func(int, string, string, string, ...cite.Quantity)) *node {
	n := &node{at: at, keyAt: at}
	if v.Raw.Length > 0 {
		n.at = base + int(v.Raw.Offset)
	}
	switch v.Kind {
	case unstable.String:
		n.kind, n.text = aText, string(v.Data)
	case unstable.Integer, unstable.Float:
		n.kind, n.text = aNumber, string(v.Data)
	case unstable.Bool:
		n.kind, n.text = aFlag, string(v.Data)
	case unstable.Array:
		n.kind, n.made = aList, false
		it := v.Children()
		for it.Next() {
			if it.Node().Kind != unstable.Comment {
				n.items = append(n.items, value(it.Node(), n.at, base, tell))
			}
		}
	case unstable.InlineTable:
		n.kind, n.fields = aTable, map[string]*node{}
		it := v.Children()
		for it.Next() {
			if it.Node().Kind == unstable.KeyValue {
				place(n, it.Node(), base, tell)
			}
		}
		n.closed = true
	default:
		n.kind, n.text = aDate, string(v.Data)
	}
	return n
}
