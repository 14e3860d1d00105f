package skin

import "github.com/heatwright/heatwright/steel"

// Missing returns the carbon that the metal between two depths below the present
// surface of patch i lacks against the bar [wt %·m]. It counts what has been
// applied to the profile and changes only when Moved says so.
func (s *Skin) Missing(st *State, i int, from, to float64) float64 {
	bar := s.patches[i].Steel[steel.C]
	to = min(to, st.reach[i])
	if from >= to {
		return 0
	}
	return bar*(to-from) - (s.content(st, i, i, to) - s.content(st, i, i, from))
}

// Moved tells whether the carbon of patch i is another in the state now than it
// was in the state before, of the same piece.
func (s *Skin) Moved(now, before *State, i int) bool {
	return now.span[i] != before.span[i] || now.reach[i] != before.reach[i] || now.Gone[i] != before.Gone[i]
}

// Bar returns the carbon of the steel under patch i [wt %].
func (s *Skin) Bar(i int) float64 { return s.patches[i].Steel[steel.C] }
