package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/calphad"
)

// Boundaries joins the transitions of neighboring columns into lines: the same
// phase coming or going, at the nearest temperature.
func Boundaries(section calphad.Section) []Line {
	const jump = 45 // K between columns, more is another line
	var lines []Line
	var keys []string
	open := []int{}
	for _, col := range section.Columns {
		var next []int
		taken := map[int]bool{}
		for _, ch := range col.Transitions.Changes {
			key := fmt.Sprint(ch.Phase, ch.Appears)
			best, d := -1, float64(jump)
			for _, i := range open {
				l := &lines[i]
				if keys[i] == key && !taken[i] && math.Abs(l.Y[len(l.Y)-1]-ch.T) < d {
					best, d = i, math.Abs(l.Y[len(l.Y)-1]-ch.T)
				}
			}
			if best < 0 {
				lines = append(lines, Line{})
				keys = append(keys, key)
				best = len(lines) - 1
			}
			taken[best] = true
			lines[best].X = append(lines[best].X, col.Content)
			lines[best].Y = append(lines[best].Y, ch.T)
			next = append(next, best)
		}
		open = next
	}
	return slices.DeleteFunc(lines, func(l Line) bool { return len(l.X) < 2 })
}

// FieldNames places the name of every field in the middle of its tallest part,
// where there is room for it between from and to [K].
func FieldNames(section calphad.Section, from, to float64) []Place {
	type spot struct {
		place Place
		room  float64
	}
	best := map[string]spot{}
	var order []string
	for i, col := range section.Columns {
		for _, f := range col.Transitions.Fields() {
			low, high := max(f.From, from), min(f.To, to)
			if high <= low || f.To > to+200 && len(f.Phases) == 1 && f.From > to-60 {
				continue
			}
			name := fieldName(f.Phases)
			room := math.Min(high-low, 8*float64(min(i, len(section.Columns)-1-i)))
			if b, ok := best[name]; !ok || room > b.room {
				if !ok {
					order = append(order, name)
				}
				best[name] = spot{Place{X: col.Content, Y: (low + high) / 2, Text: name}, room}
			}
		}
	}
	const letter = 0.0115 // half the width of a letter [% C]
	last := section.Columns[len(section.Columns)-1].Content
	var places []Place
	slices.SortStableFunc(order, func(a, b string) int { return int(best[b].room - best[a].room) })
next:
	for _, name := range order {
		s := best[name]
		if s.room < 22 {
			continue
		}
		half := letter * float64(len(name))
		s.place.X = min(max(s.place.X, half), last-half)
		for _, p := range places { // no name on another
			if math.Abs(p.Y-s.place.Y) < 32 && math.Abs(p.X-s.place.X) < half+letter*float64(len(p.Text)) {
				continue next
			}
		}
		places = append(places, s.place)
	}
	return places
}

// fieldName joins the phases of a field, what the carbides sit in first.
func fieldName(phases []string) string {
	list := slices.Compact(slices.Clone(phases))
	slices.SortStableFunc(list, func(a, b string) int {
		switch {
		case carbide(a) && !carbide(b):
			return 1
		case carbide(b) && !carbide(a):
			return -1
		}
		return 0
	})
	return strings.Join(list, " + ")
}

func carbide(name string) bool {
	return !slices.Contains([]string{calphad.Austenite, calphad.Ferrite, calphad.Liquid, calphad.Copper, calphad.Hexagonal}, name)
}
