package route

// Shop is the equipment as the job names it: what the smith knows of each
// thing, and nothing where it is not known. Kit is what the science works with.
type Shop struct {
	Name    string `key:"name" doc:"whose shop"`
	File    string `key:"file" doc:"a file that holds the shop, beside this one; then nothing else stands here"`
	Degrees string `key:"degrees" one:"C|F" doc:"the unit of a temperature written without one"`
	Air     Temp   `key:"air" min:"-30 C" max:"60 C" doc:"temperature of the shop; left out: 20 C"`
	Forges  []Fire `key:"forge" doc:"fires and heated pipes"`
	Ovens   []Oven `key:"oven" doc:"kilns and ovens"`
	Baths   []Bath `key:"bath" doc:"what you quench in"`
	Boxes   []Box  `key:"box" doc:"what you bury in"`
	Fans    []Fan  `key:"fan" doc:"moving air"`
	Room    Room   `key:"room" doc:"for the air that you breathe"`
}

// Fire is a forge or a heated pipe.
type Fire struct {
	Name  string   `key:"name" need:"*" doc:"what the steps call it"`
	Kind  string   `key:"kind" need:"*" one:"gas|coke|charcoal|pipe" doc:"what it is; pipe: a tube heated from outside"`
	Holds Temp     `key:"holds" min:"400 C" max:"1350 C" doc:"temperature of the place where the piece lies; left out: not known"`
	Swing TempStep `key:"swing" min:"1 K" max:"200 K" doc:"how far it swings, up or down"`
	Flame string   `key:"flame" one:"rich|neutral|lean" doc:"dragon's breath at the door is rich; left out: not known"`
}

// Oven is a kiln or an oven.
type Oven struct {
	Name   string   `key:"name" need:"*" doc:"what the steps call it"`
	Kind   string   `key:"kind" need:"*" one:"kiln|kitchen|toaster" doc:"what it is"`
	Offset TempStep `key:"offset" min:"-100 K" max:"100 K" doc:"how much hotter the piece is than the dial says: 11 K; left out: not known"`
	Swing  TempStep `key:"swing" min:"1 K" max:"100 K" doc:"how far it swings, up or down"`
	Most   Temp     `key:"most" min:"100 C" max:"1350 C" doc:"the most it reaches"`
	Plate  Mass     `key:"plate" min:"0.1 kg" max:"50 kg" doc:"mass of the plate or sand inside"`
}

// Bath is what a piece is quenched in.
type Bath struct {
	Name   string `key:"name" need:"*" doc:"what the steps call it"`
	Kind   string `key:"kind" need:"*" one:"fast oil|medium oil|slow oil|canola|water|brine" doc:"by speed, not by maker"`
	Volume Volume `key:"volume" min:"1 L" max:"2000 L" doc:"how much; left out: not known"`
	Warm   Temp   `key:"warm" min:"0 C" max:"120 C" doc:"its temperature when work starts"`
	Limit  Temp   `key:"limit" min:"20 C" max:"150 C" doc:"the temperature at which you stop to let it cool"`
	Depth  Length `key:"depth" min:"50 mm" max:"3 m" doc:"how deep it is"`
}

// Box is what a piece is buried in.
type Box struct {
	Name   string `key:"name" need:"*" doc:"what the steps call it"`
	Fill   string `key:"fill" need:"*" one:"vermiculite|ash|sand|lime" doc:"what it is filled with"`
	Volume Volume `key:"volume" min:"1 L" max:"1000 L" doc:"how much"`
	Damp   string `key:"damp" one:"dry|damp" doc:"damp fill quenches; left out: not known"`
}

// Fan is moving air.
type Fan struct {
	Name  string `key:"name" need:"*" doc:"what the steps call it"`
	Speed string `key:"speed" need:"*" doc:"speed of the air at the piece: 3 m/s"`
}

// Room is what carries the fumes away.
type Room struct {
	Size string `key:"size" doc:"length x width x height: 9 x 6.5 x 3.2 m"`
	Fan  string `key:"fan" doc:"air that the fan moves: 1800 m3/h"`
	Hood bool   `key:"hood" doc:"a hood stands over the fire"`
	Open bool   `key:"open" doc:"the fire stands in the open air"`
}
