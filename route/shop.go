package route

// Shop is the equipment as the job names it: what the smith knows of each
// thing, and nothing where it is not known. Kit is what the science works with.
type Shop struct {
	Name    string  `key:"name" doc:"whose shop"`
	File    string  `key:"file" doc:"a file that holds the shop, beside this one; then nothing else stands here"`
	Degrees string  `key:"degrees" one:"C|F" doc:"the unit of a temperature written without one"`
	Air     Temp    `key:"air" min:"-30 C" max:"60 C" doc:"temperature of the shop; left out: 20 C"`
	Forges  []Fire  `key:"forge" doc:"fires and heated pipes"`
	Ovens   []Oven  `key:"oven" doc:"kilns and ovens"`
	Baths   []Bath  `key:"bath" doc:"what you quench in"`
	Boxes   []Box   `key:"box" doc:"what you bury in"`
	Fans    []Fan   `key:"fan" doc:"moving air"`
	Plates  []Plate `key:"plate" doc:"plates, blocks, anvils and dies that touch the steel"`
	Tongs   []Tongs `key:"tongs" doc:"what holds it"`
	Torches []Torch `key:"torch" doc:"flames held by hand"`
	Room    Room    `key:"room" doc:"for the air that you breathe"`
}

// Fire is a forge or a heated pipe.
type Fire struct {
	Name     string   `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Kind     string   `key:"kind" need:"*" one:"gas|coke|charcoal|pipe" doc:"what it is; pipe: a tube heated from outside"`
	Holds    Temp     `key:"holds" min:"400 C" max:"1350 C" doc:"temperature of the place where the piece lies; left out: not known"`
	Swing    TempStep `key:"swing" min:"1 K" max:"200 K" doc:"how far it swings, up or down"`
	Flame    string   `key:"flame" one:"rich|neutral|lean" doc:"dragon's breath at the door is rich; left out: not known"`
	Fuel     string   `key:"fuel" one:"propane|natural gas" doc:"what it burns; left out: propane"`
	Gas      GasRate  `key:"gas" min:"0.05 kg/h" max:"50 kg/h" doc:"gas burnt at work"`
	Low      GasRate  `key:"low" min:"0.02 kg/h" max:"50 kg/h" doc:"gas burnt turned down"`
	Length   Length   `key:"length" min:"50 mm" max:"3 m" doc:"length of the chamber or pipe"`
	Width    Length   `key:"width" min:"20 mm" max:"2 m" doc:"width of the chamber; of a pipe its diameter"`
	Height   Length   `key:"height" min:"20 mm" max:"2 m" doc:"height of the chamber; of a pipe its diameter"`
	Open     bool     `key:"open" doc:"open at both ends, so that a longer piece passes through"`
	Door     Length   `key:"door" min:"5 mm" max:"2 m" doc:"width of the opening that is left while the piece is in; with door_height"`
	DoorHigh Length   `key:"door_height" min:"5 mm" max:"2 m" doc:"height of that opening"`
	Burner   string   `key:"burner" one:"above|side" doc:"where the flame comes from; side: one flat of the piece gets more of it; left out: above, alike on both"`
	Lit      Duration `key:"lit" min:"1 min" max:"24 h" doc:"how long ago a cold fire was lit when the piece first goes in; left out: long enough to be hot through"`
	Lining   []Lining `key:"lining" doc:"its lining, layer by layer from the fire outward; left out: 50 mm of fiber with a hard face"`
}

// Lining is one layer of the lining of a fire.
type Lining struct {
	Of    string `key:"of" need:"*" one:"fiber|hard face|insulating castable|light castable|dense castable|insulating brick|vermiculite board" doc:"what the layer is of"`
	Thick Length `key:"thick" need:"*" min:"1 mm" max:"300 mm" doc:"how thick it is"`
}

// Oven is a kiln or an oven.
type Oven struct {
	Name   string   `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Kind   string   `key:"kind" need:"*" one:"kiln|kitchen|toaster" doc:"what it is"`
	Offset TempStep `key:"offset" min:"-100 K" max:"100 K" doc:"how much hotter the piece is than the dial says: 11 K; left out: not known"`
	Swing  TempStep `key:"swing" min:"1 K" max:"100 K" doc:"how far it swings, up or down"`
	Most   Temp     `key:"most" min:"100 C" max:"1350 C" doc:"the most it reaches"`
	Plate  Mass     `key:"plate" min:"0.1 kg" max:"50 kg" doc:"mass of the plate or sand inside"`
	Power  Watts    `key:"power" min:"300 W" max:"30 kW" doc:"of its elements, from its plate; left out: as is usual for its kind"`
	Fan    bool     `key:"fan" doc:"a fan moves the air in it"`
	Length Length   `key:"length" min:"50 mm" max:"3 m" doc:"length inside"`
}

// Bath is what a piece is quenched in.
type Bath struct {
	Name   string   `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Kind   string   `key:"kind" need:"*" one:"fast oil|medium oil|slow oil|vegetable oil|canola|hot quench oil|water|brine" doc:"by speed, not by maker"`
	Volume Volume   `key:"volume" min:"1 L" max:"2000 L" doc:"how much; left out: not known"`
	Warm   Temp     `key:"warm" min:"-15 C" max:"160 C" doc:"its temperature when work starts; left out: as is usual for it"`
	Limit  Temp     `key:"limit" min:"10 C" max:"200 C" doc:"the temperature at which you stop to let it cool"`
	Flash  Temp     `key:"flash" min:"100 C" max:"400 C" doc:"flash point, from its paper; left out: the low end of its kind"`
	Depth  Length   `key:"depth" min:"50 mm" max:"3 m" doc:"how deep the liquid stands"`
	Lid    bool     `key:"lid" doc:"a lid is at hand"`
	Salt   Percent  `key:"salt" min:"0.5 %" max:"26 %" doc:"of brine: kilograms of salt in 100 kg of it; left out: 8 %"`
	Vigor  Percent  `key:"vigor" min:"20 %" max:"400 %" doc:"how hard it cools against others of its kind, once you have measured it; left out: not known"`
	Wets   AirSpeed `key:"wets" min:"1 mm/s" max:"500 mm/s" doc:"how fast wetting creeps inward from edge and tip where a vapor jacket stands; left out: everywhere at once"`
}

// Box is what a piece is buried in.
type Box struct {
	Name        string `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Fill        string `key:"fill" need:"*" one:"vermiculite|perlite|wood ash|sand|lime|fiber blanket" doc:"what it is filled with"`
	Volume      Volume `key:"volume" min:"1 L" max:"1000 L" doc:"how much"`
	Damp        bool   `key:"damp" doc:"damp fill quenches"`
	Companion   Mass   `key:"companion" min:"0.05 kg" max:"20 kg" doc:"mass of a hot bar that is buried beside the piece"`
	CompanionAt Temp   `key:"companion_at" min:"100 C" max:"1200 C" doc:"how hot that bar is when it goes in; left out: 850 C"`
	Warm        Temp   `key:"warm" min:"-30 C" max:"600 C" doc:"temperature of the fill when the piece goes in; left out: as the shop"`
}

// Plate is solid metal that touches the piece.
type Plate struct {
	Name  string `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Kind  string `key:"kind" need:"*" one:"pair|block|anvil|dies" doc:"pair: two plates that it is clamped between; block: what it is laid on or laid on it, hot or cold"`
	Metal string `key:"metal" one:"aluminum|copper|steel" doc:"left out: a pair is of aluminum, the rest of steel"`
	Mass  Mass   `key:"mass" min:"0.05 kg" max:"500 kg" doc:"of all of it; left out: a pair 4 kg, a block 3 kg, an anvil or dies 50 kg"`
	Warm  Temp   `key:"warm" min:"-30 C" max:"1000 C" doc:"its temperature when the piece comes; left out: as the shop"`
	Press string `key:"pressed" one:"clamped|by hand|laid on" doc:"how hard it touches; left out: a pair is clamped, a block laid on"`
}

// Tongs hold the piece by one end.
type Tongs struct {
	Name string `key:"name" need:"*" most:"24" doc:"what the steps call them"`
	Mass Mass   `key:"jaws" min:"0.02 kg" max:"10 kg" doc:"mass of the jaws alone; left out: 0.25 kg"`
	Warm Temp   `key:"warm" min:"-30 C" max:"800 C" doc:"how warm the jaws are; left out: as the shop"`
}

// Torch is a flame held by hand and moved along the piece.
type Torch struct {
	Name  string `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Power Watts  `key:"power" need:"*" min:"200 W" max:"30 kW" doc:"heat of its gas: 1 kg/h of propane is 12.9 kW"`
	Spot  Length `key:"spot" min:"5 mm" max:"100 mm" doc:"width of the flame where it strikes; left out: 20 mm"`
}

// Fan is moving air.
type Fan struct {
	Name  string   `key:"name" need:"*" most:"24" doc:"what the steps call it"`
	Speed AirSpeed `key:"speed" min:"0.2 m/s" max:"50 m/s" doc:"speed of the air at the piece; left out: not known"`
}

// Room is what carries the fumes away.
type Room struct {
	Length  Length  `key:"length" min:"1 m" max:"100 m" doc:"length of the shop"`
	Width   Length  `key:"width" min:"1 m" max:"100 m" doc:"its width"`
	Height  Length  `key:"height" min:"1 m" max:"20 m" doc:"its height"`
	Air     AirFlow `key:"air" min:"1 m3/h" max:"100000 m3/h" doc:"air that a fan moves through it"`
	Hood    bool    `key:"hood" doc:"a hood stands over the fire"`
	Outside bool    `key:"outside" doc:"the fire stands in the open air"`
}
