package micro

import "math"

// Powers, exponentials and logarithms of the hot loop are read from tables over the
// mantissa, linear between 512 points; the exponent of the number does the rest.

const (
	mantissaBits = 9
	mantissas    = 1 << mantissaBits
	exponents    = 64 // powers of two served by the tables, either way
)

// split returns a positive number as 2^e·(1 + (i + w)/512).
func split(x float64) (e, i int, w float64) {
	b := math.Float64bits(x)
	const rest = 52 - mantissaBits
	return int(b>>52) - 1023, int(b>>rest) & (mantissas - 1), float64(b&(1<<rest-1)) * (1.0 / (1 << rest))
}

// power is x^p for one p, within 3e-7·p·(p − 1) of it.
type power struct {
	p        float64
	two      [2 * exponents]float64
	mantissa [mantissas + 1]float64
}

func newPower(p float64) *power {
	t := &power{p: p}
	for k := range t.two {
		t.two[k] = math.Exp2(p * float64(k-exponents))
	}
	for k := range t.mantissa {
		t.mantissa[k] = math.Pow(1+float64(k)/mantissas, p)
	}
	return t
}

// at returns x^p for x ≥ 0.
func (t *power) at(x float64) float64 {
	e, i, w := split(x)
	if uint(e+exponents) >= 2*exponents {
		return math.Pow(x, t.p)
	}
	return t.two[e+exponents] * (t.mantissa[i] + w*(t.mantissa[i+1]-t.mantissa[i]))
}

var (
	grainPower   = newPower(0.211)     // d of d^4.739
	grainUp      = newPower(1 / 0.211) // and back
	cubeRoot     = newPower(1.0 / 3)
	spacingPower = newPower(-4.0 / 3) // λ of λ^−0.75
	softPower    = newPower(-0.75)    // and back

	logTable, exp2Table [mantissas + 1]float64
)

func init() {
	for k := range logTable {
		logTable[k] = math.Log1p(float64(k) / mantissas)
		exp2Table[k] = math.Exp2(float64(k) / mantissas)
	}
}

// ln returns the natural logarithm of x > 0, within 5e-7.
func ln(x float64) float64 {
	e, i, w := split(x)
	return float64(e)*math.Ln2 + logTable[i] + w*(logTable[i+1]-logTable[i])
}

// exp2 returns 2^x for |x| < 1000, within 3e-7 of it.
func exp2(x float64) float64 {
	f := math.Floor(x)
	p := (x - f) * mantissas
	i := min(int(p), mantissas-1) // a hair under a whole number x − f rounds to 1
	w := p - float64(i)
	return math.Float64frombits(uint64(int(f)+1023)<<52) * (exp2Table[i] + w*(exp2Table[i+1]-exp2Table[i]))
}

// exp returns eˣ, within 3e-7 of it; nothing under 1e-300.
func exp(x float64) float64 {
	if x < -690 {
		return 0
	}
	return exp2(min(x, 690) * math.Log2E)
}
