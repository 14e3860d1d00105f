package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Austenite under its limits goes to ferrite, pearlite, bainite and cementite. What drives
// each is computed from the thermodynamic database for the austenite's own carbon
// and the share of the alloy that it holds (forces.go). Ferrite and pearlite grow as carbon
// crosses the austenite, and alloy drags both by the multiplying factors of the
// hardenability standard: four constants were fitted for the two (kinetics.go).
// Times are good to a factor of 2–3.

// drag returns how much slower alloy makes ferrite and pearlite, to the power that is
// fitted:
//
//	Π f², f the multiplying factors of Mn, Si, Ni, Cr, Mo, Cu and V
//
// for a critical diameter goes with the root of the time that the change takes; so
// the power is near 1. Of what is dissolved. Chromium and molybdenum are carried on
// straight beyond the range of the standard, to 5 % and 1.5 %, for want of better.
// Source: astm-a255.
func drag(g *steel.Composition) float64 {
	d := (1 + 2.16*g[steel.Cr]) * (1 + 3*g[steel.Mo])
	for _, e := range []steel.Element{steel.Mn, steel.Si, steel.Ni, steel.Cu, steel.V} {
		d *= a255Factor(e, g[e])
	}
	return d * d
}

// ferriteFactor returns the rate of ferrite over D·(C_γα − C)²/(C_γα·C), the square of the
// rate constant of a plate that carbon has to leave, D in µm²/s (zener-1949, from memory):
//
//	exp(Ferrite)·2^(0.41(G − 8))/Drag
//
// with the sigmoid and the grain of li-1998 (from memory).
func (k *kinetics) ferriteFactor(drag, grain float64) float64 {
	return exp(k.Ferrite-k.Drag*drag) * exp2(0.41*(grain-8))
}

// pearliteFactor returns the rate of pearlite over pearliteRate:
//
//	exp[Pearlite − 4.12(C − 0.8) − Pair·Mo·Ni]·2^((G − 8)/8)/Drag, C to 0.9 wt %
//
// The slope with carbon is that of li-1998, the root of grain that of nucleation on
// boundaries before they are all taken (cahn-1956), both from memory; that molybdenum and
// nickel slow it more together than apart, kirkaldy-1984 (from memory).
func (k *kinetics) pearliteFactor(g *steel.Composition, drag, grain float64) float64 {
	return exp(k.Pearlite-k.Drag*drag-4.12*(min(g[steel.C], 0.9)-0.8)-k.Pair*g[steel.Mo]*g[steel.Ni]) * exp2((grain-8)/8)
}

// pearliteRate returns the rate of growth of pearlite to a factor, its nucleation
// included: carbon crosses from ferrite to cementite over a spacing that is twice the least
// there can be, which goes with one over the driving force ΔG,
//
//	v ∝ D·(C_γα − C_γθ)/C₀·ΔG   (zener-1946, hillert-1957, from memory)
//
// and with nucleation ΔG has the power Drive, at 500 J/mol one. D in µm²/s.
func (k *kinetics) pearliteRate(f *forces, T float64) float64 {
	d := max(0, f.at(&f.ferriteC, T)-f.at(&f.carbideC, T)) / 0.77
	return diffusivity(0.77, T) * 1e12 * d * math.Pow(f.at(&f.pearlite, T)/500, k.Drive)
}

// bainiteFactor returns 2^(0.29G)/F, the rate of bainite over (Bs − T)²·exp(−Q/RT) with
// Q = 27000 cal/mol. Above 0.55 wt % C, F is our own form without explicit carbon (it acts
// through Bs):
//
//	F = exp(−7.64 + 2.2Mn + 1.5Cr + 0.55Ni + 0.36Mo)
//
// held to 150 s for the start at 250 °C of eutectoid steel, to hours for O1 and
// 52100, and to 2 mm of O1 type hardening in still air. Below 0.45 it is that of li-1998
// (from memory), moved to the same Q at 420 °C and to a slope with carbon that
// end-quenched 8620 and 4140 in oil ask for; between them ln F is linear in carbon.
func (k *kinetics) bainiteFactor(g *steel.Composition, grain float64) float64 {
	high := bainiteC + 2.2*g[steel.Mn] + 1.5*g[steel.Cr] + 0.55*g[steel.Ni] + 0.36*g[steel.Mo]
	low := -10.23 + (10.18+k.Slope)*min(g[steel.C], 0.55) - 0.4*k.Slope + 0.85*g[steel.Mn] + 0.55*g[steel.Ni] + 0.90*g[steel.Cr] + 0.36*g[steel.Mo] +
		(27500-bainiteQ)/gasCal/693 + bainiteSlow
	w := min(1, max(0, (g[steel.C]-0.45)/0.10))
	return exp2(0.29*grain) / exp(low+w*(high-low))
}

// networkFactor returns the rate of cementite on grain boundaries over ΔT²·exp(−27500/1.987T),
// ΔT the undercooling under the austenite's own Acm:
//
//	τ = 2.0·exp(2.0Cr + 1.0Mn)/(2^(0.32G)·ΔT²·exp(−27500/1.987T))·S(X)
//
// Own calibration, factor 3: 0.3 Mn, G 8, Acm 847 °C: 4 s for 1 % at 760 °C.
func networkFactor(g *steel.Composition, grain float64) float64 {
	return exp2(0.32*grain) / (2.0 * exp(2.0*g[steel.Cr]+1.0*g[steel.Mn]))
}

// ASTM grain number from the mean grain diameter [m], with intercept = d/1.12:
// G = −3.2877 − 6.6439·log10(l [mm]). Source: astm-e112.
func grainNumber(d float64) float64 { return -3.2877 - 6.6439*math.Log10E*ln(d*1e3/1.12) }

func (m *Metal) fillCold() {
	for i := range m.cold {
		T := tableT(i)
		r := &m.cold[i]
		r.back = diffusivity(0.77, T) * 1e12
		r.network = math.Exp(-27500 / (gasCal * T))
		r.bainite = math.Exp(-bainiteQ / (gasCal * T))
		r.ferriteC, r.carbideC = m.limits.FerriteSide(T), m.limits.CarbideSide(T)
		r.carbideBound = r.carbideC
		if T < m.ae1End {
			r.ferriteC, r.carbideC = m.free.at(&m.free.ferriteC, T), m.free.at(&m.free.carbideC, T)
			r.carbideBound = m.bound.at(&m.bound.carbideC, T)
		}
		r.bainiteC = m.free.at(&m.free.bainiteC, T)
		fade := max(0, min(1, (T-pearliteGone)/(pearliteWhole-pearliteGone)))
		r.pearlite, r.pearliteBound = fade*m.k.pearliteRate(m.free, T), fade*m.k.pearliteRate(m.bound, T)
		if d := m.ae1 - T; d > 0 {
			r.fineness = math.Pow(d, 0.75)
			// Divorced eutectoid: ferrite grows as carbon crosses from the front to the
			// particle, D·ΔC/(C_eutectoid) with ΔC ≈ 0.0042 wt %/K·ΔT, times 0.03 for the
			// nucleation of ferrite and the drag of alloy: 52100 does so up to some 0.1 K/s.
			r.divorced = 0.03 * r.back * 0.0042 * d / 0.77
		}
	}
}

// austenite returns the composition in solution in cell i.
func (m *Metal) austenite(c *Cells, i int) steel.Composition {
	g := m.comp
	g[steel.C] = c.Carbon[i]
	for k, e := range alloyElement {
		g[e] = c.Alloy[k][i]
	}
	return g
}

// prepare computes the factors of cell i from its austenite, once per cooling.
func (m *Metal) prepare(c *Cells, i int) {
	g := m.austenite(c, i)
	d := m.Grain(c, i)
	G := grainNumber(d)
	c.start[i] = g[steel.C]
	c.share[i] = m.shareOf(&g)
	slow := ln(drag(&g))
	sites := 1 + pearliteOnCarbide*carbideSurface(c, i)/(2*1.12/(d*1e6)) // grains have 2/intercept
	c.factorF[i] = m.k.ferriteFactor(slow, G)
	c.factorP[i] = sites * m.k.pearliteFactor(&g, slow, G)
	c.factorB[i] = m.k.bainiteFactor(&g, G)
	c.factorN[i] = networkFactor(&g, G)
	c.bs[i] = bainiteStart(&g)
	m.prepareMs(c, i, &g, d)
	p := c.Fraction[steel.Pearlite][i]
	c.frontF[i], c.frontP[i], c.frontB[i], c.frontN[i] = 0, 0, 0, 0
	if aus := c.Fraction[steel.Austenite][i]; p > 1e-6 { // pearlite that was never dissolved goes on growing
		c.frontP[i] = pearliteSigmoid.inverse(p / (p + aus))
	}
	c.frontFine[i], c.frontSoft[i] = 0, 0
	c.Lowest[i], c.Age[i] = c.ms[i], 0
	c.ready[i] = 1
}

// carbideSurface returns the surface of the particles in cell i per volume [1/µm], 3f/r.
func carbideSurface(c *Cells, i int) float64 {
	sum := 0.0
	for k := range c.Carbides {
		if cl := &c.Carbides[k]; cl.Mass[i] > 0 {
			sum += 3 * cl.Mass[i] / cl.Radius[i]
		}
	}
	return sum
}

// cool advances the austenite of cell i below its upper limit.
func (m *Metal) cool(c *Cells, i int, T, dt float64) {
	if c.ready[i] == 0 {
		m.prepare(c, i)
	}
	f := &c.Fraction
	k, w := at(T)
	a, b := &m.cold[k], &m.cold[k+1]
	if c.ready[i] == 2 && T < c.ms[i]+80 { // what formed above has changed the austenite
		g := m.austenite(c, i)
		m.prepareMs(c, i, &g, m.Grain(c, i))
		c.Lowest[i] = c.ms[i]
		c.ready[i] = 1
	}
	if T > c.ms[i] {
		if T < m.upper && T > 720 {
			if m.hypo {
				m.growFerrite(c, i, a, b, w, dt)
			} else {
				m.growCarbide(c, i, a, b, w, dt)
			}
		}
		if T < m.ae1 {
			m.growPearlite(c, i, a, b, w, T, dt)
		}
		if T < c.bs[i] {
			m.growBainite(c, i, a, b, w, T, dt)
		}
		return
	}
	// Below Ms: what is left is retained, less what turns to martensite.
	df := f[steel.Austenite][i]
	if df > 0 {
		r := f[steel.RetainedAustenite][i]
		c.RetainedCarbon[i] = (r*c.RetainedCarbon[i] + df*c.Carbon[i]) / (r + df)
		f[steel.RetainedAustenite][i] = r + df
		f[steel.Austenite][i] = 0
	}
}

// growFerrite forms pro-eutectoid ferrite up to the lever rule between ferrite and
// the Ae3 line, below Ae1 that of Ae1; the carbon it rejects stays in the austenite.
func (m *Metal) growFerrite(c *Cells, i int, a, b *coldRates, w, dt float64) {
	f := &c.Fraction
	aus := f[steel.Austenite][i]
	line := min(m.eutectoid, a.ferriteC+w*(b.ferriteC-a.ferriteC)) // below Ae1 no more than there
	if aus <= 1e-6 || line <= 0 {
		return
	}
	most := 1 - c.Carbon[i]/line // of the austenite that is left
	if most <= 0 {
		return
	}
	x0 := liSigmoid.at(c.frontF[i])
	beside := a.ferriteC + w*(b.ferriteC-a.ferriteC)
	over := max(0, beside-c.start[i])
	c.frontF[i] += over * over / (beside * max(leastCarbon, c.start[i])) * (a.back + w*(b.back-a.back)) * c.factorF[i] * dt
	x1 := liSigmoid.at(c.frontF[i])
	if x0 >= 1 {
		x0, x1 = 0, 1
	}
	df := aus * most * (x1 - x0) / (1 - x0)
	if df <= 0 {
		return
	}
	left := aus - df
	if left > 0 { // austenite without carbon can go whole
		c.Carbon[i] *= aus / left
	}
	f[steel.Austenite][i] = max(0, left)
	f[steel.Ferrite][i] += df
	c.ready[i] = 2 // Ms is behind
}

// growCarbide returns carbon from supersaturated austenite to the particles at
// hand, and where there are none to a film on the grain boundaries.
func (m *Metal) growCarbide(c *Cells, i int, a, b *coldRates, w, dt float64) {
	f := &c.Fraction
	aus := f[steel.Austenite][i]
	line := max(a.carbideC+w*(b.carbideC-a.carbideC), 0.6)
	over := c.Carbon[i] - line
	if aus < 1e-6 || over <= 0 {
		return
	}
	var share float64
	particles := f[steel.Carbide][i] - c.Film[i]
	if particles > 1e-4 {
		// Diffusion to spheres, 1/τ = 3fD/r², slowed thirty times as dissolution is by the interface.
		var per float64
		for k := range c.Carbides {
			cl := &c.Carbides[k]
			if cl.Mass[i] > 0 {
				per += cl.Mass[i] / (cl.Radius[i] * cl.Radius[i])
			}
		}
		x := 0.1 * per * (a.back + w*(b.back-a.back)) * dt
		share = x / (1 + x)
	} else {
		x0 := liSigmoid.at(c.frontN[i])
		under := over / acmSlope
		c.frontN[i] += under * under * (a.network + w*(b.network-a.network)) * c.factorN[i] * dt
		if x0 >= 1 {
			share = 1
		} else {
			share = (liSigmoid.at(c.frontN[i]) - x0) / (1 - x0)
		}
	}
	d := aus * share * over / (carbideC - c.Carbon[i] + share*over) // leaves the austenite share of the way nearer to the line
	if d <= 0 {
		return
	}
	if particles > 1e-4 {
		m.growParticles(c, i, d, func(e int) float64 { return d * metalIn * c.Alloy[e][i] })
	} else {
		m.growFilm(c, i, d)
	}
	c.Carbon[i] = (aus*c.Carbon[i] - d*carbideC) / (aus - d)
	f[steel.Austenite][i] = max(0, aus-d)
	c.ready[i] = 2
}

// growPearlite forms pearlite of the austenite's carbon; with carbide particles
// at hand and little undercooling carbon goes to them instead and ferrite is left:
// the divorced eutectoid, below ΔT* = 12 K·µm/λ (own line after verhoeven-gibson-1998).
func (m *Metal) growPearlite(c *Cells, i int, a, b *coldRates, w, T, dt float64) {
	f := &c.Fraction
	aus := f[steel.Austenite][i]
	s := c.share[i]
	line, rate := a.carbideC+w*(b.carbideC-a.carbideC), a.pearlite+w*(b.pearlite-a.pearlite)
	if s < 1 {
		line = s*line + (1-s)*(a.carbideBound+w*(b.carbideBound-a.carbideBound))
		rate = s*rate + (1-s)*(a.pearliteBound+w*(b.pearliteBound-a.pearliteBound))
	}
	if aus < 1e-9 || c.Carbon[i] < 0.95*line {
		return // cementite cannot form from it yet: the extrapolated carbide line is not reached
	}
	x0 := pearliteSigmoid.at(c.frontP[i])
	c.frontP[i] += rate * c.factorP[i] * dt
	if x0 >= 1 {
		x0 = 0
	}
	df := aus * (pearliteSigmoid.at(c.frontP[i]) - x0) / (1 - x0)
	if particles := f[steel.Carbide][i] - c.Film[i]; particles > 0.01 && m.ae1-T < 60 {
		m.divorce(c, i, a, b, w, T, dt, particles)
		aus = f[steel.Austenite][i]
		df = min(df, aus)
	}
	if df <= 0 {
		return
	}
	p := f[steel.Pearlite][i]
	// λ = 2S(1−f) with S = 8 µm·K/ΔT.
	fineness := (a.fineness + w*(b.fineness-a.fineness)) * finenessOfCarbon(c.Carbon[i])
	m.growLamellae(c, i, df, T)
	c.PearliteCarbon[i] = (p*c.PearliteCarbon[i] + df*c.Carbon[i]) / (p + df)
	c.PearliteFineness[i] = (p*c.PearliteFineness[i] + df*fineness) / (p + df)
	f[steel.Pearlite][i] = p + df
	f[steel.Austenite][i] = max(0, aus-df)
}

// finenessOfCarbon returns (16 µm·K·(1−f)·f₀/f)^−0.75 with f the cementite in
// pearlite and f₀ that at 0.77 wt % C: 0.1366 there. Pearlite short of carbon has
// wider ferrite between its lamellae, taken linear in carbon; pearlite rich in it is taken as
// it is at the eutectoid.
func finenessOfCarbon(c float64) float64 {
	if c >= 0.77 {
		return 0.1366 * (1 + 0.127*(c-0.77))
	}
	return 0.1366 * c / 0.77
}

// divorce turns austenite into ferrite, its carbon going to the particles.
func (m *Metal) divorce(c *Cells, i int, a, b *coldRates, w, T, dt, particles float64) {
	f := &c.Fraction
	var per float64
	for k := range c.Carbides {
		cl := &c.Carbides[k]
		if cl.Mass[i] > 0 {
			per += cl.Mass[i] / cl.Radius[i]
		}
	}
	r := particles / per
	spacing := 1.6 * r * (1/cubeRoot.at(particles) - 1) // mean distance between surfaces [µm]
	under := m.ae1 - T
	limit := 12 / spacing
	if under > 2*limit {
		return
	}
	// Alloy drags this front too, by the root of what it does to pearlite (own line).
	x := (a.divorced + w*(b.divorced-a.divorced)) / (spacing * spacing) * dt * min(1, math.Sqrt(c.factorP[i]/pearlitePlain))
	if under > limit { // both happen; fading out
		x *= 2 - under/limit
	}
	x /= 1 + x
	aus := f[steel.Austenite][i]
	df := aus * x
	carb := df * c.Carbon[i] / carbideC
	m.growParticles(c, i, carb, func(e int) float64 { return m.enriched(c, i, e, df, carb, T) })
	f[steel.Austenite][i] = max(0, aus-df)
	f[steel.Ferrite][i] += df - carb
	for k := range c.Carbides { // numbers stay, radii grow with the cube root, to first order
		c.Carbides[k].Radius[i] *= 1 + carb/particles/3
	}
}

// growBainite forms bainite of the austenite's carbon. Where silicon keeps cementite from
// forming, its carbon stays in the austenite, and it stops when that holds as much
// as ferrite of the same composition has the same energy with: the line T0
// (bhadeshia-edmonds-1979, from memory).
func (m *Metal) growBainite(c *Cells, i int, a, b *coldRates, w, T, dt float64) {
	f := &c.Fraction
	aus := f[steel.Austenite][i]
	if aus < 1e-9 {
		return
	}
	under := c.bs[i] - T
	x0 := liSigmoid.at(c.frontB[i])
	c.frontB[i] += under * under * (a.bainite + w*(b.bainite-a.bainite)) * c.factorB[i] * dt
	if x0 >= 1 {
		x0 = 0
	}
	most, carbon := aus, c.Carbon[i]
	if m.kept > 0 {
		limit := a.bainiteC + w*(b.bainiteC-a.bainiteC)
		carbon -= m.kept * max(0, carbon-ferriteCarbon)
		most = min(aus, aus*(limit-c.Carbon[i])/(limit-carbon))
	}
	df := most * (liSigmoid.at(c.frontB[i]) - x0) / (1 - x0)
	if df <= 0 {
		return
	}
	m.addBainite(c, i, df, carbon, T)
	left := max(0, aus-df)
	f[steel.Austenite][i] = left
	if m.kept > 0 && left > 0 {
		c.Carbon[i] = (aus*c.Carbon[i] - df*carbon) / left
		c.ready[i] = 2 // Ms is behind
	}
}

// keptCarbon returns the share of its carbon that bainite leaves to the austenite: none to
// 0.8 wt % Si, all from 1.5 (common practice of carbide-free bainite; own line).
func keptCarbon(comp *steel.Composition) float64 {
	return max(0, min(1, (comp[steel.Si]-0.8)/0.7))
}

func (m *Metal) addBainite(c *Cells, i int, df, cc, T float64) {
	if df <= 0 {
		return
	}
	f := &c.Fraction
	n := f[steel.Bainite][i]
	c.BainiteCarbon[i] = (n*c.BainiteCarbon[i] + df*cc) / (n + df)
	c.BainiteT[i] = (n*c.BainiteT[i] + df*T) / (n + df)
	f[steel.Bainite][i] = n + df
}
