package steel

import (
	_ "embed"
	"fmt"
	"math"
	"sync"

	"github.com/heatwright/heatwright/cite"
	"github.com/pelletier/go-toml/v2"
)

// Practice is what makers' sheets and the trade say of a steel, apart from
// what the models compute: windows to show beside an answer and to warn by.
// Temperatures in °C as printed; a zero is a window that no sheet gives.
type Practice struct {
	Name        string     `toml:"name"`
	Forge       [2]float64 `toml:"forge"` // start at most, stop [°C]
	Normalize   float64    `toml:"normalize"`
	Harden      [2]float64 `toml:"harden"`
	SoakMinutes [2]float64 `toml:"soak_min"`
	Quench      string     `toml:"quench"` // "brine", "water", "fast-oil", "oil", "air"
	Temper      [2]float64 `toml:"temper"`
	Ac1         float64    `toml:"ac1"` // printed for air-hardening steels
	ReadBy      string     `toml:"read_by"`

	Source cite.Key `toml:"-"`
}

//go:embed practice.toml
var practiceFile []byte

var practices = sync.OnceValue(func() map[string]*Practice {
	var file struct {
		Source cite.Key   `toml:"source"`
		Error  string     `toml:"error"`
		Steel  []Practice `toml:"steel"`
	}
	if err := toml.Unmarshal(practiceFile, &file); err != nil {
		panic(fmt.Sprintf("steel: practice.toml: %v", err)) // embedded: a fault in it is ours
	}
	m := map[string]*Practice{}
	for i := range file.Steel {
		file.Steel[i].Source = file.Source
		m[file.Steel[i].Name] = &file.Steel[i]
	}
	return m
})

func practiceOf(name string) *Practice { return practices()[name] }

// byCarbon is a line over carbon, ends kept.
type byCarbon struct{ carbon, celsius []float64 }

func (l byCarbon) at(carbon float64) float64 {
	last := len(l.carbon) - 1
	switch {
	case carbon <= l.carbon[0]:
		return l.celsius[0] + 273.15
	case carbon >= l.carbon[last]:
		return l.celsius[last] + 273.15
	}
	i := 1
	for l.carbon[i] < carbon {
		i++
	}
	u := (carbon - l.carbon[i-1]) / (l.carbon[i] - l.carbon[i-1])
	return l.celsius[i-1] + u*(l.celsius[i]-l.celsius[i-1]) + 273.15
}

// Lines over carbon for iron and carbon [°C].
//
// Source: fe-c-solidus (from memory), ±20 °C.
var (
	solidusLine = byCarbon{[]float64{0.1, 0.5, 0.8, 1.0, 1.2, 1.5, 2.1}, []float64{1490, 1430, 1385, 1350, 1310, 1240, 1148}}
	burningLine = byCarbon{[]float64{0.2, 0.5, 0.7, 0.9, 1.1, 1.5}, []float64{1400, 1350, 1280, 1220, 1180, 1140}}
	forgingLine = byCarbon{[]float64{0.2, 0.5, 0.7, 0.9, 1.1, 1.5}, []float64{1280, 1230, 1180, 1150, 1120, 1050}}
)

// Solidus returns the temperature at which a steel of this carbon [wt %] begins
// to melt in equilibrium [K], ±20 K. Segregation and phosphorus take 40 to 60 K off it.
func Solidus(c Composition) float64 { return solidusLine.at(c[C]) }

// Burning returns the temperature [K] above which the boundaries of the grains
// oxidize and part: the piece is scrap. It lies below the equilibrium solidus.
func Burning(c Composition) float64 { return min(burningLine.at(c[C]), Solidus(c)-40) }

// HottestForging returns the highest forging temperature of the trade [K]: the
// sheet of the grade where there is one, else by carbon, less 5 K per percent of
// alloy that segregates (Cr, Mo, W, V; own choice, to stay below what sheets of A2 and D2 give).
func (g Grade) HottestForging() float64 {
	if g.Practice != nil && g.Practice.Forge[0] > 0 {
		return g.Practice.Forge[0] + 273.15
	}
	return HottestForging(g.Nominal())
}

// HottestForging returns the highest forging temperature by composition [K].
func HottestForging(c Composition) float64 {
	alloy := c[Cr] + c[Mo] + c[W] + c[V]
	return math.Max(forgingLine.at(c[C])-5*alloy, 1273.15)
}
