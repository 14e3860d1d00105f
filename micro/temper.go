package micro

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Tempering is followed by numRates thermally activated processes in each birth
// of martensite. Process j has the progress
//
//	θ_j = ∫ k_j dt, k_j = exp[−(Q_j/R)(1/T − 1/T_j)] / 3600 s, Q_j = ln10·R·T_j·K, K = 18
//
// so that θ_j = 1 after one hour at T_j, whatever the history before, and each
// process by itself obeys a time–temperature parameter of constant K (hours).
// Hardness is read off the θ_j (tempered.go); no such parameter is stored.
const numRates = 6

const temperK = 18.0

var temperPeak = [numRates]float64{130 + kelvin, 220 + kelvin, 310 + kelvin, 400 + kelvin, 500 + kelvin, 620 + kelvin}

// relaxed is the process that stands for the loss of martensite's stored energy
// and for its being tempered at all.
const relaxed = 1

// incubation is the age [s] of fresh martensite at which it tempers at half its rate (own
// calibration on as-quenched hardness at 0.25–0.65 wt % C, astm-a255).
const incubation = 1.0

// freshSize3 is the cube of the carbide radius with which coarsening of tempered
// martensite starts, 0.03 µm [µm³].
const freshSize3 = 27e-6

// coarsening returns dr³/dt [µm³/s]: 2.7e-24 m³/s at 700 °C for plain steel, halved
// at 1.5 Cr, Q = 280 kJ/mol, 590–720 °C, factor 2. Fitted on tempered plain
// steels, 593–704 °C (hollomon-jaffe-1945, grange-baughman-1956).
func coarsening(comp *steel.Composition, T float64) float64 {
	return 2.7e-6 / (1 + min(comp[steel.Cr], 1.5)/1.5) * math.Exp(-280e3/gasR*(1/T-1/973.15))
}

// retainedRate returns the first-order rate at which retained austenite goes to
// bainite in tempering [1/s]:
//
//	k = 2.1e9·exp(−120000/RT), slowed by silicon and chromium
//
// one hour at 177 °C 9 %, 204 °C 42 %, 232 °C 95 %; that 232 °C removes it from
// 52100 and lower tempers do not is published, the numbers are our own. Factor 2.
func retainedRate(comp *steel.Composition, T float64) float64 {
	slow := 1 + 3*max(0, comp[steel.Si]-0.4) + 6*max(0, comp[steel.Cr]-2)
	return 2.1e9 * math.Exp(-120e3/(gasR*T)) / slow
}

func (m *Metal) fillTemper() {
	for i := range m.temper {
		T := tableT(i)
		r := &m.temper[i]
		for j := range r.rate {
			r.rate[j] = temperRate(j, T)
		}
		r.retained = retainedRate(&m.comp, T) * math.Exp(-4*min(max(0, m.comp[steel.Cr]-2), 3.5))
		if m.comp[steel.Cr] > 3 && T > 680 {
			r.condition = math.Exp(-250e3/gasR*(1/T-1/793.15)) / 5400
		}
		if T > 700 {
			r.coarsen = coarsening(&m.comp, T)
			r.breakUp = math.Ln2 / (12 * 3600 * math.Exp(280e3/gasR*(1/T-1/973.15)))
		}
	}
}

// temperCell advances the tempering of every birth of martensite in cell i and the
// decomposition of its retained austenite.
func (m *Metal) temperCell(c *Cells, i int, T, dt float64) {
	k, w := at(T)
	a, b := &m.temper[k], &m.temper[k+1]
	// Carbide has to nucleate before it takes carbon from fresh martensite: what a
	// quench tempers by itself is less than the law of long holds says.
	own := dt
	if c.Age[i] < 30*incubation {
		own = dt * c.Age[i] / (c.Age[i] + incubation)
	}
	var sum, done float64
	for n := range c.Births {
		birth := &c.Births[n]
		x := birth.Fraction[i]
		if x <= 0 && (n > 0 || c.Fraction[steel.Bainite][i] <= 0) { // bainite alone tempers as the first birth would
			break
		}
		for j := range birth.Rate {
			birth.Rate[j][i] += (a.rate[j] + w*(b.rate[j]-a.rate[j])) * own
		}
		if T > 720 {
			birth.Size3[i] += (a.coarsen + w*(b.coarsen-a.coarsen)) * dt
		}
		sum += x
		done += x * birth.Rate[relaxed][i] / (1 + birth.Rate[relaxed][i])
	}
	if sum > 0 {
		c.Tempered[i] = done / sum
	}
	f := &c.Fraction
	// Austenite counts as retained once martensite has stopped forming from it, and
	// falls apart at the measured rate where it lies in pockets between martensite.
	if ret := f[steel.RetainedAustenite][i]; ret > 1e-9 && c.Age[i] > 10 {
		pocket := sum / (sum + ret)
		x := (a.retained + w*(b.retained-a.retained)) * pocket * pocket * dt
		df := ret * x / (1 + x)
		m.addBainite(c, i, df, c.RetainedCarbon[i], T)
		f[steel.RetainedAustenite][i] = max(0, ret-df)
		if a.condition > 0 {
			m.condition(c, i, (a.condition+w*(b.condition-a.condition))*dt)
		}
	}
}

// condition lets retained austenite of high-chromium steel give carbon to carbide,
// down to 0.25 wt %: it does not fall apart, but its Ms rises and it turns to fresh
// martensite as the piece cools from the temper. One hour and a half at 520 °C takes
// it down by 1/e; own line, shaped on the double temper that makers of such steel ask for.
func (m *Metal) condition(c *Cells, i int, x float64) {
	f := &c.Fraction
	ret, old := f[steel.RetainedAustenite][i], c.RetainedCarbon[i]
	if old <= 0.25 {
		return
	}
	now := 0.25 + (old-0.25)/(1+x)
	carb := ret * (old - now) / (carbideC - now)
	all := m.alloyOf(c, i)
	m.addFine(c, i, carb, 0.03, c.own(i))
	f[steel.RetainedAustenite][i] = ret - carb
	c.RetainedCarbon[i] = now
	m.settleAlloy(c, i, &all)
	g := m.austenite(c, i)
	g[steel.C] = now
	m.prepareMs(c, i, &g, m.Grain(c, i))
	c.Lowest[i] = c.ms[i]
}

// soften coarsens carbide particles in ferrite and breaks up lamellae below Ae1:
//
//	r³ = r₀³ + k·t;  broken share 1 − exp(−ln2·t/t50), t50 = 12 h·(S/0.15 µm)³ at 700 °C
//
// Broken lamellae become particles of r = 0.25·S. Factor 3; own line.
func (m *Metal) soften(c *Cells, i int, T, dt float64) {
	k, w := at(T)
	a, b := &m.temper[k], &m.temper[k+1]
	f := &c.Fraction
	if f[steel.Carbide][i] > 0 {
		c.coarsening[i] += (a.coarsen + w*(b.coarsen-a.coarsen)) * dt
		least := max(c.Carbides[0].Radius[i], 0.05) // growth is applied when it shows
		if c.coarsening[i] > 0.01*least*least*least {
			m.coarsenParticles(c, i)
		}
	}
	p := f[steel.Pearlite][i]
	if p <= 1e-9 {
		return
	}
	// (0.15 µm/S)³ from λ^−0.75 = fineness and S = λ/(2(1−f))
	free := 2 * (1 - c.PearliteCarbon[i]/carbideC)
	fine2 := c.PearliteFineness[i] * c.PearliteFineness[i]
	x := (a.breakUp + w*(b.breakUp-a.breakUp)) * dt * 0.15 * 0.15 * 0.15 * free * free * free * fine2 * fine2
	if x < 1e-7 { // adds up to nothing in any route
		return
	}
	s := m.pearliteSpacing(c, i)
	df := p * x / (1 + x)
	carb := df * c.PearliteCarbon[i] / carbideC
	f[steel.Pearlite][i] = p - df
	f[steel.Ferrite][i] += df - carb
	m.addFine(c, i, carb, 0.25*s, func(e int) float64 { return c.LamellaAlloy[e][i] })
}

// coarsenParticles applies the growth of r³ that has added up to every class.
func (m *Metal) coarsenParticles(c *Cells, i int) {
	grow := c.coarsening[i]
	c.coarsening[i] = 0
	for n := range c.Carbides {
		cl := &c.Carbides[n]
		if r := cl.Radius[i]; cl.Mass[i] > 0 && r > 0 {
			if add := grow / (r * r * r); add < 0.03 { // first order of the cube root
				cl.Radius[i] = r * (1 + add/3)
			} else {
				cl.Radius[i] = r * cubeRoot.at(1+add)
			}
		}
	}
}

// pearliteSpacing returns the interlamellar spacing S of cell i [µm].
func (m *Metal) pearliteSpacing(c *Cells, i int) float64 {
	return spacingPower.at(c.PearliteFineness[i]) / (2 * (1 - c.PearliteCarbon[i]/carbideC))
}
