// Package color computes what the eye sees of hot steel and of the film that
// tempering leaves: glow by Planck's law through the standard observer, adapted
// to the light in the shop, and the interference colors of an oxide film from
// measured optical constants. Colors are given for the screen (sRGB) and in the
// words of the trade, each with the spread that published charts show.
//
// Everything here is a pure function of temperature, film and light. How a film
// grows is the business of package skin.
package color

import (
	"bytes"
	"embed"
	"fmt"
	"math"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

//go:embed data/*.toml
var files embed.FS

// The wavelengths of a Spectrum: 380 to 780 nm in steps of 5.
const (
	firstNm = 380
	stepNm  = 5
	samples = 81
)

// Spectrum holds one value per wavelength, 380 to 780 nm every 5 nm.
type Spectrum [samples]float64

func wavelength(i int) float64 { return (firstNm + stepNm*float64(i)) * 1e-9 }

// XYZ are tristimulus values of the CIE 1931 observer. Of light they carry cd/m²
// in Y; of reflectances Y is 1 for a perfect white.
type XYZ [3]float64

// Add returns the sum of two lights.
func (a XYZ) Add(b XYZ) XYZ { return XYZ{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Scale returns the light k times as strong.
func (a XYZ) Scale(k float64) XYZ { return XYZ{k * a[0], k * a[1], k * a[2]} }

// Chromaticity returns x and y.
func (a XYZ) Chromaticity() (x, y float64) {
	s := a[0] + a[1] + a[2]
	return a[0] / s, a[1] / s
}

// constants of nature, exact in the SI of 2019 (codata-2018).
const (
	planck    = 6.62607015e-34 // [J s]
	speed     = 299792458      // [m/s]
	boltzmann = 1.380649e-23   // [J/K]
	kelvin    = 273.15
)

// Radiance returns the spectral radiance of a black body [W/m² sr m] at
// wavelength λ [m] and temperature T [K], Planck's law:
//
//	L = 2hc²/λ⁵ / (exp(hc/λkT) − 1)
func Radiance(λ, T float64) float64 {
	λ2 := λ * λ
	return 2 * planck * speed * speed / (λ2 * λ2 * λ) / math.Expm1(planck*speed/(λ*boltzmann*T))
}

// XYZ integrates a spectral radiance [W/m² sr m] to tristimulus values, Y in cd/m²:
// 683 lm/W times the sum over 5 nm.
func (s *Spectrum) XYZ() XYZ {
	o := observer()
	var v XYZ
	for i, x := range s {
		for k := range v {
			v[k] += x * o[k][i]
		}
	}
	return v.Scale(683 * stepNm * 1e-9)
}

// Glow returns the tristimulus values [cd/m²] of a surface at T [K] with one
// emissivity at all visible wavelengths. Oxidized steel has 0.80, freshly
// brushed steel 0.4 to 0.5 (seen in an instrument maker's manual for 1 µm: 0.8 to
// 0.9 oxidized, 0.35 bare).
func Glow(T, emissivity float64) XYZ {
	var s Spectrum
	for i := range s {
		s[i] = emissivity * Radiance(wavelength(i), T)
	}
	return s.XYZ()
}

// Draper is the temperature at which Draper saw all bodies begin to glow in the
// dark, 977 °F = 525 °C [K] (draper-1847).
const Draper = 525 + kelvin

var observer = sync.OnceValue(func() *[3]Spectrum {
	t := table("observer")
	var o [3]Spectrum
	for i, row := range t.Row {
		if row[0] != firstNm+stepNm*float64(i) {
			panic("color: observer.toml has gaps")
		}
		for k := range o {
			o[k][i] = row[k+1]
		}
	}
	return &o
})

// daylight is illuminant D65, scaled so that a perfect white has Y = 1.
var daylight = sync.OnceValue(func() *Spectrum {
	return illuminant(func(nm float64) float64 { return lookUp(table("daylight"), 1, nm) })
})

// lamp is illuminant A, a black body at 2856 K, scaled the same way.
var lamp = sync.OnceValue(func() *Spectrum { return illuminant(func(nm float64) float64 { return Radiance(nm*1e-9, 2856) }) })

func illuminant(power func(nm float64) float64) *Spectrum {
	var s Spectrum
	for i := range s {
		s[i] = power(wavelength(i) * 1e9)
	}
	y := s.XYZ()[1]
	for i := range s {
		s[i] /= y
	}
	return &s
}

// dataFile is one file of data/: a source and rows of numbers.
type dataFile struct {
	Source  string               `toml:"source"`
	Where   string               `toml:"where"`
	ReadBy  string               `toml:"read_by"`
	Checked string               `toml:"checked"`
	Covers  map[string][]float64 `toml:"covers"`
	Error   string               `toml:"error"`
	Columns []string             `toml:"columns"`
	Row     [][]float64          `toml:"row"`
}

var tables sync.Map

func table(name string) *dataFile {
	if t, ok := tables.Load(name); ok {
		return t.(*dataFile)
	}
	text, err := files.ReadFile("data/" + name + ".toml")
	if err != nil {
		panic(err) // embedded: a fault in it is ours, and a test reads every file
	}
	t := &dataFile{}
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(t); err != nil {
		panic(fmt.Errorf("color: %s: %w", name, err))
	}
	tables.Store(name, t)
	return t
}

// lookUp interpolates column k of a table along its first column.
func lookUp(t *dataFile, k int, x float64) float64 {
	r := t.Row
	if x <= r[0][0] {
		return r[0][k]
	}
	for i := 1; i < len(r); i++ {
		if x <= r[i][0] {
			f := (x - r[i-1][0]) / (r[i][0] - r[i-1][0])
			return r[i-1][k] + f*(r[i][k]-r[i-1][k])
		}
	}
	return r[len(r)-1][k]
}

// DaylightPower returns the relative power of illuminant D65 at the wavelengths of
// a Spectrum, 100 at 560 nm.
func DaylightPower() Spectrum {
	var s Spectrum
	for i := range s {
		s[i] = lookUp(table("daylight"), 1, wavelength(i)*1e9)
	}
	return s
}
