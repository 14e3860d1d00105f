package medium

import (
	"bytes"
	"embed"
	"fmt"
	"math"
	"sync"

	"github.com/pelletier/go-toml/v2"

	"github.com/heatwright/heatwright/cite"
)

// Quenchant is a class of quenching liquid.
type Quenchant string

// The liquids that this package knows. Oils go by the speed class that their
// maker prints; a vegetable oil is one of canola, soybean, sunflower, corn.
const (
	SlowOil      Quenchant = "slow oil"
	MediumOil    Quenchant = "medium oil"
	FastOil      Quenchant = "fast oil"
	VegetableOil Quenchant = "vegetable oil"
	HotOil       Quenchant = "hot quench oil" // made for a bath of 90 to 150 °C
	Water        Quenchant = "water"
	Brine        Quenchant = "brine"
)

// Quenchants returns all classes, slowest first.
func Quenchants() []Quenchant {
	return []Quenchant{HotOil, SlowOil, MediumOil, VegetableOil, FastOil, Water, Brine}
}

// Aqueous says whether the liquid boils away as water does.
func (k Quenchant) Aqueous() bool { return k == Water || k == Brine }

// Stir says how the liquid moves past the piece.
type Stir int

// How the liquid moves: at rest; the piece moved gently by hand, 0.1–0.2 m/s;
// moved hard, 0.5 m/s.
const (
	Still Stir = iota
	Gentle
	Vigorous
)

// stirred holds the factors on convection and vapor film, and on the peak, for
// oils. For water the film breaks up sooner instead. From memory, ±20 %.
var stirred = [...]struct{ conv, peak, waterFilm, collapse float64 }{
	Still:    {1.0, 1.0, 1.0, 0},
	Gentle:   {1.3, 1.1, 1.5, 25},
	Vigorous: {1.6, 1.2, 2.0, 50},
}

//go:embed data/*.toml
var data embed.FS

// quenchFile is one measured or calibrated boiling curve.
type quenchFile struct {
	Medium string   `toml:"medium"`
	Source cite.Key `toml:"source"`
	Where  string   `toml:"where"`
	ReadBy string   `toml:"read_by"`
	Error  string   `toml:"error"`
	BathC  float64  `toml:"bath_C"`
	SaltPc float64  `toml:"salt_pct"`
	Row    []struct {
		T float64 `toml:"surface_C"`
		H float64 `toml:"h_W_m2K"`
	} `toml:"row"`
}

// boiling is a curve h(Ts) with its landmarks.
type boiling struct {
	h          func(T float64) float64 // [W/m²K] over surface [K]
	bath       float64                 // for which it was found [K]
	top        float64                 // hottest surface of the data [K]
	film, peak float64                 // coefficient at 850 °C and at the peak
	peakT      float64                 // surface at the peak [K]
	collapseT  float64                 // surface where h stands halfway (in the logarithm) between film and peak [K]
}

var boilingCurves = sync.OnceValue(func() map[string]boiling {
	all := map[string]boiling{}
	entries, err := data.ReadDir("data")
	if err != nil {
		panic(err)
	}
	for _, e := range entries {
		if !isQuench(e.Name()) {
			continue
		}
		file := readQuench(e.Name())
		x := make([]float64, len(file.Row))
		y := make([]float64, len(file.Row))
		for i, r := range file.Row {
			x[i], y[i] = r.T+CelsiusZero, r.H
		}
		all[file.Medium] = newBoiling(shaped(x, y), file.BathC+CelsiusZero, x[0], x[len(x)-1])
	}
	return all
})

func isQuench(name string) bool { return len(name) > 7 && name[:7] == "quench-" }

func readQuench(name string) (file quenchFile) {
	readStrict(name, &file)
	return file
}

// readStrict decodes an embedded data file. A fault in one is ours, and a test reads all.
func readStrict(name string, into any) {
	text, err := data.ReadFile("data/" + name)
	if err != nil {
		panic(err)
	}
	dec := toml.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(into); err != nil {
		panic(fmt.Sprintf("medium: %s: %v", name, err))
	}
}

func newBoiling(h func(float64) float64, bath, lo, hi float64) boiling {
	b := boiling{h: h, bath: bath, top: hi, film: h(hi)}
	for T := lo; T <= hi; T++ {
		if v := h(T); v > b.peak {
			b.peak, b.peakT = v, T
		}
	}
	half := math.Sqrt(b.film * b.peak)
	b.collapseT = b.peakT
	for T := b.peakT; T <= hi && h(T) > half; T++ {
		b.collapseT = T
	}
	return b
}

// Generator gives a boiling curve from seven numbers, for a bath that was
// measured with a probe or tuned to what it does.
//
//	conv(Ts) = Conv · {60, 150, 205, 255, 305, 360, 400} at Ts = {≤40, 100, 150, …, ≥350} °C
//	h = max(conv, Peak exp(−((Ts − At)/Below)²))  for Ts ≤ At
//	h = max(Film, Peak exp(−((Ts − At)/Above)²))  for Ts > At
//
// Own calibration: fitted sets reproduce the probe figures of the tables to 3 %.
type Generator struct {
	Film  float64 // vapor jacket [W/m²K]
	Peak  float64 // at its best [W/m²K]
	At    float64 // surface at the peak [K]
	Below float64 // width of the peak on the cold side [K]
	Above float64 // and on the hot side [K]
	Conv  float64 // factor on convection [–]
	Bath  float64 // bath for which it holds [K]
}

func (g Generator) boiling() boiling {
	t := []float64{40, 100, 150, 200, 250, 300, 350}
	v := []float64{60, 150, 205, 255, 305, 360, 400}
	for i := range t {
		t[i] += CelsiusZero
	}
	conv := shaped(t, v)
	return newBoiling(func(T float64) float64 {
		if T <= g.At {
			return max(g.Conv*conv(T), g.Peak*math.Exp(-sq((T-g.At)/g.Below)))
		}
		return max(g.Film, g.Peak*math.Exp(-sq((T-g.At)/g.Above)))
	}, g.Bath, 300, 850+CelsiusZero)
}

func sq(x float64) float64 { return x * x }
