package sim

import "math"

// What one step may change, at most. The heat of a transformation is lent to
// conduction by how it ran in the last step, and what was lent wrongly is given back as a
// jump of temperature when the metal has moved: that jump is the error of the coupling.
// Rates are integrated exactly within a step, at its mean temperature.
//
// While the metal rests no history is made, only the way to the next is covered. A
// test holds what comes out against limits half as wide and less.
const (
	maxError    = 2.0  // error of conduction in a step [K]
	maxErrRest  = 0.5  // the same while the metal rests: no austenite, nothing to temper [K]
	maxErrWet   = 0.8  // the same in a bath, where a boiling curve makes much of little [K]
	maxErrTemp  = 0.25 // the same in tempers and soaks: long stays, whose degrees count [K]
	firstOrder  = 0.2  // share of the distance to a first-order step that counts as error at least [–]
	longStep    = 5    // a step as long as this is one of a soak [s]
	maxRise     = 15   // change of temperature of the fastest surface cell [K]
	calmer      = 1.2  // so many times that while hardly anything changes, though it could [–]
	maxTemper   = 20   // the same where there is nothing but tempering [K]
	maxRest     = 50   // and while the metal rests [K]
	maxFraction = 0.10 // change of any constituent, of the mass of the piece [–]
	maxCell     = 0.30 // change of any constituent in any cell [–]
	maxJump     = 8    // of any cell, for heat that was lent wrongly [K]
	maxMean     = 1    // the same in the mean of the piece [K]

	// A cell whose change ends within a step is a kelvin or two off its neighbors,
	// and the next step smooths that. Its estimate does not fall with the square of
	// the step, as an error does, but hardly at all: then it is let pass up to so
	// much [of maxError].
	maxRipple = 6

	slack     = 1.1  // a step is rejected when it is over its limit by this factor
	safety    = 0.85 // aim of the next step, as a share of the limit
	maxGrow   = 2.5  // a step is at most so much longer than the last
	minShare  = 0.1  // a rejected step is tried again with at least this share
	firstDt   = 1e-3 // length of the first try in a new liquid, and the least in any surrounding [s]
	firstRise = 2    // change of a surface cell in the first try in a new surrounding [K]
	leastDt   = 1e-7 // below it the march gives up [s]
	longest   = 900  // no step is longer [s]
)

// effort is what a tried step did, each as a share of what it may do [–].
type effort struct{ err, rise, fraction, jump float64 }

// worst returns the largest share.
func (e effort) worst() float64 {
	return math.Max(math.Max(e.err, e.jump), math.Max(e.rise, e.fraction))
}

// next returns the length [s] of the step after one of length dt that had this
// effort. Its error goes with dt² at least, and so does a jump; its changes go with dt.
func (e effort) next(dt float64) float64 {
	grow := maxGrow
	grow = math.Min(grow, safety/math.Max(e.rise, 1e-9))
	grow = math.Min(grow, safety/math.Max(e.fraction, 1e-9))
	grow = math.Min(grow, safety/math.Sqrt(math.Max(e.jump, 1e-9)))
	if e.err > 1 { // over the limit it is a ripple in space that is being smoothed, and goes with dt only
		grow = math.Min(grow, safety/(e.err*1.5))
	}
	grow = math.Min(grow, safety/math.Sqrt(math.Max(e.err, 1e-9)))
	return math.Min(dt*math.Max(grow, minShare), longest)
}

// limits is what a step may change.
type limits struct {
	err, errRest, errTemper, errWet, firstOrder, ripple float64
	rise, calm, temper, rest                            float64
	fraction, cell, jump, mean                          float64
}

// usual are the limits of every run; strict ones are for finding out what they cost:
// the error of a first-order step, and little of anything at once.
var (
	usual = limits{
		maxError, maxErrRest, maxErrTemp, maxErrWet, firstOrder, maxRipple,
		maxRise, calmer, maxTemper, maxRest,
		maxFraction, maxCell, maxJump, maxMean,
	}
	strict = limits{0.25, 0.25, 0.25, 0.1, 1, 0, 5, 1, 5, 5, 0.02, 0.02, 1, 0.2}
)
