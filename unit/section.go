package unit

import (
	"fmt"
	"math"
	"strings"
)

// SectionForm is the outline of a bar's section.
type SectionForm int

// The forms that bars are sold in.
const (
	Flat SectionForm = iota
	Round
	Square
	Hex
	Octagon
)

// String returns the form's name.
func (f SectionForm) String() string {
	return [...]string{"flat", "round", "square", "hex", "octagon"}[f]
}

// Section is the section of a bar. Width and Thickness are equal in all forms
// but the flat; hexagons and octagons are measured across flats.
type Section struct {
	Form      SectionForm
	Width     Length
	Thickness Length
}

// The largest and smallest bar that is taken for one. They decide between
// inches and millimeters where a bar is written without a unit, as 40×6 is.
const (
	thinnest  = 0.2e-3
	narrowest = 2e-3  // of the larger side
	thickest  = 0.105 // of the smaller side, where the unit is guessed
	widest    = 0.305
)

var sections = &measure{
	want:      "the section of a bar",
	units:     lengths.units,
	low:       thinnest,
	high:      widest,
	limits:    "0.2 to 305 mm, 0.008 to 12 in",
	remedy:    `write it as "1/4 x 1-1/2 in", "40x6 mm", "5/8 in round" or "20 mm hex"`,
	impliedBy: lengths.impliedBy,
}

var sectionWords = map[string]SectionForm{
	"round": Round, "rd": Round, "rod": Round, "dia": Round, "diameter": Round, "ø": Round, "od": Round,
	"square": Square, "sq": Square, "☐": Square,
	"hex": Hex, "hexagon": Hex, "hexagonal": Hex, "sw": Hex, "af": Hex,
	"oct": Octagon, "octagon": Octagon, "octagonal": Octagon,
	"flat": Flat, "strip": Flat, "sheet": Flat, "plate": Flat,
}

// Marks that only metric drawings use.
var metricMarks = tailSet("ø ☐ sw")

// Words that may stand in a section and say nothing more.
var sectionFillers = tailSet("bar stock across flats section of thick wide")

// ParseSection reads the section of a bar: "1/4 x 1-1/2 in", "40×6", "6 mm × 40",
// "Ø16", "20 AF hex", "5/8 round", "1/2 sq", "quarter by inch-and-a-half". Of a
// flat the smaller number is the thickness. A missing unit is taken from the
// other number, from the way of writing (fractions are inches), from the
// default, or from size when only one unit gives a possible bar; otherwise the text is refused.
func ParseSection(text string, def ...string) (Section, error) {
	tokens, why := scan(text)
	if why == "" && len(tokens) == 0 {
		why = whyEmpty
	}
	if why != "" {
		return Section{}, sections.fail(text, why)
	}
	form, named := Flat, false
	var parts [][]token
	var part []token
	octagon, metric := false, false
	for _, t := range tokens {
		f, isForm := sectionWords[t.text]
		switch {
		case t.kind == 'w' && isForm:
			if named && f != form && !acrossFlats(f, form) {
				return Section{}, sections.fail(text, "it names two forms")
			}
			octagon = octagon || f == Octagon
			metric = metric || metricMarks[t.text]
			form, named = f, true
		case t.kind == 'w' && (t.text == "x" || t.text == "by"):
			parts, part = append(parts, part), nil
		case t.kind == 'w' && sectionFillers[t.text]:
		default:
			part = append(part, t)
		}
	}
	parts = append(parts, part)
	if octagon {
		form = Octagon
	}
	if metric {
		def = []string{"mm"}
	}
	figures, err := sectionFigures(text, parts, def)
	if err != nil {
		return Section{}, err
	}
	return section(text, form, named, figures)
}

// acrossFlats tells whether two forms are both said with "across flats", as in "20 AF octagon".
func acrossFlats(a, b SectionForm) bool {
	return a == Hex && b == Octagon || a == Octagon && b == Hex
}

func sectionFigures(text string, parts [][]token, def []string) ([]figure, error) {
	if len(parts) > 2 {
		return nil, sections.fail(text, "it has more than two sizes")
	}
	var list []figure
	for _, p := range parts {
		r := &reader{tokens: p}
		f, ok := sections.figure(r)
		if !ok {
			return nil, sections.fail(text, whyNumber)
		}
		if !r.done() {
			return nil, sections.fail(text, fmt.Sprintf("%q makes no sense there", r.peek(0).text))
		}
		list = append(list, f)
	}
	first, last := &list[0], &list[len(list)-1]
	bare := !first.known && !last.known && !first.n.fraction && !last.n.fraction
	if bare && (len(def) == 0 || def[0] == "") {
		if name := onlyPossible(list); name != "" {
			def = []string{name}
		}
	}
	if !first.known && !last.known && first.n.fraction != last.n.fraction { // 1/4 x 2: the fraction speaks for both
		f := first
		if last.n.fraction {
			f = last
		}
		if err := sections.settle(text, f, nil, def); err != nil {
			return nil, err
		}
	}
	if err := sections.settle(text, first, last, def); err != nil {
		return nil, err
	}
	if err := sections.settle(text, last, first, def); err != nil {
		return nil, err
	}
	return list, nil
}

// onlyPossible returns the one unit, mm or in, in which all numbers make a bar.
func onlyPossible(list []figure) string {
	possible := ""
	for _, name := range []string{"mm", "in"} {
		smallest, largest := math.Inf(1), 0.0
		for _, f := range list {
			v := f.n.value * lengths.units[name].factor
			smallest, largest = min(smallest, v), max(largest, v)
		}
		if smallest >= thinnest && smallest <= thickest && largest >= narrowest && largest <= widest {
			if possible != "" {
				return ""
			}
			possible = name
		}
	}
	return possible
}

func section(text string, form SectionForm, named bool, list []figure) (Section, error) {
	a := list[0].value
	b := list[len(list)-1].value
	for _, v := range []float64{a, b} {
		if err := sections.within(text, v); err != nil {
			return Section{}, err
		}
	}
	switch {
	case len(list) == 1 && !named, len(list) == 1 && form == Flat:
		return Section{}, sections.fail(text, "a flat needs two sizes, and no other form is named")
	case len(list) == 2 && named && form != Flat && a != b:
		return Section{}, sections.fail(text, "a "+form.String()+" bar has one size")
	case len(list) == 2 && !named && a == b:
		form = Square
	}
	return Section{form, Length(max(a, b)), Length(min(a, b))}, nil
}

// Text returns the section with the digits of Length.Text: "1/4 x 1-1/2 in", "40 × 6 mm".
func (s Section) Text(sys System) string { return s.print(sys, Length.Text) }

// Exact returns the section with all the digits it needs to be read back.
func (s Section) Exact(sys System) string { return s.print(sys, Length.Exact) }

func (s Section) print(sys System, length func(Length, System) string) string {
	w, t := length(s.Width, sys), length(s.Thickness, sys)
	switch {
	case s.Form != Flat:
		return w + " " + s.Form.String()
	case sys == Imperial:
		return shared(t, w, " x ") + " flat"
	}
	return shared(w, t, " × ") + " flat"
}

// shared writes the unit once where both lengths have the same.
func shared(a, b, sep string) string {
	na, ua, _ := strings.Cut(a, " ")
	_, ub, _ := strings.Cut(b, " ")
	if ua == ub {
		return na + sep + b
	}
	return a + sep + b
}
