package shop

import (
	"math"

	"github.com/heatwright/heatwright/medium"
)

// A lining material: density [kg/m³], heat capacity [J/kgK], and conductivity at
// temperatures [°C, W/mK]. Fiber of 128 kg/m³ 0.14 at 600, 0.20 at 800, 0.29 at
// 1000 °C. From memory of makers' sheets, ±20 %.
type liningMaterial struct {
	name   string
	rho, c float64
	t, k   []float64
}

var linings = []liningMaterial{
	{"fiber", 128, 1050, []float64{20, 200, 400, 600, 800, 1000, 1300}, []float64{0.04, 0.06, 0.09, 0.14, 0.20, 0.29, 0.45}},
	{"hard face", 2000, 1000, []float64{20, 1300}, []float64{1.3, 1.4}},
	{"dense castable", 2200, 1000, []float64{20, 1300}, []float64{1.5, 1.4}},
	{"insulating castable", 1400, 1000, []float64{20, 1300}, []float64{0.6, 0.7}},
	{"light castable", 950, 1000, []float64{20, 1400}, []float64{0.30, 0.33}},
	{"insulating brick", 650, 1050, []float64{20, 400, 800, 1200}, []float64{0.15, 0.20, 0.27, 0.35}},
	{"vermiculite board", 400, 1000, []float64{20, 1000}, []float64{0.12, 0.20}},
}

// LiningNames returns the materials that a [Layer] may be of.
func LiningNames() []string {
	names := make([]string, len(linings))
	for i, m := range linings {
		names[i] = m.name
	}
	return names
}

func (m *liningMaterial) conductivity(T float64) float64 {
	c := T - medium.CelsiusZero
	n := len(m.t)
	if c <= m.t[0] {
		return m.k[0]
	}
	for i := 1; i < n; i++ {
		if c <= m.t[i] {
			return m.k[i-1] + (m.k[i]-m.k[i-1])*(c-m.t[i-1])/(m.t[i]-m.t[i-1])
		}
	}
	return m.k[n-1]
}

// wall is a lining as a column of cells from the fire to the shell, counted flat,
// per square meter of its inner face.
type wall struct {
	T       []float64 // of each cell [K]
	dx      []float64 // [m]
	of      []*liningMaterial
	room    float64
	b, d, g []float64 // scratch: diagonal, right side, links
	stored  float64   // heat taken in at the fire side so far [J/m²]
	lost    float64   // heat given off at the shell so far [J/m²]
}

func newWall(layers []Layer, T float64) *wall {
	w := &wall{room: T}
	for _, l := range layers {
		m := &linings[0]
		for i := range linings {
			if linings[i].name == l.Material {
				m = &linings[i]
			}
		}
		n := max(4, min(16, int(l.Thickness/0.003)))
		for range n {
			w.dx = append(w.dx, l.Thickness/float64(n))
			w.of = append(w.of, m)
			w.T = append(w.T, T)
		}
	}
	// The first cells are thin: the face follows the fire at once.
	n := len(w.T)
	w.b, w.d, w.g = make([]float64, n), make([]float64, n), make([]float64, n+1)
	return w
}

func (w *wall) clone() *wall {
	c := *w
	n := len(w.T)
	c.T = append([]float64(nil), w.T...)
	c.b, c.d, c.g = make([]float64, n), make([]float64, n), make([]float64, n+1)
	return &c
}

// shell returns the coefficient at the outside: natural convection and radiation
// of a painted or rusted shell, ε 0.8 [W/m²K].
func (w *wall) shell(T float64) float64 {
	r := 0.8 * medium.Sigma * (T*T + w.room*w.room) * (T + w.room)
	return r + 1.5*math.Cbrt(max(T-w.room, 0.1))
}

// assemble fills the implicit step of dt; returns the conductance from the face
// to the middle of the first cell.
func (w *wall) assemble(dt float64) float64 {
	n := len(w.T)
	half := func(i int) float64 { return w.dx[i] / (2 * w.of[i].conductivity(w.T[i])) }
	for i := range n {
		w.b[i] = w.of[i].rho * w.of[i].c * w.dx[i] / dt
		w.d[i] = w.b[i] * w.T[i]
	}
	for i := 1; i < n; i++ {
		w.g[i] = 1 / (half(i-1) + half(i))
		w.b[i-1] += w.g[i]
		w.b[i] += w.g[i]
	}
	w.g[0] = 1 / half(0)
	shellT := w.T[n-1]
	for range 20 { // temperature of the shell itself
		shellT = (w.T[n-1]/half(n-1) + w.shell(shellT)*w.room) / (1/half(n-1) + w.shell(shellT))
	}
	w.g[n] = 1 / (half(n-1) + 1/w.shell(shellT))
	w.b[n-1] += w.g[n]
	w.d[n-1] += w.g[n] * w.room
	return w.g[0]
}

// respond returns the flux into the lining when its face ends a step of dt at
// T: slope·T − base [W/m²].
func (w *wall) respond(dt float64) (slope, base float64) {
	g := w.assemble(dt)
	w.b[0] += g
	n := len(w.T)
	diag, rhs := w.b[n-1], w.d[n-1]
	for i := n - 2; i >= 0; i-- {
		m := -w.g[i+1] / diag
		rhs = w.d[i] - m*rhs
		diag = w.b[i] + m*w.g[i+1]
	}
	return g * (1 - g/diag), g * rhs / diag
}

// step advances by dt with the flux q into the face [W/m²].
func (w *wall) step(dt, q float64) {
	w.assemble(dt)
	n := len(w.T)
	w.d[0] += q
	for i := n - 2; i >= 0; i-- {
		m := -w.g[i+1] / w.b[i+1]
		w.d[i] -= m * w.d[i+1]
		w.b[i] += m * w.g[i+1]
	}
	w.T[0] = w.d[0] / w.b[0]
	for i := 1; i < n; i++ {
		w.T[i] = (w.d[i] + w.g[i]*w.T[i-1]) / w.b[i]
	}
	w.stored += q * dt
	w.lost += w.g[n] * (w.T[n-1] - w.room) * dt
}

// heat returns what the lining holds above T [J/m²].
func (w *wall) heat(T float64) float64 {
	sum := 0.0
	for i := range w.T {
		sum += w.of[i].rho * w.of[i].c * w.dx[i] * (w.T[i] - T)
	}
	return sum
}

// settle puts the lining at its steady state with the face at T, and returns the
// loss [W/m²] and the temperature of the shell [K].
func (w *wall) settle(T float64) (loss, shell float64) {
	n := len(w.T)
	for range 200 {
		w.assemble(1e12)
		// One pass of series resistances with the conductivities of this state.
		r := 0.0
		for i := range n {
			r += 1 / w.g[i]
		}
		r += 1 / w.g[n]
		loss = (T - w.room) / r
		at, worst := T, 0.0
		for i := range n {
			at -= loss / w.g[i]
			worst = max(worst, math.Abs(at-w.T[i]))
			w.T[i] = at
		}
		if worst < 1e-6 {
			break
		}
	}
	return loss, w.T[n-1] - loss*w.dx[n-1]/(2*w.of[n-1].conductivity(w.T[n-1]))
}
