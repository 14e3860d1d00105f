package steel

// Mixture is the structure of many cells as the thermal tables need it: one
// value per cell in each slice.
type Mixture struct {
	Fraction [NumConstituents][]float64 // mass fractions, summing to 1 in each cell
	Carbon   []float64                  // carbon of the austenite, or of what it became [wt %]
	Tempered []float64                  // share of martensite's stored energy that is gone, 0 to 1; nil means none
}

// weights are the shares of a cell in the three energies and its constant part.
type weights struct {
	gamma, alpha, theta, constant float64
}

func (t *Thermal) weigh(m *Mixture, i int) weights {
	const pearl = eutectoidC / cementiteC
	carbon := m.Carbon[i]
	fa := m.Fraction[Austenite][i] + m.Fraction[RetainedAustenite][i]
	fm, fb, fp := m.Fraction[Martensite][i], m.Fraction[Bainite][i], m.Fraction[Pearlite][i]
	stored := fm * (storedMart + storedMartC*carbon)
	if m.Tempered != nil {
		stored *= 1 - m.Tempered[i]
	}
	w := (fm+fb)*carbon*(1/cementiteC) + fp*pearl
	return weights{
		gamma:    fa,
		alpha:    fm + fb + fp + m.Fraction[Ferrite][i] - w,
		theta:    w + m.Fraction[Carbide][i],
		constant: fa*carbon*t.kappa + fb*storedBain + stored,
	}
}

// Mix fills enthalpy h [J/kg], heat capacity cp at frozen structure [J/kgK] and
// conductivity k [W/mK] of all cells at temperatures T [K]. Any of h, cp, k may
// be nil. It allocates nothing and takes no exponentials.
//
//	h = Σ f h   cp = Σ f dh/dT   k = Σ f k (parallel rule, within 3 % of mean-field rules)
func (t *Thermal) Mix(h, cp, k, T []float64, m *Mixture) {
	for i, kelvin := range T {
		n := min(max(int((kelvin-gridLow)*(1/gridStep)), 0), gridSize-2)
		d := kelvin - gridLow - gridStep*float64(n)
		node := &t.nodes[n]
		if h != nil || cp != nil {
			w := t.weigh(m, i)
			if h != nil {
				h[i] = w.constant +
					w.gamma*(node.h[gamma]+d*(node.cp[gamma]+d*node.half[gamma])) +
					w.alpha*(node.h[alpha]+d*(node.cp[alpha]+d*node.half[alpha])) +
					w.theta*(node.h[theta]+d*(node.cp[theta]+d*node.half[theta]))
			}
			if cp != nil {
				cp[i] = w.gamma*(node.cp[gamma]+2*d*node.half[gamma]) +
					w.alpha*(node.cp[alpha]+2*d*node.half[alpha]) +
					w.theta*(node.cp[theta]+2*d*node.half[theta])
			}
		}
		if k != nil {
			fa := m.Fraction[Austenite][i] + m.Fraction[RetainedAustenite][i]
			soft := m.Fraction[Pearlite][i] + m.Fraction[Ferrite][i] + m.Fraction[Carbide][i]
			fm, ft := m.Fraction[Martensite][i], 0.0
			if m.Tempered != nil {
				ft = fm * m.Tempered[i]
				fm -= ft
			}
			k[i] = fa*(node.k[kGamma]+d*node.slope[kGamma]) +
				soft*(node.k[kPearlite]+d*node.slope[kPearlite]) +
				m.Fraction[Bainite][i]*(node.k[kBainite]+d*node.slope[kBainite]) +
				fm*(node.k[kMartensite]+d*node.slope[kMartensite]) +
				ft*(node.k[kTempered]+d*node.slope[kTempered])
		}
	}
}

// Temperature solves h(T) = h at frozen structure for all cells. T holds the
// first guess on entry, the temperature before the step, and the answer on
// return [K]. h rises strictly with T and is quadratic piece by piece, so
// Newton's method ends in two or three steps.
func (t *Thermal) Temperature(T, h []float64, m *Mixture) {
	for i, target := range h {
		w := t.weigh(m, i)
		target -= w.constant
		T[i] = t.solve(T[i], target, w)
	}
}

// TemperatureOf is [Thermal.Temperature] of cell i alone, from a first guess.
func (t *Thermal) TemperatureOf(i int, guess, h float64, m *Mixture) float64 {
	w := t.weigh(m, i)
	return t.solve(guess, h-w.constant, w)
}

// settled is the last step of Newton's method [K]. What is left after it is
// cp′/(2cp)·settled², at most 0.0064/K · settled² = 2e-7 K on the flank of the Curie peak.
const settled = 5e-3

func (t *Thermal) solve(kelvin, target float64, w weights) float64 {
	for range 60 {
		n := min(max(int((kelvin-gridLow)*(1/gridStep)), 0), gridSize-2)
		d := kelvin - gridLow - gridStep*float64(n)
		node := &t.nodes[n]
		cp := w.gamma*node.cp[gamma] + w.alpha*node.cp[alpha] + w.theta*node.cp[theta]
		half := w.gamma*node.half[gamma] + w.alpha*node.half[alpha] + w.theta*node.half[theta]
		h := w.gamma*node.h[gamma] + w.alpha*node.h[alpha] + w.theta*node.h[theta] + d*(cp+d*half)
		step := (target - h) / (cp + 2*d*half)
		kelvin += step
		if step < settled && step > -settled {
			break
		}
	}
	return kelvin
}
