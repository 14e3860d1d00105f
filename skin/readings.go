package skin

import (
	"math"

	"github.com/heatwright/heatwright/steel"
)

// Emissivity fills dst with the total emissivity of each patch [–] at its
// temperature T [K]: bare metal by its finish, 0.80 under a micrometer of oxide
// and more,
//
//	ε = εb + (0.80 − εb)(1 − exp(−x/1 µm))
//
// Bare: polished 0.10 + 0.00025 θ (θ in °C), within the published 0.07 at 100 and
// 0.14 to 0.38 at 400 to 1000 °C; ground 0.24 at 20 to 0.58 at 1000 °C. Temper
// films leave a bright piece bright: it heats two to three times slower in an
// oven than a scaled one.
//
// Source: bramson-1968.
func (s *Skin) Emissivity(dst []float64, st *State, T []float64) {
	for i, x := range st.Oxide {
		bare := 0.60
		th := T[i] - kelvin
		switch st.Finish[i] {
		case Polished:
			bare = 0.10 + 0.00025*th
		case Satin:
			bare = 0.16 + 0.00030*th
		case Ground:
			bare = 0.24 + 0.00035*th
		}
		bare = min(0.80, max(0.05, bare))
		if x > 8e-6 {
			dst[i] = 0.80
			continue
		}
		dst[i] = 0.80 - (0.80-bare)*math.Exp(-x/1e-6)
	}
}

// scaleConductivity is that of adhering scale [W/mK]: 1 where porous to 3 where dense (from memory).
const scaleConductivity = 2.0

// Resistance fills dst with the thermal resistance of the oxide [m²K/W], x/k with
// k = 2 W/mK (1 to 3, from memory): 1e-4 for 0.2 mm of scale.
func (s *Skin) Resistance(dst []float64, st *State) {
	for i, x := range st.Oxide {
		dst[i] = x / scaleConductivity
	}
}

// Film fills dst with the oxide thickness that an eye judges [nm].
func (s *Skin) Film(dst []float64, st *State) {
	for i, x := range st.Oxide {
		dst[i] = x * 1e9
	}
}

// DecarbDepth fills dst with the depth below the present metal surface at which
// the carbon reaches this share of the bar's [m]: 0.9 for sound steel, 0.5 for
// the middle of the soft skin. It is 0 where the surface has that much, and the
// way to the mid-plane where nowhere has.
func (s *Skin) DecarbDepth(dst []float64, st *State, share float64) {
	var v view
	for i := range st.Oxide {
		dst[i] = s.depthOf(&v, st, i, share*s.patches[i].Steel[steel.C])
	}
}

func (s *Skin) depthOf(v *view, st *State, i int, want float64) float64 {
	s.look(v, st, i)
	c := v.Carbon
	edges := s.edges[i*(Nodes+1) : (i+1)*(Nodes+1)]
	reach := v.reach[0]
	for j := Nodes - 1; j >= 0; j-- {
		x := (edges[j] + edges[j+1]) / 2 * reach
		if c[j] < want {
			if j == Nodes-1 {
				return v.half[0] // not even the middle has it
			}
			x1 := (edges[j+1] + edges[j+2]) / 2 * reach
			return min(v.half[0], x+(x1-x)*between(c[j], c[j+1], want, s.patches[i].Steel[steel.C]))
		}
	}
	// Between the surface and the first node: a line from the surface carbon of the last exposure.
	if v.span[0] == 0 || v.gas[0] >= want {
		return 0
	}
	return edges[1] / 2 * reach * (want - v.gas[0]) / (c[0] - v.gas[0])
}

// GrindingAllowance fills dst with the metal to take off each patch to stand on
// sound steel [m]: the depth to 90 % of the bar's carbon, below the scale.
func (s *Skin) GrindingAllowance(dst []float64, st *State) { s.DecarbDepth(dst, st, 0.9) }

// fileHard is the carbon whose martensite resists a file, 60 HRC: 0.475 % by the
// initial hardness of astm-a255, 0.48 by hodge-orehoski-1946 [wt %].
const fileHard = 0.48

// SoftSkin fills dst with the depth of metal that stays soft to a file however it
// is quenched [m]: down to 0.48 % carbon. A file bites there and skates below. Of
// steel that never gets so hard, it is the depth to 90 % of its carbon.
func (s *Skin) SoftSkin(dst []float64, st *State) {
	var v view
	for i := range st.Oxide {
		bar := s.patches[i].Steel[steel.C]
		dst[i] = s.depthOf(&v, st, i, min(fileHard, 0.9*bar))
	}
}

// MeanCarbon fills dst with the mean carbon [wt %] of the metal from the surface
// to depth[i] [m], for the surface cells of a mesh.
func (s *Skin) MeanCarbon(dst []float64, st *State, depth []float64) {
	var v view
	for i := range st.Oxide {
		s.look(&v, st, i)
		dst[i] = s.content(&v.State, 0, i, depth[i]) / depth[i]
	}
}

// Profile fills depth [m] below the present surface and carbon [wt %] with the
// nodes of patch i; both have length Nodes.
func (s *Skin) Profile(depth, carbon []float64, st *State, i int) {
	var v view
	s.look(&v, st, i)
	edges := s.edges[i*(Nodes+1) : (i+1)*(Nodes+1)]
	for j := range Nodes {
		depth[j] = (edges[j] + edges[j+1]) / 2 * v.reach[0]
		carbon[j] = v.Carbon[j]
	}
}

// content returns the carbon down to a depth [wt %·m] of patch p, which lies at
// index i of st; below the grid the bar's carbon counts.
func (s *Skin) content(st *State, i, p int, depth float64) float64 {
	edges := s.edges[p*(Nodes+1) : (p+1)*(Nodes+1)]
	c := st.Carbon[i*Nodes : (i+1)*Nodes]
	sum := 0.0
	for j := range Nodes {
		from, to := edges[j]*st.reach[i], edges[j+1]*st.reach[i]
		if depth <= from {
			return sum
		}
		if depth >= to {
			sum += c[j] * (to - from)
			continue
		}
		// Inside a cell the carbon runs along the lesser of the slopes to its neighbors.
		slope := 0.0
		if j > 0 && j < Nodes-1 {
			left := 2 * (c[j] - c[j-1]) / (edges[j+1] - edges[j-1]) / st.reach[i]
			right := 2 * (c[j+1] - c[j]) / (edges[j+2] - edges[j]) / st.reach[i]
			if left*right > 0 {
				slope = math.Copysign(min(math.Abs(left), math.Abs(right)), left)
			}
		}
		l := depth - from
		sum += c[j]*l + slope*l*(depth-to)/2
		return sum
	}
	if depth > st.reach[i] {
		sum += s.patches[p].Steel[steel.C] * (depth - st.reach[i])
	}
	return sum
}

// between returns where on the way from a to b the carbon reaches want: what is
// missing from the bar's carbon falls off like a bell curve, so its logarithm is
// interpolated, and the carbon itself where nothing is missing.
func between(a, b, want, bar float64) float64 {
	if bar-b > 1e-4*bar && want < bar {
		return math.Log((bar-a)/(bar-want)) / math.Log((bar-a)/(bar-b))
	}
	return (want - a) / (b - a)
}
