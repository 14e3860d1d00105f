package unit

// Belt is the size of a grinding belt.
type Belt struct{ Width, Length Length }

// ParseBelt reads the size of a grinding belt: "2x72 in", "50 × 2000 mm". A
// belt without a unit is read in the only one that makes a belt: up to 12 is
// inches, from 13 on millimeters.
func ParseBelt(text string, def ...string) (Belt, error) {
	tokens, why := scan(text)
	if why != "" {
		return Belt{}, belts.fail(text, why)
	}
	var parts [][]token
	var part []token
	for _, t := range tokens {
		if t.kind == 'w' && (t.text == "x" || t.text == "by") {
			parts, part = append(parts, part), nil
		} else {
			part = append(part, t)
		}
	}
	parts = append(parts, part)
	if len(parts) != 2 {
		return Belt{}, belts.fail(text, "a belt has a width and a length")
	}
	var sizes [2]figure
	for i, p := range parts {
		r := &reader{tokens: p}
		f, ok := belts.figure(r)
		r.word("belt", "belts")
		if !ok || !r.done() {
			return Belt{}, belts.fail(text, whyNumber)
		}
		sizes[i] = f
	}
	if len(def) == 0 && !sizes[0].known && !sizes[1].known {
		def = []string{"in"}
		if min(sizes[0].n.value, sizes[1].n.value) > 12 {
			def = []string{"mm"}
		}
	}
	for i := range sizes {
		if err := belts.settle(text, &sizes[i], &sizes[1-i], def); err != nil {
			return Belt{}, err
		}
		if err := belts.within(text, sizes[i].value); err != nil {
			return Belt{}, err
		}
	}
	a, b := sizes[0].value, sizes[1].value
	return Belt{Length(min(a, b)), Length(max(a, b))}, nil
}

var belts = &measure{
	want: "the size of a belt", units: lengths.units, low: 3e-3, high: 6, limits: "3 mm to 6 m",
	remedy: `write it as "2x72 in" or "50x2000 mm"`, impliedBy: lengths.impliedBy,
}

// Text returns the size of the belt as it is sold.
func (b Belt) Text(s System) string {
	if s == Imperial {
		return shared(b.Width.Text(s), figures(b.Length.Inches(), 3)+" in", " x ")
	}
	return shared(b.Width.Text(s), figures(b.Length.MM(), 4)+" mm", " × ")
}
