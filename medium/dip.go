package medium

// Dip is a piece going into a liquid, and perhaps out and in again: how long each
// face has been under. The lowest face meets the surface at time 0.
type Dip struct {
	Down  [3]float64 // unit vector pointing down, in the axes of the piece
	Speed float64    // going in [m/s]; 0: 0.5
	Depth float64    // how far the lowest point goes under [m]; 0: all the way
	Then  float64    // at this time the rest goes in too [s]; 0: never
	Out   float64    // at this time it is drawn out [s]; 0: never
}

// Lowest returns how far down the lowest face reaches along Down [m].
func (d Dip) Lowest(f *Faces) float64 {
	lowest := 0.0
	for i := range f.T {
		if s := d.depth(f, i); i == 0 || s > lowest {
			lowest = s
		}
	}
	return lowest
}

// Wet fills dst with the seconds since each face went under, at time t [s] after
// the first touch; −1 where it is not under. lowest is what [Dip.Lowest] gives.
func (d Dip) Wet(dst []float64, f *Faces, lowest, t float64) {
	v := d.Speed
	if v <= 0 {
		v = 0.5
	}
	for i := range dst {
		up := lowest - d.depth(f, i) // height above the lowest point
		at := up / v
		if d.Depth > 0 && up > d.Depth {
			if d.Then <= 0 {
				dst[i] = -1
				continue
			}
			at = d.Then + (up-d.Depth)/v
		}
		dst[i] = t - at
		if dst[i] < 0 || d.Out > 0 && t > d.Out {
			dst[i] = -1
		}
	}
}

func (d Dip) depth(f *Faces, i int) float64 {
	return pick(f.X, i, 0)*d.Down[0] + pick(f.Y, i, 0)*d.Down[1] + pick(f.Z, i, 0)*d.Down[2]
}
