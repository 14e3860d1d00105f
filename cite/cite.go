// Package cite says where a number comes from and how far it may be trusted:
// the bibliography, the accuracy a model claims for itself, and the notes that
// travel with an answer. It knows no physics and imports nothing of the project.
package cite

import (
	"bytes"
	"embed"
	"fmt"
	"io/fs"
	"sort"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

// Key names one entry of the bibliography, in the form "author-year" or
// "standard-number": "vanbohemen-2012", "astm-a255".
type Key string

// How a source was read. A check in a test rests only on SeenInText, SeenInAbstract or Derived.
const (
	SeenInText     = "seen in text"     // the number was read where it is printed
	SeenInAbstract = "seen in abstract" // read in the paper's abstract or opening pages
	FromMemory     = "from memory"      // recalled, to be checked against the original
	Practice       = "common practice"  // a rule of the trade without a paper
	Derived        = "derived"          // follows from first principles or from our own computation
)

// Source is one entry of the bibliography.
type Source struct {
	Key     Key    `toml:"key"`
	Authors string `toml:"authors"`
	Year    int    `toml:"year"`
	Title   string `toml:"title"`
	Where   string `toml:"where"` // journal, volume, page, or standard and clause
	ReadBy  string `toml:"read_by"`
}

// String returns the source as one line of a reference list.
func (s Source) String() string {
	year := ""
	if s.Year != 0 {
		year = fmt.Sprintf(" (%d)", s.Year)
	}
	return fmt.Sprintf("%s%s: %s. %s [%s]", s.Authors, year, s.Title, s.Where, s.ReadBy)
}

//go:embed bibliography/*.toml
var bibliography embed.FS

var load = sync.OnceValues(func() (map[Key]Source, error) {
	all := map[Key]Source{}
	files, err := fs.Glob(bibliography, "bibliography/*.toml")
	if err != nil {
		return nil, fmt.Errorf("cite: list bibliography: %w", err)
	}
	for _, name := range files {
		text, err := bibliography.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("cite: read %s: %w", name, err)
		}
		var file struct {
			Source []Source `toml:"source"`
		}
		dec := toml.NewDecoder(bytes.NewReader(text))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&file); err != nil {
			return nil, fmt.Errorf("cite: parse %s: %w", name, err)
		}
		for _, s := range file.Source {
			if _, twice := all[s.Key]; twice {
				return nil, fmt.Errorf("cite: %s: key %q is listed twice", name, s.Key)
			}
			all[s.Key] = s
		}
	}
	return all, nil
})

// Find returns the entry of the bibliography with this key.
func Find(k Key) (Source, bool) {
	all, err := load()
	if err != nil {
		panic(err) // the bibliography is embedded: a fault in it is ours, and a test reads it whole
	}
	s, ok := all[k]
	return s, ok
}

// All returns the bibliography, ordered by key.
func All() []Source {
	all, err := load()
	if err != nil {
		panic(err)
	}
	list := make([]Source, 0, len(all))
	for _, s := range all {
		list = append(list, s)
	}
	sort.Slice(list, func(i, j int) bool { return list[i].Key < list[j].Key })
	return list
}
