package web

import (
	"net/url"
	"slices"

	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// sentence is the first screen: one sentence with blanks, all of them filled.
type sentence struct {
	make, steel, back, edge, fire, bath, oven string
}

// unknownSteel is the choice of a smith who does not know what the bar is.
const unknownSteel = "unknown"

var (
	backsImperial = []string{"1/16 in", "3/32 in", "1/8 in", "5/32 in", "3/16 in", "1/4 in", "3/8 in", "1/2 in", "5/8 in", "3/4 in", "1 in", "1-1/8 in", "1-1/4 in"}
	backsMetric   = []string{"1.5 mm", "2 mm", "2.5 mm", "3 mm", "3.5 mm", "4 mm", "5 mm", "6 mm", "8 mm", "10 mm", "12 mm", "16 mm", "20 mm", "25 mm", "28 mm", "30 mm"}
	edgesImperial = []string{"1/64 in", "0.020 in", "1/32 in", "3/64 in", "1/16 in", "5/64 in"}
	edgesMetric   = []string{"0.3 mm", "0.5 mm", "0.8 mm", "1 mm", "1.2 mm", "1.5 mm", "2 mm"}

	fires = []string{"gas forge", "charcoal forge", "heated pipe", "kiln"}
	baths = []string{"cooking oil", "fast oil", "medium oil", "slow oil", "water", "brine", "air"}
	ovens = []string{"kitchen oven", "toaster oven", "kiln"}
)

func backs(s unit.System) []string {
	if s == unit.Imperial {
		return backsImperial
	}
	return backsMetric
}

func edges(s unit.System) []string {
	if s == unit.Imperial {
		return edgesImperial
	}
	return edgesMetric
}

// readSentence fills the blanks from the address; what is not there, or is none
// of the choices, is filled with what is usual.
func readSentence(q url.Values, s unit.System) sentence {
	pick := func(name string, choices []string, usual string) string {
		if v := q.Get(name); slices.Contains(choices, v) {
			return v
		}
		return usual
	}
	use, ok := plan.FindUse(q.Get("make"))
	if !ok {
		use, _ = plan.FindUse("belt knife")
	}
	measure := func(name string, choices []string, usual unit.Length) string {
		if v := q.Get(name); v != "" {
			if _, err := unit.ParseLength(v); err == nil {
				return v
			}
		}
		return nearest(choices, usual)
	}
	return sentence{
		make:  use.Name,
		steel: pick("steel", append(steelNames(), unknownSteel), "1084"),
		back:  measure("back", backs(s), unit.MM(use.Back)),
		edge:  measure("edge", edges(s), unit.MM(use.Edge)),
		fire:  pick("fire", fires, fires[0]),
		bath:  pick("bath", baths, baths[0]),
		oven:  pick("oven", ovens, ovens[0]),
	}
}

// nearest returns the choice that comes closest to a length.
func nearest(choices []string, want unit.Length) string {
	best, gap := choices[0], unit.Length(1e9)
	for _, c := range choices {
		l, err := unit.ParseLength(c)
		if err != nil {
			panic("web: " + err.Error()) // the choices are ours
		}
		if d := max(l-want, want-l); d < gap {
			best, gap = c, d
		}
	}
	return best
}

// steelNames returns the steels that a smith's sheet exists for.
func steelNames() []string {
	var names []string
	for _, g := range steel.Grades() {
		if g.Practice != nil && g.Practice.Harden[1] > 0 {
			names = append(names, g.Name)
		}
	}
	return names
}

// address is the sentence as a query, for links that keep it.
func (f sentence) query() url.Values {
	return url.Values{"make": {f.make}, "steel": {f.steel}, "back": {f.back}, "edge": {f.edge}, "fire": {f.fire}, "bath": {f.bath}, "oven": {f.oven}}
}

// wish turns the sentence into what plan asks for.
func (f sentence) wish(s unit.System) (plan.Wish, error) {
	use, _ := plan.FindUse(f.make)
	back, err := unit.ParseLength(f.back)
	if err != nil {
		return plan.Wish{}, err
	}
	edge, err := unit.ParseLength(f.edge)
	if err != nil {
		return plan.Wish{}, err
	}
	w := plan.Wish{
		Name: f.make, Piece: use.Piece(back, edge, s), Aim: use.Aim(), Units: s,
		Steel: route.Metal{Grade: f.steel}, Fire: f.fire, Bath: f.bath, Oven: f.oven,
	}
	if f.steel == unknownSteel {
		w.Steel = route.Metal{Unknown: true}
	}
	w.Shop = f.shop()
	return w, nil
}

// shop is the equipment of the sentence, with everything else not known.
func (f sentence) shop() route.Shop {
	var s route.Shop
	switch f.fire {
	case "kiln":
		s.Ovens = append(s.Ovens, route.Oven{Name: "kiln", Kind: "kiln"})
	case "heated pipe":
		s.Forges = append(s.Forges, route.Fire{Name: f.fire, Kind: "pipe"})
	case "charcoal forge":
		s.Forges = append(s.Forges, route.Fire{Name: f.fire, Kind: "charcoal"})
	default:
		s.Forges = append(s.Forges, route.Fire{Name: f.fire, Kind: "gas"})
	}
	kinds := map[string]string{"cooking oil": "vegetable oil"}
	if f.bath != route.Air {
		kind := f.bath
		if k, ok := kinds[kind]; ok {
			kind = k
		}
		s.Baths = append(s.Baths, route.Bath{Name: f.bath, Kind: kind})
	}
	switch {
	case f.oven == "kitchen oven":
		s.Ovens = append(s.Ovens, route.Oven{Name: f.oven, Kind: "kitchen"})
	case f.oven == "toaster oven":
		s.Ovens = append(s.Ovens, route.Oven{Name: f.oven, Kind: "toaster"})
	case f.fire != "kiln":
		s.Ovens = append(s.Ovens, route.Oven{Name: "kiln", Kind: "kiln"})
	}
	return s
}
