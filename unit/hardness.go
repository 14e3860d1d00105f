package unit

import (
	"fmt"
	"math"
)

// HardnessScale is the scale that a hardness is given on.
type HardnessScale int

// The scales that are read.
const (
	HRC HardnessScale = iota
	HV
	HB
	Tensile // N/mm², for soft steel
)

var hardnessSymbols = [...]string{"HRC", "HV", "HB", "N/mm²"}

// String returns the symbol of the scale.
func (s HardnessScale) String() string { return hardnessSymbols[s] }

// toHV converts a reading to Vickers.
func (s HardnessScale) toHV(v float64) float64 {
	switch s {
	case HRC:
		return HVofHRC(min(max(v, lowestHRC), highestHRC))
	case HB:
		return HVofHB(v)
	case Tensile:
		return v / tensilePerHV
	}
	return v
}

var hardnessLimits = [...]struct {
	low, high, about float64
	text             string
}{
	HRC:     {lowestHRC, highestHRC, 2, "20 to 70 HRC; below 20 give HV or HB"},
	HV:      {50, 2000, 30, "50 to 2000 HV"},
	HB:      {50, 740, 15, "50 to 740 HB"},
	Tensile: {200, 2300, 50, "200 to 2300 N/mm²"},
}

// HardnessBand is a hardness as people aim for it: a range on some scale.
// Below and Above mark a band that is open at that end: "under 28 HRC".
type HardnessBand struct {
	Scale        HardnessScale
	Band         Band
	Below, Above bool
}

// HV returns the band on the Vickers scale; an open end reaches to 60 or 1100 HV.
func (h HardnessBand) HV() Band {
	b := Band{h.Scale.toHV(h.Band.Value), h.Scale.toHV(h.Band.Low), h.Scale.toHV(h.Band.High)}
	if h.Below {
		b.Low = min(60, b.High)
	}
	if h.Above {
		b.High = max(1100, b.Low)
	}
	return b
}

// Holds reports whether a hardness [HV] lies in the band.
func (h HardnessBand) Holds(hv float64) bool {
	b := h.HV()
	return hv >= b.Low && hv <= b.High
}

var hardnesses = &measure{
	want: "a hardness",
	units: names(
		"hrc rc rockwell rockwellc c", scale{factor: 1, offset: 0},
		"hv vickers hvn dph vhn vpn", scale{factor: 1},
		"hb hbw brinell bhn hbs", scale{factor: 1},
		"n/mm² n/mm2 mpa", scale{factor: 1},
	),
	low: 0, high: 3000,
	limits: "20 to 70 HRC, 50 to 2000 HV",
	remedy: `write it with its scale, as "58-60 HRC", "about 60 HRC" or "229 HB"`,
}

var scaleOf = map[string]HardnessScale{"hrc": HRC, "hv": HV, "hb": HB, "n/mm²": Tensile}

// ParseHardness reads a hardness: "58-60 HRC", "Rc 60", "about 60 HRC" (±2),
// "753 HV0.5", "229 HB", "under 28 HRC", "at least 58 HRC", "800 N/mm²". The
// default, "HRC", "HV" or "HB", stands in for a missing scale.
func ParseHardness(text string, def ...string) (HardnessBand, error) {
	tokens, why := scan(text)
	if why == "" && len(tokens) == 0 {
		why = whyEmpty
	}
	if why != "" {
		return HardnessBand{}, hardnesses.fail(text, why)
	}
	r := &reader{tokens: tokens}
	h := HardnessBand{}
	about := r.word("about", "around", "approx", "approximately", "roughly", "circa", "ca")
	switch {
	case r.word("under", "below", "max", "maximum") || r.phrase("less", "than") || r.phrase("at", "most") || r.phrase("not", "over"):
		h.Below = true
	case r.word("over", "above", "min", "minimum") || r.phrase("more", "than") || r.phrase("at", "least"):
		h.Above = true
	}
	a, ok := hardnesses.figure(r)
	if !ok {
		return HardnessBand{}, hardnesses.fail(text, whyNumber)
	}
	a.load(r)
	c, kind := hardnesses.second(r)
	c.load(r)
	if !r.done() {
		return HardnessBand{}, hardnesses.fail(text, fmt.Sprintf("%q makes no sense there", r.peek(0).text))
	}
	if err := hardnesses.settle(text, &a, &c, def); err != nil {
		return HardnessBand{}, err
	}
	if kind != "" && c.known && c.scale.symbol != a.scale.symbol {
		return HardnessBand{}, hardnesses.fail(text, "it names two scales")
	}
	h.Scale = scaleOf[a.scale.symbol]
	limit := hardnessLimits[h.Scale]
	v, w := a.n.value, c.n.value
	switch kind {
	case "to":
		h.Band = Band{(v + w) / 2, min(v, w), max(v, w)}
	case "±":
		h.Band = PlusMinus(v, math.Abs(w))
	default:
		h.Band = Exactly(v)
	}
	if !(h.Band.Low >= limit.low && h.Band.High <= limit.high) {
		return HardnessBand{}, &Error{Text: shown(text), Want: hardnesses.want, Why: "it lies outside the scale", Limits: limit.text, Remedy: "check the number and its scale"}
	}
	if about {
		h.Band = PlusMinus(h.Band.Value, limit.about).Widen(h.Band.Value - h.Band.Low)
		h.Band.Low, h.Band.High = max(h.Band.Low, limit.low), min(h.Band.High, limit.high)
	}
	return h, nil
}

// load steps over the test load behind HV: the 0.5 of HV0.5.
func (f *figure) load(r *reader) {
	if f.known && f.scale.symbol == "hv" && r.peek(0).kind == 'n' {
		if f.first { // HV0.5 753
			f.n.value = r.peek(0).value
		}
		r.at++
	}
}

func (r *reader) phrase(first, second string) bool {
	if r.peek(0).text == first && r.peek(1).text == second {
		r.at += 2
		return true
	}
	return false
}

// Text returns the band with the digits a tester can tell: "58-60 HRC", "60 HRC ±1".
func (h HardnessBand) Text(System) string {
	step := 1.0
	if h.Scale != HRC {
		step = 5
	}
	return h.print(func(v float64) string { return shortest(toStep(v, step)) })
}

// Exact returns the band with all the digits it needs to be read back.
func (h HardnessBand) Exact(System) string { return h.print(shortest) }

func (h HardnessBand) print(digits func(float64) string) string {
	low, high := digits(h.Band.Low), digits(h.Band.High)
	name := " " + h.Scale.String()
	switch {
	case h.Below:
		return "under " + high + name
	case h.Above:
		return "over " + low + name
	case low == high:
		return low + name
	}
	return low + "-" + high + name
}
