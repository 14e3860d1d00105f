package medium

import "math"

// tabulateWater makes the h(Ts) tables of water or brine for baths of 0 to 90 °C.
//
// Two curves of still water, 20 and 60 °C, are joined by moving each level of
// the falling branch along the temperature axis, so that the collapse of the
// vapor jacket moves with the bath (6 to 8 K for each kelvin above 30 °C, from
// memory) instead of growing a shoulder. Salt breaks the jacket up; its curve is
// mixed in by the logarithm of h up to 10 %.
func tabulateWater(stir Stir, salt float64, wash bool) *bathCurves {
	s := &bathCurves{first: CelsiusZero, step: 10, norm: 1}
	brine := boilingCurves()["brine"]
	share := smooth(salt / 10)
	st := stirred[stir]
	raise := st.collapse
	if wash {
		raise += washRaise
	}
	for k := range 10 {
		bath := CelsiusZero + 10*float64(k)
		plain, film := waterAt(bath, st.waterFilm, raise)
		warm := max(1-0.004*(bath-CelsiusZero-20), 0.6)
		h := func(T float64) float64 {
			if share == 0 {
				return plain(T)
			}
			return math.Exp((1-share)*math.Log(plain(T)) + share*math.Log(brine.h(T)*warm))
		}
		s.c = append(s.c, tabulate(hLow, hHigh, hCells, h))
		s.film = append(s.film, film)
	}
	s.wetted = 110 + CelsiusZero
	return s
}

// washRaise is how much hotter a surface under a thin coat of clay may be when the vapor
// jacket breaks up [K]; from memory, ±50 K.
const washRaise = 100

// waterAt returns h(Ts) of water at a bath temperature [K] and its vapor film
// coefficient, the film multiplied and the collapse raised by stirring.
func waterAt(bath, filmFactor, raise float64) (h func(float64) float64, film float64) {
	all := boilingCurves()
	cold, warm := all["water 20"], all["water 60"]
	w := (bath - cold.bath) / (warm.bath - cold.bath)
	mix := func(a, b float64) float64 { return a + w*(b-a) }
	film = filmFactor * max(math.Exp(mix(math.Log(cold.film), math.Log(warm.film))), 250)
	peak := max(mix(cold.peak, warm.peak), 4000)
	peakT := max(mix(cold.peakT, warm.peakT), 150+CelsiusZero)

	// The falling branch, level by level from the peak down to the film.
	const levels = 40
	x := make([]float64, 0, levels+1)
	y := make([]float64, 0, levels+1)
	for i := range levels + 1 {
		part := 1 - float64(i)/levels
		part *= part // closer levels near the film
		T := mix(cold.falling(part), warm.falling(part)) + raise*(1-part)
		if n := len(x); n > 0 && T < x[n-1]+0.5 {
			T = x[n-1] + 0.5
		} else if n == 0 {
			T = peakT
		}
		x, y = append(x, T), append(y, film+part*(peak-film))
	}
	fall := shaped(x, y)
	boil := 100 + CelsiusZero
	return func(T float64) float64 {
		if T >= peakT {
			return fall(T)
		}
		stretch := func(b boiling) float64 {
			if T <= boil {
				return b.h(T) / b.peak
			}
			return b.h(boil+(T-boil)*(b.peakT-boil)/(peakT-boil)) / b.peak
		}
		return peak * max(mix(stretch(cold), stretch(warm)), 0.02)
	}, film
}

// falling returns the surface temperature [K] above the peak at which the curve
// stands at film + part·(peak − film).
func (b boiling) falling(part float64) float64 {
	level := b.film + part*(b.peak-b.film)
	lo, hi := b.peakT, b.top
	for range 50 {
		if mid := 0.5 * (lo + hi); b.h(mid) > level {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}
