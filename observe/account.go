package observe

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Things are what can be told of a piece, in the order in which they are asked.
var Things = []string{"magnet", "glow", "shadow", "thermometer", "hand", "film", "file", "slid", "cut", "tester", "rebound", "scale"}

// Words returns the words that a thing is told in; of those that take a number,
// an example of each form. None for a thing that nobody asks.
func Words(thing string) []string {
	switch thing {
	case "magnet":
		return []string{"holds", "lets go"}
	case "glow":
		var all []string
		for h := color.NoGlow; h < color.NumHeats; h++ {
			all = append(all, h.String())
		}
		return all
	case "shadow":
		return []string{"crossing", "gone"}
	case "thermometer":
		return []string{"812 C", "1490 F"}
	case "hand":
		return []string{"warm"}
	case "film":
		var all []string
		for w := color.Bright; w < color.NumTempers; w++ {
			all = append(all, w.String())
		}
		return all
	case "file":
		return []string{"bites", "drags", "skates", "bites, skates after 12", "drags, skates after 12", "bites, drags after 12"}
	case "slid", "cut", "tester", "rebound":
		return []string{"60 HRC"}
	case "scale":
		return []string{"clean", "dusted", "flaking"}
	}
	return nil
}

// Numbers says whether a thing is told by a number.
func Numbers(thing string) bool {
	return slices.Contains([]string{"thermometer", "slid", "cut", "tester", "rebound"}, thing)
}

// Misread is a thing or a word that nobody here knows.
type Misread struct {
	Thing, Said string
	Legal       []string // what is understood instead
}

// Error implements error.
func (m *Misread) Error() string {
	if m.Said == "" {
		return fmt.Sprintf("observe: %q is nothing that can be told; tell of %s", m.Thing, strings.Join(m.Legal, ", "))
	}
	return fmt.Sprintf("observe: %s=%q is not understood; say %s, or don't know", m.Thing, m.Said, strings.Join(m.Legal, ", "))
}

// Setting is what has to be known to read what was seen. All of it may be missing.
type Setting struct {
	Light   *color.Light // nil: nobody told
	Glasses *color.Glasses
	Changes Changes // zero: as of steels with 0.45 % carbon and more
	Steel   steel.Composition
	Seconds float64 // at tempering heat
	Greasy  bool
}

// Changes are the temperatures at which a steel changes inside while it heats [K].
type Changes struct{ Magnet, Shadow unit.Band }

// curie is where ferrite loses its magnetism [K].
const curie = 770 + kelvin

// ChangesOf returns when a magnet lets go and when the shadow crosses in a steel of
// so much carbon [wt %]. The shadow crosses from the first austenite to 25 K above
// where at equilibrium the last pearlite is gone, for a fire is not slow. A magnet
// lets go from where the last ferrite is gone at equilibrium to 30 K above, and at
// 770 °C at the latest, where ferrite is magnetic no longer.
func ChangesOf(limits micro.Limits, carbon float64) Changes {
	start, end := limits.Ae1()
	gone := end
	for gone < curie && limits.FerriteSide(gone) > carbon {
		gone++
	}
	band := func(low, high float64) unit.Band { return unit.Band{Value: (low + high) / 2, Low: low, High: high} }
	return Changes{
		Magnet: band(min(gone, curie-10), min(gone+30, curie+5)),
		Shadow: band(start, end+25),
	}
}

// Account is what somebody tells of one piece at one moment.
type Account struct {
	Setting
	heat   []told[Temperature]
	temper []told[Temperature]
	hard   []told[Hardness]
	skin   []told[Decarb]
}

// told is a thing with how it was said.
type told[T any] struct {
	said string
	is   T
}

// unsaid are the ways of not knowing.
var unsaid = []string{"", "?", "-", "don't know", "dont know", "not known", "unknown"}

// Tell takes in one thing; a *Misread where thing or word are not understood.
func (a *Account) Tell(thing, said string) error {
	legal := Words(thing)
	if legal == nil {
		return &Misread{Thing: thing, Legal: Things}
	}
	word := strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(said, "’", "'"))), " ")
	if slices.Contains(unsaid, word) {
		return nil
	}
	line := thing + "=" + strings.TrimSpace(said)
	wrong := &Misread{Thing: thing, Said: said, Legal: legal}
	switch thing {
	case "magnet":
		holds := slices.Contains([]string{"holds", "on", "sticks"}, word)
		if !holds && !slices.Contains([]string{"lets go", "off", "let go", "gone"}, word) {
			return wrong
		}
		a.heat = append(a.heat, told[Temperature]{line, Magnet{Holds: holds, LetsGo: a.Changes.Magnet}})
	case "glow":
		h, ok := color.ReadHeat(word)
		if !ok {
			return wrong
		}
		a.heat = append(a.heat, told[Temperature]{line, Glow{Word: h, Light: a.Light, Glasses: a.Glasses}})
	case "shadow":
		gone := slices.Contains([]string{"gone", "passed"}, word)
		if !gone && !slices.Contains([]string{"crossing", "seen"}, word) {
			return wrong
		}
		a.heat = append(a.heat, told[Temperature]{line, Shadow{Passed: gone, At: a.Changes.Shadow}})
	case "thermometer":
		T, err := unit.ParseTemp(word)
		if err != nil || T < kelvin-20 || T > 1400+kelvin {
			return wrong
		}
		a.heat = append(a.heat, told[Temperature]{line, Thermometer{Reading: float64(T)}})
	case "hand":
		if word != "warm" && word != "hand-warm" {
			return wrong
		}
		a.heat = append(a.heat, told[Temperature]{line, HandWarm{}})
	case "film":
		w, ok := color.ReadTemper(word)
		if !ok {
			return wrong
		}
		c := TemperColor{Word: w, Steel: a.Steel, Seconds: a.Seconds, Greasy: a.Greasy}
		if c.Seconds <= 0 {
			c.Seconds = 300
		}
		a.temper = append(a.temper, told[Temperature]{line, c.Read()})
	case "scale":
		i := slices.Index(legal, word)
		if i < 0 {
			return wrong
		}
		a.skin = append(a.skin, told[Decarb]{line, Scale(i)})
	case "file":
		f, ok := readFile(word)
		if !ok {
			return wrong
		}
		a.hard = append(a.hard, told[Hardness]{line, f})
		a.skin = append(a.skin, told[Decarb]{line, f})
	default:
		hrc, ok := readHRC(word)
		if !ok {
			return wrong
		}
		a.hard = append(a.hard, told[Hardness]{line, map[string]Hardness{
			"slid": HardnessFiles{Skated: hrc}, "cut": HardnessFiles{Bit: hrc}, "tester": Tester{HRC: hrc}, "rebound": Tester{HRC: hrc, Portable: true},
		}[thing]})
	}
	return nil
}

// readHRC reads a hardness from 20 to 70 HRC; a bare number is one.
func readHRC(word string) (float64, bool) {
	x, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(word, "hrc")), 64)
	return x, err == nil && x >= 20 && x <= 70
}

// readFile reads "skates" or "bites, skates after 12".
func readFile(word string) (f File, ok bool) {
	first, rest, two := strings.Cut(word, ",")
	if !two {
		first, rest, two = strings.Cut(word, " then ")
	}
	verdict := func(s string) (Verdict, bool) {
		i := slices.Index(verdicts[:], strings.TrimSpace(s))
		return Verdict(max(i, 0)), i >= 0
	}
	if f.First, ok = verdict(first); !ok || !two {
		f.After, f.Strokes = f.First, 3
		return f, ok
	}
	last, count, counted := strings.Cut(rest, " after ")
	f.After, ok = verdict(last)
	n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(count), "strokes")))
	f.Strokes = n
	return f, ok && counted && err == nil && n > 0 && n < 1000 && f.After >= f.First
}

// Finding is what an account comes to about one quantity.
type Finding struct {
	About string // "temperature", "hottest while tempered", "hardness" or "soft skin"
	Range
	Unit    string   // of the band: K, HRC or m
	From    []string // what was told of it
	Against [2]Alone // two of these that hardly go together; empty where all do
}

// Range is a band, or one end of it alone: over Low where Above, under High where
// Below, and the other end is that of the scale.
type Range struct {
	Band         unit.Band
	Below, Above bool
}

func rangeOf(b *Belief) Range {
	r := Range{Band: b.Band()}
	r.Below, r.Above = b.Open()
	low, high := b.Edges()
	if r.Below {
		r.Band.High = high
	}
	if r.Above {
		r.Band.Low = low
	}
	return r
}

// Alone is one thing that was told, with what it would come to by itself.
type Alone struct {
	Said string
	Range
}

// Findings combines what was told, in the order of the four quantities; those of
// which nothing was told are left out.
func (a *Account) Findings() []Finding {
	var all []Finding
	add := func(about, u string, fresh func() *Belief, said []string, like []func(float64) float64) {
		if len(said) == 0 {
			return
		}
		b := fresh()
		for _, l := range like {
			b.Learn(l)
		}
		f := Finding{About: about, Unit: u, Range: rangeOf(b), From: said}
		if f.Below && f.Above || f.Above && f.Band.Low <= b.First {
			return // it tells of something else
		}
		if b.Contradiction() {
			f.Against = worstPair(fresh, said, like)
		}
		all = append(all, f)
	}
	said, like := parts(a.heat, Temperature.AtTemperature)
	add("temperature", "K", AnyTemperature, said, like)
	said, like = parts(a.temper, Temperature.AtTemperature)
	add("hottest while tempered", "K", AnyTemperature, said, like)
	said, like = parts(a.hard, Hardness.AtHardness)
	add("hardness", "HRC", AnyHardness, said, like)
	said, like = parts(a.skin, Decarb.AtDecarb)
	add("soft skin", "m", AnyDecarb, said, like)
	return all
}

func parts[T any](all []told[T], like func(T, float64) float64) (said []string, of []func(float64) float64) {
	for _, t := range all {
		said = append(said, t.said)
		of = append(of, func(x float64) float64 { return like(t.is, x) })
	}
	return said, of
}

// worstPair returns the two things that agree least.
func worstPair(fresh func() *Belief, said []string, like []func(float64) float64) (pair [2]Alone) {
	alone := func(i int) Alone {
		b := fresh()
		b.Learn(like[i])
		return Alone{said[i], rangeOf(b)}
	}
	least := 2.0
	for i := range like {
		for j := range i {
			b := fresh()
			b.Learn(like[j])
			b.Learn(like[i])
			if b.agreement() < least {
				least, pair = b.agreement(), [2]Alone{alone(j), alone(i)}
			}
		}
	}
	return pair
}
