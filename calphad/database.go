package calphad

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

//go:embed parameters/steel.tdb
var steelTDB []byte

// Limits of temperature that a question may have [K]: 150 to 1600 °C.
const (
	Coldest = 423.15
	Hottest = 1873.15
)

// Database answers questions of phase equilibrium. It is safe for use by many
// goroutines.
type Database struct {
	params *Parameters

	mu      sync.Mutex
	systems map[string]*joined
	tables  shelf
	para    *Database // the same with the additions of para-equilibrium
}

// joined is a system with the scratch memory that waits to be used again.
type joined struct {
	sys   *System
	elems []steel.Element // of each symbol; −1 for iron
	works sync.Pool
}

var embedded = sync.OnceValues(func() (*Database, error) {
	p, err := ReadTDB(steelTDB)
	if err != nil {
		return nil, err
	}
	return New(p)
})

// Open returns the database of the embedded parameters: Fe, C, Si, Mn, Cr, Ni,
// Mo, V, W, Cu, N.
func Open() (*Database, error) { return embedded() }

// needed are the phases without which no question of heat treatment has an
// answer.
var needed = []string{"LIQUID", "FCC_A1", "BCC_A2", "CEMENTITE"}

// New returns a database over parameters that somebody else provides, after
// Check.
func New(p *Parameters) (*Database, error) {
	for _, name := range needed {
		if !slices.ContainsFunc(p.Phases, func(d *PhaseData) bool { return d.Name == name }) {
			return nil, fmt.Errorf("calphad: the database lacks phase %s (needed: %s)%s", name, strings.Join(needed, ", "), leftOutOf(p, name))
		}
	}
	if err := p.Check(); err != nil {
		return nil, err
	}
	para := &Database{params: p.paraParameters(0), systems: map[string]*joined{}}
	return &Database{params: p, systems: map[string]*joined{}, para: para}, nil
}

func leftOutOf(p *Parameters, name string) string {
	for _, s := range p.LeftOut {
		if strings.HasPrefix(s, "phase "+name+":") {
			return "; it was left out, " + s
		}
	}
	return ""
}

// Covers reports whether the database holds the element.
func (db *Database) Covers(e steel.Element) bool {
	symbol := strings.ToUpper(e.String())
	return slices.ContainsFunc(db.params.Elements, func(d ElementData) bool { return d.Symbol == symbol })
}

// trace is the content [wt %] below which an element counts as absent.
const trace = 1e-8

// system returns the system of the elements that a composition holds, and which
// rule keeps phases in it.
func (db *Database) system(c steel.Composition, rule string, keep func(string) bool) (*joined, error) {
	symbols := []string{"FE"}
	for e, x := range c {
		if x > trace && db.Covers(steel.Element(e)) {
			symbols = append(symbols, strings.ToUpper(steel.Element(e).String()))
		}
	}
	key := rule + strings.Join(symbols, " ")
	db.mu.Lock()
	defer db.mu.Unlock()
	if j := db.systems[key]; j != nil {
		return j, nil
	}
	sys, err := db.params.join(symbols, keep)
	if err != nil {
		return nil, err
	}
	j := &joined{sys: sys, elems: make([]steel.Element, len(sys.symbols))}
	for i, s := range sys.symbols {
		j.elems[i] = -1
		for e := range steel.NumElements {
			if strings.ToUpper(e.String()) == s {
				j.elems[i] = e
			}
		}
	}
	j.works.New = func() any { return newWork(sys) }
	db.systems[key] = j
	return j, nil
}

func full(name string) bool { return !slices.Contains(aside, name) }

// amounts fills w.b with the mole fractions of a composition.
func (j *joined) amounts(w *work, c steel.Composition) {
	total := 0.0
	for i, e := range j.elems {
		x := c.Fe()
		if e >= 0 {
			x = c[e]
		}
		w.b[i] = x / j.sys.mass[i]
		total += w.b[i]
	}
	for i := range w.b {
		w.b[i] /= total
	}
}

// check refuses a composition or temperature that no answer exists for, and
// notes what the answer will leave out of account.
func (db *Database) check(c steel.Composition) ([]cite.Note, error) {
	var notes []cite.Note
	sum := 0.0
	for i, x := range c {
		e := steel.Element(i)
		if !(x >= 0 && x <= 100) {
			return nil, fmt.Errorf("calphad: %s %g %% is no content; it lies between 0 and 100 %%", e, x)
		}
		sum += x
		if x > trace && !db.Covers(e) {
			notes = append(notes, cite.Note{Code: "calphad.not-covered", Args: []cite.Quantity{cite.Txt("element", e.String()), cite.Num("content", x, "wt%")}})
		}
	}
	if sum > 100 {
		return nil, fmt.Errorf("calphad: the contents add up to %.4g %%, more than 100 %%: check the composition", sum)
	}
	if sum > 50 {
		return nil, fmt.Errorf("calphad: %.4g %% iron; the parameters cover steels with more than 50 %% iron", 100-sum)
	}
	return append(notes, outside(c)...), nil
}

// outside returns notes for contents beyond what the assessments cover.
func outside(c steel.Composition) []cite.Note {
	var notes []cite.Note
	for _, l := range []struct {
		e    steel.Element
		most float64
	}{{steel.C, 2.2}, {steel.Si, 3}, {steel.Mn, 3}, {steel.Cr, 14}, {steel.Ni, 5}, {steel.Mo, 3}, {steel.V, 2}, {steel.W, 2}, {steel.Cu, 1}, {steel.N, 0.1}} {
		if c[l.e] > l.most {
			notes = append(notes, cite.Note{Code: "calphad.above-range", Args: []cite.Quantity{cite.Txt("element", l.e.String()), cite.Num("content", c[l.e], "wt%"), cite.Num("limit", l.most, "wt%")}})
		}
	}
	return notes
}

func checkTemperature(T float64) error {
	if !(T >= Coldest && T <= Hottest) {
		return fmt.Errorf("calphad: %.5g °C is outside 150 to 1600 °C, the range of the equilibrium calculation", T-273.15)
	}
	return nil
}
