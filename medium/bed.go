package medium

import (
	"math"
	"sync"

	"github.com/heatwright/heatwright/cite"
)

// Filling is a loose medium that hot steel is buried in.
type Filling struct {
	Name    string   `toml:"name"`
	Density float64  `toml:"rho_kg_m3"`
	Cp      float64  `toml:"cp_J_kgK"`
	K20     float64  `toml:"k_20C_W_mK"`
	K400    float64  `toml:"k_400C_W_mK"`
	K700    float64  `toml:"k_700C_W_mK"`
	Source  cite.Key `toml:"source"`
	ReadBy  string   `toml:"read_by"`

	k *curve // conductivity of the dry bed over its temperature
}

// Conductivity returns k [W/mK] of the bed at T [K]: it rises as the grains
// begin to radiate to one another.
func (m *Filling) Conductivity(T float64) float64 {
	k, _ := m.k.at(T)
	return k
}

// Effusivity returns √(kρc) [W s^½/m²K] at a mean bed temperature T [K].
func (m *Filling) Effusivity(T float64) float64 {
	return math.Sqrt(m.Conductivity(T) * m.Density * m.Cp)
}

type fillingFile struct {
	Filling []*Filling `toml:"filling"`
}

var fillings = sync.OnceValue(func() []*Filling {
	var file fillingFile
	readStrict("fillings.toml", &file)
	for i, m := range file.Filling {
		file.Filling[i] = NewFilling(*m)
	}
	return file.Filling
})

// NewFilling makes a loose medium of one's own from its figures; the conductivity
// of the dry bed follows a smooth curve through its three temperatures.
func NewFilling(m Filling) *Filling {
	f := shaped([]float64{20 + CelsiusZero, 400 + CelsiusZero, 700 + CelsiusZero}, []float64{m.K20, m.K400, m.K700})
	m.k = tabulate(20+CelsiusZero, 700+CelsiusZero, 34, f)
	return &m
}

// FindFilling returns the loose medium of this name: vermiculite, perlite, sand,
// wood ash, lime or fiber blanket.
func FindFilling(name string) (*Filling, bool) {
	for _, m := range fillings() {
		if m.Name == name {
			return m, true
		}
	}
	return nil, false
}

// FillingNames returns the names that [FindFilling] knows.
func FillingNames() []string {
	var names []string
	for _, m := range fillings() {
		names = append(names, m.Name)
	}
	return names
}

// Bed is the loose medium around a buried piece, as a second conducting body: an
// annulus around the round of equal perimeter, cell by cell out to the wall of
// the box. It is stepped implicitly in time with the conductivity of the step's
// start, for any length of step, and holds exactly the heat that was put in.
//
// All heat is counted per square meter of the buried surface.
//
// Held against exp(b²t) erfc(b√t) for a piece without inner resistance in an
// endless bed: within 0.5 % of the span (carslaw-jaeger-1959). Against a real
// bed ±20 % on the time, mostly from its conductivity when hot (from memory).
type Bed struct {
	Filling *Filling
	T       []float64 // of each cell, from the piece outward [K]
	Water   []float64 // still in each cell [kg/m³]
	Room    float64   // outside the box [K]

	// A hot bar laid in the same bed.
	Companion     float64 // its temperature [K]
	companionC    float64 // J/m²K, 0: none
	companionG    float64 // W/m²K between bar and bed
	companionCell int
	joint         float64 // resistance between the piece and the bed [m²K/W]
	wall          float64 // coefficient at the wall of the box [W/m²K]
	size, link    []float64
	face          []float64 // area of each cell wall per area of the piece
	a, b, c, d    []float64
	lost, boiled  float64 // through the wall [J/m²]; water gone as steam [kg/m²]
}

// BedShape is the geometry of a buried piece and its box.
type BedShape struct {
	Plane     bool    // a wide plate: the bed is a slab
	Radius    float64 // of the round with the perimeter of the piece [m]
	Reach     float64 // from the surface of the piece to the wall of the box [m]
	Cells     int     // 0: 48
	FirstCell float64 // thickness of the cell at the piece [m]; 0: 0.1 mm
	Wall      float64 // coefficient outside the box [W/m²K]; 0: 10
	Joint     float64 // extra resistance between piece and bed [m²K/W]
}

// NewBed returns a bed at temperature T [K] with moisture in kg of water per kg
// of dry filling.
func NewBed(m *Filling, s BedShape, T, moisture float64) *Bed {
	n := s.Cells
	if n == 0 {
		n = 48
	}
	first := s.FirstCell
	if first == 0 {
		first = 0.0001
	}
	if s.Wall == 0 {
		s.Wall = 10
	}
	b := &Bed{Filling: m, Room: T, joint: s.Joint, wall: s.Wall, T: make([]float64, n), Water: make([]float64, n)}
	b.size, b.link, b.face = make([]float64, n), make([]float64, n+1), make([]float64, n+1)
	b.a, b.b, b.c, b.d = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	ratio := growth(first, s.Reach, n)
	area := func(x float64) float64 {
		if s.Plane {
			return 1
		}
		return (s.Radius + x) / s.Radius
	}
	x, dx := 0.0, first
	for i := range n {
		b.face[i] = area(x)
		b.size[i] = dx * area(x+dx/2) // volume per area of the piece
		b.link[i] = dx
		b.T[i] = T
		b.Water[i] = moisture * m.Density
		x += dx
		dx *= ratio
	}
	b.face[n] = area(x)
	return b
}

// growth returns the ratio of neighboring cells so that n of them, the first of
// size first, reach total.
func growth(first, total float64, n int) float64 {
	lo, hi := 1.0, 3.0
	if first*float64(n) > total {
		lo, hi = 0.3, 1.0
	}
	for range 80 {
		r := 0.5 * (lo + hi)
		sum, dx := 0.0, first
		for range n {
			sum += dx
			dx *= r
		}
		if sum < total {
			lo = r
		} else {
			hi = r
		}
	}
	return 0.5 * (lo + hi)
}

// Accompany lays a hot bar into the bed at a distance from the piece [m]:
// capacity in J/K and temperature [K], for a buried piece of area m².
func (b *Bed) Accompany(capacity, T, distance, area float64) {
	b.Companion = T
	b.companionC = capacity / area
	x := 0.0
	for i, dx := range b.link[:len(b.T)] {
		b.companionCell = i
		if x += dx; x >= distance {
			break
		}
	}
	b.companionG = 2 * b.Filling.Conductivity(T) / 0.003 // 3 mm of filling around the bar, touching half of the piece's area
}

// assemble fills the matrix of an implicit step of dt.
func (b *Bed) assemble(dt float64) {
	n := len(b.T)
	rhoC := b.Filling.Density * b.Filling.Cp
	for i := range n {
		b.a[i], b.c[i] = 0, 0
		heat := b.size[i] * (rhoC + 4190*b.Water[i]) / dt
		b.b[i] = heat
		b.d[i] = heat * b.T[i]
	}
	kBefore := b.Filling.Conductivity(b.T[0])
	for i := 1; i < n; i++ {
		k := b.Filling.Conductivity(b.T[i])
		g := b.face[i] / (b.link[i-1]/(2*kBefore) + b.link[i]/(2*k))
		b.b[i-1] += g
		b.b[i] += g
		b.c[i-1] -= g
		b.a[i] -= g
		kBefore = k
	}
	g := b.wallConductance()
	b.b[n-1] += g
	b.d[n-1] += g * b.Room
	if b.companionC > 0 {
		j := b.companionCell
		cc := b.companionC / dt
		share := cc * b.companionG / (cc + b.companionG) // the bar answers within the step
		b.b[j] += share
		b.d[j] += share * b.Companion
	}
}

func (b *Bed) wallConductance() float64 {
	n := len(b.T)
	return b.face[n] / (b.link[n-1]/(2*b.Filling.Conductivity(b.T[n-1])) + 1/b.wall)
}

func (b *Bed) entry() float64 {
	return 1 / (b.link[0]/(2*b.Filling.Conductivity(b.T[0])) + b.joint)
}

// Respond returns what the bed takes during a step of dt [s] when the piece ends
// the step at Ts: q = slope·Ts − base [W/m²]. The first cell is small and follows
// the piece at once; the law already counts that.
func (b *Bed) Respond(dt float64) (slope, base float64) {
	b.assemble(dt)
	g := b.entry()
	b.b[0] += g
	// T₀ = α + β Ts: eliminate from the outside in.
	n := len(b.T)
	diag, rhs := b.b[n-1], b.d[n-1]
	for i := n - 2; i >= 0; i-- {
		m := b.c[i] / diag
		rhs = b.d[i] - m*rhs
		diag = b.b[i] - m*b.a[i+1]
	}
	alpha, beta := rhs/diag, g/diag
	return g * (1 - beta), g * alpha
}

// Step advances the bed by dt [s] after the piece gave it joules per square meter.
func (b *Bed) Step(dt, joules float64) {
	b.assemble(dt)
	b.d[0] += joules / dt
	wall, room := b.wallConductance(), b.Room
	n := len(b.T)
	for i := n - 2; i >= 0; i-- {
		m := b.c[i] / b.b[i+1]
		b.d[i] -= m * b.d[i+1]
		b.b[i] -= m * b.a[i+1]
	}
	b.T[0] = b.d[0] / b.b[0]
	for i := 1; i < n; i++ {
		b.T[i] = (b.d[i] - b.a[i]*b.T[i-1]) / b.b[i]
	}
	b.lost += dt * wall * (b.T[n-1] - room)
	if b.companionC > 0 {
		cc := b.companionC / dt
		b.Companion = (cc*b.Companion + b.companionG*b.T[b.companionCell]) / (cc + b.companionG)
	}
	b.dry()
}

const boil, latent = 100 + CelsiusZero, 2.26e6 // of water [K], [J/kg]

// dry boils water off cells that passed 100 °C: a damp bed quenches.
func (b *Bed) dry() {
	rhoC := b.Filling.Density * b.Filling.Cp
	for i, T := range b.T {
		if T <= boil || b.Water[i] <= 0 {
			continue
		}
		heat := (rhoC + 4190*b.Water[i]) * (T - boil)
		gone := min(b.Water[i], heat/latent)
		rest := b.Water[i] - gone
		b.T[i] = boil + (heat-gone*latent)/(rhoC+4190*rest)
		b.boiled += b.size[i] * gone
		b.Water[i] = rest
	}
}

// Held returns the heat in the bed and its companion above T [K], what went out
// through the wall, and what the water took with it [J/m² of the piece].
func (b *Bed) Held(T float64) (inside, lost, vapor float64) {
	rhoC := b.Filling.Density * b.Filling.Cp
	for i := range b.T {
		inside += b.size[i] * (rhoC + 4190*b.Water[i]) * (b.T[i] - T)
	}
	return inside + b.companionC*(b.Companion-T), b.lost, b.boiled * (latent + 4190*(boil-T))
}

// Clone returns a copy that shares nothing that changes.
func (b *Bed) Clone() *Bed {
	c := *b
	c.T = append([]float64(nil), b.T...)
	c.Water = append([]float64(nil), b.Water...)
	n := len(b.T)
	c.a, c.b, c.c, c.d = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	return &c
}

// Save appends the state to dst.
func (b *Bed) Save(dst []float64) []float64 {
	dst = append(dst, b.Companion, b.Room, b.lost, b.boiled)
	return append(append(dst, b.T...), b.Water...)
}

// Restore takes the state from src and returns the rest of it.
func (b *Bed) Restore(src []float64) []float64 {
	n := len(b.T)
	b.Companion, b.Room, b.lost, b.boiled = src[0], src[1], src[2], src[3]
	src = src[4:]
	copy(b.T, src[:n])
	copy(b.Water, src[n:2*n])
	return src[2*n:]
}
