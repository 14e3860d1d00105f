package calphad

// The forces are solved for at few knots and carried to the nodes of a plane by cubics,
// the two equilibria each by itself: what is smooth needs few solutions, and only
// the mixture of the two between 550 and 600 °C bends.
const (
	paraKnots, paraKnotStep = 8, 60.0  // [K], from driveCold past fullAbove
	fullKnots, fullKnotStep = 12, 50.0 // [K], down from the last row past paraBelow
	knotCols                = 8

	coldRows  = 30 // rows to 1053 K, which need
	coldKnots = 7  // the knots to 1123 K: what pearlite and all below it asks for
)

// knotCol are the places of the knots, counted in columns.
var knotCol = [knotCols]float64{1, 2, 4, 7, 11, 15, 19, 24}

// knots hold the driving forces of carbon-only equilibrium and of that with metals
// free to move. The part of cementite that runs with ln C is taken out.
type knots struct {
	para [paraKnots][knotCols]Driving
	full [fullKnots][knotCols]Driving
}

func paraAt(i int) float64 { return driveCold + paraKnotStep*float64(i) }

func fullAt(i int) float64 {
	return driveCold + driveStep*(driveRows-1) - fullKnotStep*float64(fullKnots-1-i)
}

// fullShare returns the weight at T [K] of the equilibrium with metals free to move.
func fullShare(T float64) float64 {
	return min(max((T-paraBelow)/(fullAbove-paraBelow), 0), 1)
}

// cubic are the weights of four neighboring knots.
type cubic struct {
	first int
	w     [4]float64
}

// cubicAt returns the weights of Lagrange's cubic at x through knots at rising places.
func cubicAt(x float64, places []float64) cubic {
	first := 0
	for first < len(places)-4 && places[first+2] < x {
		first++
	}
	c := cubic{first: first}
	for i := range c.w {
		c.w[i] = 1
		for j := range c.w {
			if i != j {
				c.w[i] *= (x - places[first+j]) / (places[first+i] - places[first+j])
			}
		}
	}
	return c
}

var (
	colCubic  [driveCols]cubic
	paraCubic [driveRows]cubic
	fullCubic [driveRows]cubic
)

func init() {
	var para [paraKnots]float64
	for i := range para {
		para[i] = paraAt(i)
	}
	var full [fullKnots]float64
	for i := range full {
		full[i] = fullAt(i)
	}
	for k := range colCubic {
		colCubic[k] = cubicAt(float64(k+1), knotCol[:])
	}
	for i := range driveRows {
		T := driveCold + driveStep*float64(i)
		paraCubic[i], fullCubic[i] = cubicAt(T, para[:]), cubicAt(T, full[:])
	}
}

// spread carries the knots to some rows of nodes.
func (p *plane) spread(from, to int) {
	for i := from; i < to; i++ {
		share := fullShare(driveCold + driveStep*float64(i))
		var row [knotCols]Driving
		for k := range row {
			if share < 1 {
				c := &paraCubic[i]
				for j, w := range c.w {
					row[k].add(&p.knots.para[c.first+j][k], w*(1-share))
				}
			}
			if share > 0 {
				c := &fullCubic[i]
				for j, w := range c.w {
					row[k].add(&p.knots.full[c.first+j][k], w*share)
				}
			}
		}
		for k := range driveCols {
			c := &colCubic[k]
			p.force[i][k] = Driving{}
			for j, w := range c.w {
				p.force[i][k].add(&row[c.first+j], w)
			}
		}
	}
}

// add adds w·e to d.
func (d *Driving) add(e *Driving, w float64) {
	d.Ferrite += w * e.Ferrite
	d.Cementite += w * e.Cementite
	d.Pearlite += w * e.Pearlite
	d.Bainite += w * e.Bainite
}
