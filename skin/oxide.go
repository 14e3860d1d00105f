package skin

import "math"

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
