package skin

import "github.com/heatwright/heatwright/steel"

// Carry returns the skin of a piece after an act that changed its shape, and the
// state that the old one brings to it.
//
// patches are those of the new piece; from names the old patches that lie on new
// patch i and how much of it each covers, with weights that sum to 1, and none
// for a fresh surface, which starts as the patch says. Half a thickness of 0 goes
// on from the old one's. thinner is what the act made of the skin's thickness
// [–]: scale, soft skin and the carbon profile are stretched with the metal they
// stand on. Carbon is kept: the content down to a depth of the new patch is that of its old ones
// to the depth that the same metal lay at.
func Carry(old *Skin, was *State, patches []Patch, from func(i int) (index []int32, weight []float64), thinner func(i int) float64) (*Skin, *State) {
	was = was.Clone()
	for i := range was.Oxide {
		if was.wait[i] > 0 || was.eat[i] > 0 {
			old.settle(was, i)
		}
	}
	patches = append([]Patch(nil), patches...)
	for i := range patches {
		if patches[i].Half > 0 {
			continue
		}
		index, weight := from(i)
		for n, k := range index {
			patches[i].Half += weight[n] * was.half[k] * thinner(i)
		}
	}
	s := old.withPatches(patches)
	st := s.Start()
	for i := range patches {
		if index, weight := from(i); len(index) > 0 {
			s.takeOver(st, i, old, was, index, weight, thinner(i))
		}
	}
	return s, st
}

// withPatches returns a skin of other patches whose steels go by the rates of s.
func (s *Skin) withPatches(patches []Patch) *Skin {
	known := map[steel.Composition]int{}
	for i, p := range s.patches {
		known[p.Steel] = s.of[i]
	}
	n := &Skin{patches: patches, steels: s.steels}
	for _, p := range patches {
		of, ok := known[p.Steel]
		if !ok {
			panic("skin: an act brings no new steel")
		}
		n.lay(p, of)
	}
	return n
}

// takeOver fills patch i of st from the old patches that lie on it.
func (s *Skin) takeOver(st *State, i int, old *Skin, was *State, index []int32, weight []float64, thinner float64) {
	mean := func(of []float64) float64 {
		sum := 0.0
		for n, k := range index {
			sum += weight[n] * of[k]
		}
		return sum
	}
	st.Oxide[i] = max(firstOxide, thinner*mean(was.Oxide))
	st.Lost[i], st.Removed[i] = mean(was.Lost), mean(was.Removed)
	st.Gone[i], st.Chips[i] = thinner*mean(was.Gone), thinner*mean(was.Chips)
	st.Coat[i], st.gas[i], st.beta[i] = mean(was.Coat), mean(was.gas), mean(was.beta)
	st.span[i] = thinner * thinner * mean(was.span)
	most := 0.0
	for n, k := range index {
		if weight[n] > most {
			most, st.Finish[i] = weight[n], was.Finish[k]
		}
	}
	content := func(depth float64) float64 {
		sum := 0.0
		for n, k := range index {
			sum += weight[n] * old.content(was, int(k), int(k), depth/thinner)
		}
		return thinner * sum
	}
	edges := s.edges[i*(Nodes+1) : (i+1)*(Nodes+1)]
	below := 0.0
	for j := range Nodes {
		to := content(edges[j+1] * st.reach[i])
		st.Carbon[i*Nodes+j] = (to - below) / ((edges[j+1] - edges[j]) * st.reach[i])
		below = to
	}
}
