package unit

import "math"

// Angle is an angle [rad].
type Angle float64

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * 180 / math.Pi }

var angles = &measure{
	want:   "an angle",
	units:  names("° deg degree degrees º", math.Pi/180, "rad radian radians", 1.0),
	low:    -2 * math.Pi,
	high:   2 * math.Pi,
	limits: "360° either way",
	remedy: `write it as "90 deg"`,
	about:  0.1,
}

// ParseAngle reads a plain angle: "90°", "15 deg".
func ParseAngle(text string, def ...string) (Angle, error) {
	v, err := angles.value(text, def)
	return Angle(v), err
}

// ParseBevel reads the angle of an edge and returns it per side: "15 a side",
// "15 dps", "30° total", "30 included". An angle that does not say which is
// refused unless the default is "side" or "total".
func ParseBevel(text string, def ...string) (perSide Angle, err error) {
	bad := func(why string) error {
		return &Error{Text: shown(text), Want: "the angle of an edge", Why: why, Limits: "1 to 60° a side", Remedy: `write it as "15 a side" or "30 total"`}
	}
	tokens, why := scan(text)
	if why != "" {
		return 0, bad(why)
	}
	r := &reader{tokens: tokens}
	n, ok := r.number()
	if !ok {
		return 0, bad(whyNumber)
	}
	r.sign('-')
	r.word("°", "deg", "degree", "degrees", "º")
	kind := ""
	switch {
	case r.word("dps"):
		kind = "side"
	case r.word("total", "included", "inclusive", "overall"):
		kind = "total"
	case r.word("a", "per", "each", "/") || r.sign('/'):
		if r.word("side") {
			kind = "side"
		}
	}
	if !r.done() {
		return 0, bad("it has to say whether it counts one side or both")
	}
	if kind == "" && len(def) > 0 {
		kind = def[0]
	}
	v := n.value
	switch kind {
	case "side":
	case "total":
		v /= 2
	default:
		return 0, bad("it has to say whether it counts one side or both")
	}
	if !(v >= 1 && v <= 60) {
		return 0, bad("it lies outside what is possible here")
	}
	return Angle(v * math.Pi / 180), nil
}
