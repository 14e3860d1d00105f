package color

import (
	"math"
	"math/cmplx"
	"sync"
)

// Layer is one film of a stack: its complex index N = n + ik per wavelength and its thickness [m].
type Layer struct {
	N  *[samples]complex128
	Nm float64 // thickness [nm]
}

// Material returns the complex refractive index n + ik of "iron", "magnetite" or
// "hematite" at the wavelengths of a Spectrum, interpolated linearly.
func Material(name string) *[samples]complex128 { return materials()[name] }

var materials = sync.OnceValue(func() map[string]*[samples]complex128 {
	m := map[string]*[samples]complex128{}
	for _, name := range []string{"iron", "magnetite", "hematite"} {
		t := table(name)
		var N [samples]complex128
		for i := range N {
			μm := wavelength(i) * 1e6
			N[i] = complex(lookUp(t, 1, μm), lookUp(t, 2, μm))
		}
		m[name] = &N
	}
	return m
})

// Reflectance fills dst with the share of light that a stack of layers on a
// substrate sends back at normal incidence, outermost layer first:
//
//	M_j = [cos δ, −i sin δ/N; −iN sin δ, cos δ],  δ = 2πN d/λ
//	[B; C] = ∏ M_j [1; N_s],  R = |(B − C)/(B + C)|²
//
// with N = n + ik, the characteristic matrix of thin-film optics.
func Reflectance(dst *Spectrum, substrate *[samples]complex128, layers ...Layer) {
	for i := range dst {
		B, C := complex(1, 0), substrate[i]
		for j := len(layers) - 1; j >= 0; j-- {
			N := layers[j].N[i]
			δ := N * complex(2*math.Pi*layers[j].Nm*1e-9/wavelength(i), 0)
			c, s := cmplx.Cos(δ), cmplx.Sin(δ)*-1i
			B, C = c*B+s/N*C, s*N*B+c*C
		}
		r := (B - C) / (B + C)
		dst[i] = real(r)*real(r) + imag(r)*imag(r)
	}
}

// FilmLook says how a film is looked at and how even it is.
type FilmLook struct {
	Unevenness float64 // spread of thickness within what the eye takes in at once, as a share; 0: 0.12. Oil and finger grease: 0.3
	Veil       float64 // share of the surface without film: scratches; 0: 0.06. Satin finish: 0.15
	Lamp       bool    // by a filament lamp (illuminant A) instead of daylight (D65); the eye adapts to either
}

// hematiteShare is the outer part of the film taken as hematite, on magnetite:
// films grown at 250 °C hold both (goossens-2006). 0.20 to 0.35 gives the colors
// of the trade; pure magnetite over-saturates and shifts them by 5 nm.
const hematiteShare = 0.25

// filmReflectance fills dst with the reflectance of an oxide film of this mean
// thickness [nm], averaged over its unevenness.
func filmReflectance(dst *Spectrum, nm float64, look FilmLook) {
	uneven, veil := look.Unevenness, look.Veil
	if uneven == 0 {
		uneven = 0.12
	}
	if veil == 0 {
		veil = 0.06
	}
	// Five Gauss–Hermite points of the normal distribution.
	points := [5]float64{-2.856970013872806, -1.355626179974266, 0, 1.355626179974266, 2.856970013872806}
	weights := [5]float64{0.01125741132772069, 0.2220759220056126, 8.0 / 15, 0.2220759220056126, 0.01125741132772069}
	*dst = Spectrum{}
	var one Spectrum
	for q, x := range points {
		Film(&one, max(0, nm*(1+uneven*x)))
		for i := range dst {
			dst[i] += weights[q] * one[i]
		}
	}
	Film(&one, 0)
	for i := range dst {
		dst[i] += veil * (one[i] - dst[i])
	}
}

// Film fills dst with the reflectance of an even oxide film of this thickness [nm] on iron.
func Film(dst *Spectrum, nm float64) {
	m := materials()
	Reflectance(dst, m["iron"], Layer{m["hematite"], hematiteShare * nm}, Layer{m["magnetite"], (1 - hematiteShare) * nm})
}

// thickest is where the film table ends [nm]; thicker oxide is grey.
const thickest = 260

// filmTable holds tristimulus values of films every nanometer, bare iron at Y = 0.85.
type filmTable [thickest + 1]XYZ

var filmTables sync.Map

func filmsOf(look FilmLook) *filmTable {
	if t, ok := filmTables.Load(look); ok {
		return t.(*filmTable)
	}
	light := daylight()
	if look.Lamp {
		light = lamp()
	}
	t := &filmTable{}
	var s Spectrum
	bare := 0.0
	for d := range t {
		filmReflectance(&s, float64(d), look)
		for i := range s {
			s[i] *= light[i]
		}
		v := s.XYZ()
		if look.Lamp {
			v = fromLamp(v)
		}
		if d == 0 {
			bare = v[1]
		}
		t[d] = v.Scale(0.85 / bare)
	}
	// Real films roughen and go dull where the model turns pale and runs through the colors again.
	dull := RGB{0x8c, 0x8f, 0x92}
	grey := XYZ{}
	for k, v := range [3][3]float64{{0.4124564, 0.3575761, 0.1804375}, {0.2126729, 0.7151522, 0.0721750}, {0.0193339, 0.1191920, 0.9503041}} {
		grey[k] = v[0]*expand(dull.R) + v[1]*expand(dull.G) + v[2]*expand(dull.B)
	}
	for d := range t {
		f := (float64(d) - 60) / 50
		f = min(1, max(0, f))
		f = f * f * (3 - 2*f)
		t[d] = t[d].Scale(1 - f).Add(grey.Scale(f))
	}
	filmTables.Store(look, t)
	return t
}

// fromLamp adapts a color seen by lamp light to daylight (Bradford's cone responses).
func fromLamp(a XYZ) XYZ {
	m := [3][3]float64{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	back := [3][3]float64{{0.9869929, -0.1470543, 0.1599627}, {0.4323053, 0.5183603, 0.0492912}, {-0.0085287, 0.0400428, 0.9684867}}
	mul := func(m [3][3]float64, v XYZ) (w XYZ) {
		for i := range w {
			w[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
		}
		return w
	}
	from, to, c := mul(m, XYZ{1.09850, 1, 0.35585}), mul(m, white), mul(m, a)
	for i := range c {
		c[i] *= to[i] / from[i]
	}
	return mul(back, c)
}

// at interpolates the table.
func (t *filmTable) at(nm float64) XYZ {
	if nm <= 0 {
		return t[0]
	}
	i := int(nm)
	if i >= thickest {
		return t[thickest]
	}
	f := nm - float64(i)
	return t[i].Scale(1 - f).Add(t[i+1].Scale(f))
}

// FilmColor returns the tristimulus values of steel under a temper film of this
// thickness [nm], relative to a white sheet; bare steel has Y = 0.85.
func FilmColor(nm float64, look FilmLook) XYZ { return filmsOf(look).at(nm) }
