package route

import (
	"reflect"
	"strconv"
)

// field is one key of a struct as its tags tell it.
type field struct {
	index           []int
	key, need, only string
	one, min, max   string
	most            string // characters of a text
	like            string // the table that this one is like, explained there
	doc             string
	variant         bool
	single          bool
	lines           bool // a text of several lines
}

// longest text that a field takes [characters]: what is said on the front of a
// sheet has to fit there.
func (f field) longest() int {
	if n, err := strconv.Atoi(f.most); err == nil {
		return n
	}
	return 120
}

// fields yields the keys of a struct type in order.
func fields(t reflect.Type) func(func(field) bool) {
	return func(yield func(field) bool) {
		for _, sf := range reflect.VisibleFields(t) {
			tag := sf.Tag
			if tag.Get("key") == "" {
				continue
			}
			if !yield(field{
				index: sf.Index, key: tag.Get("key"), need: tag.Get("need"), only: tag.Get("for"),
				one: tag.Get("one"), min: tag.Get("min"), max: tag.Get("max"), most: tag.Get("most"), doc: tag.Get("doc"),
				variant: tag.Get("variant") != "", lines: tag.Get("lines") != "", single: tag.Get("single") != "", like: tag.Get("like"),
			}) {
				return
			}
		}
	}
}
