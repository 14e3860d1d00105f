package conduction

import "math"

// Pace chooses the length of steps from their error. The one tolerance is the
// temperature error allowed per step; results converge with it.
type Pace struct {
	Tolerance float64 // K per step; 0 is 0.5
	MaxChange float64 // largest temperature change of a cell in a step [K]; 0 is no limit
	Shortest  float64 // s; a step this short is always taken; 0 is 1e-6
	Longest   float64 // s; 0 is no limit
}

// Next says whether a step of dt with this report stands, and how long the next one should be.
func (p Pace) Next(dt float64, r Report) (stands bool, next float64) {
	tol := p.Tolerance
	if tol == 0 {
		tol = 0.5
	}
	ratio := r.Error / tol
	// The estimate is of second order: it grows with dt².
	grow := 0.85 / math.Sqrt(max(ratio, 1e-12))
	if p.MaxChange > 0 {
		over := r.MaxChange / p.MaxChange
		ratio = max(ratio, over)
		grow = min(grow, 0.9/max(over, 1e-12))
	}
	if !(grow > 0.1) { // also when it is not a number
		grow = 0.1
	}
	next = dt * min(4, grow)
	if p.Longest > 0 {
		next = min(next, p.Longest)
	}
	shortest := p.Shortest
	if shortest == 0 {
		shortest = 1e-6
	}
	next = max(next, shortest)
	return ratio <= 1 || dt <= shortest, next
}

// March advances the body by a duration [s] in adaptive steps, the first of
// which tries dt, and returns the step to try next, the heat out [J] and the number of
// steps taken and refused.
func (f *Field) March(duration, dt float64, p Pace, mat Material, b Boundary) (next, joules float64, taken, refused int) {
	for t := 0.0; t < duration; {
		try := dt
		if left := duration - t; try >= left*(1-1e-9) {
			try = left
		} else if try > left/2 {
			try = left / 2 // two even steps rather than one and a splinter
		}
		r := f.Step(try, mat, b, nil)
		stands, next := p.Next(try, r)
		if !stands {
			f.Undo()
			refused++
			dt = min(next, 0.7*try)
			continue
		}
		t += try
		taken++
		joules += r.Joules
		if try >= dt || next < dt {
			dt = next
		}
	}
	return dt, joules, taken, refused
}
