package skin

// Spall knocks part of the scale off a patch: share 1 leaves bare metal with the
// film that forms at once. Thin oxide clings: below 2 µm nothing falls. What is
// knocked off grows again from bare metal, so the loss of several heats adds.
func (s *Skin) Spall(st *State, i int, share float64) {
	const clings = 2e-6
	if x := st.Oxide[i]; x > clings {
		st.Oxide[i] = max(firstOxide, x*(1-min(1, max(0, share))))
		if st.Oxide[i] < clings && share >= 1 {
			st.Oxide[i] = firstOxide
		}
	}
}

// How much scale an event takes off: common practice, to be corrected by looking.
const (
	AtBlows  = 0.7 // a heat under the hammer
	AtQuench = 0.5 // the shock of oil or water
	AtBrush  = 0.9 // a wire brush
)

// SpallAll knocks the same share off every patch.
func (s *Skin) SpallAll(st *State, share float64) {
	for i := range st.Oxide {
		s.Spall(st, i, share)
	}
}

// Grind takes metal off a patch [m] with its scale and leaves a finish. The
// carbon beneath comes to the surface; where depth reaches the mid-plane the
// patch keeps a hundredth of its metal.
func (s *Skin) Grind(st *State, i int, depth float64, finish Finish) {
	if st.wait[i] > 0 || st.eat[i] > 0 {
		s.settle(st, i)
	}
	st.Oxide[i], st.Finish[i] = firstOxide, finish
	depth = min(depth, 0.99*st.half[i])
	if depth <= 0 {
		return
	}
	half := st.half[i] - depth
	reach := min(half, deepest)
	edges := s.edges[i*(Nodes+1) : (i+1)*(Nodes+1)]
	var fresh [Nodes]float64
	from := s.content(st, i, i, depth)
	st.Chips[i] += from
	for j := range Nodes {
		to := s.content(st, i, i, depth+edges[j+1]*reach)
		fresh[j] = (to - from) / ((edges[j+1] - edges[j]) * reach)
		from = to
	}
	copy(st.Carbon[i*Nodes:], fresh[:])
	st.half[i], st.reach[i] = half, reach
	st.Removed[i] += depth
	st.span[i] = 0
	if fresh[0] < 0.99*s.patches[i].Steel[0] {
		st.span[i] = s.first[i] * s.first[i]
	}
	st.gas[i] = fresh[0]
}
