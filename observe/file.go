package observe

import "github.com/heatwright/heatwright/unit"

// Verdict is what a good file does on the edge.
type Verdict int

// The verdicts, from soft to hard.
const (
	Bites  Verdict = iota // cuts like mild steel
	Drags                 // cuts with effort
	Skates                // slides off and rings
)

var verdicts = [...]string{"bites", "drags", "skates"}

// String returns the word.
func (v Verdict) String() string { return verdicts[v] }

// File is a good file drawn across the steel. The first strokes feel the soft
// skin, the last the steel beneath: First is the verdict on the skin, After the
// one that it came to, at the stroke number Strokes. Where the verdict did not
// change, both are the same and Strokes is how many were made.
type File struct {
	First, After Verdict
	Strokes      int
}

// A plain file tells within 5 HRC (common practice): it bites under 50, skates
// over 60 HRC, drags between.
const (
	bitesBelow  = 50.0
	skatesAbove = 60.0
	fileHalf    = 5.0
)

// AtHardness implements [Hardness]: of the steel under the skin.
func (f File) AtHardness(hrc float64) float64 {
	switch f.After {
	case Bites:
		return fallible(above(-hrc, -bitesBelow, fileHalf))
	case Drags:
		return fallible(within(hrc, bitesBelow, skatesAbove, fileHalf))
	}
	return fallible(above(hrc, skatesAbove, fileHalf))
}

// perStroke is the steel that one stroke takes off a soft skin [m]: 3 µm, within
// a factor of two (common practice; depends on file, pressure and length).
var perStroke = unit.Band{Value: 3e-6, Low: 1.5e-6, High: 6e-6}

// AtDecarb implements [Decarb].
func (f File) AtDecarb(depth float64) float64 {
	n := float64(max(0, f.Strokes))
	switch {
	case f.First == Skates && f.After == Skates:
		// Hard from the first stroke: no skin worth the name.
		return fallible(above(-depth, -perStroke.High, perStroke.High))
	case f.After == f.First:
		// Still soft after n strokes: a deeper skin, or soft right through; says little.
		return fallible(0.3 + 0.7*above(depth, n*perStroke.Value, n*perStroke.Value))
	case f.After > f.First:
		return fallible(bell(depth, unit.Band{Value: n * perStroke.Value, Low: n * perStroke.Low, High: n * perStroke.High}))
	}
	return 1 // softer below than above: nothing that this package can read
}

// HardnessFiles are a set of files of known hardness: the hardest that bites not
// (skates) and the softest that bites.
type HardnessFiles struct {
	Skated float64 // highest file that slid off [HRC]; 0: none did
	Bit    float64 // lowest file that cut [HRC]; 0: none did
}

// AtHardness implements [Hardness]: within 3 HRC of the steps (common practice, 2 to 3).
func (f HardnessFiles) AtHardness(hrc float64) float64 {
	p := 1.0
	if f.Skated > 0 {
		p *= above(hrc, f.Skated, 3)
	}
	if f.Bit > 0 {
		p *= above(-hrc, -f.Bit, 3)
	}
	return fallible(p)
}

// Tester is the reading of a hardness tester.
type Tester struct {
	HRC      float64
	Portable bool // rebound or ultrasonic: within 4, and low on thin steel
}

// AtHardness implements [Hardness]: a bench machine within 1 HRC, a portable one within 4 (common practice).
func (t Tester) AtHardness(hrc float64) float64 {
	half := 1.0
	if t.Portable {
		half = 4
	}
	return fallible(bell(hrc, unit.PlusMinus(t.HRC, half)))
}

// Scale is what the surface looks like after the heat.
type Scale int

// The looks of a surface.
const (
	Clean   Scale = iota // metal or temper colors
	Dusted               // grey, nothing comes off
	Flaking              // crust that comes off in flakes
)

// AtDecarb implements [Decarb]. Where scale flakes, the fire has also taken carbon:
// 20 µm of scale and more go with 50 µm of soft skin and more (own computation for
// 0.9 % C, ten minutes at 850 to 1000 °C); clean metal has lost hardly any.
func (s Scale) AtDecarb(depth float64) float64 {
	switch s {
	case Clean:
		return fallible(above(-depth, -10e-6, 15e-6))
	case Dusted:
		return fallible(above(-depth, -60e-6, 40e-6))
	}
	return fallible(above(depth, 40e-6, 30e-6))
}

// FileWould returns what a file would do on steel of this hardness under a soft
// skin of this depth [m]: the first verdict, the one that it comes to, and the
// strokes until then (the first stroke is 1).
func FileWould(hrc, skin float64) (f File, strokes unit.Band) {
	f.After = verdictOn(hrc)
	f.First = f.After
	if skin > perStroke.Value/2 {
		f.First = min(f.After, Bites)
		strokes = unit.Band{Value: 1 + skin/perStroke.Value, Low: 1 + skin/perStroke.High, High: 1 + skin/perStroke.Low}
	} else {
		strokes = unit.Exactly(1)
	}
	f.Strokes = int(strokes.Value)
	return f, strokes
}

func verdictOn(hrc float64) Verdict {
	switch {
	case hrc >= skatesAbove:
		return Skates
	case hrc >= bitesBelow:
		return Drags
	}
	return Bites // NaN, under 20 HRC, is soft
}
