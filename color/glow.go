package color

import (
	"math"
	"sync"

	"github.com/heatwright/heatwright/unit"
)

// Eye looks at a piece in one light through one pair of glasses. It is a set of
// tables: seeing one point takes two look-ups and no exponential.
type Eye struct {
	Light   Light
	Glasses Glasses

	white  float64            // luminance that counts as white through the glasses [cd/m²]
	bench  float64            // how bright a cold piece is drawn [–]
	glow   []XYZ              // black body per kelvin from glowFrom, through the glasses [cd/m²]
	film   *[thickest + 1]XYZ // light sent back by a film, through the glasses [cd/m²]
	cold   *filmTable
	emit   *[thickest + 1]float64 // emissivity of a film for red light [–]
	scaled XYZ                    // light sent back by scale, through the glasses [cd/m²]

	coldSeen [4*thickest + 1]RGB          // a cold film as seen, every quarter of a nanometer
	hotSeen  [2*(glowTo-glowFrom) + 1]RGB // scaled steel as seen, every half kelvin
}

const (
	glowFrom = 600  // [K]
	glowTo   = 1900 // [K]

	// Oxidized steel in visible light, published 0.8 to 0.9 for instruments at 1 µm.
	scaleEmissivity  = 0.80
	scaleReflectance = 0.20
	fullScaleNm      = 1500 // oxide from which steel looks like scale

	// Veiling light in the eye, as a share of the luminance: it takes the edge off
	// saturated colors. Tuned with Light.White.
	veiling = 0.03
)

type eyeKey struct{ light, glasses string }

var eyes sync.Map

// NewEye returns the eye for a light and glasses. Eyes of the named lights and
// glasses are made once.
func NewEye(l Light, g Glasses) *Eye {
	key := eyeKey{l.Name, g.Name}
	if e, ok := eyes.Load(key); ok && e.(*Eye).Light == l {
		return e.(*Eye)
	}
	e := &Eye{Light: l, Glasses: g, glow: make([]XYZ, glowTo-glowFrom+1), film: &[thickest + 1]XYZ{}, emit: &[thickest + 1]float64{}}
	var pass, s Spectrum
	for i := range pass {
		pass[i] = g.transmit(wavelength(i) * 1e9)
	}
	through := func(s *Spectrum) XYZ {
		for i := range s {
			s[i] *= pass[i]
		}
		return s.XYZ()
	}
	for i := range e.glow {
		for j := range s {
			s[j] = Radiance(wavelength(j), float64(glowFrom+i))
		}
		e.glow[i] = through(&s)
	}
	s = *daylight()
	day := through(&s)
	e.white = l.White * day[1]
	e.scaled = day.Scale(scaleReflectance * l.Lux / math.Pi)
	for nm := range e.film {
		filmReflectance(&s, float64(nm), FilmLook{})
		e.emit[nm] = 1 - s[(620-firstNm)/stepNm]
		for j := range s {
			s[j] *= daylight()[j]
		}
		e.film[nm] = through(&s).Scale(l.Lux / math.Pi)
	}
	e.cold = filmsOf(FilmLook{})
	e.bench = 1
	switch {
	case l.Lux < 100:
		e.bench = 0.45
	case l.Lux < 500:
		e.bench = 0.8
	}
	for i := range e.coldSeen {
		e.coldSeen[i] = e.cold.at(float64(i) / 4).Scale(e.bench).Screen()
	}
	for i := range e.hotSeen {
		e.hotSeen[i] = e.seeHot(glowFrom+float64(i)/2, fullScaleNm)
	}
	eyes.Store(key, e)
	return e
}

// radiance returns what reaches the eye from steel at T [K] under oxide of this
// thickness [nm]: its own glow and the light that it sends back [cd/m²].
func (e *Eye) radiance(T, nm float64) (own, back XYZ) {
	emissivity, back := scaleEmissivity, e.scaled
	if nm < fullScaleNm {
		nm = max(0, nm)
		i := min(int(nm), thickest-1)
		f := min(1, nm-float64(i))
		emissivity = e.emit[i] + f*(e.emit[i+1]-e.emit[i])
		back = e.film[i].Scale(1 - f).Add(e.film[i+1].Scale(f))
		if nm > thickest/2 {
			g := min(1, (nm-thickest/2)/(fullScaleNm-thickest/2))
			emissivity += g * (scaleEmissivity - emissivity)
			back = back.Scale(1 - g).Add(e.scaled.Scale(g))
		}
	}
	if T > glowFrom {
		i := min(int(T)-glowFrom, len(e.glow)-2)
		f := min(1, T-float64(glowFrom+i))
		a, b := &e.glow[i], &e.glow[i+1]
		for k := range own {
			own[k] = emissivity * (a[k] + f*(b[k]-a[k]))
		}
	}
	return own, back
}

// See returns the color on the screen of steel at T [K] under oxide of this
// thickness [nm], as the eye takes it in this light:
//
//	rgb = M (own + back)/Lw + 0.03 Y,  shown = 1 − exp(−rgb)
//
// so that dark red runs through orange to white as the eye saturates, though the
// chromaticity hardly moves. Below 400 °C nothing glows, the eye settles on the
// reflected light and sees the temper film; the two meet by 500 °C.
func (e *Eye) See(T, nm float64) RGB {
	switch {
	case T <= bottom:
		return e.seeCold(nm)
	case T >= top && nm >= fullScaleNm:
		return e.hotSeen[min(int(2*(T-glowFrom)+0.5), len(e.hotSeen)-1)]
	case T >= top:
		return e.seeHot(T, nm)
	}
	f := (T - bottom) / (top - bottom)
	k, c := e.seeCold(nm), e.seeHot(T, nm)
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + f*(float64(b)-float64(a)) + 0.5) }
	return RGB{mix(k.R, c.R), mix(k.G, c.G), mix(k.B, c.B)}
}

func (e *Eye) seeHot(T, nm float64) RGB {
	own, back := e.radiance(T, nm)
	t := own.Add(back)
	l := t.linear()
	veil := veiling * t[1]
	scale := 1 / e.white
	return RGB{
		compress(float32((max(0, l[0]) + veil) * scale)),
		compress(float32((max(0, l[1]) + veil) * scale)),
		compress(float32((max(0, l[2]) + veil) * scale)),
	}
}

const (
	bottom = 400 + kelvin
	top    = 500 + kelvin
)

func (e *Eye) seeCold(nm float64) RGB {
	return e.coldSeen[int(4*min(thickest, max(0, nm))+0.5)]
}

// compress is 1 − exp(−x) through the transfer curve of the screen, from a table
// over the leading bits of x (within half a step of the screen).
func compress(x float32) uint8 { return compressed()[math.Float32bits(x)>>shift] }

const shift = 14

var compressed = sync.OnceValue(func() *[1 << (32 - shift)]uint8 {
	t := &[1 << (32 - shift)]uint8{}
	for i := range t[:len(t)/2] { // positive numbers
		x := float64(math.Float32frombits(uint32(i)<<shift | 1<<(shift-1)))
		if !(x < 1e3) {
			t[i] = 255
			continue
		}
		t[i] = encode(-math.Expm1(-x))
	}
	return t
})

// Luminance returns what scaled steel at T [K] sends out of its own [cd/m²], through the glasses.
func (e *Eye) Luminance(T float64) float64 {
	own, _ := e.radiance(T, fullScaleNm)
	return own[1]
}

// relative returns the luminance of the glow beside what the eye takes for white.
func (e *Eye) relative(T float64) float64 { return e.Luminance(T) / e.white }

// Threshold returns the temperature [K] from which the glow of open, scaled steel
// can be seen: it adds 4 % to the light that the scale sends back (3 to 5), and
// is more than 0.001 cd/m², the least that the cones see and tell as red.
//
// It lies far above the old list of red heat by light (pocket-book-heats): open
// steel in the sun sends back some 4000 cd/m² of it, beside which the 0.06 of 581 °C
// are nothing. That list holds for a hole: see [Eye.HoleThreshold].
func (e *Eye) Threshold() float64 {
	need := max(1e-3, 0.04*e.scaled[1])
	return e.inverse(func(T float64) bool { return e.Luminance(T) >= need })
}

// HoleThreshold returns the temperature [K] from which an eye that is used to this
// light sees a glow where none of it falls: looking into a deep hole, a pipe shut at
// its far end, a fire with its back to the sun. There steel and wall shine alike as
// a black body, and the least luminance that is seen goes with the root of the one
// that the eye is used to, as quanta are counted (de Vries and Rose; from memory):
//
//	L = max(3.8e-5 cd/m², 5.14e-4 √La),  La = 0.5 E/π
//
// with La that of a middling grey in the light E [lx]. The factor is set on 581 °C
// in sunlight, the floor, where rods see without color, on 400 °C in the dark; 525
// in daylight of 1000 lx and 474 in twilight of 10 lx then follow within 5 and 13 °C
// (pocket-book-heats; the list tells no lux, and 30 lx would be twilight too).
func (e *Eye) HoleThreshold() float64 {
	need := max(3.8e-5, 5.14e-4*math.Sqrt(0.5*e.Light.Lux/math.Pi))
	return e.inverse(func(T float64) bool { return e.Luminance(T)/scaleEmissivity >= need*e.white/e.Light.White })
}

// inverse finds where a rising condition comes true [K].
func (e *Eye) inverse(there func(T float64) bool) float64 {
	lo, hi := float64(glowFrom), float64(glowTo)
	for range 40 {
		if mid := (lo + hi) / 2; there(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

// shade is the step in luminance that the trade calls a shade: 1.75, which is
// 25 K near 750 °C. About the least that an eye keeps in mind from one piece to
// the next (common practice).
const shade = 1.75

// Shades returns how many shades brighter steel at T is than at reference [K];
// negative if darker. It does not depend on the light, only on the glasses a
// little: that is why hardening heat is told beside magnet-off or the shadow.
func (e *Eye) Shades(T, reference float64) float64 {
	return math.Log(e.Luminance(T)/e.Luminance(reference)) / math.Log(shade)
}

// Brighter returns the temperature [K] that many shades above the reference.
func (e *Eye) Brighter(reference, shades float64) float64 {
	want := e.Luminance(reference) * math.Pow(shade, shades)
	return e.inverse(func(T float64) bool { return e.Luminance(T) >= want })
}

// Heat is a word of the trade for the glow of steel, from dark to bright.
type Heat int

// The heats. Charts disagree by 100 °C on the same word.
const (
	NoGlow Heat = iota
	FaintRed
	DarkRed
	DullCherry
	Cherry
	BrightCherry
	Orange
	Yellow
	PaleYellow
	White
	NumHeats
)

var heatWords = [NumHeats]string{
	"no glow", "faint red", "dark red", "dull cherry", "cherry", "bright cherry", "orange", "yellow", "pale yellow", "white",
}

// String returns the word.
func (h Heat) String() string { return heatWords[h] }

// ParseHeat returns the heat with this word, or false.
func ParseHeat(word string) (Heat, bool) {
	for i, w := range heatWords {
		if w == word {
			return Heat(i), true
		}
	}
	return 0, false
}

// heatEnds are the corners between the words from FaintRed on, as luminance of
// the glow beside the eye's white. Set so that the words of the published charts
// lie, on the whole, between a dark shop and one under its lamps.
var heatEnds = [NumHeats - 2]float64{0.006, 0.018, 0.05, 0.14, 0.40, 1.5, 6, 25}

// HeatOf returns the word for scaled steel at T [K] as this eye sees it.
func (e *Eye) HeatOf(T float64) Heat {
	if T < e.Threshold() {
		return NoGlow
	}
	r := e.relative(T)
	for i, end := range heatEnds {
		if r < end {
			return FaintRed + Heat(i)
		}
	}
	return White
}

// Ends returns the temperatures [K] between which the eye uses a word; ok is
// false where this light swallows it.
func (e *Eye) Ends(h Heat) (low, high float64, ok bool) { return e.ends(heatEnds[:], h) }

// Corners returns the luminances beside the eye's white at which one word gives way
// to the next, from faint red on.
func Corners() []float64 { return append([]float64(nil), heatEnds[:]...) }

func (e *Eye) ends(corners []float64, h Heat) (low, high float64, ok bool) {
	first := e.Threshold()
	low, high = 0, first
	if h == NoGlow {
		return low, high, true
	}
	low, high = first, glowTo
	if h > FaintRed {
		low = max(first, e.inverse(func(T float64) bool { return e.relative(T) >= corners[h-FaintRed-1] }))
	}
	if h < White {
		high = e.inverse(func(T float64) bool { return e.relative(T) >= corners[h-FaintRed] })
	}
	return low, high, high > low
}

// People is how far two people differ on a word in the same light, half the
// width from the 10th to the 90th percentile [K]: the published charts that come
// from one kind of shop differ by about as much.
const People = 35

// Band returns the temperatures that a word stands for in this light [K], with
// the spread between people. ok is false where the light swallows the word.
func (e *Eye) Band(h Heat) (b unit.Band, ok bool) { return e.band(heatEnds[:], h) }

func (e *Eye) band(corners []float64, h Heat) (b unit.Band, ok bool) {
	low, high, ok := e.ends(corners, h)
	if !ok {
		return b, false
	}
	if h == NoGlow {
		return unit.Band{Value: high - 100, Low: 0, High: high + People}, true
	}
	b = unit.Band{Value: (low + high) / 2, Low: low, High: high}
	// A tenth of the word's own width lies beyond each end, and then people differ.
	return b.Widen(People), true
}

// HeatBand returns the temperatures that a word stands for when nobody says in
// which light: from a dark shop to a shady door [K]; the first faint red is looked
// for by night. This is the honest reading of a printed chart.
func HeatBand(h Heat) unit.Band { return HeatBandWith(heatEnds[:], h) }

// HeatBandWith is [HeatBand] with other corners between the words, to settle them.
func HeatBandWith(corners []float64, h Heat) unit.Band {
	var all unit.Band
	n := 0
	lights := []Light{Dark, Dim, Shade}
	if h == FaintRed {
		lights[2] = night
	}
	for _, l := range lights {
		b, ok := NewEye(l, NoGlasses).band(corners, h)
		if !ok {
			continue
		}
		if n == 0 {
			all.Low, all.High = b.Low, b.High
		}
		all.Low, all.High = min(all.Low, b.Low), max(all.High, b.High)
		all.Value += b.Value
		n++
	}
	all.Value /= float64(max(1, n))
	return all
}
