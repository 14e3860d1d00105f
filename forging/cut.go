package forging

import (
	"fmt"
	"slices"
)

// Bar is a length of stock on the rack. All bars of one list are of one steel and section.
type Bar struct {
	Name   string
	Length float64 // [m]
}

// Piece is what is to be cut, and how many of it.
type Piece struct {
	Name   string
	Length float64 // [m], without the saw cut
	Count  int
}

// Cut is one bar with what is cut from it, in order.
type Cut struct {
	Bar    string
	Pieces []string
	Left   float64 // offcut [m]
}

// CuttingList is how bars are cut.
type CuttingList struct {
	Cuts    []Cut
	Missing []Piece // what the bars do not give
	Waste   float64 // saw cuts [m]
}

// Nest lays pieces into bars, longest first, each into the bar with the shortest
// rest that still holds it; kerf is the width of a saw cut [m]. On equal bars it
// uses at most 11/9 of the least possible number, and one more (the bound of
// best-fit decreasing, from memory).
func Nest(bars []Bar, pieces []Piece, kerf float64) (CuttingList, error) {
	if kerf < 0 || kerf > 0.02 {
		return CuttingList{}, fmt.Errorf("forging: saw cut %.1f mm: possible are 0 to 20 mm; a band saw takes 1, a cut-off wheel 2–3", 1e3*kerf)
	}
	type one struct {
		name   string
		length float64
	}
	var all []one
	for _, p := range pieces {
		if !(p.Length > 0) || p.Count < 0 || p.Count > 100000 {
			return CuttingList{}, fmt.Errorf("forging: %d pieces %q of %g m cannot be cut; give a length and a number", p.Count, p.Name, p.Length)
		}
		for range p.Count {
			all = append(all, one{p.Name, p.Length})
		}
	}
	slices.SortStableFunc(all, func(a, b one) int {
		switch {
		case a.length > b.length:
			return -1
		case a.length < b.length:
			return 1
		}
		return 0
	})
	list := CuttingList{Cuts: make([]Cut, len(bars))}
	for i, b := range bars {
		list.Cuts[i] = Cut{Bar: b.Name, Left: b.Length}
	}
	missing := map[string]*Piece{}
	var order []string
	for _, p := range all {
		best := -1
		for i := range list.Cuts {
			// The last piece of a bar may be what is left, without a cut.
			if left := list.Cuts[i].Left; left >= p.length-1e-9 && (best < 0 || left < list.Cuts[best].Left) {
				best = i
			}
		}
		if best < 0 {
			if missing[p.name] == nil {
				missing[p.name] = &Piece{Name: p.name, Length: p.length}
				order = append(order, p.name)
			}
			missing[p.name].Count++
			continue
		}
		c := &list.Cuts[best]
		c.Pieces = append(c.Pieces, p.name)
		saw := min(kerf, max(c.Left-p.length, 0))
		list.Waste += saw
		c.Left = max(c.Left-p.length-saw, 0)
	}
	for _, name := range order {
		list.Missing = append(list.Missing, *missing[name])
	}
	return list, nil
}
