package sim

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/conduction"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// piece is what no step changes: shape, mesh, steel and skin. Forks share it; an
// act makes a new one.
type piece struct {
	setup          *Setup
	opts           Options
	solid          *shape.Solid
	mesh           *conduction.Mesh
	metal          *micro.Metal
	thermal        *steel.Thermal
	coat           *skin.Skin
	size           shop.Piece
	mass           float64     // of the whole piece [kg]
	meshMass       float64     // of the mesh [kg]
	share          float64     // mass of the whole piece over that of the mesh [–]
	rind           []int       // the cells with an outer face
	along          []float64   // distance of each face from the end that goes under first [m]
	mirror         bool        // only the front half of the thickness is in the mesh
	outer          []int       // faces that see the surrounding, in the order of the patches of skin
	inner          []int       // faces of the middle plane
	faces, patches [][]int     // of each zone: its outer faces, and their patches
	core           int         // index of the zone that an ending means when it names none
	under          columns     // the cells that lie beneath the skin
	told           []cite.Note // what was found at the acts that led to this shape
}

// density of steel at 20 °C, by which a mass is reckoned from a cold shape
// [kg/m³]. 7850 within 0.5 % for plain and low-alloy steel.
const density = 7850

func newPiece(s *Setup, o Options, solid *shape.Solid, metal *micro.Metal) (*piece, error) {
	body, mirror := mirrored(solid)
	mirror = mirror && !o.Full && s.halved()
	fine := fineness(o)
	if mirror {
		fine.Through = (fine.Through + 1) / 2
	} else {
		body = solid
	}
	mesh, err := conduction.New(body, fine)
	if err != nil {
		return nil, &Error{Text: "the piece cannot be cut up into cells: ", Err: err}
	}
	p := &piece{setup: s, opts: o, solid: solid, mirror: mirror, mesh: mesh, metal: metal, thermal: steel.Properties(s.Steel)}
	p.mass = density * solid.Volume()
	sum := 0.0
	for _, v := range mesh.Volume {
		sum += v
	}
	p.meshMass = density * sum
	p.share = p.mass / p.meshMass
	p.measure()
	p.open()
	p.outline()
	p.skinOver()
	p.lookUnder()
	if len(mesh.Parts) == 0 {
		return nil, &Error{Text: "no zone of the piece lies in this cross-section", Remedy: "place it between heel and tip"}
	}
	p.core = max(p.zone("core"), 0)
	return p, nil
}

func fineness(o Options) conduction.Cells {
	c := conduction.Whole
	if o.Section {
		c = conduction.Section
	}
	c.At = o.Station
	if o.Across > 0 {
		c.Across = o.Across
	}
	if o.Through > 0 {
		c.Through = o.Through
	}
	if o.Along > 0 && !o.Section {
		c.Along = o.Along
	}
	return c
}

// measure tells the shop's equipment how large the whole piece is, also where
// only a section of it is marched.
func (p *piece) measure() {
	l, w, t := p.solid.Extent()
	cut := p.solid.Section(p.mesh.Fineness.At)
	p.size = shop.Piece{
		Length: l, Width: w, Thickness: t, Mass: p.mass, Lying: p.setup.Lying,
		Perimeter: cut.Perimeter(), Area: p.solid.Surface(),
	}
}

func (p *piece) outline() {
	f := &p.mesh.Faces
	seen := make([]bool, p.mesh.Len())
	for _, i := range p.outer {
		if c := f.Cell[i]; !seen[c] {
			seen[c] = true
			p.rind = append(p.rind, c)
		}
	}
	far, _, _ := p.solid.At(1, 0.5, 0)
	here, _, _ := p.solid.At(p.mesh.Fineness.At, 0.5, 0)
	p.along = make([]float64, f.Len())
	for i, x := range f.X {
		if p.mesh.Flat {
			x = here
		}
		p.along[i] = math.Max(0, far-x)
	}
}

// lengthwise returns where each face lies along the piece [m]; a cross-section lies at one place.
func (p *piece) lengthwise() []float64 {
	if !p.mesh.Flat {
		return p.mesh.Faces.X
	}
	here, _, _ := p.solid.At(p.mesh.Fineness.At, 0.5, 0)
	x := make([]float64, p.mesh.Faces.Len())
	for i := range x {
		x[i] = here
	}
	return x
}

// skinOver lays a patch of skin on every outer face.
func (p *piece) skinOver() {
	patches := make([]skin.Patch, len(p.outer))
	for n, i := range p.outer {
		patches[n] = skin.Patch{Steel: p.setup.Steel, Half: p.half(p.mesh.Faces.Cell[i]), Finish: p.setup.Finish, Bark: p.setup.Bark}
	}
	p.coat = skin.NewWithin(patches, func(steel.Composition) skin.Limits { return p.metal.Limits() })
}

// half returns half the thickness of the piece where cell c lies [m].
func (p *piece) half(c int) float64 {
	m := p.mesh
	j, i := c/m.NK%m.NJ, c/(m.NK*m.NJ)
	u := m.Fineness.At
	if !m.Flat {
		u = 0.5 * (m.U[i] + m.U[i+1])
	}
	v := 0.5 * (m.V[j] + m.V[j+1])
	top, bottom := p.solid.Across(u, v, 1), p.solid.Across(u, v, -1)
	return 0.5 * math.Hypot(top.Y-bottom.Y, top.Z-bottom.Z)
}

// zone returns the index of the zone with this name, or −1.
func (p *piece) zone(name string) int {
	for i := range p.mesh.Parts {
		if p.mesh.Parts[i].Name == name {
			return i
		}
	}
	return -1
}

// start returns the piece as it lies on the bench, at temperature T [K].
func (p *piece) start(T float64) *state {
	s := &state{cells: micro.NewCells(p.mesh.Len()), skin: p.coat.Start()}
	p.metal.StartFrom(s.cells, p.setup.Start)
	p.barked(s)
	s.field = conduction.NewField(p.mesh, density, T, &steelOfCells{metal: p.metal, thermal: p.thermal, cells: s.cells})
	return s
}

// carbonOf returns the carbon [kg] and iron with its alloy [kg] in all cells.
func (p *piece) carbonOf(s *state) (carbon, iron float64) {
	for i, m := range s.field.Mass {
		if m == 0 {
			continue
		}
		c, sum := s.cells.CarbonTotal(i), 0.0
		for k := range s.cells.Fraction {
			sum += s.cells.Fraction[k][i]
		}
		carbon += m * c / 100
		iron += m * (sum - c/100)
	}
	return carbon, iron
}

var roles = map[route.Role]Role{
	route.Heating: Heating, route.Holding: Holding, route.Tempering: Tempering, route.Carrying: Carrying, route.Quenching: Quenching,
	route.Cooling: Cooling, route.Burying: Burying, route.Working: Working, route.Acting: Acting,
}
