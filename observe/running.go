package observe

import (
	"fmt"
	"math"
	"slices"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Draw is what heat is drawn from while the colors run.
type Draw string

// The ways to run the colors.
const (
	HotBlock Draw = "hot block" // a block of hot steel held against the spine; it cools as it gives
	HotPlate Draw = "hot plate" // spine down on a plate that is kept hot
	TorchRun Draw = "torch"     // a flame moved to and fro along the spine
	Shank    Draw = "shank"     // the heat left in the shank after the end was quenched
)

// Running is a hardened piece whose colors are run: heat creeps from the spine to
// the edge, or from the shank to the end, and the work is stopped when the wanted
// color reaches the watched place. The colors run down a cross-section (spine to
// edge), or along the length for Shank.
//
// Block and plate press with 1000 W/m²K (300 to 3000, from memory: scaled and
// loose to clean and pressed), which is the largest doubt of the time to stop;
// the colors themselves do not depend on it much.
type Running struct {
	Solid *shape.Solid
	Steel steel.Composition
	From  Draw
	Hot   float64 // temperature of block, plate or shank at the start [K]
	Mass  float64 // of the block [kg]
	Watts float64 // that the flame leaves in the steel [W]; a plumber's torch of 2 kW: 400 to 700
	Joint float64 // conductance of the touching faces [W/m²K]; 0: 1000
	Line  float64 // Shank: the part of the length beyond which the end is cold, from 0 to 1
	Wet   float64 // share of the width at the edge, or of the length at the end, kept in water
	Room  float64 // [K]; 0: 20 °C

	Watch float64      // the place that decides, 0 at spine or shank, 1 at edge or end
	Want  color.Temper // color wanted there
	Lag   unit.Band    // from seeing to doing [s]; zero: 1.0 (0.5 to 2.0)
	Limit float64      // give up after [s]; 0: 600
}

// defaultJoint is the conductance of a clean block pressed on by hand [W/m²K].
const defaultJoint = 1000

// Ran is what came of it.
type Ran struct {
	History *color.History // T [K] and film [nm] of the line of places over time
	Stop    Stop
	HRC     []float64 // hardness left at each place once it is cold again; NaN under 20
	Before  []float64 // hardness at the start
	Joules  float64   // heat that has gone into the piece, of a meter of it for a cross-section
}

// lineUp finds the faces of the line of places: those of the front side, from the
// spine face to the edge face, or along the middle of the front.
func (r *Running) lineUp(m *conduction.Mesh) (place []float64, face, cell []int) {
	f := &m.Faces
	pick := func(cell int, side conduction.Side) int {
		for i, c := range f.Cell {
			if c == cell && f.Side[i] == side {
				return i
			}
		}
		return -1
	}
	if r.From == Shank {
		for i := range m.NI {
			c := (i*m.NJ+m.NJ/2)*m.NK + m.NK - 1
			place, face, cell = append(place, 0.5*(m.U[i]+m.U[i+1])), append(face, pick(c, conduction.Front)), append(cell, c)
		}
		return place, face, cell
	}
	for j := range m.NJ {
		c := j*m.NK + m.NK - 1
		place, face, cell = append(place, 0.5*(m.V[j]+m.V[j+1])), append(face, pick(c, conduction.Front)), append(cell, c)
	}
	return place, face, cell
}

// Run marches the piece until the wanted color has passed the watched place, or
// the limit; then once more to the stop and from there until it is cold, for what
// is left. A block, a plate or a torch is taken away and the piece put in water. Of
// a piece drawn from its shank the end is dipped and kept there, and the shank cools
// in still air: in water it would harden, where it is still austenite.
func (r Running) Run() (*Ran, error) {
	ran, err := r.march()
	if err != nil {
		return nil, err
	}
	w, err := r.start()
	if err != nil {
		return nil, err
	}
	for dt := 0.02; w.time < ran.Stop.At; {
		dt = w.step(min(dt, max(1e-3, ran.Stop.At-w.time)))
	}
	ran.HRC = w.leave()
	return ran, nil
}

// march runs the colors and finds the moment to stop.
func (r *Running) march() (*Ran, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	w, err := r.start()
	if err != nil {
		return nil, err
	}
	dt, next := 0.02, 0.0
	target := r.Want.Film()
	for w.time < r.Limit {
		if w.time >= next {
			w.record()
			next += max(0.25, w.time/80)
		}
		if w.film(r.Watch) > 1.15*target.High && w.time > 1 {
			break
		}
		dt = w.step(dt)
	}
	w.record()
	ran := &Ran{History: w.history, Before: w.before, Joules: w.joules}
	ran.Stop = StopMoment(w.history, r.Watch, r.Want, r.Lag)
	return ran, nil
}

// leave lets the piece grow cold after the stop and returns the hardness at each place.
func (w *run) leave() (left []float64) {
	const cold = 100 + kelvin
	for i, c := range w.mesh.Faces.Cell {
		w.touch[i] = false
		if w.From != Shank || w.placeOf(c) > min(1-w.Wet, 0.5*(1+w.Line)) {
			w.wet[i] = true
		}
	}
	patience := w.pace
	patience.Longest = 30
	w.pace = patience
	for dt, end := 0.02, w.time+7200; w.time < end && slices.Max(w.field.T) > cold; {
		dt = w.step(dt)
	}
	hv := make([]float64, w.mesh.Len())
	w.metal.Hardness(hv, w.cells)
	for _, c := range w.cell {
		left = append(left, hrc(hv[c]))
	}
	return left
}

func (r *Running) check() error {
	if r.Room == 0 {
		r.Room = 20 + kelvin
	}
	if r.Joint == 0 {
		r.Joint = defaultJoint
	}
	if r.Limit == 0 {
		r.Limit = 600
	}
	if r.Lag == (unit.Band{}) {
		r.Lag = HumanLag
	}
	switch {
	case r.Solid == nil:
		return fmt.Errorf("observe: no piece to run the colors on; give its shape")
	case r.Solid.EndOn && r.From != Shank:
		return fmt.Errorf("observe: the edge of this piece is at its end; its colors run along it, from the shank")
	case r.From == TorchRun && (r.Watts < 20 || r.Watts > 5000):
		return fmt.Errorf("observe: a flame that leaves %.0f W in the steel; 20 to 5000 is a torch", r.Watts)
	case r.From != TorchRun && (r.Hot < 150+kelvin || r.Hot > 1100+kelvin):
		return fmt.Errorf("observe: a %s at %.0f °C; between 150 and 1100 °C it runs colors", r.From, r.Hot-kelvin)
	case r.From == HotBlock && r.Mass <= 0:
		return fmt.Errorf("observe: the hot block weighs nothing; give its mass")
	case r.Watch < 0 || r.Watch > 1 || r.Wet < 0 || r.Wet > 0.8:
		return fmt.Errorf("observe: watched place %.2f, wet share %.2f; places run from 0 to 1, at most 0.8 of the piece stands in water", r.Watch, r.Wet)
	case r.Want < color.FaintStraw || r.Want > color.PaleBlue:
		return fmt.Errorf("observe: %s is no color to stop at; faint straw to pale blue are", r.Want)
	}
	return nil
}

// run is the march of a Running.
type run struct {
	*Running
	mesh   *conduction.Mesh
	field  *conduction.Field
	metal  *micro.Metal
	cells  *micro.Cells
	coat   *skin.Skin
	skin   *skin.State
	faces  medium.Faces
	air    *medium.Air
	bath   *medium.Held
	block  medium.Contact
	touch  []bool // faces that the source heats
	wet    []bool
	length float64

	places     []float64
	face, cell []int
	history    *color.History
	before     []float64
	pace       conduction.Pace
	time       float64
	joules     float64
	flame      float64 // flux of the torch [W/m²]
	q, dq      []float64
}

// Fill implements conduction.Material.
func (w *run) fillMetal(h, cp, k, T []float64) { w.metal.Fill(h, cp, k, T, w.cells) }

type metalOf struct{ *run }

func (m metalOf) Fill(h, cp, k, T []float64) { m.fillMetal(h, cp, k, T) }

type skinOf struct{ *run }

// Fill implements conduction.Boundary.
func (b skinOf) Fill(q, dq, Ts []float64) {
	w := b.run
	w.faces.T = Ts
	w.air.Fill(q, dq, &w.faces)
	w.block.Fill(w.q, w.dq, &w.faces)
	for i, touched := range w.touch {
		switch {
		case touched && w.From == TorchRun:
			q[i] -= w.flame
		case touched:
			q[i], dq[i] = w.q[i], w.dq[i]
		}
	}
	w.bath.Fill(w.q, w.dq, &w.faces)
	for i, wet := range w.wet {
		if wet {
			q[i], dq[i] = w.q[i], w.dq[i]
		}
	}
}

func (r *Running) start() (*run, error) {
	fine := conduction.Section
	if r.From == Shank {
		fine = conduction.Cells{Along: 40, Across: 3, Through: 3}
	}
	mesh, err := conduction.New(r.Solid, fine)
	if err != nil {
		return nil, err
	}
	metal, err := micro.New(r.Steel, nil)
	if err != nil {
		return nil, err
	}
	n, nf := mesh.Len(), mesh.Faces.Len()
	w := &run{Running: r, mesh: mesh, metal: metal, cells: micro.NewCells(n), pace: pace, length: r.Solid.Length(), q: make([]float64, nf), dq: make([]float64, nf)}
	metal.Start(w.cells, micro.Hardened)
	w.field = conduction.NewField(mesh, metal.Thermal().Density(steel.Martensite, r.Room), r.Room, metalOf{w})
	w.places, w.face, w.cell = r.lineUp(mesh)
	f := &mesh.Faces
	_, width, thick := r.Solid.Extent()
	patches := make([]skin.Patch, nf)
	for i := range patches {
		patches[i] = skin.Patch{Steel: r.Steel, Half: thick / 2, Finish: skin.Polished}
	}
	w.coat = skin.New(patches)
	w.skin = w.coat.Start()
	w.faces = medium.Faces{Eps: make([]float64, nf), R: nil, X: f.X, Y: f.Y, Z: f.Z, NX: f.NX, NY: f.NY, NZ: f.NZ, Height: width}
	w.air = medium.StillAir(r.Room, width, medium.Upright)
	w.bath = &medium.Held{T: r.Room + 10, H: 3000} // water stirred by hand, below boiling (1000 to 5000, from memory)
	w.block = medium.Contact{T: r.Hot, H: r.Joint}
	w.touch, w.wet = make([]bool, nf), make([]bool, nf)
	spine := 0.0
	for i, c := range f.Cell {
		at := w.placeOf(c)
		w.wet[i] = at > 1-r.Wet
		if r.From != Shank && f.Side[i] == conduction.Spine {
			w.touch[i] = true
			spine += f.Area[i]
		}
	}
	if r.From == TorchRun && spine > 0 {
		w.flame = r.Watts / w.length / spine // of a meter of the section
	}
	if r.From == Shank {
		w.leaveHeat()
	}
	hv := make([]float64, n)
	metal.Hardness(hv, w.cells)
	for _, c := range w.cell {
		w.before = append(w.before, hrc(hv[c]))
	}
	if r.From == Shank {
		w.heatShank()
	}
	names := make([]string, len(w.places))
	names[0], names[len(names)-1] = "spine", "edge"
	if r.From == Shank {
		names[0], names[len(names)-1] = "shank", "end"
	}
	w.history = &color.History{Place: w.places, Names: names}
	return w, nil
}

// placeOf returns where a cell lies on the line, 0 to 1.
func (w *run) placeOf(c int) float64 {
	if w.From == Shank {
		i := c / (w.mesh.NJ * w.mesh.NK)
		return 0.5 * (w.mesh.U[i] + w.mesh.U[i+1])
	}
	j := c / w.mesh.NK % w.mesh.NJ
	return 0.5 * (w.mesh.V[j] + w.mesh.V[j+1])
}

// leaveHeat sets the shank hot and the quenched end cold, joined over a tenth of
// the length. The hot part has not been hardened.
func (w *run) leaveHeat() {
	n := w.mesh.Len()
	soft := micro.NewCells(n)
	w.metal.Start(soft, micro.Normalized)
	for c := range n {
		f := min(1, max(0, (w.placeOf(c)-w.Line)/0.1+0.5))
		w.field.T[c] = w.Hot + f*(w.Room+30-w.Hot)
		if f < 0.5 {
			w.cells.CopyCell(c, soft, c)
		}
	}
}

// heatShank brings the shank to what minutes at its heat have made of it, austenite
// above the critical, and the field to the temperatures.
func (w *run) heatShank() {
	n := w.mesh.Len()
	for c := range n {
		if w.placeOf(c) > w.Line {
			continue
		}
		one, at := micro.NewCells(1), []float64{w.Hot}
		one.CopyCell(0, w.cells, c)
		for range 100 {
			w.metal.Step(one, one, at, 3)
		}
		w.cells.CopyCell(c, one, 0)
	}
	k, cp := make([]float64, n), make([]float64, n)
	w.metal.Fill(w.field.H, cp, k, w.field.T, w.cells)
	for i, c := range w.mesh.Faces.Cell {
		w.field.Ts[i] = w.field.T[c]
	}
}

var pace = conduction.Pace{Tolerance: 0.5, MaxChange: 8, Longest: 2}

// step takes one step that stands and returns the next to try.
func (w *run) step(dt float64) float64 {
	w.coat.Emissivity(w.faces.Eps, w.skin, w.field.Ts)
	for {
		report := w.field.Step(dt, metalOf{w}, skinOf{w}, nil)
		stands, next := w.pace.Next(dt, report)
		if !stands {
			w.field.Undo()
			dt = next
			continue
		}
		w.metal.Step(w.cells, w.cells, w.field.T, dt)
		w.metal.Temperature(w.field.T, w.field.H, w.cells)
		w.coat.Step(w.skin, w.skin, w.field.Ts, dt, medium.OpenAir)
		w.joules -= report.Joules
		if w.From == HotBlock {
			w.cool(dt)
		}
		w.time += dt
		return next
	}
}

// cool takes from the block what went into the piece, and what it loses to air: a
// cube of steel, 600 J/kgK, 30 W/m²K.
func (w *run) cool(dt float64) {
	given := 0.0
	for i, touched := range w.touch {
		if touched {
			given -= w.field.Out[i]
		}
	}
	side := math.Cbrt(w.Mass / 7800)
	given = given*w.length + 30*5*side*side*(w.block.T-w.Room)*dt
	w.block.T -= given / (w.Mass * 600)
}

func (w *run) record() {
	w.history.Time = append(w.history.Time, w.time)
	for _, f := range w.face {
		w.history.T = append(w.history.T, w.field.Ts[f])
		w.history.Film = append(w.history.Film, w.skin.Oxide[f]*1e9)
	}
}

// film returns the oxide at a place [nm].
func (w *run) film(place float64) float64 {
	best, at := math.Inf(1), 0
	for k, p := range w.places {
		if d := math.Abs(p - place); d < best {
			best, at = d, k
		}
	}
	return w.skin.Oxide[w.face[at]] * 1e9
}

func hrc(hv float64) float64 {
	x, ok := unit.HRCofHV(hv)
	if !ok {
		return math.NaN()
	}
	return x
}
