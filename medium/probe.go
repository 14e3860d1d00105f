package medium

import (
	"math"
	"sync"
)

// Probe is the standard quench probe: a cylinder of alloy 600, 12.5 mm thick and
// 60 mm long, with a thermocouple at its center, quenched from 850 °C. At its
// middle it is as good as endless, so one radius is computed.
//
// Source: astm-d6200 (the geometry; ISO 9950 uses the same).
type Probe struct {
	Cells int     // along the radius; 0: 40
	Step  float64 // [s]; 0: 0.01
	Until float64 // center temperature to stop at [K]; 0: 150 °C
}

// ProbeCurve is what the recorder of the probe draws, and what is read off it.
type ProbeCurve struct {
	Time, T, Rate []float64 // [s], center [K], cooling rate smoothed over 0.5 s [K/s]

	MaxRate   float64 // [K/s]
	AtMaxRate float64 // center [K]
	Rate300   float64 // at 300 °C [K/s]
	To600     float64 // [s] to 600, 400, 200 °C; NaN when not reached
	To400     float64
	To200     float64
}

const (
	probeRadius  = 0.00625 // [m]
	probeStart   = 850 + CelsiusZero
	probeDensity = 8470. // [kg/m³]
	probeSmooth  = 0.5   // [s]
)

type alloyFile struct {
	Row []struct {
		T  float64 `toml:"T_C"`
		K  float64 `toml:"k_W_mK"`
		Cp float64 `toml:"cp_J_kgK"`
	} `toml:"row"`
	Source string `toml:"source"`
	ReadBy string `toml:"read_by"`
	Error  string `toml:"error"`
}

// alloy600 returns the conductivity [W/mK] and heat capacity [J/kgK] tables.
var alloy600 = sync.OnceValues(func() (k, cp *curve) {
	var file alloyFile
	readStrict("alloy-600.toml", &file)
	var t, ks, cps []float64
	for _, r := range file.Row {
		t, ks, cps = append(t, r.T+CelsiusZero), append(ks, r.K), append(cps, r.Cp)
	}
	grid := func(y []float64) *curve { return tabulate(t[0], 900+CelsiusZero, 44, shaped(t, y)) }
	return grid(ks), grid(cps)
})

// Quench cools the probe in a liquid and reads the curve. Implicit finite volumes
// on rings of equal width, Newton steps on the surface.
func (p Probe) Quench(l Law) ProbeCurve {
	n, dt, until := p.Cells, p.Step, p.Until
	if n == 0 {
		n = 40
	}
	if dt == 0 {
		dt = 0.01
	}
	if until == 0 {
		until = 150 + CelsiusZero
	}
	k, cp := alloy600()
	r := newBody(n, 1, probeRadius, probeStart, probeDensity, k, cp)
	c := ProbeCurve{}
	for t := 0.0; t < 600; t += dt {
		c.Time, c.T = append(c.Time, t), append(c.T, r.center())
		if r.center() < until {
			break
		}
		r.step(dt, l)
	}
	c.read(dt)
	return c
}

// read fills in the rates and what is read off the curve.
func (c *ProbeCurve) read(dt float64) {
	n := len(c.T)
	w := max(int(math.Round(probeSmooth/2/dt)), 1)
	c.Rate = make([]float64, n)
	for i := range c.T {
		lo, hi := max(i-w, 0), min(i+w, n-1)
		if hi > lo {
			c.Rate[i] = (c.T[lo] - c.T[hi]) / (c.Time[hi] - c.Time[lo])
		}
		if c.Rate[i] > c.MaxRate {
			c.MaxRate, c.AtMaxRate = c.Rate[i], c.T[i]
		}
	}
	c.To600, _ = c.crossing(600 + CelsiusZero)
	c.To400, _ = c.crossing(400 + CelsiusZero)
	c.To200, _ = c.crossing(200 + CelsiusZero)
	_, c.Rate300 = c.crossing(300 + CelsiusZero)
}

// crossing returns when the center passes T, and the rate there.
func (c *ProbeCurve) crossing(T float64) (t, rate float64) {
	for i := 1; i < len(c.T); i++ {
		if c.T[i] <= T {
			s := (c.T[i-1] - T) / (c.T[i-1] - c.T[i])
			return c.Time[i-1] + s*(c.Time[i]-c.Time[i-1]), c.Rate[i-1] + s*(c.Rate[i]-c.Rate[i-1])
		}
	}
	return math.NaN(), math.NaN()
}
