package web

import (
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// A field of the plan has the name that a problem gives its place: "piece,
// spine", "step 3, until", "shop, bath 1, warm". So a problem finds its field,
// and what was typed stays in the job as it was typed, right or wrong.

// set writes a text at a place of the job. It reports whether there is such a place.
func set(job *route.Job, place, text string) bool {
	v := reflect.ValueOf(job).Elem()
	for _, part := range strings.Split(place, ", ") {
		name, index := part, -1
		if head, n, ok := strings.Cut(part, " "); ok {
			i, err := strconv.Atoi(n)
			if err != nil || i < 1 {
				return false
			}
			name, index = head, i-1
		}
		if wishes, ok := v.Interface().([]route.Wish); ok {
			return setWish(v, wishes, name, text)
		}
		if v = member(v, name); !v.IsValid() {
			return false
		}
		if v.Kind() == reflect.Slice && v.Type() != reflect.TypeFor[[]route.Wish]() {
			index = max(index, 0)
			if index >= v.Len() {
				return false
			}
			v = v.Index(index)
		}
	}
	return setText(v, text)
}

// member returns the field of a struct whose key tag is name.
func member(v reflect.Value, name string) reflect.Value {
	if v.Kind() != reflect.Struct {
		return reflect.Value{}
	}
	for _, f := range reflect.VisibleFields(v.Type()) { // also those of embedded structs
		if f.Tag.Get("key") == name {
			return v.FieldByIndex(f.Index)
		}
	}
	return reflect.Value{}
}

// setText puts a text into a value of a job: into the Text of a quantity, which
// route reads afterwards, or into a plain word, number or yes.
func setText(v reflect.Value, text string) bool {
	text = strings.TrimSpace(text)
	switch v.Kind() {
	case reflect.Struct:
		t := v.FieldByName("Text")
		if !t.IsValid() {
			return false
		}
		v.SetZero()
		t.SetString(text)
	case reflect.String:
		v.SetString(text)
	case reflect.Bool:
		v.SetBool(text == "true" || text == "on")
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err != nil && text != "" {
			return false
		}
		v.SetInt(int64(n))
	default:
		return false
	}
	return true
}

func setWish(v reflect.Value, wishes []route.Wish, zone, text string) bool {
	next := append([]route.Wish(nil), wishes...)
	at := -1
	for i := range next {
		if next[i].Zone == zone {
			at = i
		}
	}
	text = strings.TrimSpace(text)
	switch {
	case at < 0 && text == "":
		return true
	case at < 0:
		next = append(next, route.Wish{Zone: zone, Band: route.Hardness{Text: text}})
	case text == "":
		next = append(next[:at], next[at+1:]...)
	default:
		next[at].Band = route.Hardness{Text: text}
	}
	v.Set(reflect.ValueOf(next))
	return true
}

// apply does what a button of the plan asks for: "up 2", "down 2", "drop 2",
// "add temper". Steps count from 1.
func apply(job *route.Job, do string) bool {
	verb, rest, _ := strings.Cut(do, " ")
	if verb == "add" {
		s, ok := newStep(route.Verb(rest), job)
		if ok {
			job.Steps = append(job.Steps, s)
		}
		return ok
	}
	switch verb {
	case "usual":
		return usualAim(job)
	case "own":
		return own(job, rest)
	case "add-station", "drop-station", "add-steel", "drop-steel":
		return regroup(job, do)
	}
	n, err := strconv.Atoi(rest)
	i := n - 1
	if err != nil || i < 0 || i >= len(job.Steps) {
		return false
	}
	steps := append([]route.Step(nil), job.Steps...)
	switch {
	case verb == "up" && i > 0:
		steps[i-1], steps[i] = steps[i], steps[i-1]
	case verb == "down" && i < len(steps)-1:
		steps[i], steps[i+1] = steps[i+1], steps[i]
	case verb == "drop":
		steps = append(steps[:i], steps[i+1:]...)
	default:
		return false
	}
	job.Steps = steps
	return true
}

// usualAim gives the piece the hardness that its use is usually given.
func usualAim(job *route.Job) bool {
	use, ok := plan.FindUse(strings.ToLower(strings.TrimSpace(job.Aim.Use)))
	if !ok {
		return false
	}
	aim := use.Aim()
	if zones := job.Zones(); !slices.Contains(zones, aim.Hardness[0].Zone) {
		aim.Hardness[0].Zone = zones[0]
	}
	job.Aim = aim
	return true
}

// own adds a piece of equipment to the shop, of which nothing is known yet.
func own(job *route.Job, what string) bool {
	s := &job.Shop
	taken := map[string]bool{}
	for _, verb := range []route.Verb{route.Heat, route.Quench, route.Bury} {
		for _, name := range places(*s, verb) {
			taken[name] = true
		}
	}
	name := what
	for n := 2; taken[name]; n++ {
		name = what + " " + strconv.Itoa(n)
	}
	switch what {
	case "gas forge":
		s.Forges = append(s.Forges, route.Fire{Name: name, Kind: "gas"})
	case "charcoal forge":
		s.Forges = append(s.Forges, route.Fire{Name: name, Kind: "charcoal"})
	case "heated pipe":
		s.Forges = append(s.Forges, route.Fire{Name: name, Kind: "pipe"})
	case "kiln":
		s.Ovens = append(s.Ovens, route.Oven{Name: name, Kind: "kiln"})
	case "kitchen oven":
		s.Ovens = append(s.Ovens, route.Oven{Name: name, Kind: "kitchen"})
	case "quench oil":
		s.Baths = append(s.Baths, route.Bath{Name: name, Kind: "fast oil"})
	case "water bath":
		s.Baths = append(s.Baths, route.Bath{Name: name, Kind: "water"})
	case "vermiculite box":
		s.Boxes = append(s.Boxes, route.Box{Name: name, Fill: "vermiculite"})
	default:
		return false
	}
	return true
}

// owned is what can be added to a shop.
var owned = []string{"gas forge", "charcoal forge", "heated pipe", "kiln", "kitchen oven", "quench oil", "water bath", "vermiculite box"}

// newStep returns a step of this verb with its blanks filled as is usual,
// in the equipment that the shop has for it.
func newStep(verb route.Verb, job *route.Job) (route.Step, bool) {
	fire, bath, oven, box := "", "", "", ""
	if len(job.Shop.Forges) > 0 {
		fire = job.Shop.Forges[0].Name
	}
	if len(job.Shop.Baths) > 0 {
		bath = job.Shop.Baths[0].Name
	}
	if len(job.Shop.Ovens) > 0 {
		oven = job.Shop.Ovens[0].Name
	}
	if len(job.Shop.Boxes) > 0 {
		box = job.Shop.Boxes[0].Name
	}
	if fire == "" {
		fire = oven
	}
	hot := func(t string) route.Temp { return route.Temp{Text: t} }
	hold := func(t string) route.Duration { return route.Duration{Text: t} }
	end := func(t string) route.Ending { return route.Ending{Text: t} }
	s := route.Step{Do: verb}
	switch verb {
	case route.Forge:
		// A fire holds little more than forging heat: the piece nears it and is taken out before.
		s.In, s.At, s.Until, s.Work, s.Times = fire, hot("1100 C"), end("1050 C at "+job.Piece.Zones()[0]), hold("30 s"), 4
	case route.Normalize:
		s.In, s.At, s.Times, s.To = fire, hot("870 C"), 3, end("black")
	case route.Anneal:
		s.In, s.At, s.Then = fire, hot("770 C"), box
	case route.Relieve:
		s.In, s.At, s.Hold = oven, hot("650 C"), hold("1 h")
	case route.Heat:
		s.In, s.At, s.Until, s.Hold = fire, hot("815 C"), end("at heat"), hold("5 min")
	case route.Carry:
		s.Until = end("2 s")
	case route.Quench:
		s.In, s.Until = bath, end("hand-warm")
	case route.Cool:
		s.In, s.Until = route.Air, end("hand-warm")
	case route.Bury:
		s.In, s.Until = box, end("hand-warm")
	case route.Temper:
		s.In, s.At, s.Hold, s.Times = oven, hot("200 C"), hold("2 h"), 2
	case route.Grind:
		s.Off = route.Length{Text: "0.2 mm"}
	case route.Drill:
		s.From, s.Diameter = route.Length{Text: "20 mm"}, route.Length{Text: "4 mm"}
	case route.Bend:
		s.From, s.Over, s.Angle, s.Way = route.Length{Text: "20 mm"}, route.Length{Text: "30 mm"}, route.Angle{Text: "15 deg"}, "easy"
	default:
		return s, false
	}
	return s, true
}

// intoForms are the forms that the steps forge to.
func intoForms(job route.Job) []route.Form {
	var forms []route.Form
	for _, s := range job.Steps {
		forms = append(forms, s.Into.Form)
	}
	return forms
}

// reformInto gives each form that a step newly forges to its usual measures, and
// none to a step that forges to no form any more.
func reformInto(job *route.Job, was []route.Form, s unit.System) {
	steps := append([]route.Step(nil), job.Steps...)
	for i := range steps {
		switch p := &steps[i].Into; {
		case i >= len(was) || p.Form == was[i]:
		case slices.Contains(route.Forms(), p.Form):
			*p = plan.UsualPiece(p.Form, s)
		default:
			*p = route.Piece{}
		}
	}
	job.Steps = steps
}

// reform gives the piece another form in usual measures. Zones that the new form
// lacks, in aims and endings, become its first: the one that does the work.
func reform(job *route.Job, form route.Form, s unit.System) {
	job.Piece = plan.UsualPiece(form, s)
	zones := job.Zones()
	has := func(zone string) bool { return zone == "" || slices.Contains(zones, zone) }
	var wishes []route.Wish
	for _, w := range job.Aim.Hardness {
		if !has(w.Zone) {
			w.Zone = zones[0]
		}
		if !slices.ContainsFunc(wishes, func(o route.Wish) bool { return o.Zone == w.Zone }) {
			wishes = append(wishes, w)
		}
	}
	job.Aim.Hardness = wishes
	for i := range job.Steps {
		for _, e := range []*route.Ending{&job.Steps[i].Until, &job.Steps[i].To} {
			if text, zone, ok := strings.Cut(e.Text, " at "); ok && !has(zone) && (e.Kind == route.ByTemp || e.Kind == route.ByColor) {
				*e = route.Ending{Text: text + " at " + zones[0]}
			}
		}
		if form == route.Flat || !job.Piece.Edge.Is() {
			job.Steps[i].Edge = route.Length{}
		}
	}
}
