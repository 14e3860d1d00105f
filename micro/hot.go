package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// diffusivity returns that of carbon in austenite [m²/s].
//
//	D = 4.53e-7·[1 + y(1−y)·8339.9/T]·exp[−(1/T − 2.221e-4)(17767 − 26436·y)], y = x/(1−x)
//
// with x the mole fraction of carbon, 700–1250 °C, 0–2 wt % C; three published
// lines agree with it to ±15 %. Source: agren-1986 (from memory).
func diffusivity(c, T float64) float64 {
	x := (c / 12.011) / (c/12.011 + (100-c)/55.845)
	y := x / (1 - x)
	return 4.53e-7 * (1 + y*(1-y)*8339.9/T) * math.Exp(-(1/T-2.221e-4)*(17767-26436*y))
}

// dissolution returns time constant [s] and activation energy [J/mol] for
// spheroids of 1 µm radius at 800 °C. Between the named steels the logarithm is
// linear in chromium and manganese; carbides that hold alloy dissolve as slowly
// as the alloy diffuses, and the energy rises to that of chromium in austenite.
//
//	plain 90 s at 0.5 µm, 800 °C, 170 kJ · O1 type 400 s at 0.4 µm, 220 kJ · 52100 1000 s at 0.35 µm, 845 °C, 286 kJ
//
// Factor 2; held against the retained austenite of 52100. Own calibration; that
// the interface and not carbon diffusion sets the pace: molinder-1956 (abstract).
func dissolution(comp *steel.Composition) (tau, energy float64) {
	slow := min(1.6, comp[steel.Cr]+0.25*comp[steel.Mn]+0.4*comp[steel.W]) // O1 ≈ 1.0, 52100 ≈ 1.6, W1 ≈ 0.15
	slow = max(0, slow-0.15)
	energy = 170e3 + min(116e3, 60e3*slow)
	tau = dissolveTime / (dissolveRadius * dissolveRadius) * math.Exp(2.24*slow)
	return tau, energy
}

// pinDiameter is the largest grain that carbide lets grow [µm], Nishizawa's form
// (8/3)·r/f^(2/3) (from memory); without carbide it does not bind.
func pinDiameter(r, f float64) float64 {
	if f < 1e-4 {
		return math.Inf(1)
	}
	return 8.0 / 3 * r / cubeRoot.at(f*f)
}

// grainRate returns A^4.739 of d = A·t^0.211 [µm, s], so that d^4.739 grows at this rate.
//
//	A = 76671·exp[−(89098 + 3581C + 1211Ni + 1443Cr + 4031Mo)/RT]
//
// 850–1100 °C, ±20 % of d for 16 low-alloy steels. Source: lee-lee-2008
// (scope seen in abstract, coefficients from memory).
func grainRate(comp *steel.Composition, T float64) float64 {
	q := 89098 + 3581*comp[steel.C] + 1211*comp[steel.Ni] + 1443*comp[steel.Cr] + 4031*comp[steel.Mo]
	return math.Pow(76671*math.Exp(-q/(gasR*T)), 1/0.211)
}

func (m *Metal) fillHot() {
	tau, q := dissolution(&m.comp)
	for i := range m.hot {
		T := tableT(i)
		r := &m.hot[i]
		if T < m.ae1-20 {
			continue
		}
		if dT := T - m.ae1; dT > 0 {
			r.change = math.Cbrt(math.Ln2) * math.Pow(dT/20, 2.5)
		}
		r.dissolve = 1 / (tau * math.Exp(q/gasR*(1/T-1/dissolveT)))
		r.carbon = m.limits.CarbideSide(T)
		r.line = m.ferriteLine(T)
		if T < m.ae1End {
			r.ferrite = 1
			if span := m.ae1End - m.ae1; span > 1 { // with much vanadium it goes all at once
				r.ferrite = (m.ae1End - T) / span
			}
		}
		// Free ferrite goes as carbon crosses half a ferrite grain of 10 µm: t95 = 0.3·L²/D.
		r.loosen = 10 * diffusivity(min(m.comp[steel.C], 0.8), T) * 1e12 / 100
		r.grain = grainRate(&m.comp, T)
		d := m.limits.Dissolved(T)
		for k, e := range alloyElement {
			r.alloy[k] = min(m.comp[e], d[e])
		}
	}
	// Share of an element already in the austenite of spheroidized stock (own calibration, ±0.15).
	m.partition = [numAlloy]float64{alloyMn: 0.85, alloyCr: 0.6, alloyMo: 0.5, alloyV: 0.1, alloyW: 0.4}
	if m.hypo {
		m.partition = [numAlloy]float64{alloyMn: 0.95, alloyCr: 0.85, alloyMo: 0.8, alloyV: 0.3, alloyW: 0.6}
	}
}

// heat advances cell i of c at T above Ae1: change to austenite, dissolution, grain.
func (m *Metal) heat(c *Cells, i int, T, dt float64) {
	k, w := at(T)
	a, b := &m.hot[k], &m.hot[k+1]
	f := &c.Fraction
	aus := f[steel.Austenite][i]
	if f[steel.RetainedAustenite][i] > 0 {
		m.adoptRetained(c, i)
		aus = f[steel.Austenite][i]
	}
	if aus < 1-1e-9 {
		rest := 1 - aus - f[steel.Carbide][i]
		if rest > 1e-6 {
			all, had, matrix := m.alloyOf(c, i), c.inSolution(i), c.matrix(i)
			before := c.surface[i]
			m.changeToAustenite(c, i, a, b, w, dt)
			for _, e := range m.follow { // what the carbide that went has brought
				all[e] -= had[e]*matrix + c.bound(i, e)
			}
			m.dissolveAlloy(c, i, &all, &had, matrix, a, 0)
			// What is new of austenite and of carbide has been there for half of the step.
			if now := f[steel.Austenite][i]; now > 0 {
				c.surface[i] = fineness(c, i)
				half := 0.5 * (c.surface[i] - before + c.surface[i]*(now-aus)/now)
				c.dissolving[i] -= (a.dissolve + w*(b.dissolve-a.dissolve)) * half * dt
			}
		} else if f[steel.Ferrite][i]+f[steel.Pearlite][i]+f[steel.Bainite][i]+f[steel.Martensite][i] > 0 {
			all := m.alloyOf(c, i)
			m.finishChange(c, i)
			m.settleAlloy(c, i, &all)
		}
		m.dissolve(c, i, a, b, w, dt)
	}
	m.growGrain(c, i, a, b, w, dt)
	c.ready[i] = 0
}

// finishChange turns the last millionth of everything but carbide into austenite.
func (m *Metal) finishChange(c *Cells, i int) {
	f := &c.Fraction
	m.addAustenite(c, i, f[steel.Ferrite][i], 0)
	m.addAustenite(c, i, f[steel.Pearlite][i], c.PearliteCarbon[i])
	m.addAustenite(c, i, f[steel.Bainite][i], c.BainiteCarbon[i])
	for b := range c.Births {
		m.addAustenite(c, i, c.Births[b].Fraction[i], c.Births[b].Carbon[i])
		c.Births[b].Fraction[i] = 0
	}
	f[steel.Ferrite][i], f[steel.Pearlite][i], f[steel.Bainite][i], f[steel.Martensite][i] = 0, 0, 0, 0
}

// adoptRetained lets retained austenite go on as austenite, mixing its carbon in.
func (m *Metal) adoptRetained(c *Cells, i int) {
	f := &c.Fraction
	r := f[steel.RetainedAustenite][i]
	m.addAustenite(c, i, r, c.RetainedCarbon[i])
	f[steel.RetainedAustenite][i] = 0
}

// addAustenite adds df of austenite with carbon cc.
func (m *Metal) addAustenite(c *Cells, i int, df, cc float64) {
	f := &c.Fraction
	old := f[steel.Austenite][i]
	now := old + df
	if now <= 0 {
		return
	}
	c.Carbon[i] = (old*c.Carbon[i] + df*cc) / now
	f[steel.Austenite][i] = now
}

// changeToAustenite turns pearlite, bainite, martensite and ferrite with carbide
// into austenite of at most 0.57 wt % C; what carbon they held beyond that stays
// as carbide. Fine structures and spheroidite each follow Avrami's law with
// exponent 3 and t50 = t20·(20 K/ΔT)^2.5.
func (m *Metal) changeToAustenite(c *Cells, i int, a, b *hotRates, w, dt float64) {
	f := &c.Fraction
	rate := a.change + w*(b.change-a.change)
	if rate <= 0 {
		return
	}
	if c.frontFine[i] == 0 && c.frontSoft[i] == 0 && f[steel.Austenite][i] < 0.5 {
		m.newGrain(c, i)
	}
	stay := m.ferriteLeft(c, i, a, b, w)
	x0 := cubicSigmoid.at(c.frontFine[i])
	c.frontFine[i] = min(cubicSigmoid.end, c.frontFine[i]+rate/halfFine*dt)
	if x0 < 1 {
		m.changeFine(c, i, (cubicSigmoid.at(c.frontFine[i])-x0)/(1-x0), stay)
	} else { // what a lower temperature had left
		x := rate / halfFine * dt
		m.changeFine(c, i, x/(1+x), stay)
	}
	fer := f[steel.Ferrite][i]
	if fer <= 0 {
		return
	}
	// Ferrite with carbide beside it.
	carb := f[steel.Carbide][i]
	x0 = cubicSigmoid.at(c.frontSoft[i])
	half := m.softTime
	if c.Carbides[0].Mass[i] > 0.5*carb {
		half = halfFine * 3
	}
	c.frontSoft[i] = min(cubicSigmoid.end, c.frontSoft[i]+rate/half*dt)
	room := fer - stay
	if room <= 0 {
		return
	}
	if carb > 1e-6 && x0 < 1 {
		df := room * (cubicSigmoid.at(c.frontSoft[i]) - x0) / (1 - x0)
		cc := min(molinderC, a.carbon, m.carbonOf(c, i))
		need := df * cc / (carbideC - cc)
		if need > carb {
			df *= carb / need
			need = carb
		}
		f[steel.Ferrite][i] = max(0, fer-df)
		m.takeCarbide(c, i, need)
		m.addAustenite(c, i, df+need, df2carbon(df, need))
		return
	}
	if f[steel.Austenite][i] <= 0 {
		return
	}
	// Free ferrite: carbon has to come from the austenite.
	loosen := a.loosen + w*(b.loosen-a.loosen)
	df := room * loosen * dt / (1 + loosen*dt)
	df = min(df, fer)
	f[steel.Ferrite][i] = fer - df
	m.addAustenite(c, i, df, 0)
}

// df2carbon returns the carbon of austenite made of df ferrite and need carbide.
func df2carbon(df, need float64) float64 { return need * carbideC / (df + need) }

// changeFine turns a share of pearlite, bainite and martensite into austenite.
func (m *Metal) changeFine(c *Cells, i int, share, stay float64) {
	f := &c.Fraction
	fine := f[steel.Pearlite][i] + f[steel.Bainite][i] + f[steel.Martensite][i]
	if fine <= 0 {
		return
	}
	// At equilibrium some of it stays ferrite: what there is of free ferrite counts first.
	if stay -= f[steel.Ferrite][i]; stay > 0 {
		share *= max(0, 1-stay/fine)
	}
	if df := share * f[steel.Pearlite][i]; df > 0 {
		f[steel.Pearlite][i] = max(0, f[steel.Pearlite][i]-df)
		m.fromFine(c, i, df, c.PearliteCarbon[i], 0.07, func(e int) float64 { return c.LamellaAlloy[e][i] })
	}
	if df := share * f[steel.Bainite][i]; df > 0 {
		f[steel.Bainite][i] = max(0, f[steel.Bainite][i]-df)
		m.fromFine(c, i, df, c.BainiteCarbon[i], 0.05, c.own(i))
	}
	for b := range c.Births {
		birth := &c.Births[b]
		if df := share * birth.Fraction[i]; df > 0 {
			birth.Fraction[i] = max(0, birth.Fraction[i]-df)
			f[steel.Martensite][i] = max(0, f[steel.Martensite][i]-df)
			m.fromFine(c, i, df, birth.Carbon[i], max(0.05, cubeRoot.at(birth.Size3[i])), c.own(i))
		}
	}
}

// fromFine adds austenite made of df of a fine structure with carbon cc; carbon
// beyond 0.57 wt % is left as fine carbide of radius r [µm] and so much of each element [wt %].
func (m *Metal) fromFine(c *Cells, i int, df, cc, r float64, content func(e int) float64) {
	if cc <= molinderC {
		m.addAustenite(c, i, df, cc)
		return
	}
	left := df * (cc - molinderC) / (carbideC - molinderC)
	m.addAustenite(c, i, df-left, molinderC)
	m.addFine(c, i, left, r, content)
}

// takeCarbide removes mass from the classes, each by the share of its surface
// (mass over radius), and from the film by its share of mass.
func (m *Metal) takeCarbide(c *Cells, i int, mass float64) {
	f := &c.Fraction
	total := f[steel.Carbide][i]
	if mass >= total {
		for k := range c.Carbides {
			c.Carbides[k].Mass[i] = 0
		}
		c.Film[i], f[steel.Carbide][i] = 0, 0
		return
	}
	// dm/ds = −m/r of each, so m e^(−s/r) is left; s by Newton steps, which come from below.
	var thin, have, loss [numClasses + 1]float64
	surface := 0.0
	for k := range c.Carbides {
		if cl := &c.Carbides[k]; cl.Mass[i] > 0 && cl.Radius[i] > 0 {
			have[k], thin[k] = cl.Mass[i], 1/cl.Radius[i]
			surface += have[k] * thin[k]
		}
	}
	have[numClasses], thin[numClasses] = c.Film[i], 1/0.5
	if surface += c.Film[i] * (1 / 0.5); surface <= 0 {
		return
	}
	turns := 0
	switch {
	case mass > 0.2*total:
		turns = 3
	case mass > 0.005*total:
		turns = 1
	}
	lost := 0.0
	for n, s := 0, mass/surface; ; n++ {
		sum, slope := 0.0, 0.0
		for k, m := range have {
			if m > 0 {
				loss[k] = m * taken(s*thin[k])
				sum += loss[k]
				slope += (m - loss[k]) * thin[k]
			}
		}
		if lost = sum; n == turns {
			break
		}
		if !(slope > 0) {
			break
		}
		s += (mass - sum) / slope
	}
	if !(total-lost > 1e-9*total) { // nearly all of it
		clear(loss[:])
		lost = 0
	}
	even := 1 - (mass-lost)/(total-lost) // what the steps leave to be taken
	for k := range c.Carbides {
		cl := &c.Carbides[k]
		cl.Mass[i] = (cl.Mass[i] - loss[k]) * even
	}
	c.Film[i] = (c.Film[i] - loss[numClasses]) * even
	m.sumCarbide(c, i)
}

// taken returns 1 − exp(−x) for x ≥ 0, also where it is tiny.
func taken(x float64) float64 {
	if x < 0.01 {
		return x * (1 - x*(0.5-x/6))
	}
	return 1 - exp(-x)
}

// sumCarbide restores the total of the classes.
func (m *Metal) sumCarbide(c *Cells, i int) {
	sum := c.Film[i]
	for k := range c.Carbides {
		sum += c.Carbides[k].Mass[i]
	}
	c.Fraction[steel.Carbide][i] = sum
}

// dissolve lets the austenite take up carbon and alloy from carbide:
//
//	dC/dt = (C_eq − C)·Σ w_k/τ_k, τ_k = τ(T)·r_k²
//
// with w_k the share of class k in the carbide left, so that fine carbide goes
// first. Elements follow with the same time constant to their own equilibrium.
func (m *Metal) dissolve(c *Cells, i int, a, b *hotRates, w, dt float64) {
	f := &c.Fraction
	total, aus := f[steel.Carbide][i], f[steel.Austenite][i]
	if total < 1e-9 || aus <= 0 {
		return
	}
	rate := a.dissolve + w*(b.dissolve-a.dissolve)
	// A small uptake is added to the next: a tenth of a percent is near enough to exact.
	c.dissolving[i] += rate * c.surface[i] * dt
	if x := c.dissolving[i]; x > 0 && x < 0.001 {
		return
	}
	whole := m.carbonOf(c, i)
	ceq := min(whole, a.carbon+w*(b.carbon-a.carbon))
	if c.Carbon[i] > ceq-1e-5 && c.Alloy[alloyMn][i] > 0.999*a.alloy[alloyMn] && c.Alloy[alloyCr][i] > 0.999*a.alloy[alloyCr] && c.Alloy[alloyMo][i] > 0.999*a.alloy[alloyMo] {
		c.dissolving[i] = 0
		return // it holds what it can
	}
	var fine, speed [numClasses + 1]float64
	sum, share := 0.0, 1/total
	for k := range c.Carbides {
		cl := &c.Carbides[k]
		if cl.Mass[i] > 0 {
			fine[k] = 1 / (cl.Radius[i] * cl.Radius[i])
			speed[k] = cl.Mass[i] * fine[k] * share
			sum += speed[k]
		}
	}
	fine[numClasses] = 1 / (0.5 * 0.5)
	speed[numClasses] = c.Film[i] * fine[numClasses] * share
	sum += speed[numClasses]
	x := c.dissolving[i]
	if x == 0 {
		x = rate * sum * dt
	}
	c.dissolving[i], c.surface[i] = 0, sum
	x = gone(x)
	before, matrix := c.inSolution(i), c.matrix(i)
	var gave alloys
	if dC := (ceq - c.Carbon[i]) * x; dC > 0 {
		// aus·C + d·6.67 = (aus + d)(C + dC)
		d := aus * dC / (carbideC - c.Carbon[i] - dC)
		if d > total {
			d = total
		}
		// The fine ones go first and leave the coarse, which are slower: each size loses
		// its own share, and the pace of the step is the mean of that before it and of that after it.
		share = d / sum
		var loss [numClasses + 1]float64
		lost, after := 0.0, 0.0
		for k := range c.Carbides {
			if mass := c.Carbides[k].Mass[i]; mass > 0 {
				loss[k] = mass * gone(share*speed[k]/mass)
				lost += loss[k]
				after += (mass - loss[k]) * fine[k]
			}
		}
		if film := c.Film[i]; film > 0 {
			loss[numClasses] = film * gone(share*speed[numClasses]/film)
			lost += loss[numClasses]
			after += (film - loss[numClasses]) * fine[numClasses]
		}
		if lost < total {
			after /= total - lost
			c.surface[i] = after
			d *= min(1, 0.5*(1+after/sum))
		}
		taken, even := 0.0, d/lost
		for k := range c.Carbides {
			cl := &c.Carbides[k]
			t := min(cl.Mass[i], loss[k]*even)
			cl.Mass[i] -= t
			for _, e := range m.follow {
				gave[e] += t * cl.Alloy[e][i]
			}
			taken += t
		}
		t := min(c.Film[i], loss[numClasses]*even)
		c.Film[i] -= t
		for _, e := range m.follow {
			gave[e] += t * c.FilmAlloy[e][i]
		}
		taken += t
		c.Carbon[i] = (aus*c.Carbon[i] + taken*carbideC) / (aus + taken)
		f[steel.Austenite][i] += taken
		m.sumCarbide(c, i)
		// The last trace, where all can dissolve and there is austenite enough to take it.
		if left := f[steel.Carbide][i]; left < 0.01*f[steel.Austenite][i] && (left < 1e-7 || left < 3e-5 && ceq > whole-1e-4) {
			for _, e := range m.follow {
				gave[e] += c.held(i, e)
			}
			m.finishCarbide(c, i)
		}
	}
	m.dissolveAlloy(c, i, &gave, &before, matrix, a, x)
}

// fineness returns the mean of 1/r² of the carbide in cell i [1/µm²].
func fineness(c *Cells, i int) float64 {
	sum := c.Film[i] * (1 / (0.5 * 0.5))
	for k := range c.Carbides {
		if cl := &c.Carbides[k]; cl.Mass[i] > 0 {
			sum += cl.Mass[i] / (cl.Radius[i] * cl.Radius[i])
		}
	}
	return sum / max(c.Fraction[steel.Carbide][i], 1e-9)
}

// gone returns 1 − exp(−x) for x ≥ 0, to second order.
func gone(x float64) float64 {
	x += 0.5 * x * x
	return x / (1 + x)
}

// finishCarbide dissolves what is left at once.
func (m *Metal) finishCarbide(c *Cells, i int) {
	f := &c.Fraction
	aus, d := f[steel.Austenite][i], f[steel.Carbide][i]
	c.Carbon[i] = (aus*c.Carbon[i] + d*carbideC) / (aus + d)
	f[steel.Austenite][i] += d
	for k := range c.Carbides {
		c.Carbides[k].Mass[i] = 0
	}
	c.Film[i], f[steel.Carbide][i] = 0, 0
}

// newGrain sets the austenite grain when the first austenite of a heating appears:
//
//	d = (d_old·ℓ²)^(1/3)
//
// with ℓ the path between nucleation sites of the structure it grows from. Our
// own rule, shaped on cycling practice: 200 µm with ℓ = 8 µm → 23, 11, 9, 8.
func (m *Metal) newGrain(c *Cells, i int) {
	f := &c.Fraction
	path := func(x, l float64) float64 { return x * ln(l) }
	fine := f[steel.Pearlite][i]
	l := pathPearlite
	if fine > 0 { // finer where it is fine: 8 µm at λ = 0.19 µm, air-cooled; 15 at most, furnace-cooled
		l = min(pathCoarse, 5+16*spacingPower.at(c.PearliteFineness[i]))
	}
	mart := f[steel.Martensite][i] + f[steel.Bainite][i]
	fer := f[steel.Ferrite][i]
	sum := fine + mart + fer
	if sum <= 0 {
		return
	}
	ferPath := pathSpheroid
	if f[steel.Carbide][i] < 0.02 {
		ferPath = 12
	}
	mean := exp((path(fine, l) + path(mart, pathMartensite) + path(fer, ferPath)) / sum)
	d := cubeRoot.at(m.Grain(c, i) * 1e6 * mean * mean)
	c.Grain4[i] = grainUp.at(d)
	c.Growing[i] = 0
	c.Strain[i] = 0
}

// Grain returns the austenite grain size of cell i [m].
func (m *Metal) Grain(c *Cells, i int) float64 { return grainPower.at(c.Grain4[i]) * 1e-6 }

// growGrain lets the grain grow: dd/dt of d = A·t^0.211 times (1 − d/d_pin). The
// power is taken only when growth has added up to 10 % of d^4.739, which is 2 % of d.
func (m *Metal) growGrain(c *Cells, i int, a, b *hotRates, w, dt float64) {
	c.Growing[i] += (a.grain + w*(b.grain-a.grain)) * dt
	if c.Growing[i] < 0.1*c.Grain4[i] {
		return
	}
	d := grainPower.at(c.Grain4[i])
	var mass, per float64
	for k := range c.Carbides {
		cl := &c.Carbides[k]
		mass += cl.Mass[i]
		per += cl.Mass[i] / max(0.01, cl.Radius[i])
	}
	if mass > 1e-6 {
		pin := pinDiameter(mass/per, mass)
		c.Growing[i] *= max(0, 1-d/pin)
	}
	if c.Fraction[steel.Ferrite][i] > 0.02 {
		c.Growing[i] = 0
	}
	// A large step in an unpinned grain is taken whole; d^4.739 adds exactly.
	c.Grain4[i] += c.Growing[i]
	c.Growing[i] = 0
}
