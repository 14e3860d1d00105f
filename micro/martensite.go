package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// vanBohemenMs returns the martensite start temperature [K] for what is dissolved:
//
//	Ms = 565 − (31Mn + 13Si + 10Cr + 18Ni + 12Mo) − 600[1 − exp(−0.96C)]  °C
//
// 0.1–1.9 wt % C, ±15 K; Fe–0.8C 243 °C, 1084 218 °C. Source: vanbohemen-2012 (from memory).
func vanBohemenMs(g *steel.Composition) float64 {
	return 565 - (31*g[steel.Mn] + 13*g[steel.Si] + 10*g[steel.Cr] + 18*g[steel.Ni] + 12*g[steel.Mo]) -
		600*(1-exp(-0.96*g[steel.C])) + kelvin
}

// martensiteRate returns α of f = 1 − exp[−α(Ms − T)] [1/K]:
//
//	α = 1e-3·{27.2 − (0.14Mn + 0.21Si + 0.11Cr + 0.08Ni + 0.05Mo) − 19.8[1 − exp(−1.56C)]}
//
// Fitted together with the Ms above. Source: vanbohemen-2012 (from memory).
func martensiteRate(g *steel.Composition) float64 {
	return 1e-3 * (27.2 - (0.14*g[steel.Mn] + 0.21*g[steel.Si] + 0.11*g[steel.Cr] + 0.08*g[steel.Ni] + 0.05*g[steel.Mo]) -
		19.8*(1-exp(-1.56*g[steel.C])))
}

// grainNuclei is exp[−ln(1−f)/m] − 1 of the law for grain, f = 0.01, m = 0.05.
var grainNuclei = math.Expm1(-math.Log(0.99) / 0.05)

// grainDepth returns how far grain of d [m] lowers Ms from that of huge grain [K].
//
//	Ms = Ms⁰ − (1/b)·ln{[exp(−ln(1−f)/m) − 1]/V + 1}, V = (4/3)π(d/2)³ mm³, b = 0.2689
//
// From 50 µm: 8 µm −20 K, 20 −10, 200 +15. Source: yang-bhadeshia-2009 (from memory).
func grainDepth(d float64) float64 {
	r := d * 1e3 / 2
	return ln(grainNuclei/(4.0/3*math.Pi*r*r*r)+1) / 0.2689
}

// vanBohemenBs returns the bainite start temperature [K]:
//
//	Bs = 839 − (86Mn + 23Si + 67Cr + 33Ni + 75Mo) − 270[1 − exp(−1.33C)]  °C
//
// 0.1–1.9 wt % C. Source: vanbohemen-2012 (from memory).
func vanBohemenBs(g *steel.Composition) float64 {
	return 839 - (86*g[steel.Mn] + 23*g[steel.Si] + 67*g[steel.Cr] + 33*g[steel.Ni] + 75*g[steel.Mo]) -
		270*(1-exp(-1.33*g[steel.C])) + kelvin
}

// bainiteStart is the Bs that the bainite law counts its undercooling from: above
// 0.55 wt % C 60 K below van Bohemen's, below 0.45 Li's own 637 − 58C − 35Mn − 15Ni − 34Cr − 41Mo.
func bainiteStart(g *steel.Composition) float64 {
	li := 637 - 58*g[steel.C] - 35*g[steel.Mn] - 15*g[steel.Ni] - 34*g[steel.Cr] - 41*g[steel.Mo] + kelvin
	w := min(1, max(0, (g[steel.C]-0.45)/0.10))
	return li + w*(vanBohemenBs(g)-bainiteLower-li)
}

// prepareMs sets start and rate of martensite for austenite g with grain d [m].
// Half of the published grain effect is taken: the regression for Ms already
// stands for hardening grain of 10–30 µm.
func (m *Metal) prepareMs(c *Cells, i int, g *steel.Composition, d float64) {
	c.ms[i] = dissolvedMs(g) + (grainDepth(20e-6)-grainDepth(d))/2
	c.msRate[i] = max(0.004, martensiteRate(g))
}

// MartensiteTemperature returns Ms of the austenite of cell i [K]: what is dissolved counts.
func (m *Metal) MartensiteTemperature(c *Cells, i int) float64 {
	if c.ready[i] == 1 {
		return c.ms[i]
	}
	g := m.austenite(c, i)
	return dissolvedMs(&g) + (grainDepth(20e-6)-grainDepth(m.Grain(c, i)))/2
}

// stabilization returns how far martensite lags behind the temperature [K] in
// austenite that has rested for a time t [s]: θ₀·log10(1 + t/60), θ₀ = 5 K below 0 °C,
// 15 at 20–60, 25 at 100–150 °C, at most 100 K. Own line after harris-cohen-1949.
func stabilization(T, t float64) float64 {
	base := 5 + 0.2*max(0, T-273)
	return min(100, min(25, base)*math.Log10E*ln(1+t/60))
}

// restLost is the drop in temperature over which new martensite undoes most of a
// rest [K]: then slow cooling lags as a row of short holds does, a few kelvins at
// 0.1 K/s and 25 K at 0.01 K/s, however it is cut into steps. Over 11 K, or what is
// undone would set more free than it uses up. Own estimate.
const restLost = 15

// lagged returns the temperature [K] that counts for martensite after a step of dt [s]
// that ends at T, under the last one that counted, low, and the age [s] that is then
// left of a rest. T is already colder than low by more than the lag of all that time.
//
// Over a steady fall by d, dA/dt = 1 − A/restLost·d/dt gives
//
//	A = A₀ e^−u + dt (1 − e^−u)/u,   u = d/restLost,   d = low − T − θ(A)
//
// so that one long step lags as many short ones do. d is found by three turns and
// what they have in common: it contracts by θ₀/ln 10/restLost at most, 0.72.
func lagged(low, T, age, dt float64) (to, left float64) {
	rest := func(d float64) float64 {
		u := d / restLost
		if u < 1e-3 {
			return age*(1-u) + dt*(1-0.5*u)
		}
		e := exp(-u)
		return age*e + dt*(1-e)/u
	}
	fall := low - T
	d0 := fall - stabilization(low, age+dt)
	d1 := fall - stabilization(low, rest(d0))
	d := fall - stabilization(low, rest(d1))
	if a, b := d1-d0, d-d1; b > 0 && b < 0.8*a {
		d += b * b / (a - b)
	}
	return low - d, rest(d)
}

// formMartensite turns retained austenite into martensite as cell i passes new
// lowest temperatures, counted with the lag of its rest: f = 1 − exp[−α(Ms − T)] of what is left.
func (m *Metal) formMartensite(c *Cells, i int, T, dt float64) {
	f := &c.Fraction
	ret := f[steel.RetainedAustenite][i]
	if ret <= 1e-9 {
		return
	}
	low := c.Lowest[i]
	c.Age[i] += dt
	if T >= low {
		return
	}
	if T+stabilization(low, c.Age[i]) >= low {
		return
	}
	T, c.Age[i] = lagged(low, T, c.Age[i]-dt, dt)
	x := c.msRate[i] * (low - T)
	x /= 1 + x/2 + x*x/12 // 1 − exp(−x), within 1e-4 for x < 0.6
	if x > 0.6 {
		x = 1 - exp(-c.msRate[i]*(low-T))
	}
	df := ret * x
	c.Lowest[i] = T
	f[steel.RetainedAustenite][i] = max(0, ret-df)
	f[steel.Martensite][i] += df
	b := &c.Births[m.birthNow(c, i)]
	n := b.Fraction[i]
	keep := n / (n + df)
	b.Carbon[i] = keep*b.Carbon[i] + (1-keep)*c.RetainedCarbon[i]
	for k := range b.Rate {
		b.Rate[k][i] *= keep
	}
	c.Tempered[i] *= 1 - df/f[steel.Martensite][i]
	b.Size3[i] = keep*b.Size3[i] + (1-keep)*freshSize3
	b.Fraction[i] = n + df
}

// birthNow returns the generation that martensite formed now belongs to: a new one
// once the last has been tempered beyond what a quench does by itself.
func (m *Metal) birthNow(c *Cells, i int) int {
	last := 0
	for b := range c.Births {
		if c.Births[b].Fraction[i] > 0 {
			last = b
		}
	}
	if last < numBirths-1 && c.Births[last].Fraction[i] > 0 && c.Births[last].Rate[relaxed][i] > 0.1 {
		return last + 1
	}
	return last
}
