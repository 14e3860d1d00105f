package color

import (
	"math"
	"sync"

	"github.com/heatwright/heatwright/unit"
)

// Temper is a word of the trade for the film on polished steel, in the order in
// which they come.
type Temper int

// The temper colors.
const (
	Bright Temper = iota
	FaintStraw
	Straw
	DarkStraw
	Brown
	BrownPurple
	Purple
	DarkPurple
	Blue
	PaleBlue
	GreyFilm
	NumTempers
)

var temperWords = [NumTempers]string{
	"bright", "faint straw", "straw", "dark straw", "brown", "brown-purple", "purple", "dark purple", "blue", "pale blue", "grey",
}

// String returns the word.
func (w Temper) String() string { return temperWords[w] }

// ParseTemper returns the temper color with this word, or false.
func ParseTemper(word string) (Temper, bool) {
	for i, t := range temperWords {
		if t == word {
			return Temper(i), true
		}
	}
	return 0, false
}

// temperEnds returns the film thickness [nm] at which each word gives way to the
// next, found by walking up the thickness and watching the computed color by
// daylight: how colorful it is while it is straw, then its hue, which turns from
// yellow by red and purple to blue, then how pale it has become.
//
// The corners are names that we give to colors, settled together with the growth
// law (skin/fit) so that five minutes of heat bring the words at the medians of
// the published tables. Thickness is no measure to compare with books: those of
// the classical tables are optical ones, and neglect the phase jump at iron.
func temperEnds(look FilmLook) [NumTempers - 1]float64 {
	look.Lamp = false // the eye adapts, and so does the word
	var ends [NumTempers - 1]float64
	word := Bright
	for nm := 0.0; nm < 200 && word < GreyFilm; nm += 0.05 {
		l := FilmColor(nm, look).Lab()
		for word < GreyFilm && past(word, l) {
			ends[word] = nm
			word++
		}
	}
	for ; word < GreyFilm; word++ {
		ends[word] = 200
	}
	return ends
}

// past says whether a film has grown beyond this word.
func past(w Temper, l Lab) bool {
	turned := l.Hue() // from 90 down through 0 to −120: yellow, red, purple, blue
	if turned > 180 {
		turned -= 360
	}
	switch w {
	case Bright:
		return l.Chroma() > 7
	case FaintStraw:
		return l.Chroma() > 14.4
	case Straw:
		return turned < 78
	case DarkStraw:
		return turned < 69.5
	case Brown:
		return turned < 50
	case BrownPurple:
		return turned < -2
	case Purple:
		return turned < -41
	case DarkPurple:
		return turned < -67
	case Blue:
		return turned < -100.5
	case PaleBlue:
		return l.Chroma() < 8
	}
	return false
}

var plainEnds = sync.OnceValue(func() [NumTempers - 1]float64 { return temperEnds(FilmLook{}) })

// TemperOf returns the word for a film of this thickness [nm].
func TemperOf(nm float64) Temper {
	ends := plainEnds()
	for w, end := range ends {
		if nm < end {
			return Temper(w)
		}
	}
	return GreyFilm
}

// Film returns the film thickness that a word stands for [nm]: the middle of its
// range and the range. Grey ends where the model does.
func (w Temper) Film() unit.Band {
	ends := plainEnds()
	b := unit.Band{Low: 0, High: 200}
	if w > Bright {
		b.Low = ends[w-1]
	}
	if w < GreyFilm {
		b.High = ends[w]
	}
	switch w {
	case Bright:
		b.Value = 2.5
	case GreyFilm:
		b.Value = 85
	default:
		b.Value = math.Sqrt(b.Low * b.High)
	}
	return b
}
