package skin

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

const (
	firstOxide = 2.5e-9 // oxide that a bright surface wears in air [m]
	millScale  = 10e-6  // oxide of a bar as rolled [m]
	thick      = 0.5e-6 // above this the fourth-power law no longer counts [m]
)

// grow returns the oxide thickness after dt [s] at constant rates,
//
//	dx/dt = k4/(4x³) + 1/(2x/kp + 1/kl)
//
// from the exact solutions of both terms in turn (half, whole, half: second order
// in dt). kl [m/s] is the most that the gas supplies; +Inf for air.
func grow(x, k4, kp, kl, dt float64) float64 {
	if x > thick || k4 == 0 {
		return parabola(x, kp, kl, dt)
	}
	x2 := x * x
	if kp*dt < 0.02*x2 && math.IsInf(kl, 1) { // tempering: the second term is a small correction
		x = math.Sqrt(math.Sqrt(x2*x2 + k4*dt))
		return x + 0.5*kp*dt/x
	}
	// Where both terms would change x much in one step, take it in parts.
	n := int(min(16, 1+4*min(kp*dt/x2, k4*dt/(x2*x2))))
	dt /= float64(n)
	x = parabola(x, kp, kl, dt/2)
	for range n - 1 {
		x2 = x * x
		x = parabola(math.Sqrt(math.Sqrt(x2*x2+k4*dt)), kp, kl, dt)
	}
	x2 = x * x
	return parabola(math.Sqrt(math.Sqrt(x2*x2+k4*dt)), kp, kl, dt/2)
}

// parabola solves x²/kp + x/kl = t + const.
func parabola(x, kp, kl, dt float64) float64 {
	if kp <= 0 || kl <= 0 {
		return x
	}
	if math.IsInf(kl, 1) {
		return math.Sqrt(x*x + kp*dt)
	}
	b := kp / kl
	c := x*x + b*x + kp*dt
	return 2 * c / (b + math.Sqrt(b*b+4*c))
}

// FilmAfter returns the oxide [nm] on a clean surface of this steel after so many
// seconds of air at T [K].
func FilmAfter(c steel.Composition, T, seconds float64) float64 {
	const parts = 40
	k4, kp := filmRate(T-alloyShift(c)), scaleRate(T, c)
	x, done := firstOxide, 0.0
	for i := 1; i <= parts; i++ { // parts even in the logarithm of time
		until := seconds * math.Pow(10, 6*(float64(i)/parts-1))
		x = grow(x, k4, kp, math.Inf(1), until-done)
		done = until
	}
	return x * 1e9
}

// FilmTemperature returns the temperature [K] at which air gives a clean surface
// of this steel an oxide of nm in so many seconds, between 60 and 700 °C.
func FilmTemperature(c steel.Composition, nm, seconds float64) float64 {
	lo, hi := 60+kelvin, 700+kelvin
	for range 50 {
		mid := (lo + hi) / 2
		if FilmAfter(c, mid, seconds) < nm {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
