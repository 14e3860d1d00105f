package sim

// work is what a march is at.
type work int8

const (
	elsewhere  work = iota
	conducting      // of heat, between cells
	looking         // up of enthalpy, heat capacity and conductivity
	lawful          // asking the surface law
	turning         // the metal, and its temperatures
	skinning        // scale, film, carbon
	recording       // of history and signs
	works           // how many there are
)

// laps hears what a march turns to, and returns what it was at before. It is nil
// but for who measures; time itself is none of a march's business.
type laps func(to work) (was work)

// to tells it.
func (l laps) to(w work) work {
	if l == nil {
		return w
	}
	return l(w)
}
