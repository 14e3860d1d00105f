// Package observe says what a magnet, a color, a file or a thermometer tells of
// the steel: for each thing seen, how likely it would be at every temperature,
// hardness or depth of soft skin. Several are combined into one band. "Don't
// know" is always legal and changes nothing.
//
// Nobody sees without error: every likelihood keeps a little for having misjudged,
// so that one wrong word never rules out the truth.
package observe

import (
	"math"
	"slices"

	"github.com/heatwright/heatwright/unit"
)

const kelvin = 273.15

// Temperature is a thing seen that tells of the temperature: how likely it would
// be at T [K], from 0 to 1.
type Temperature interface{ AtTemperature(T float64) float64 }

// Hardness is a thing seen that tells of the hardness [HRC].
type Hardness interface{ AtHardness(hrc float64) float64 }

// Decarb is a thing seen that tells of the depth of soft skin [m].
type Decarb interface{ AtDecarb(depth float64) float64 }

// DontKnow says nothing about anything.
type DontKnow struct{}

// AtTemperature is 1 everywhere.
func (DontKnow) AtTemperature(float64) float64 { return 1 }

// AtHardness is 1 everywhere.
func (DontKnow) AtHardness(float64) float64 { return 1 }

// AtDecarb is 1 everywhere.
func (DontKnow) AtDecarb(float64) float64 { return 1 }

// misjudged is the likelihood that is left to every value, however absurd: spread
// over all temperatures it makes the chance of having misjudged a few in a hundred.
const misjudged = 4e-4

// fallible adds the chance of having misjudged.
func fallible(p float64) float64 { return misjudged + (1-misjudged)*p }

// Belief is what is held about one quantity: a weight on each point of an even grid.
type Belief struct {
	First, Step float64
	P           []float64 // sums to 1

	least []float64 // of all that was learnt, the likelihood that fits worst here, beside its best
}

func even(first, last, step float64) *Belief {
	n := int(math.Round((last-first)/step)) + 1
	b := &Belief{First: first, Step: step, P: make([]float64, n), least: make([]float64, n)}
	for i := range b.P {
		b.P[i], b.least[i] = 1/float64(n), 1
	}
	return b
}

// AnyTemperature believes nothing: 0 to 1400 °C in steps of a kelvin [K].
func AnyTemperature() *Belief { return even(kelvin, 1400+kelvin, 1) }

// AnyHardness believes nothing: 0 to 70 HRC.
func AnyHardness() *Belief { return even(0, 70, 0.25) }

// AnyDecarb believes nothing: no soft skin to 1 mm [m].
func AnyDecarb() *Belief { return even(0, 1e-3, 2e-6) }

// Learn takes in a likelihood.
func (b *Belief) Learn(likelihood func(x float64) float64) {
	l := make([]float64, len(b.P))
	sum, best := 0.0, 0.0
	for i := range b.P {
		l[i] = likelihood(b.First + float64(i)*b.Step)
		best = max(best, l[i])
		b.P[i] *= l[i]
		sum += b.P[i]
	}
	if !(sum > 0) {
		panic("observe: a likelihood ruled everything out")
	}
	for i := range b.P {
		b.P[i] /= sum
		b.least[i] = min(b.least[i], l[i]/best)
	}
}

// agreement returns how well all that was learnt goes together: at the point that
// does the most justice to everything, how likely the worst fitting of it is
// beside its own best. In whatever order it was learnt.
func (b *Belief) agreement() float64 { return slices.Max(b.least) }

// Contradiction says whether something that was learnt hardly fits the rest: the
// answer stands, but one of the observations is likely a mistake.
func (b *Belief) Contradiction() bool { return b.agreement() < 0.02 }

// Band returns the median and the 10th and 90th percentile.
func (b *Belief) Band() unit.Band {
	return unit.Band{Value: b.quantile(0.5), Low: b.quantile(0.1), High: b.quantile(0.9)}
}

// Open says at which ends of its scale the belief just goes on: there a percentile
// would only tell where the scale ends.
func (b *Belief) Open() (below, above bool) {
	half := slices.Max(b.P) / 2
	return b.P[0] > half, b.P[len(b.P)-1] > half
}

// Edges returns where the belief first and last reaches a tenth of its best.
func (b *Belief) Edges() (low, high float64) {
	tenth := slices.Max(b.P) / 10
	at := func(i int) float64 { return b.First + b.Step*float64(i) }
	i, j := 0, len(b.P)-1
	for b.P[i] < tenth {
		i++
	}
	for b.P[j] < tenth {
		j--
	}
	return at(i), at(j)
}

func (b *Belief) quantile(q float64) float64 {
	sum := 0.0
	for i, p := range b.P {
		if sum+p >= q {
			return b.First + b.Step*(float64(i)-0.5+(q-sum)/p)
		}
		sum += p
	}
	return b.First + b.Step*float64(len(b.P)-1)
}

// TemperatureOf combines what was seen into one band [K].
func TemperatureOf(seen ...Temperature) *Belief {
	b := AnyTemperature()
	for _, s := range seen {
		if c, ok := s.(TemperColor); ok {
			s = c.Read() // once, and not at every point
		}
		b.Learn(s.AtTemperature)
	}
	return b
}

// HardnessOf combines what was felt into one band [HRC].
func HardnessOf(seen ...Hardness) *Belief {
	b := AnyHardness()
	for _, s := range seen {
		b.Learn(s.AtHardness)
	}
	return b
}

// DecarbOf combines what tells of the soft skin into one band [m].
func DecarbOf(seen ...Decarb) *Belief {
	b := AnyDecarb()
	for _, s := range seen {
		b.Learn(s.AtDecarb)
	}
	return b
}

// percentile90 is how far the 90th percentile of the normal distribution lies out, in standard deviations.
const percentile90 = 1.2815515655446004

// above returns the chance that x lies beyond a soft edge: 0.5 at it, 0.9 at half a width beyond.
func above(x, edge, half float64) float64 {
	return 0.5 * math.Erfc(-(x-edge)/half*percentile90/math.Sqrt2)
}

// within returns the chance of a word that holds between two soft edges.
func within(x, low, high, half float64) float64 {
	return above(x, low, half) * above(-x, -high, half)
}

// bell is 1 at the value of a band and falls off so that 10 % lie beyond each end.
func bell(x float64, b unit.Band) float64 {
	half := b.High - b.Value
	if x < b.Value {
		half = b.Value - b.Low
	}
	if half <= 0 {
		half = 1e-9
	}
	z := (x - b.Value) / half * percentile90
	return math.Exp(-z * z / 2)
}
