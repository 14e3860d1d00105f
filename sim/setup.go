package sim

import (
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// Setup is a job as a march needs it: in SI, with what was not said filled in.
// Prepare makes it from a job; whoever asks "what if" copies it and changes a
// value before Start.
type Setup struct {
	Name  string
	Demo  bool
	Solid *shape.Solid
	Lying bool // a bar on its side, not a blade on edge

	Steel     steel.Composition // what the march is made with [wt %]
	Like      steel.Composition // a bar like it, whose equilibria its own start from; zero: none
	Low, High steel.Composition // 10th and 90th percentile of what it may be
	Grade     string            // as the job calls it; empty: by composition
	Mystery   bool              // nobody knows what steel it is
	Start     micro.StartState
	Finish    skin.Finish
	Bark      float64      // decarburized depth that the bar brings along [m]
	Limits    micro.Limits // nil: computed

	Shop   shop.Shop
	Stages []Stage
	Aim    []Aim
	Notes  []cite.Note // what was assumed
}

// Stage is one surrounding until one ending, or one act.
type Stage struct {
	route.Stage
	Name   string        // of the job's step
	Change *shape.Change // what an act makes of the piece
	Lying  bool          // as Setup.Lying, after it
}

// Aim is a hardness band wanted at a zone [HV].
type Aim struct {
	Zone      string
	Low, High float64
}

// Options says how a job is marched.
type Options struct {
	Section bool    // a cross-section (2-D) instead of the whole piece (3-D)
	Station float64 // of the section along the length, 0 … 1; 0: where the shape says
	Across  int     // cells across the width; 0: 14
	Through int     // cells through the thickness; 0: 8
	Along   int     // cells along the length of the whole piece; 0: 40

	Full      bool         // the whole thickness, also where both halves are alike
	Quick     bool         // no looking ahead: no latest moment for the oil, no window, no end of the black heat
	Brief     bool         // of these only the end of the black heat
	NoSeries  bool         // no time histories
	Fields    func(*Field) // told of the whole inside of the piece at the end of each step; nil: no one
	Moments   []float64    // Fields is told at these times too, in their order: at the first step of the march that reaches each [s]
	Engine    Engine
	JobSHA256 string

	Shop  []shop.Kept // as the piece before left it (History.Shop); nil: as the job says
	Pause float64     // since then [s]
}

// Error is a fault in what was asked for that the smith can put right.
type Error struct {
	Step   string // of the route, where one is meant
	Text   string // what is wrong, with the value
	Limits string
	Remedy string
	Err    error
}

// Error implements error.
func (e *Error) Error() string {
	s := "sim: "
	if e.Step != "" {
		s += "step " + e.Step + ": "
	}
	s += e.Text
	if e.Err != nil {
		s += bare(e.Err.Error())
	}
	if e.Limits != "" {
		s += "; " + e.Limits
	}
	if e.Remedy != "" {
		s += "; " + e.Remedy
	}
	return s
}

// bare strips the names of packages from the head of a text.
func bare(text string) string {
	for _, name := range []string{"shop: ", "conduction: ", "shape: ", "micro: ", "route: ", "steel: ", "unit: "} {
		text = strings.TrimPrefix(text, name)
	}
	return text
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Clone returns a setup of which any value may be changed without touching s.
// Solids are shared: no one changes them in place.
func (s *Setup) Clone() *Setup {
	c := *s
	c.Stages = append([]Stage(nil), s.Stages...)
	c.Aim = append([]Aim(nil), s.Aim...)
	c.Notes = append([]cite.Note(nil), s.Notes...)
	c.Shop = s.Shop
	c.Shop.Forges = append([]shop.Forge(nil), s.Shop.Forges...)
	c.Shop.Ovens = append([]shop.Oven(nil), s.Shop.Ovens...)
	c.Shop.Baths = append([]shop.Bath(nil), s.Shop.Baths...)
	c.Shop.Boxes = append([]shop.Box(nil), s.Shop.Boxes...)
	c.Shop.Plates = append([]shop.Plate(nil), s.Shop.Plates...)
	c.Shop.Fans = append([]shop.Fan(nil), s.Shop.Fans...)
	c.Shop.Torches = append([]shop.Torch(nil), s.Shop.Torches...)
	return &c
}

func (s *Setup) check() error {
	if s.Solid == nil {
		return &Error{Text: "there is no piece", Remedy: "say its form and size"}
	}
	if len(s.Stages) == 0 {
		return &Error{Text: "the route has no steps", Remedy: "write at least one [[step]]"}
	}
	for i := range s.Stages {
		if st := &s.Stages[i]; st.Role != route.Acting && !st.Until.Is() {
			return &Error{Step: st.Name, Text: "nothing ends it", Remedy: "say until when: a time, a temperature at a zone, or a sign"}
		}
	}
	return nil
}

func (s *Setup) metal() (*micro.Metal, error) {
	m, err := metalOf(s.Steel, s.Like)
	if s.Limits != nil {
		m, err = micro.New(s.Steel, s.Limits)
	}
	if err != nil {
		return nil, &Error{Err: err}
	}
	return m, nil
}
