package medium

import (
	"math"
	"sync"
)

// Immersion says what a piece is quenched in.
type Immersion struct {
	Kind  Quenchant
	T     float64    // bath [K]
	Salt  float64    // in brine [mass %]; 0 counts as 8
	Stir  Stir       // how the liquid moves past the piece
	Vigor float64    // the shop's own factor on h, found by calibration; 0 counts as 1
	Thin  float64    // a further factor where the piece is thinner than [ThinEdge]; 0 counts as 1
	Own   *Generator // a curve of the shop's own instead of the class's
	Tau   float64    // first contact: h grows as 1 − exp(−t/Tau) [s]; 0: at once. 0.05–0.15 in oil, 0.02–0.05 in water (from memory)
	Front float64    // speed of the wetting front from edges and tips [m/s]; 0: wets everywhere at once. 5–30 mm/s in oil, 10–100 in water (from memory)
	Wash  bool       // a thin coat of clay lies on the piece: in water it breaks the vapor jacket up sooner
	Above *Air       // what a face that is not yet under sees; nil: nothing
}

// Liquid is the law of a piece in a quenching bath.
//
//	q = h(Ts, bath) · vigor · (Ts − Tbath)
//
// h is a boiling curve over the surface temperature, for wetted surfaces. Oils
// ±25 %, water, brine and any edge under 1 mm ±40 % ([Accuracy]).
type Liquid struct {
	T     float64 // bath [K]
	Vigor float64

	kind         Quenchant
	thin         float64
	tau, front   float64
	above        *Air
	set          *bathCurves
	lo, hi       *curve // of the bath temperatures below and above T
	w            float64
	factor       float64 // vigor and bath temperature
	film, wetted float64 // vapor jacket [W/m²K], and the surface below which it cannot stand [K]
}

// Law returns the law for this immersion. It shares tables that are made once
// per liquid and stir, so it is cheap.
func (im Immersion) Law() *Liquid {
	l := &Liquid{kind: im.Kind, tau: im.Tau, front: im.Front, above: im.Above, Vigor: im.Vigor, thin: im.Thin}
	if l.thin == 0 {
		l.thin = 1
	}
	if l.Vigor == 0 {
		l.Vigor = 1
	}
	switch {
	case im.Own != nil:
		l.set = tabulateBath(im.Kind, im.Stir, im.Own.boiling())
	default:
		salt := 0.0
		if im.Kind == Brine {
			if salt = im.Salt; salt == 0 {
				salt = 8
			}
		}
		l.set = curvesOf(im.Kind, im.Stir, salt, im.Wash && im.Kind.Aqueous())
	}
	l.Warm(im.T)
	return l
}

// Warm moves the law to another bath temperature [K] without allocating.
func (l *Liquid) Warm(T float64) {
	l.T = T
	s := l.set
	u := (T - s.first) / s.step
	i := min(max(int(math.Floor(u)), 0), len(s.c)-1)
	j := min(i+1, len(s.c)-1)
	l.lo, l.hi = s.c[i], s.c[j]
	l.w = min(max(u-float64(i), 0), 1)
	l.factor = l.Vigor * bathFactor(l.kind, T) / s.norm
	l.film = s.film[i]*(1-l.w) + s.film[j]*l.w
	l.wetted = s.wetted
}

// Fill implements [Law].
func (l *Liquid) Fill(q, dq []float64, f *Faces) { fill(l, q, dq, f) }

func (l *Liquid) at(f *Faces, i int, T float64) (q, dq float64) {
	rise := 1.0
	wet := math.Inf(1)
	if f.Wet != nil {
		wet = f.Wet[i]
		if wet < 0 {
			if l.above == nil {
				return 0, 0
			}
			return l.above.at(f, i, T)
		}
		if l.tau > 0 && wet < 12*l.tau {
			rise = contact(wet / l.tau)
		}
	}
	h, dh := l.lo.at(T)
	if l.w > 0 {
		h1, dh1 := l.hi.at(T)
		h += l.w * (h1 - h)
		dh += l.w * (dh1 - dh)
	}
	if l.front > 0 && T > l.wetted && h > l.film && f.Away != nil {
		// Behind the front the surface is wet; 2 mm of it is the front itself.
		m := smooth((wet*l.front-f.Away[i])/0.002 + 0.5)
		h, dh = l.film+m*(h-l.film), m*dh
	}
	k := l.factor * rise
	if l.thin != 1 && pick(f.Thick, i, 1) < ThinEdge {
		k *= l.thin
	}
	return k * h * (T - l.T), k * (h + dh*(T-l.T))
}

// contacts holds 1 − exp(−x) for x in 0..12 in steps of 1/64.
var contacts = func() (t [12*64 + 2]float64) {
	for i := range t {
		t[i] = -math.Expm1(-float64(i) / 64)
	}
	return t
}()

// contact returns 1 − exp(−x) for x in 0..12, the share of full contact after so
// many times its constant, within 3e-5: every face of a piece in a bath asks for it at every step.
func contact(x float64) float64 {
	x *= 64
	i := int(x)
	return contacts[i] + (x-float64(i))*(contacts[i+1]-contacts[i])
}

// Coefficient returns h [W/m²K] at a wetted surface of T [K].
func (l *Liquid) Coefficient(T float64) float64 {
	h, _ := l.lo.at(T)
	h1, _ := l.hi.at(T)
	return l.factor * (h + l.w*(h1-h))
}

// bathCurves holds h(Ts) tables over a uniform grid of bath temperatures; one
// table where only a factor depends on the bath.
type bathCurves struct {
	first, step float64
	c           []*curve
	film        []float64
	wetted      float64
	norm        float64 // bathFactor at the bath for which the tables hold
}

type bathKey struct {
	kind Quenchant
	stir Stir
	salt int // tenths of a percent
	wash bool
}

var bathTables struct {
	sync.Mutex
	m map[bathKey]*bathCurves
}

func curvesOf(kind Quenchant, stir Stir, salt float64, wash bool) *bathCurves {
	key := bathKey{kind, stir, int(math.Round(10 * salt)), wash}
	bathTables.Lock()
	defer bathTables.Unlock()
	if s, ok := bathTables.m[key]; ok {
		return s
	}
	if bathTables.m == nil {
		bathTables.m = map[bathKey]*bathCurves{}
	}
	var s *bathCurves
	if kind.Aqueous() {
		s = tabulateWater(stir, float64(key.salt)/10, wash)
	} else {
		s = tabulateBath(kind, stir, boilingCurves()[string(kind)])
	}
	bathTables.m[key] = s
	return s
}

const (
	hLow, hHigh = CelsiusZero, CelsiusZero + 1250 // range of the h(Ts) tables [K]
	hCells      = 250                             // of 5 K
)

func tabulateBath(kind Quenchant, stir Stir, b boiling) *bathCurves {
	if b.h == nil {
		panic("medium: no boiling curve for " + string(kind))
	}
	st := stirred[stir]
	c := tabulate(hLow, hHigh, hCells, func(T float64) float64 {
		h := b.h(T)
		// Near the peak the factor of the peak, elsewhere that of convection and film.
		near := smooth((h/b.peak - 0.3) / 0.6)
		return h * (st.conv + near*(st.peak-st.conv))
	})
	return &bathCurves{
		first: b.bath, step: 1, c: []*curve{c}, film: []float64{b.film * st.conv},
		wetted: b.peakT - 120, norm: bathFactor(kind, b.bath),
	}
}

// bathFactor is how the vigor of an oil changes with its own temperature: cold
// oil is thick, hot oil has less to give. Water carries its own tables.
// From memory of makers' curves, ±10 %.
func bathFactor(kind Quenchant, T float64) float64 {
	switch kind {
	case SlowOil, MediumOil, FastOil:
		return mineralFactor(T - CelsiusZero)
	case VegetableOil:
		return vegetableFactor(T - CelsiusZero)
	}
	return 1
}

var (
	mineralFactor   = broken([]float64{0, 20, 40, 55, 70, 90, 110, 140}, []float64{0.70, 0.88, 0.98, 1.03, 1.02, 0.97, 0.90, 0.80})
	vegetableFactor = broken([]float64{0, 20, 40, 90, 120, 160}, []float64{0.80, 0.93, 1, 1, 0.93, 0.85})
)

func broken(x, y []float64) func(float64) float64 {
	return func(t float64) float64 {
		n := len(x)
		if t <= x[0] {
			return y[0]
		}
		for i := 1; i < n; i++ {
			if t <= x[i] {
				return y[i-1] + (y[i]-y[i-1])*(t-x[i-1])/(x[i]-x[i-1])
			}
		}
		return y[n-1]
	}
}

// BathRange returns the bath temperatures [K] that the curves and factors of a
// liquid were made for. Outside of them the answer is weaker.
func BathRange(k Quenchant) (low, high float64) {
	switch k {
	case Water:
		return 5 + CelsiusZero, 60 + CelsiusZero
	case Brine:
		return 5 + CelsiusZero, 40 + CelsiusZero
	case HotOil:
		return 90 + CelsiusZero, 150 + CelsiusZero
	}
	return 20 + CelsiusZero, 110 + CelsiusZero
}
