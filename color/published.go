package color

import (
	"strings"
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

// ReadHeat returns the heat that somebody names: a word of this package, or one
// that a published chart prints ("medium red", "full cherry red", "salmon").
func ReadHeat(text string) (Heat, bool) {
	if h, ok := ParseHeat(plain(text)); ok {
		return h, true
	}
	return ParseHeat(readPrinted(PublishedHeats(), text))
}

// ReadTemper returns the temper color that somebody names: a word of this package,
// or one that a published table prints ("full blue", "light straw").
func ReadTemper(text string) (Temper, bool) {
	if w, ok := ParseTemper(plain(text)); ok {
		return w, true
	}
	return ParseTemper(readPrinted(PublishedTempers(), text))
}

// readPrinted returns the word that most rows give to a printed name; a row may
// print several, with commas between.
func readPrinted(rows []Published, text string) string {
	text = plain(text)
	votes, best := map[string]int{}, ""
	for _, p := range rows {
		names := append(strings.Split(p.Printed, ","), p.Printed)
		for _, n := range names {
			if p.Word != "" && plain(n) == text {
				votes[p.Word]++
				if votes[p.Word] > votes[best] {
					best = p.Word
				}
				break
			}
		}
	}
	return best
}

// plain lowers a name and takes hyphens and spaces for one another.
func plain(s string) string {
	s = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(s)), "gray", "grey")
	if s == "brown-purple" || s == "brown purple" || s == "brown/purple" {
		return "brown-purple"
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(s, "-", " ")), " ")
}
