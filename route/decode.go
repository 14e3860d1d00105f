package route

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/heatwright/heatwright/cite"
)

// decoder turns a document into a job and gathers what is wrong with it.
type decoder struct {
	file     string
	text     []byte
	degrees  string // unit of a bare temperature
	draft    bool   // what is wrong is kept as it was typed
	noShop   bool   // the shop could not be read: what hangs on it is not checked
	problems *Problems
	places   map[string]*node // by path, for the checks that look at several keys
}

// tell adds a problem at an offset of the file.
func (d *decoder) tell(at int, key, value, code string, args ...cite.Quantity) {
	if len(*d.problems) >= maxProblems {
		return
	}
	line, column := 0, 0
	if at >= 0 {
		before := string(d.text[:min(at, len(d.text))])
		line = strings.Count(before, "\n") + 1
		column = len([]rune(before[strings.LastIndexByte(before, '\n')+1:])) + 1
	}
	*d.problems = append(*d.problems, Problem{
		File: d.file, Line: line, Column: column, Key: key, Value: clip(value), Code: code, Args: args,
	})
}

// at tells of a problem at the value that was read for a path.
func (d *decoder) at(path, code string, args ...cite.Quantity) {
	n := d.places[path]
	if n == nil {
		d.tell(-1, path, "", code, args...)
		return
	}
	d.tell(n.at, path, n.text, code, args...)
}

// table fills the struct v from the table n. Every field is looked for by its
// key; what is not a key of this form or verb is a problem, and so is a key
// that is needed and missing.
func (d *decoder) table(n *node, v reflect.Value, path string) {
	t := v.Type()
	variant := ""
	for f := range fields(t) {
		if f.variant {
			if c := n.fields[f.key]; c != nil {
				variant = strings.ToLower(strings.TrimSpace(c.text))
			}
		}
	}
	known := map[string]bool{}
	var keys []string
	for f := range fields(t) {
		known[f.key] = true
		child, here := n.fields[f.key], joined(path, f.key)
		if variant == "" && f.only != "" {
			continue // the form or verb is missing or unknown, which is told already
		}
		if f.only != "" && !slices.Contains(strings.Fields(f.only), variant) {
			if child != nil {
				d.tell(child.keyAt, here, child.text, "route.not-for", cite.Txt("key", f.key), cite.Txt("variant", variant), cite.Txt("only", strings.Join(strings.Fields(f.only), ", ")))
			}
			continue
		}
		keys = append(keys, f.key)
		if child == nil {
			if f.need == "*" || slices.Contains(strings.Fields(f.need), variant) {
				d.tell(n.keyAt, here, "", "route.missing", cite.Txt("key", f.key), cite.Txt("doc", f.doc))
			}
			continue
		}
		d.places[here] = child
		d.value(child, v.FieldByIndex(f.index), f, here)
	}
	for _, k := range n.keys {
		if !known[k] {
			c := n.fields[k]
			near := nearest(k, keys)
			d.tell(c.keyAt, joined(path, k), c.text, "route.unknown-key", cite.Txt("key", k), cite.Txt("near", near), cite.Txt("keys", strings.Join(keys, ", ")))
		}
	}
}

func joined(path, key string) string {
	if path == "" {
		return key
	}
	return path + ", " + key
}

// value fills one field.
func (d *decoder) value(n *node, v reflect.Value, f field, path string) {
	switch x := v.Addr().Interface().(type) {
	case quantity:
		d.quantity(n, x, f, path)
		return
	case *Ending:
		d.ending(n, x, path)
		return
	case *[]Wish:
		d.wishes(n, x, path)
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		if n.kind != aTable {
			d.wrongKind(n, path, "a table", "["+f.key+"]")
			return
		}
		d.table(n, v, path)
	case reflect.Slice:
		d.list(n, v, f, path)
	case reflect.String:
		if n.kind != aText {
			d.wrongKind(n, path, "words", strconv.Quote(cmpOr(n.text, "…")))
			return
		}
		word := n.text
		if f.one != "" {
			word = d.oneOf(n, f, path)
		} else if most := f.longest(); utf8.RuneCountInString(word) > most {
			d.tell(n.at, path, word, "route.too-long", cite.Txt("most", strconv.Itoa(most)))
		} else if strings.IndexFunc(word, func(r rune) bool { return unicode.IsControl(r) && (!f.lines || r != '\n' && r != '\t') }) >= 0 {
			d.tell(n.at, path, word, "route.not-printable")
		}
		v.SetString(word)
	case reflect.Bool:
		if n.kind != aFlag {
			d.wrongKind(n, path, "true or false", "true")
			return
		}
		v.SetBool(n.text == "true")
	case reflect.Int:
		d.integer(n, v, f, path)
	default:
		panic("route: field of an unexpected kind")
	}
}

func cmpOr(s, other string) string {
	if s == "" {
		return other
	}
	return s
}

func (d *decoder) wrongKind(n *node, path, want, example string) {
	d.tell(n.at, path, n.text, "route.wrong-kind", cite.Txt("want", want), cite.Txt("example", example))
}

func (d *decoder) oneOf(n *node, f field, path string) string {
	words := strings.Split(f.one, "|")
	given := strings.Join(strings.Fields(n.text), " ")
	for _, w := range words {
		if strings.EqualFold(w, given) {
			return w
		}
	}
	lower := strings.ToLower(given)
	for _, o := range notOffered {
		if o.names(lower) {
			d.tell(n.at, path, n.text, o.code)
			return given
		}
	}
	near := nearest(lower, words)
	d.tell(n.at, path, n.text, "route.not-one-of", cite.Txt("near", near), cite.Txt("words", strings.Join(words, ", ")))
	return given
}

func (d *decoder) integer(n *node, v reflect.Value, f field, path string) {
	i, err := strconv.Atoi(n.text)
	if n.kind != aNumber || err != nil {
		d.wrongKind(n, path, "a whole number", "2")
		return
	}
	low, errLow := strconv.Atoi(f.min)
	high, errHigh := strconv.Atoi(f.max)
	if errLow == nil && errHigh == nil && (i < low || i > high) {
		d.tell(n.at, path, n.text, "route.outside", cite.Txt("low", f.min), cite.Txt("high", f.max))
		return
	}
	v.SetInt(int64(i))
}

// list fills a slice of structs from an array of tables; where a single one is
// the rule, a plain table will do.
func (d *decoder) list(n *node, v reflect.Value, f field, path string) {
	items := n.items
	switch {
	case n.kind == aTable && f.single:
		items = []*node{n}
	case n.kind != aList:
		d.wrongKind(n, path, "a list of tables", "[["+f.key+"]]")
		return
	}
	out := reflect.MakeSlice(v.Type(), 0, len(items))
	for i, item := range items {
		here := path + " " + strconv.Itoa(i+1)
		if n.kind == aTable {
			here = path
		}
		if item.kind != aTable {
			d.wrongKind(item, here, "a table", "[["+f.key+"]]")
			continue
		}
		e := reflect.New(v.Type().Elem()).Elem()
		d.places[here] = item
		d.table(item, e, here)
		out = reflect.Append(out, e)
	}
	if out.Len() > 0 {
		v.Set(out)
	}
}
