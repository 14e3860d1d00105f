package route

import (
	"reflect"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/unit"
)

// Measure is one measure of a piece of its form, for whoever asks for it in a field.
type Measure struct {
	Key    string // in the job file
	Doc    string
	Text   string // as typed
	Value  Length // none for words
	One    []string
	Needed bool
	Most   unit.Length // the largest that is taken
}

// Measures returns the measures that a piece of this form has, in the order of
// the job file. Those that are tables of their own are left out.
func Measures(p Piece) []Measure {
	var all []Measure
	v := reflect.ValueOf(p)
	for f := range fields(v.Type()) {
		if f.variant || f.only != "" && !slices.Contains(strings.Fields(f.only), string(p.Form)) {
			continue
		}
		m := Measure{Key: f.key, Doc: f.doc, Needed: f.need == "*" || slices.Contains(strings.Fields(f.need), string(p.Form))}
		switch x := v.FieldByIndex(f.index).Interface().(type) {
		case Length:
			m.Text, m.Value, m.Most = x.Text, x, largest(f.max)
		case string:
			m.Text, m.One = x, strings.Split(f.one, "|")
		default:
			continue
		}
		all = append(all, m)
	}
	return all
}

func largest(limit string) unit.Length {
	l, err := unit.ParseLength(limit)
	if err != nil {
		panic("route: limit " + limit + ": " + err.Error())
	}
	return l
}
