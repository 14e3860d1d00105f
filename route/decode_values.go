package route

import (
	"errors"
	"reflect"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/unit"
)

// quantity reads a text with its unit and holds it against the limits.
func (d *decoder) quantity(n *node, q quantity, f field, path string) {
	if d.draft {
		defer func() {
			if q.text() == "" {
				q.keep(n.text)
			}
		}()
	}
	what, example := q.want()
	if n.kind != aText && n.kind != aNumber {
		d.wrongKind(n, path, what, strconv.Quote(example))
		return
	}
	temperature := what == "temperature"
	if bareNumber(n.text) && (!temperature || d.degrees == "") {
		d.tell(n.at, path, n.text, "route.no-unit", cite.Txt("what", what), cite.Txt("example", n.text), cite.Txt("units", unitsOf[what]))
		return
	}
	text := n.text
	if temperature && bareNumber(text) {
		text += " " + d.degrees
	}
	if strings.TrimSpace(text) == "" {
		d.wrongKind(n, path, what, strconv.Quote(example))
		return
	}
	if err := q.set(text); err != nil {
		q.clear()
		d.unitError(n, path, err, what, example)
		return
	}
	x, ok := q.si()
	if !ok || f.min == "" {
		return
	}
	low, high := limit(q, f.min), limit(q, f.max)
	if !(x >= low && x <= high) { // also not a number
		q.clear()
		d.tell(n.at, path, n.text, "route.outside", cite.Txt("low", f.min), cite.Txt("high", f.max))
	}
}

// limit reads a limit of a struct tag with the parser of the quantity itself.
func limit(q quantity, text string) float64 {
	fresh, ok := reflect.New(reflect.TypeOf(q).Elem()).Interface().(quantity)
	if !ok {
		panic("route: not a quantity")
	}
	if err := fresh.set(text); err != nil {
		panic("route: limit " + text + ": " + err.Error())
	}
	x, _ := fresh.si()
	return x
}

// unitsOf says which units a bare number may have wanted.
var unitsOf = map[string]string{
	"temperature": "C or F", "temperature step": "K or F", "length": "mm or in", "time": "s, min or h", "volume": "L or gal",
	"mass": "kg or lb", "hardness": "HRC or HV", "gas rate": "kg/h or lb/h", "angle": "deg", "speed of air": "m/s or mph", "flow of air": "m3/h or cfm",
	"share": "%", "power": "kW", "rate of temperature": "K/h or F/h",
}

func (d *decoder) unitError(n *node, path string, err error, what, example string) {
	args := []cite.Quantity{cite.Txt("want", what), cite.Txt("example", example)}
	var bad *unit.Error
	if errors.As(err, &bad) {
		args = append(args, cite.Txt("why", bad.Why), cite.Txt("limits", bad.Limits), cite.Txt("remedy", bad.Remedy))
	}
	d.tell(n.at, path, n.text, "route.no-quantity", args...)
}

func (d *decoder) ending(n *node, e *Ending, path string) {
	if d.draft {
		defer func() {
			if e.Text == "" {
				e.Text = n.text
			}
		}()
	}
	if n.kind != aText {
		d.wrongKind(n, path, "what ends it", `"10 min", "815 C at edge", "magnet off"`)
		return
	}
	got, err := ParseEnding(n.text, d.degrees)
	temp, _, placed := strings.Cut(n.text, " at ")
	switch {
	case err != nil && (bareNumber(n.text) || placed && bareNumber(temp)):
		d.tell(n.at, path, n.text, "route.ending-no-unit")
	case err != nil:
		d.tell(n.at, path, n.text, "route.no-ending")
	case got.Kind == ByTime && !(got.Time > 0 && got.Time <= 72*3600):
		d.tell(n.at, path, n.text, "route.outside", cite.Txt("low", "1 s"), cite.Txt("high", "72 h"))
	case got.Kind == ByTemp && !(got.Temp >= 233.15 && got.Temp <= 1623.15):
		d.tell(n.at, path, n.text, "route.outside", cite.Txt("low", "-40 C"), cite.Txt("high", "1350 C"))
	default:
		*e = got
	}
}

func (d *decoder) wishes(n *node, w *[]Wish, path string) {
	if n.kind != aTable {
		d.wrongKind(n, path, "a table of zones", `{ edge = "60-62 HRC" }`)
		return
	}
	for _, zone := range n.keys {
		var h Hardness
		before := len(*d.problems)
		d.quantity(n.fields[zone], &h, field{}, joined(path, zone))
		d.places[joined(path, zone)] = n.fields[zone]
		if len(*d.problems) == before || d.draft {
			*w = append(*w, Wish{Zone: zone, Band: h})
		}
	}
}
