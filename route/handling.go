package route

// Handling is how a piece is held, laid, dipped and kept company in a step: what
// touches it beside the surrounding, and how much of it goes in. All of it may be
// left out.
type Handling struct {
	Pieces int      `key:"pieces" for:"forge normalize anneal relieve heat quench temper" min:"1" max:"40" doc:"how many like it go in together; left out: this one alone"`
	Inside Length   `key:"inside" for:"forge normalize anneal relieve heat" min:"5 mm" max:"3 m" doc:"how much of it lies in the fire, from the tip or the edge end; the rest stays in the air; left out: all of it"`
	Rise   TempRate `key:"rise" for:"normalize anneal relieve heat temper" min:"1 K/h" max:"3600 K/h" doc:"how fast the oven climbs with the piece in it, from the heat of the shop; left out: it is hot when the piece goes in"`
	Fall   TempRate `key:"fall" for:"normalize anneal relieve temper" min:"1 K/h" max:"3600 K/h" doc:"how fast the oven comes down with the piece in it, with then = \"oven off\"; left out: as it dies down by itself"`

	Tongs string `key:"tongs" for:"forge bend carry quench cool" doc:"the tongs that hold it, by their name in the shop"`
	Grip  Length `key:"grip" for:"forge bend carry quench cool" min:"2 mm" max:"300 mm" doc:"how much of its end the tongs cover; left out: 25 mm"`
	On    string `key:"on" for:"forge bend" doc:"the anvil or the dies that it is worked on, by name; left out of a pass or a bend: the first of the shop; else the loss to them is not reckoned with"`

	Touches string `key:"touches" for:"heat quench cool temper" one:"spine|edge|flat|flats|end" doc:"which side a block, plate or torch touches; left out: both flats in a pair of plates, else the spine of a blade and one flat of other pieces"`
	EdgeIn  string `key:"edge_in" for:"heat temper" doc:"the bath that the edge stands in meanwhile, by name"`

	First    string   `key:"first" for:"quench" one:"tip|edge|spine|flat" doc:"what goes under first; left out: the tip, or the edge end of a tool"`
	Under    Length   `key:"under" for:"quench heat temper" min:"1 mm" max:"3 m" doc:"how deep that goes under; in edge_in: how deep the edge stands; left out: all of it, of an edge 10 mm"`
	UnderFor Duration `key:"under_for" for:"quench" min:"0.1 s" max:"30 min" doc:"how long until the rest follows; left out: the rest never goes under"`
}

// Coating is what is laid on the surface in a step.
type Coating struct {
	With  string `key:"with" for:"coat" need:"coat" one:"clay|clay wash|anti-scale paint|foil" doc:"what is laid on; foil: wrapped air-tight in thin stainless"`
	Layer Length `key:"layer" for:"coat" min:"0.05 mm" max:"10 mm" doc:"thickness of the coat once dry; left out: clay 3 mm, wash 0.3 mm, paint 0.1 mm"`
	Bare  Length `key:"bare" for:"coat" min:"1 mm" max:"300 mm" doc:"how much is left bare above the edge; left out: none"`
}

// The words of a handling.
const (
	ClayCoat  = "clay"
	WashCoat  = "clay wash"
	PaintCoat = "anti-scale paint"
	FoilCoat  = "foil"

	SpineSide = "spine"
	EdgeSide  = "edge"
	FlatSide  = "flat"
	FlatSides = "flats"
	EndSide   = "end"
)
