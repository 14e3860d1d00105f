// Package route holds a job as plain data: the piece, its steel, the shop, the
// aim and the steps, and the file in which a smith writes them down. It
// computes nothing: it reads, checks, writes and lays out.
//
// A job file is TOML whose first key is format = 1. Quantities are strings with
// their unit ("1475 F", "1/8 in", "a ten count") and are kept as typed, so
// that a sheet can say them back the same way. Parse reports every problem of a
// file at once, each with line, column, key, value, limits and remedy;
// Parse(Write(job)) returns the same job.
//
// The file form, the checks of single values and the JSON Schema all come from
// the struct tags of these types: key is the name in the file, need and for say
// which forms or verbs must and may have it, one lists the words that it takes,
// min and max its limits, doc is the help that an editor shows.
package route

import "github.com/heatwright/heatwright/unit"

// Format is the newest version of the job file that this program reads and
// the one that it writes.
const Format = 1

// Given is a quantity as it was typed, with its value in SI units (K for a
// temperature). An empty Text means that nothing was given.
type Given[T any] struct {
	Text  string
	Value T
}

// Is reports whether the quantity was given at all.
func (g Given[T]) Is() bool { return g.Text != "" }

// Or returns the value, or the one given when nothing was typed.
func (g Given[T]) Or(other T) T {
	if g.Is() {
		return g.Value
	}
	return other
}

type (
	// Length is a length as typed.
	Length = Given[unit.Length]
	// Temp is a temperature as typed.
	Temp = Given[unit.Temp]
	// TempStep is a difference of temperatures as typed.
	TempStep = Given[unit.TempDiff]
	// Duration is a time as typed.
	Duration = Given[unit.Duration]
	// Volume is a volume as typed.
	Volume = Given[unit.Volume]
	// Mass is a mass as typed.
	Mass = Given[unit.Mass]
	// Hardness is a band of hardness as typed.
	Hardness = Given[unit.HardnessBand]
	// GasRate is a rate of gas as typed.
	GasRate = Given[unit.GasRate]
	// AirSpeed is a speed of air as typed.
	AirSpeed = Given[Speed]
	// Angle is an angle as typed.
	Angle = Given[unit.Angle]
	// AirFlow is a flow of air as typed.
	AirFlow = Given[Flow]
	// Percent is a part of a hundred as typed.
	Percent = Given[Share]
	// Watts is a power as typed.
	Watts = Given[Power]
	// TempRate is a rise or fall of temperature in a time as typed.
	TempRate = Given[Climb]
)

// Job is one piece on its way through the shop.
type Job struct {
	Format int     `key:"format" need:"*" doc:"version of this file; the first key"`
	Name   string  `key:"name" need:"*" most:"48" doc:"what the piece is: kitchen knife"`
	Mark   string  `key:"mark" most:"12" doc:"strokes or letters on the tang that tell this piece from its sisters"`
	Demo   bool    `key:"demo" doc:"invented data, shown with a mark"`
	Units  string  `key:"units" one:"metric|imperial" doc:"the unit that is said first; metric when empty"`
	Notes  string  `key:"notes" most:"4000" lines:"yes" doc:"your own words, printed on the back of the sheet"`
	Piece  Piece   `key:"piece" need:"*" doc:"the shape as it goes into the first step"`
	Steel  []Metal `key:"steel" need:"*" single:"yes" doc:"what it is made of; several only when regions differ"`
	Shop   Shop    `key:"shop" need:"*" doc:"the equipment that the steps name"`
	Aim    Aim     `key:"aim" doc:"what it is to become"`
	Steps  []Step  `key:"step" need:"*" doc:"what is done, in order"`
}

// Form is the shape of a piece.
type Form string

// The forms that a piece can have.
const (
	Flat      Form = "flat"
	Round     Form = "round"
	Square    Form = "square"
	Hex       Form = "hex"
	Octagon   Form = "octagon"
	Blade     Form = "blade"
	Chisel    Form = "chisel"
	Punch     Form = "punch"
	Drawknife Form = "drawknife"
	Spring    Form = "spring"
	Froe      Form = "froe"
	Hatchet   Form = "hatchet"
	Hammer    Form = "hammer"
)

// Forms returns every form in the order in which they are offered.
func Forms() []Form {
	return []Form{Blade, Chisel, Punch, Drawknife, Spring, Froe, Hatchet, Hammer, Flat, Round, Square, Hex, Octagon}
}

// Piece is the shape that goes into the first step.
type Piece struct {
	Form      Form      `key:"form" need:"*" one:"flat|round|square|hex|octagon|blade|chisel|punch|drawknife|spring|froe|hatchet|hammer" variant:"yes" doc:"its shape"`
	Length    Length    `key:"length" need:"*" min:"5 mm" max:"3 m" doc:"of the bar or the tool; of a blade without its tang, a drawknife without its tangs, a froe without its eye"`
	Stock     string    `key:"stock" for:"chisel punch hammer" need:"chisel punch" one:"flat|round|square|hex|octagon" doc:"the bar that it is made of; of a hammer the form of its face, left out: square"`
	Width     Length    `key:"width" for:"flat blade chisel drawknife spring froe" need:"flat blade drawknife froe" min:"1 mm" max:"300 mm" doc:"of the flat; of the blade at the heel"`
	Thickness Length    `key:"thickness" for:"flat chisel" need:"flat" min:"0.2 mm" max:"100 mm" doc:"of the flat"`
	Diameter  Length    `key:"diameter" for:"round" need:"round" min:"0.5 mm" max:"100 mm" doc:"of the round"`
	Across    Length    `key:"across" for:"square hex octagon chisel punch hammer" need:"square hex octagon punch hammer" min:"0.5 mm" max:"100 mm" doc:"across the flats; of a round its diameter; of a hammer its face"`
	Spine     Length    `key:"spine" for:"blade drawknife froe" need:"blade drawknife froe" min:"0.3 mm" max:"30 mm" doc:"thickness of the spine at the heel"`
	SpineTip  Length    `key:"spine_tip" for:"blade" min:"0.2 mm" max:"30 mm" doc:"thickness of the spine near the tip; left out: no distal taper"`
	Edge      Length    `key:"edge" for:"blade chisel drawknife froe hatchet" need:"blade chisel drawknife froe hatchet" min:"0.05 mm" max:"30 mm" doc:"thickness of the edge"`
	WidthTip  Length    `key:"width_tip" for:"blade" min:"0.5 mm" max:"300 mm" doc:"width near the tip; left out: two fifths of the width"`
	Bevel     Length    `key:"bevel" for:"blade drawknife" min:"0.5 mm" max:"300 mm" doc:"height of the flat bevel above the edge; left out: full height, of a drawknife a third"`
	Sides     int       `key:"sides" for:"blade" min:"1" max:"2" doc:"bevel on 1 or 2 sides; left out: 2"`
	Tang      Tang      `key:"tang" for:"blade" doc:"the part that goes into the handle"`
	Stations  []Station `key:"station" for:"blade" doc:"more sections from heel to tip"`

	Taper     Length `key:"taper" for:"chisel punch" need:"chisel punch" min:"1 mm" max:"1 m" doc:"length of the taper to the edge or point"`
	EdgeWidth Length `key:"edge_width" for:"chisel" need:"chisel" min:"0.5 mm" max:"100 mm" doc:"width of the edge"`
	Point     Length `key:"point" for:"punch" need:"punch" min:"0.3 mm" max:"100 mm" doc:"size across the point"`

	TangLength Length `key:"tang_length" for:"drawknife" need:"drawknife" min:"5 mm" max:"400 mm" doc:"of each tang, before it is bent"`
	TangWidth  Length `key:"tang_width" for:"drawknife" need:"drawknife" min:"1 mm" max:"100 mm" doc:"of each tang"`

	Middle Length `key:"middle" for:"spring" min:"0.2 mm" max:"30 mm" doc:"of a leaf: thickness in the middle"`
	Ends   Length `key:"ends" for:"spring" min:"0.2 mm" max:"30 mm" doc:"of a leaf: thickness at the ends; left out: as in the middle"`
	Wire   Length `key:"wire" for:"spring" min:"0.5 mm" max:"30 mm" doc:"of a coil: diameter of its wire; it is hardened straight here"`

	Eye     Length `key:"eye" for:"froe hatchet hammer" need:"froe hatchet hammer" min:"3 mm" max:"200 mm" doc:"length of the eye along the head; of a froe its diameter"`
	EyeWide Length `key:"eye_wide" for:"hatchet hammer" need:"hatchet hammer" min:"2 mm" max:"100 mm" doc:"of the eye"`
	EyeAt   Length `key:"eye_at" for:"hatchet hammer" need:"hatchet hammer" min:"5 mm" max:"500 mm" doc:"middle of the eye from the poll or the face"`
	Wall    Length `key:"wall" for:"froe" need:"froe" min:"1 mm" max:"30 mm" doc:"thickness of the metal around the eye"`

	Poll       Length `key:"poll" for:"hatchet" need:"hatchet" min:"5 mm" max:"100 mm" doc:"height of the poll"`
	PollThick  Length `key:"poll_thick" for:"hatchet" need:"hatchet" min:"3 mm" max:"100 mm" doc:"thickness of the poll"`
	Cheek      Length `key:"cheek" for:"hatchet" need:"hatchet" min:"3 mm" max:"100 mm" doc:"thickness of the head over the eye"`
	EdgeHeight Length `key:"edge_height" for:"hatchet" need:"hatchet" min:"5 mm" max:"100 mm" doc:"length of the edge from toe to heel"`

	Body      Length `key:"body" for:"hammer" need:"hammer" min:"5 mm" max:"100 mm" doc:"side of the head over the eye"`
	PeenWidth Length `key:"peen_width" for:"hammer" need:"hammer" min:"2 mm" max:"100 mm" doc:"width of the peen"`
	PeenThick Length `key:"peen_thick" for:"hammer" need:"hammer" min:"1 mm" max:"100 mm" doc:"thickness of the peen; as thick as the head: a second face"`
}

// Tang is the part of a blade that goes into the handle.
type Tang struct {
	Length    Length `key:"length" need:"*" min:"5 mm" max:"400 mm" doc:"from the shoulder"`
	Width     Length `key:"width" need:"*" min:"1 mm" max:"300 mm"`
	Thickness Length `key:"thickness" need:"*" min:"0.3 mm" max:"30 mm"`
}

// Station is one section of a blade, At the distance from the heel.
type Station struct {
	At    Length `key:"at" need:"*" min:"0 mm" max:"3 m" doc:"distance from the heel"`
	Width Length `key:"width" need:"*" min:"0.5 mm" max:"300 mm"`
	Spine Length `key:"spine" need:"*" min:"0.2 mm" max:"30 mm"`
	Edge  Length `key:"edge" need:"*" min:"0.05 mm" max:"30 mm"`
}

// OnEdge reports whether the piece is a long blade, which stands on its spine in a
// fire and goes into a bath edge down; others lie.
func (p Piece) OnEdge() bool { return p.Form == Blade || p.Form == Drawknife || p.Form == Froe }

// Thick returns the greatest thickness of the piece.
func (p Piece) Thick() Length {
	for _, l := range []Length{p.Thickness, p.Diameter, p.Across, p.Spine, p.Middle, p.Wire, p.Cheek} {
		if l.Is() {
			return l
		}
	}
	return Length{}
}

// Condition is the structure in which a bar arrives.
type Condition string

// The conditions of a bar.
const (
	Spheroidized Condition = "spheroidized"
	Annealed     Condition = "annealed"
	HotRolled    Condition = "hot-rolled"
	ColdRolled   Condition = "cold-rolled"
	Normalized   Condition = "normalized"
	Hardened     Condition = "hardened"
	AsForged     Condition = "as forged"
	UnknownState Condition = "unknown"
)

// Metal is the steel of a region. One of Grade, Certificate, Composition and
// Unknown tells what it is.
type Metal struct {
	Region      string    `key:"region" doc:"the part of the piece, when its parts differ"`
	Grade       string    `key:"grade" doc:"as it is called: 1084, O1, C100S"`
	Certificate string    `key:"certificate" most:"2000" lines:"yes" doc:"the analysis on the paper for this bar: C 0.84, Mn 0.73, Si 0.22"`
	Composition string    `key:"composition" most:"400" doc:"by hand, in percent: C 0.95, Mn 1.2, Cr 0.5"`
	Unknown     bool      `key:"unknown" doc:"true for mystery steel"`
	Condition   Condition `key:"condition" one:"spheroidized|annealed|hot-rolled|cold-rolled|normalized|hardened|as forged|unknown" doc:"how the bar came: spheroidized and cold-rolled are soft from the mill, annealed was cooled slowly"`
	Finish      string    `key:"finish" one:"scaled|ground|satin|polished" doc:"surface as the steps begin: scaled as rolled or forged, ground on belt, stone or file, satin from fine paper, polished; all but scaled have the bar's soft skin off, and bright steel heats slower in an oven; left out: scaled where it was rolled hot or forged, else ground"`
	Bar         string    `key:"bar" most:"60" doc:"what you pick up: 25 x 5 mm, yellow end"`
}

// Aim is what the piece is to become.
type Aim struct {
	Use      string `key:"use" most:"60" doc:"what it is for: kitchen knife"`
	Hardness []Wish `key:"hardness" doc:"by zone: edge = \"60-62 HRC\""`
}

// Wish is a hardness band wanted at a zone of the trade.
type Wish struct {
	Zone string
	Band Hardness
}

// Verb is what the smith does in a step.
type Verb string

// The verbs of the trade.
const (
	Forge     Verb = "forge"     // heat in the fire, work in the air, as often as said; a pass changes the shape
	Bend      Verb = "bend"      // cold, or hot from a fire
	Drill     Verb = "drill"     // a hole through the thickness, cold
	Normalize Verb = "normalize" // heat through, cool in still air
	Anneal    Verb = "anneal"    // heat, then cool slowly in a box or a closed oven
	Relieve   Verb = "relieve"   // hold below critical, to let go of stress
	Grind     Verb = "grind"     // take metal off
	Heat      Verb = "heat"      // put into a fire, an oven, a pipe
	Carry     Verb = "carry"     // from the fire to the bath, through the air
	Quench    Verb = "quench"    // into a bath
	Cool      Verb = "cool"      // in air, still or moving
	Bury      Verb = "bury"      // in a box of vermiculite, ash, sand
	Temper    Verb = "temper"    // in an oven, as often as said, or on a block, a plate, under a torch
	Coat      Verb = "coat"      // lay clay or paint on, wrap in foil
	Strip     Verb = "strip"     // take the coat off again
)

// Step is one line of the route. From counts from the end that does no work: the
// tang of a blade, the struck end of a chisel, the poll of a hatchet, the left end of a bar.
type Step struct {
	Do     Verb     `key:"do" need:"*" one:"forge|normalize|anneal|relieve|grind|drill|bend|heat|carry|quench|cool|bury|temper|coat|strip" variant:"yes" doc:"what you do"`
	Name   string   `key:"name" most:"40" doc:"a name of your own for this step"`
	In     string   `key:"in" for:"forge normalize anneal relieve bend heat quench cool bury temper" need:"forge normalize anneal relieve heat quench bury temper" doc:"the fire, oven, bath, box, plates or torch, by its name in the shop; for cool: air; left out of bend: bent cold"`
	At     Temp     `key:"at" for:"forge normalize anneal relieve bend heat temper" min:"50 C" max:"1350 C" doc:"what the fire or oven is set to, when it is not as the shop says"`
	Until  Ending   `key:"until" for:"forge normalize anneal relieve bend heat carry quench cool bury temper" need:"forge heat carry" doc:"what ends it: 90 s; 815 C at edge; magnet off; at heat; hand-warm; black; cold; of temper and cool also straw at edge"`
	Hold   Duration `key:"hold" for:"forge normalize anneal relieve bend heat temper" need:"relieve" min:"1 s" max:"72 h" doc:"time kept there after that (the soak); in an oven needed for a temper"`
	Work   Duration `key:"work" for:"forge bend" min:"1 s" max:"10 min" doc:"time out of the fire in each heat; left out of a pass: what its blows take; of a hot bend: 10 s"`
	Then   string   `key:"then" for:"normalize anneal relieve temper" doc:"where it cools: air, a box by its name, or oven off; left out: air"`
	To     Ending   `key:"to" for:"normalize anneal relieve temper" doc:"how far it cools there; left out: hand-warm"`
	Times  int      `key:"times" for:"forge normalize anneal relieve temper" min:"1" max:"60" doc:"how often; left out: once; of a pass: in how many heats it is done"`
	Off    Length   `key:"off" for:"grind" min:"0.01 mm" max:"20 mm" doc:"thickness taken off each face"`
	Edge   Length   `key:"edge" for:"grind" min:"0.05 mm" max:"30 mm" doc:"leave the edge this thick"`
	Motion string   `key:"motion" for:"quench" one:"still|moved|stirred" doc:"how the piece or the bath moves; left out: moved"`
	Handling
	Shaping
	Coating
}

// Passes reports whether a forging step says what it does to the shape.
func (s Step) Passes() bool {
	return s.Do == Forge && (s.Into.Form != "" || s.Thickness.Is() || s.Width.Is())
}

// Acts reports whether a step changes the shape.
func (s Step) Acts() bool {
	return s.Do == Grind || s.Do == Drill || s.Do == Bend || s.Passes()
}

// Hot reports whether a step begins in a fire.
func (s Step) Hot() bool { return s.Do != Bend || s.In != "" }

// EndKind tells the ways in which a stay in a surrounding ends.
type EndKind int

// The kinds of ending.
const (
	NoEnd   EndKind = iota
	ByTime          // Time is up
	ByTemp          // Zone passes Temp, whichever way it comes from
	BySign          // Sign is seen
	AtHeat          // every zone is within 5 K of the surrounding
	ByColor         // a bright spot of Zone has come to the temper color Sign
)

// Signs that end a step.
const (
	MagnetOff = "magnet off" // the whole piece lets go of the magnet
	ShadowOff = "shadow off" // the shadow has left the piece
	BlackHeat = "black"      // no glow in a dim shop: hottest zone below 500 °C
	HandWarm  = "hand-warm"  // hottest zone below 50 °C
	Cold      = "cold"       // hottest zone within 5 K of the air
)

// TemperColors end a temper or a cooling where a bright spot of a zone has come to them.
var TemperColors = []string{"faint straw", "straw", "dark straw", "brown", "brown-purple", "purple", "dark purple", "blue", "pale blue"}

// Ending is the moment at which a stay ends.
type Ending struct {
	Text string
	Kind EndKind
	Time float64   // [s]
	Temp unit.Temp // [K]
	Zone string    // of Temp and of a color; empty: core
	Sign string    // or a temper color
}

// Is reports whether an ending was given.
func (e Ending) Is() bool { return e.Kind != NoEnd }
