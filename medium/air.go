package medium

import "math"

// Orientation says how a piece hangs or lies in the air, which decides the
// length that natural convection sees.
type Orientation int

// The ways a piece is held.
const (
	Upright Orientation = iota // a plate or blade on edge or hung: height = vertical extent
	Lying                      // a bar on its side: height = diameter of the equal round
)

// Air is the law of a piece in air and in the sight of surroundings of one
// temperature: natural convection, with or without a stream of air, and
// radiation. Make one with [StillAir] or [MovingAir].
type Air struct {
	T      float64 // air [K]
	Around float64 // what the piece radiates to [K]
	conv   *curve  // convection [W/m²K] over surface temperature
}

// Fill implements [Law].
func (a *Air) Fill(q, dq []float64, f *Faces) { fill(a, q, dq, f) }

func (a *Air) at(f *Faces, i int, T float64) (q, dq float64) {
	h, dh := a.conv.at(T)
	r, dr := radiation(f.eps(i), T, a.Around)
	return h*(T-a.T) + r, h + dh*(T-a.T) + dr
}

// radiation returns ε σ (T⁴ − Tw⁴) and its derivative: a small body in large surroundings.
func radiation(eps, T, Tw float64) (q, dq float64) {
	t2, w2 := T*T, Tw*Tw
	e := eps * Sigma
	return e * (t2*t2 - w2*w2), 4 * e * t2 * T
}

// StillAir returns the law of a piece held still in a room at T [K]. height is
// the vertical extent of the piece, or its diameter when it is lying [m].
//
// Convection within ±10 % (spread of the correlation's data, from memory);
// above 500 °C nine tenths of the loss is radiation, so the emissivity rules.
//
// Source: churchill-chu-1975; churchill-chu-1975b.
func StillAir(T, height float64, o Orientation) *Air { return MovingAir(T, height, o, 0) }

// MovingAir is [StillAir] with air passing at speed v [m/s]: a hand wave 1–2,
// a fan 3–6, an air nozzle at 100 mm 30–60.
//
//	Nu³ = Nu_natural³ + Nu_forced³
//
// Forced: cylinder in cross flow (churchill-bernstein-1977), plate along the
// flow 0.664 Re^½ Pr^⅓, times 1.5 for what the edge stirs up (our own factor).
func MovingAir(T, height float64, o Orientation, v float64) *Air {
	if height <= 0 {
		height = 0.025
	}
	return &Air{T: T, Around: T, conv: tabulate(240, 1840, 64, func(Ts float64) float64 {
		return convection(Ts, T, height, o, v)
	})}
}

// gas returns conductivity [W/mK] and kinematic viscosity [m²/s] of air at the
// film temperature [K], ±3 % from 250 to 1300 K. From memory of the usual tables.
func gas(film float64) (k, nu float64) {
	r := film / 273.15
	return 0.0241 * math.Pow(r, 0.81), 13.3e-6 * math.Pow(r, 1.76)
}

const prandtl = 0.70 // of air

// convection returns h [W/m²K].
func convection(Ts, Ta, L float64, o Orientation, v float64) float64 {
	film := 0.5 * (Ts + Ta)
	k, nu := gas(film)
	ra := 9.81 * math.Abs(Ts-Ta) * L * L * L / (film * nu * nu) * prandtl
	nat := naturalNu(ra, o)
	if v <= 0 {
		return nat * k / L
	}
	forced := forcedNu(v*L/nu, o)
	return math.Cbrt(nat*nat*nat+forced*forced*forced) * k / L
}

// naturalNu is the Nusselt number of natural convection.
//
// Upright, Ra < 1e9:  0.68 + 0.670 Ra^¼ / [1 + (0.492/Pr)^(9/16)]^(4/9), and above
// {0.825 + 0.387 Ra^(1/6) / [1 + (0.492/Pr)^(9/16)]^(8/27)}²
// Lying:  {0.60 + 0.387 Ra^(1/6) / [1 + (0.559/Pr)^(9/16)]^(8/27)}²
//
// Source: churchill-chu-1975 (plate), churchill-chu-1975b (cylinder).
func naturalNu(ra float64, o Orientation) float64 {
	if o == Lying {
		n := 0.60 + 0.387*math.Pow(ra, 1./6)/math.Pow(1+math.Pow(0.559/prandtl, 9./16), 8./27)
		return n * n
	}
	psi := 1 + math.Pow(0.492/prandtl, 9./16)
	if ra < 1e9 {
		return 0.68 + 0.670*math.Pow(ra, 0.25)/math.Pow(psi, 4./9)
	}
	n := 0.825 + 0.387*math.Pow(ra, 1./6)/math.Pow(psi, 8./27)
	return n * n
}

func forcedNu(re float64, o Orientation) float64 {
	if o == Upright {
		return 1.5 * 0.664 * math.Sqrt(re) * math.Cbrt(prandtl)
	}
	return 0.3 + 0.62*math.Sqrt(re)*math.Cbrt(prandtl)/
		math.Pow(1+math.Pow(0.4/prandtl, 2./3), 0.25)*
		math.Pow(1+math.Pow(re/282000, 5./8), 4./5)
}

// Convection returns the coefficient of natural or moved air alone [W/m²K], as
// the laws above use it.
func Convection(surface, air, height float64, o Orientation, speed float64) float64 {
	return convection(surface, air, height, o, speed)
}
