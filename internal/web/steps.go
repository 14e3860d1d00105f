package web

import (
	"fmt"
	"strings"

	"github.com/heatwright/heatwright/route"
)

// putter makes a blank of a place of the job.
type putter func(place, label, text, nudge string, choices ...string) field

// stepParts says a step as a sentence with blanks. The sentence comes from the
// catalog, with a blank wherever it has {{name}}: "Heat in the <in> at <at>…".
func (who reader) stepParts(job route.Job, s route.Step, place string, put putter) []part {
	texts := map[string]string{
		"in": s.In, "at": s.At.Text, "until": s.Until.Text, "hold": s.Hold.Text, "work": s.Work.Text, "then": s.Then, "to": s.To.Text,
		"off": s.Off.Text, "edge": s.Edge.Text, "motion": s.Motion,
		"from": s.From.Text, "over": s.Over.Text, "thickness": s.Thickness.Text, "width": s.Width.Text, "into, form": string(s.Into.Form),
		"across": s.Across.Text, "diameter": s.Diameter.Text, "angle": s.Angle.Text, "way": s.Way,
	}
	if s.Times > 0 {
		texts["times"] = fmt.Sprint(s.Times)
	}
	all := who.parts("step-"+string(s.Do), place, texts, put, func(key string) []string {
		switch key {
		case "in":
			if s.Do == route.Bend {
				return append([]string{""}, places(job.Shop, s.Do)...)
			}
			return places(job.Shop, s.Do)
		case "way":
			return []string{"easy", "hard"}
		case "into, form":
			forms := []string{""}
			for _, f := range route.Forms() {
				forms = append(forms, string(f))
			}
			return forms
		case "then":
			then := []string{"", "air", "oven off"}
			for _, b := range job.Shop.Boxes {
				then = append(then, b.Name)
			}
			return then
		case "motion":
			return []string{"", "still", "moved", "stirred"}
		}
		return nil
	})
	if s.Do == route.Forge {
		all = append(all, who.intoParts(s.Into, place, put)...)
	}
	return all
}

// intoParts are the blanks for the measures of the form that a step forges to.
func (who reader) intoParts(p route.Piece, place string, put putter) []part {
	if p.Form == "" {
		return []part{{Words: "."}}
	}
	var all []part
	for i, m := range route.Measures(p) {
		words := ", "
		if i == 0 {
			words = ": "
		}
		label := who.measure(m)
		f := put(place+", into, "+m.Key, label, m.Text, "", m.One...)
		label, _, _ = strings.Cut(label, " (")
		all = append(all, part{Words: words + strings.ToLower(label[:1]) + label[1:] + " "}, part{Blank: &f})
	}
	return append(all, part{Words: "."})
}

// parts cuts a sentence of the catalog at its blanks, written <name>.
func (who reader) parts(code, place string, texts map[string]string, put putter, choices func(key string) []string) []part {
	var all []part
	rest := who.w(code)
	for rest != "" {
		before, after, ok := strings.Cut(rest, "<")
		if before != "" {
			all = append(all, part{Words: before})
		}
		if !ok {
			break
		}
		key, next, _ := strings.Cut(after, ">")
		f := put(place+", "+key, who.w("blank-step-"+key), texts[key], "", choices(key)...)
		if key == "until" || key == "to" {
			f.List = "endings"
		}
		switch {
		case strings.HasPrefix(place, "shop, "):
			f.Empty = who.w("not-known")
		case key == "hold" || key == "to" || key == "edge":
			f.Empty = who.w("blank-" + key + "-empty")
		}
		for i := range f.Choices { // here things go by the names that the shop gives them
			c := &f.Choices[i]
			switch c.Text = c.Value; {
			case c.Value == "" && key == "then":
				c.Text = who.w("in-still-air")
			case c.Value == "" && key == "into, form":
				c.Text = who.w("no-other-form")
			case c.Value == "" && key == "in":
				c.Text = who.w("bent-cold")
			case c.Value == "" && key == "motion":
				c.Text = who.w("as-usual")
			case c.Value == "":
				c.Text = who.w("not-known")
			}
		}
		all = append(all, part{Blank: &f})
		rest = next
	}
	return all
}

// places returns what the shop has for a verb.
func places(s route.Shop, verb route.Verb) []string {
	var names []string
	switch verb {
	case route.Quench:
		for _, b := range s.Baths {
			names = append(names, b.Name)
		}
	case route.Bury:
		for _, b := range s.Boxes {
			names = append(names, b.Name)
		}
	case route.Cool:
		names = append(names, route.Air)
		for _, f := range s.Fans {
			names = append(names, f.Name)
		}
	case route.Temper:
		for _, o := range s.Ovens {
			names = append(names, o.Name)
		}
	default:
		for _, f := range s.Forges {
			names = append(names, f.Name)
		}
		for _, o := range s.Ovens {
			names = append(names, o.Name)
		}
	}
	return names
}

// shopParts says the equipment in sentences with blanks; an empty blank is "don't know".
func (who reader) shopParts(s route.Shop, put putter) []gearView {
	var all []gearView
	add := func(code, place string, texts map[string]string, choices map[string][]string) {
		all = append(all, gearView{Parts: who.parts(code, "shop, "+place, texts, put, func(k string) []string { return choices[k] })})
	}
	for i, f := range s.Forges {
		add("shop-forge", fmt.Sprintf("forge %d", i+1),
			map[string]string{"name": f.Name, "kind": f.Kind, "holds": f.Holds.Text, "flame": f.Flame},
			map[string][]string{"kind": {"gas", "coke", "charcoal", "pipe"}, "flame": {"", "rich", "neutral", "lean"}})
	}
	for i, b := range s.Baths {
		add("shop-bath", fmt.Sprintf("bath %d", i+1),
			map[string]string{"name": b.Name, "kind": b.Kind, "volume": b.Volume.Text, "warm": b.Warm.Text},
			map[string][]string{"kind": {"fast oil", "medium oil", "slow oil", "vegetable oil", "water", "brine"}})
	}
	for i, o := range s.Ovens {
		add("shop-oven", fmt.Sprintf("oven %d", i+1),
			map[string]string{"name": o.Name, "kind": o.Kind, "offset": o.Offset.Text, "swing": o.Swing.Text},
			map[string][]string{"kind": {"kiln", "kitchen", "toaster"}})
	}
	for i, b := range s.Boxes {
		add("shop-box", fmt.Sprintf("box %d", i+1),
			map[string]string{"name": b.Name, "fill": b.Fill, "companion": b.Companion.Text},
			map[string][]string{"fill": {"vermiculite", "perlite", "wood ash", "sand", "lime"}})
	}
	return all
}
