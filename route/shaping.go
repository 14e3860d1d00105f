package route

// Shaping is what a step makes of the shape: a pass under the hammer, a hole, a bend.
type Shaping struct {
	From      Length `key:"from" for:"forge drill bend" need:"drill bend" min:"0 mm" max:"3 m" doc:"where it begins, from the end that does no work: tang, struck end, poll, left end; of a hole: its middle; of a pass left out: at that end"`
	Over      Length `key:"over" for:"forge bend" need:"bend" min:"0.5 mm" max:"3 m" doc:"the length that is worked, measured before it is; of a pass left out: to the other end"`
	Thickness Length `key:"thickness" for:"forge" min:"0.2 mm" max:"100 mm" doc:"what the pass leaves of the thickness there, at its thickest; the length follows from the metal"`
	Width     Length `key:"width" for:"forge" min:"0.5 mm" max:"300 mm" doc:"what the pass leaves of the width there, at its widest; left out: as it was"`
	Across    Length `key:"across" for:"drill" min:"0.5 mm" max:"300 mm" doc:"from the back to the middle of the hole; left out: halfway"`
	Diameter  Length `key:"diameter" for:"drill" need:"drill" min:"0.5 mm" max:"100 mm" doc:"of the drill"`
	Angle     Angle  `key:"angle" for:"bend" need:"bend" min:"-180 deg" max:"180 deg" doc:"how far it turns; less than 0 the other way"`
	Way       string `key:"way" for:"bend" one:"easy|hard" doc:"over the flat, or the hard way over the edge; left out: easy"`
	Into      Piece  `key:"into" for:"forge" like:"piece" doc:"the form that the piece is forged to; its length within 5 % of what the metal gives"`
}

// HardWay is a bend over the edge.
const HardWay = "hard"
