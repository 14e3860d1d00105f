// Command field computes what package conduction gives for five pieces in their
// surroundings, and prints meshes, laws and results for a general-purpose
// finite-element library to solve anew. Laws are tables of heat flux over
// surface temperature, so that both sides have the very same problem.
package main

import (
	"encoding/json"
	"os"
	"syscall"

	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shape"
)

// problem is one piece, on a mesh, in its surroundings. Temperatures in K.
type problem struct {
	Name      string           `json:"name"`
	Cells     [3]int           `json:"cells"`   // along (1: a cross-section), across, through
	Corners   [][3]float64     `json:"corners"` // of the cells [m]
	Flat      bool             `json:"flat"`
	Density   float64          `json:"density"`
	Start     float64          `json:"start"`
	Tolerance float64          `json:"tolerance"` // K per step
	Laws      map[string]table `json:"laws"`      // by side
	Times     []float64        `json:"times"`
	Middles   [][3]float64     `json:"middles"` // of the cells
	Ours      [][]float64      `json:"ours"`    // temperature of each cell at each time
	Seconds   float64          `json:"seconds"` // of processor, for one run
	Steps     int              `json:"steps"`
}

// table is a heat flux out [W/m²] over surface temperature from From in steps of Step [K].
type table struct {
	From float64   `json:"from"`
	Step float64   `json:"step"`
	Q    []float64 `json:"q"`
}

func (t table) at(T float64) (q, dq float64) {
	f := (T - t.From) / t.Step
	i := min(max(int(f), 0), len(t.Q)-2)
	dq = (t.Q[i+1] - t.Q[i]) / t.Step
	return t.Q[i] + dq*(T-t.From-float64(i)*t.Step), dq
}

func tabulate(l medium.Law, height float64) table {
	t := table{From: 250, Step: 1}
	for T := t.From; T <= 1750; T++ {
		var q, dq [1]float64
		l.Fill(q[:], dq[:], &medium.Faces{T: []float64{T}, Height: height, Perimeter: 2 * height, Area: height * height})
		t.Q = append(t.Q, q[0])
	}
	return t
}

var sideNames = map[conduction.Side]string{
	conduction.Start: "start", conduction.End: "end", conduction.Spine: "spine",
	conduction.Edge: "edge", conduction.Back: "back", conduction.Front: "front",
}

// boundary hands each face the table of its side.
type boundary struct{ laws []table }

func (b boundary) Fill(q, dq, Ts []float64) {
	for i, t := range Ts {
		q[i], dq[i] = b.laws[i].at(t)
	}
}

// austenite has k = 15 + 0.0135 θ and cp = 500 + 0.133 θ, θ in °C; no latent heat.
type austenite struct{}

func (austenite) Fill(h, cp, k, T []float64) {
	for c, t := range T {
		th := t - 273.15
		h[c] = 500*th + 0.0665*th*th
		cp[c] = 500 + 0.133*th
		k[c] = 15 + 0.0135*th
	}
}

type body interface{ Solid() (*shape.Solid, error) }

func solve(name string, b body, cells conduction.Cells, start float64, laws map[conduction.Side]table, everywhere *table, times ...float64) problem {
	s, err := b.Solid()
	if err != nil {
		panic(err)
	}
	m, err := conduction.New(s, cells)
	if err != nil {
		panic(err)
	}
	p := problem{
		Name: name, Cells: [3]int{m.NI, m.NJ, m.NK}, Flat: m.Flat, Density: 7650, Start: start, Tolerance: 0.5,
		Laws: map[string]table{}, Times: times,
	}
	for i := range m.NI + 1 {
		for j := range m.NJ + 1 {
			for k := range m.NK + 1 {
				x, y, z := m.Corner(i, j, k)
				p.Corners = append(p.Corners, [3]float64{x, y, z})
			}
		}
	}
	for c := range m.Len() {
		p.Middles = append(p.Middles, [3]float64{m.X[c], m.Y[c], m.Z[c]})
	}
	var bound boundary
	for _, side := range m.Faces.Side {
		l, ok := laws[side]
		if !ok {
			l = *everywhere
		}
		p.Laws[sideNames[side]] = l
		bound.laws = append(bound.laws, l)
	}
	begin := processor()
	for range repeats {
		f := conduction.NewField(m, p.Density, start, austenite{})
		at, dt := 0.0, 1e-3
		p.Ours, p.Steps = nil, 0
		for _, t := range times {
			next, _, taken, refused := f.March(t-at, dt, conduction.Pace{Tolerance: p.Tolerance}, austenite{}, bound)
			at, dt = t, next
			p.Steps += taken + refused
			p.Ours = append(p.Ours, append([]float64(nil), f.T...))
		}
	}
	p.Seconds = (processor() - begin) / repeats
	return p
}

// A run takes milliseconds: the time of one is the mean of some.
const repeats = 10

// processor returns the processor time that this process has used [s].
func processor() float64 {
	var r syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &r); err != nil {
		panic(err)
	}
	return float64(r.Utime.Sec) + float64(r.Utime.Usec)*1e-6 + float64(r.Stime.Sec) + float64(r.Stime.Usec)*1e-6
}

func main() {
	const hot, warm, room = 1088.15, 323.15, 293.15
	knife := shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.032, Spine: 4e-3, Edge: 0.5e-3}, {X: 0.2, Width: 0.028, Spine: 3e-3, Edge: 0.5e-3}}}
	air := tabulate(medium.StillAir(room, 0.03, medium.Upright), 0.03)
	oil := tabulate(medium.Immersion{Kind: medium.FastOil, T: warm}.Law(), 0.03)
	water := tabulate(medium.Immersion{Kind: medium.Water, T: room}.Law(), 0.03)
	forge := tabulate(&medium.Enclosure{Wall: 1473.15, Gas: 1573.15, H: 60}, 0.03)
	block := tabulate(&medium.Held{T: 973.15, H: 2000}, 0.03)
	all := []problem{
		solve("knife section in fast oil", knife, conduction.Cells{Across: 24, Through: 8}, hot, nil, &oil, 0.5, 2, 5, 10),
		solve("blade in still air", knife, conduction.Cells{Along: 20, Across: 10, Through: 4}, hot, nil, &air, 2, 8, 30),
		solve("round in water, no latent heat", shape.Bar{Form: shape.Round, Width: 0.0127, Length: 0.1}, conduction.Cells{Across: 24, Through: 24}, hot, nil, &water, 0.5, 1, 2, 4),
		solve("hot block on a spine", knife, conduction.Section, room, map[conduction.Side]table{conduction.Spine: block}, &air, 5, 20, 60),
		solve("hex bar in a forge", shape.Bar{Form: shape.Hex, Width: 0.02, Length: 0.1}, conduction.Cells{Across: 14, Through: 12}, room, nil, &forge, 20, 60, 120),
	}
	if err := json.NewEncoder(os.Stdout).Encode(all); err != nil {
		panic(err)
	}
}
