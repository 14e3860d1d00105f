package route

import (
	"slices"
	"strings"

	"github.com/heatwright/heatwright/unit"
)

// other ways of saying the signs that end a step.
var endSigns = map[string]string{
	"magnet off": MagnetOff, "magnet lets go": MagnetOff, "the magnet lets go": MagnetOff, "non-magnetic": MagnetOff,
	"shadow off": ShadowOff, "shadow gone": ShadowOff, "the shadow is gone": ShadowOff,
	"black": BlackHeat, "black heat": BlackHeat, "black-hot": BlackHeat,
	"hand-warm": HandWarm, "hand warm": HandWarm,
	"cold": Cold, "room temperature": Cold,
}

// ParseEnding reads what ends a stay: a time ("90 s", "a ten count"), a
// temperature at a zone ("815 C at edge"), a temper color at a zone ("straw at
// edge"), a sign ("magnet off", "hand-warm"),
// or "at heat", when the whole piece has come to what surrounds it. Bare
// temperatures take the unit degrees, "C" or "F", if it is not empty.
func ParseEnding(text, degrees string) (Ending, error) {
	t := strings.ToLower(strings.Join(strings.Fields(text), " "))
	e := Ending{Text: text}
	if sign, ok := endSigns[t]; ok {
		e.Kind, e.Sign = BySign, sign
		return e, nil
	}
	if t == "at heat" {
		e.Kind = AtHeat
		return e, nil
	}
	temp, zone, placed := strings.Cut(t, " at ")
	zone = strings.TrimPrefix(strings.TrimSpace(zone), "the ")
	if placed && zone != "" && slices.Contains(TemperColors, strings.ReplaceAll(temp, "brown purple", "brown-purple")) {
		e.Kind, e.Sign, e.Zone = ByColor, strings.ReplaceAll(temp, "brown purple", "brown-purple"), zone
		return e, nil
	}
	if d, err := unit.ParseDuration(t); err == nil && !placed {
		e.Kind, e.Time = ByTime, float64(d)
		return e, nil
	}
	if placed && degrees != "" && bareNumber(temp) {
		temp += " " + degrees
	}
	k, err := unit.ParseTemp(temp)
	if err != nil {
		return e, err
	}
	e.Kind, e.Temp, e.Zone = ByTemp, k, zone
	return e, nil
}
