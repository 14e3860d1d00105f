package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// part of the plan that can be there more than once: a section of a blade, a steel.
type group struct {
	N      int
	Title  string
	Fields []field
	Drop   string // what takes it out; empty: it stays
}

// stations are the sections of a blade between heel and tip, for the distal taper.
func (who reader) stations(p route.Piece, put putter, nudge, far string) []group {
	var all []group
	for i, s := range p.Stations {
		place := fmt.Sprintf("piece, station %d, ", i+1)
		all = append(all, group{N: i + 1, Title: fmt.Sprintf("%s %d", who.w("station-word"), i+1), Drop: fmt.Sprintf("drop-station %d", i+1), Fields: []field{
			put(place+"at", who.w("station-at"), s.At.Text, far), put(place+"width", who.w("station-width"), s.Width.Text, nudge),
			put(place+"spine", who.w("station-spine"), s.Spine.Text, nudge), put(place+"edge", who.w("station-edge"), s.Edge.Text, nudge),
		}})
	}
	return all
}

// tang is the part of a blade that goes into the handle; empty fields: none.
func (who reader) tang(t route.Tang, put putter, nudge, far string) []field {
	return []field{
		put("piece, tang, length", who.w("tang-length"), t.Length.Text, far), put("piece, tang, width", who.w("tang-width"), t.Width.Text, far),
		put("piece, tang, thickness", who.w("tang-thickness"), t.Thickness.Text, nudge),
	}
}

// metals are the steels of a piece: one, or one for each region.
func (who reader) metals(job route.Job, put putter) []group {
	metals := job.Steel
	if len(metals) == 0 {
		metals = []route.Metal{{}}
	}
	var all []group
	for i, m := range metals {
		place, g := "steel, ", group{N: i + 1}
		if len(metals) > 1 {
			place = fmt.Sprintf("steel %d, ", i+1)
			g.Title, g.Drop = fmt.Sprintf("%s %d", who.w("steel-one"), i+1), fmt.Sprintf("drop-steel %d", i+1)
			region := put(place+"region", who.w("steel-region"), m.Region, "")
			region.List = "zones"
			g.Fields = append(g.Fields, region)
		}
		grade := put(place+"grade", who.w("steel-grade"), m.Grade, "")
		grade.List = "grades"
		g.Fields = append(g.Fields, grade,
			put(place+"certificate", who.w("steel-certificate"), m.Certificate, ""),
			put(place+"composition", who.w("steel-composition"), m.Composition, ""),
			put(place+"unknown", who.w("steel-unknown"), fmt.Sprint(m.Unknown), "", "false", "true"),
			put(place+"condition", who.w("steel-condition"), string(m.Condition), "", "", "spheroidized", "annealed", "hot-rolled", "cold-rolled", "normalized", "hardened", "as forged", "unknown"))
		all = append(all, g)
	}
	return all
}

// regroup adds a section or a steel, or takes one out: "add-station", "drop-steel 2".
func regroup(job *route.Job, do string) bool {
	verb, rest, _ := strings.Cut(do, " ")
	i := 0
	if n, err := strconv.Atoi(rest); err == nil {
		i = n - 1
	}
	switch verb {
	case "add-station":
		if job.Piece.Form != route.Blade {
			return false
		}
		job.Piece.Stations = append(slices.Clone(job.Piece.Stations), nextStation(job.Piece))
	case "drop-station":
		if i < 0 || i >= len(job.Piece.Stations) {
			return false
		}
		job.Piece.Stations = slices.Delete(slices.Clone(job.Piece.Stations), i, i+1)
	case "add-steel":
		metals := slices.Clone(job.Steel)
		if len(metals) == 0 {
			return false
		}
		if metals[0].Region == "" {
			metals[0].Region = job.Piece.Zones()[0]
		}
		metals = append(metals, route.Metal{Region: "sides", Grade: metals[0].Grade, Certificate: metals[0].Certificate, Composition: metals[0].Composition, Unknown: metals[0].Unknown})
		job.Steel = metals
	case "drop-steel":
		if len(job.Steel) < 2 || i < 0 || i >= len(job.Steel) {
			return false
		}
		metals := slices.Delete(slices.Clone(job.Steel), i, i+1)
		if len(metals) == 1 {
			metals[0].Region = ""
		}
		job.Steel = metals
	default:
		return false
	}
	return true
}

// nextStation is a section halfway from the last to the tip, as thick as a straight
// taper makes it there, in the units that the length was typed in. It goes by what
// is typed: the fields of a form are not read yet when a button is pressed. What
// cannot be read is left empty, and is asked for.
func nextStation(p route.Piece) route.Station {
	s := unit.Metric
	if strings.Contains(p.Length.Text, "in") {
		s = unit.Imperial
	}
	read := func(l route.Length) unit.Length {
		v, err := unit.ParseLength(l.Text)
		if err != nil {
			return 0
		}
		return v
	}
	say := func(l unit.Length) route.Length {
		if l <= 0 {
			return route.Length{}
		}
		return route.Length{Text: l.Text(s)}
	}
	from := route.Station{Width: p.Width, Spine: p.Spine, Edge: p.Edge}
	if n := len(p.Stations); n > 0 {
		from = p.Stations[n-1]
	}
	tip := read(p.SpineTip)
	if tip == 0 {
		tip = read(p.Spine)
	}
	spine := (read(from.Spine) + tip) / 2
	return route.Station{At: say((read(from.At) + read(p.Length)) / 2), Width: say(read(from.Width)), Spine: say(spine), Edge: say(min(read(from.Edge), spine))}
}
