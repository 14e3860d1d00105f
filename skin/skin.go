// Package skin models what the fire does to the surface of a piece: oxide from
// the first nanometers of a temper color to scale that falls off, and the carbon
// that leaves the steel beneath it.
//
// A piece's surface is a set of patches, normally the surface faces of its mesh.
// Each patch has one temperature, one oxide thickness and one carbon profile
// down to the mid-plane or a few millimeters. The package knows nothing of the
// field inside: whoever marches the piece hands it surface temperatures and
// takes back emissivity, thermal resistance and the carbon of the surface cells.
//
// What is missing: internal oxidation, blisters, hematite needles, and the
// difference between one side of a thin section and the other (each patch takes
// its mid-plane as a mirror).
package skin

import (
	"github.com/heatwright/heatwright/steel"
)

// Finish is the state of the bare metal under the oxide.
type Finish int8

// The finishes, from the file to the forge.
const (
	Ground   Finish = iota // belt, stone or file
	Polished               // fine enough to mirror
	Satin                  // fine abrasive, about 320 grit
	Scaled                 // as rolled or as forged, under its scale
)

var finishNames = [...]string{"ground", "polished", "satin", "scaled"}

// String returns the stable name of the finish.
func (f Finish) String() string { return finishNames[f] }

// Patch is one piece of surface at the start.
type Patch struct {
	Steel  steel.Composition // bar analysis [wt %]
	Half   float64           // metal from the surface to the mid-plane [m]; half the local thickness
	Finish Finish
	Bark   float64 // depth of decarburization that the bar brings along, to 90 % of its carbon [m]; 0 for ground stock
	Oxide  float64 // oxide that the bar brings along [m]; 0 takes the usual one of the finish
}

// Skin holds what does not change: the steels of the patches and the grid that
// their carbon profiles live on. It may be shared by any number of states.
type Skin struct {
	patches []Patch
	steels  []*rates
	of      []int     // index into steels, per patch
	edges   []float64 // grid faces as fractions of the reach, (Nodes+1) per patch
	first   []float64 // thickness of the first cell at the start [m]
}

// State is the surface at one moment. All slices have one entry per patch,
// Carbon has Nodes per patch. Steps read and write plain arrays, and a snapshot
// is a copy.
type State struct {
	Oxide   []float64 // oxide standing on the patch [m]
	Lost    []float64 // metal burnt to scale since the start [m]
	Removed []float64 // metal ground or filed away since the start [m]
	Carbon  []float64 // carbon by depth [wt %], Nodes per patch, nearest the surface first
	Gone    []float64 // carbon that has gone to the gas and with the metal burnt to scale [wt %·m]
	Chips   []float64 // carbon that has gone with the metal ground away [wt %·m]
	Coat    []float64 // share of the gas that anti-scale paint or clay keeps away [–]
	Finish  []Finish

	reach []float64 // depth of the carbon grid below the present surface [m]
	half  []float64 // metal to the mid-plane at present [m]
	span  []float64 // ∫D dt that the profile has seen [m²]
	wait  []float64 // ∫D dt not yet applied [m²]
	waitT []float64 // ∫D·T dt of the same [m²K]
	eat   []float64 // recession not yet applied [m]
	gas   []float64 // surface carbon under the waiting exposure [wt %]
	beta  []float64 // its transfer coefficient [m/s]; 0 for a surface held at gas
}

// Limits are the boundaries of austenite that decarburization meets. Without
// them the lines of iron and carbon are taken, moved by alloy from memory.
type Limits interface {
	Ae1() (start, end float64)     // first austenite, last ferrite or carbide [K]
	CarbideSide(T float64) float64 // carbon of austenite beside carbide at T [wt %]
}

// New returns the skin of a piece with these patches.
func New(patches []Patch) *Skin { return NewWithin(patches, nil) }

// NewWithin returns the skin of a piece whose steels have these limits; a nil
// function, or a nil answer, falls back on the lines of iron and carbon.
func NewWithin(patches []Patch, limits func(steel.Composition) Limits) *Skin {
	s := &Skin{patches: append([]Patch(nil), patches...)}
	known := map[steel.Composition]int{}
	for _, p := range patches {
		i, ok := known[p.Steel]
		if !ok {
			i = len(s.steels)
			known[p.Steel] = i
			var l Limits
			if limits != nil {
				l = limits(p.Steel)
			}
			s.steels = append(s.steels, ratesOf(p.Steel, l))
		}
		s.lay(p, i)
	}
	return s
}

// lay makes the grid of the next patch, whose steel goes by rates of.
func (s *Skin) lay(p Patch, of int) {
	s.of = append(s.of, of)
	reach := min(p.Half, deepest)
	edges := grade(reach)
	s.edges = append(s.edges, edges...)
	s.first = append(s.first, edges[1]*reach)
}

// Len returns the number of patches.
func (s *Skin) Len() int { return len(s.patches) }

// Start returns the surface as the bar brings it.
func (s *Skin) Start() *State {
	n := len(s.patches)
	block := make([]float64, n*(15+Nodes))
	take := func(k int) []float64 {
		a := block[:k:k]
		block = block[k:]
		return a
	}
	st := &State{
		Oxide: take(n), Lost: take(n), Removed: take(n), Gone: take(n), Chips: take(n), Coat: take(n), Carbon: take(n * Nodes), Finish: make([]Finish, n),
		reach: take(n), half: take(n), span: take(n), wait: take(n), waitT: take(n), eat: take(n), gas: take(n), beta: take(n),
	}
	for i, p := range s.patches {
		st.Finish[i] = p.Finish
		st.Oxide[i] = p.Oxide
		if p.Oxide <= 0 {
			st.Oxide[i] = firstOxide
			if p.Finish == Scaled {
				st.Oxide[i] = millScale
			}
		}
		st.half[i] = p.Half
		st.reach[i] = min(p.Half, deepest)
		s.startCarbon(st, i)
	}
	return st
}

// Copy makes st the same as src. Both must come from one Skin.
func (st *State) Copy(src *State) {
	if len(st.Oxide) != len(src.Oxide) {
		panic("skin: states of different pieces")
	}
	if st == src {
		return
	}
	copy(st.Oxide, src.Oxide)
	copy(st.Lost, src.Lost)
	copy(st.Removed, src.Removed)
	copy(st.Carbon, src.Carbon)
	copy(st.Gone, src.Gone)
	copy(st.Chips, src.Chips)
	copy(st.Coat, src.Coat)
	copy(st.Finish, src.Finish)
	copy(st.reach, src.reach)
	copy(st.half, src.half)
	copy(st.span, src.span)
	copy(st.wait, src.wait)
	copy(st.waitT, src.waitT)
	copy(st.eat, src.eat)
	copy(st.gas, src.gas)
	copy(st.beta, src.beta)
}

// Clone returns a copy that shares nothing with st.
func (st *State) Clone() *State {
	n := len(st.Oxide)
	c := &State{
		Oxide: make([]float64, n), Lost: make([]float64, n), Removed: make([]float64, n), Carbon: make([]float64, len(st.Carbon)),
		Gone: make([]float64, n), Chips: make([]float64, n), Coat: make([]float64, n), Finish: make([]Finish, n), reach: make([]float64, n), half: make([]float64, n),
		span: make([]float64, n), wait: make([]float64, n), waitT: make([]float64, n), eat: make([]float64, n),
		gas: make([]float64, n), beta: make([]float64, n),
	}
	c.Copy(st)
	return c
}
