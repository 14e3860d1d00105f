package color

import (
	"sync"

	"github.com/heatwright/heatwright/cite"
	"github.com/pelletier/go-toml/v2"
)

// Published is a color word as an author printed it.
type Published struct {
	Source  cite.Key `toml:"source"`
	Printed string   `toml:"printed"`
	Word    string   `toml:"word"`   // the word of this package, "" where it names a light and no color
	From    float64  `toml:"from_C"` // [°C]
	To      float64  `toml:"to_C"`   // [°C]
	At      float64  `toml:"at_C"`   // [°C], of temper colors
	ReadBy  string   `toml:"read_by"`
}

// PublishedHeats returns the rows of the published charts of glow.
func PublishedHeats() []Published { return published()["heat-words"] }

// PublishedTempers returns the rows of the published tables of temper colors.
func PublishedTempers() []Published { return published()["temper-words"] }

var published = sync.OnceValue(func() map[string][]Published {
	all := map[string][]Published{}
	for _, name := range []string{"heat-words", "temper-words"} {
		text, err := files.ReadFile("data/" + name + ".toml")
		if err != nil {
			panic(err)
		}
		var f struct {
			Error string      `toml:"error"`
			Row   []Published `toml:"row"`
		}
		if err := toml.Unmarshal(text, &f); err != nil {
			panic(err)
		}
		all[name] = f.Row
	}
	return all
})
