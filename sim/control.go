package sim

import "math"

// What one step may change, at most. The heat of transformation is given back
// to the temperature after the metal has moved, so a step must turn over little
// of it: 2 % of pearlite in the whole piece is 1.6 kJ/kg, or 2–3 K. A single cell may be
// further along its way, for rates are integrated exactly within the step.
//
// The embedded estimate is the distance to a first-order solution; the step that
// is kept is of second order and at least twice as good. While the metal rests
// no history is made, only the way to the next is covered. A test holds what comes
// out against limits half as wide and less.
const (
	maxError    = 1.0  // embedded estimate of the first-order error of a step [K]: 0.5 K of the step itself
	maxErrRest  = 3    // the same while the metal rests: no austenite, nothing to temper [K]
	maxErrWet   = 0.4  // the same in a bath, where a boiling curve makes much of little [K]
	maxErrTemp  = 0.6  // the same in tempers and soaks: long stays, whose degrees count [K]
	longStep    = 5    // a step as long as this is one of a soak [s]
	maxRise     = 10   // change of temperature of the fastest surface cell [K]
	calmer      = 2    // so many times that while hardly anything changes, though it could [–]
	maxTemper   = 20   // the same where there is nothing but tempering [K]
	maxRest     = 50   // and while the metal rests [K]
	maxFraction = 0.02 // change of any constituent, of the mass of the piece [–]
	maxCell     = 0.10 // change of any constituent in any cell [–]

	// A cell whose change ends within a step is a kelvin or two off its neighbors,
	// and the next step smooths that. Its estimate does not fall with the square of
	// the step, as an error does, but hardly at all: then it is let pass up to so
	// much [of maxError].
	maxRipple = 6

	slack    = 1.1  // a step is rejected when it is over its limit by this factor
	safety   = 0.85 // aim of the next step, as a share of the limit
	maxGrow  = 2.5  // a step is at most so much longer than the last
	minShare = 0.1  // a rejected step is tried again with at least this share
	firstDt  = 1e-3 // length of the first try in a new surrounding [s]
	leastDt  = 1e-7 // below it the march gives up [s]
	longest  = 900  // no step is longer [s]
)

// effort is what a tried step did, each as a share of what it may do [–].
type effort struct{ err, rise, fraction float64 }

// worst returns the largest share.
func (e effort) worst() float64 { return math.Max(e.err, math.Max(e.rise, e.fraction)) }

// next returns the length [s] of the step after one of length dt that had this
// effort. The error of a first-order step goes with dt², its changes with dt;
// the controller leans on the last effort too, so that lengths do not swing.
func (e effort) next(dt float64) float64 {
	grow := maxGrow
	grow = math.Min(grow, safety/math.Max(e.rise, 1e-9))
	grow = math.Min(grow, safety/math.Max(e.fraction, 1e-9))
	if e.err > 1 { // over the limit it is a ripple in space that is being smoothed, and goes with dt only
		grow = math.Min(grow, safety/(e.err*1.5))
	}
	grow = math.Min(grow, safety/math.Sqrt(math.Max(e.err, 1e-9)))
	return math.Min(dt*math.Max(grow, minShare), longest)
}

// limits is what a step may change.
type limits struct{ ripple, err, errRest, errTemper, errWet, rise, calm, temper, rest, fraction, cell float64 }

// usual are the limits of every run; strict ones are for finding out what they cost.
var (
	usual  = limits{maxRipple, maxError, maxErrRest, maxErrTemp, maxErrWet, maxRise, calmer, maxTemper, maxRest, maxFraction, maxCell}
	strict = limits{0, maxError / 4, maxError / 4, maxError / 4, maxErrWet / 4, maxRise / 2, 1, maxRise / 2, maxRise / 2, maxFraction, maxFraction}
)
