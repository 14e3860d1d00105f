package route

import "github.com/heatwright/heatwright/unit"

// Role is what a stage is to the piece.
type Role int

// The roles of a stage.
const (
	Heating   Role = iota // in a fire, pipe, oven above critical
	Holding               // in an oven below critical: relief, a sub-critical soak
	Tempering             // in an oven after the quench
	Carrying              // through the air to the bath
	Quenching             // in a bath
	Cooling               // in air
	Burying               // in a box, or in an oven that is switched off
	Working               // out of the fire, under the hammer
	Acting                // takes no time: the shape changes
)

// Stage is the smallest piece of a route: one surrounding until one ending, or
// one act. Steps are what the smith says, stages what the march does.
type Stage struct {
	Step  int // index of the step in the job
	Turn  int // which of the step's repeats, from 0
	Turns int // how many repeats
	Verb  Verb
	Role  Role
	In    string // equipment; empty or "air" is the still air of the shop
	At    Temp   // setting, when given
	Off   bool   // the equipment is switched off and dies down
	Until Ending
	Hold  float64 // time after Until [s]
	Act   Step    // what changes the shape, when Role is Acting
	Moved string  // motion in a bath
	Ramp  float64 // how fast the oven comes to At, or down to nothing when Off [K/s]; 0: at once
	Coats bool    // the act lays Act.Coating on, or takes all coats off
	Handling
}

// Stages lays the steps out one surrounding after another.
func (j Job) Stages() []Stage {
	var all []Stage
	for i, s := range j.Steps {
		turns := max(s.Times, 1)
		for turn := range turns {
			for _, stage := range j.stages(s) {
				stage.Step, stage.Turn, stage.Turns, stage.Verb = i, turn, turns, s.Do
				all = append(all, stage)
			}
		}
	}
	return all
}

// A quenched piece is left in the bath until it is this much above it [K]: the
// last degrees take as long as all the others. From common practice.
const aboveBath = 15

// usual temperature of a bath that nobody has measured [K], as in package shop.
func usualBath(kind string) unit.Temp {
	if kind == "water" || kind == "brine" {
		return unit.Celsius(20)
	}
	return unit.Celsius(40)
}

// quench ends, unless the step says otherwise, at hand-warm; from a warm bath
// the piece comes out a little above it and cools to hand-warm in the air.
func (j Job) quench(main Stage) []Stage {
	if main.Until.Is() {
		return []Stage{main}
	}
	bath, _ := j.Shop.Bath(main.In)
	out := bath.Warm.Or(usualBath(bath.Kind)) + aboveBath
	if out <= unit.Celsius(50) {
		return []Stage{main.orHandWarm()}
	}
	main.Until = Ending{Kind: ByTemp, Temp: out}
	return []Stage{main, Stage{Role: Cooling, In: Air}.orHandWarm()}
}

func (j Job) stages(s Step) []Stage {
	main := Stage{In: s.In, At: s.At, Until: s.Until, Hold: float64(s.Hold.Value), Moved: s.Motion, Ramp: float64(s.Rise.Value), Handling: s.Handling}
	if s.Do == Forge || s.Do == Bend {
		main.Tongs = "" // in the fire they are as hot as the piece
	}
	switch s.Do {
	case Coat, Strip:
		return []Stage{{Role: Acting, Act: s, Coats: true}}
	case Grind, Drill:
		return []Stage{{Role: Acting, Act: s}}
	case Bend:
		if !s.Hot() {
			return []Stage{{Role: Acting, Act: s}}
		}
		if !s.Work.Is() {
			s.Work.Value = bendingTime
		}
		main.Role = Heating
		return append([]Stage{main}, j.worked(s)...)
	case Carry:
		main.Role = Carrying
		return []Stage{main}
	case Quench:
		main.Role = Quenching
		return j.quench(main)
	case Cool:
		main.Role = Cooling
		return []Stage{main.orHandWarm()}
	case Bury:
		main.Role = Burying
		return []Stage{main.orHandWarm()}
	case Heat:
		main.Role = Heating
		return []Stage{main}
	case Forge:
		main.Role = Heating
		return append([]Stage{main}, j.worked(s)...)
	case Normalize, Anneal:
		main.Role = Heating
	case Relieve:
		main.Role = Holding
	case Temper:
		main.Role = Tempering
	}
	if !main.Until.Is() {
		main.Until = Ending{Kind: AtHeat}
	}
	return []Stage{main, s.cooling()}
}

// usual time that a hot bend takes [s]: common practice.
const bendingTime = 10

// worked is what follows a heat at the anvil. The shape changes blow by blow; here it
// does so at once, halfway through the time.
func (j Job) worked(s Step) []Stage {
	if on := j.Shop.anvil(); s.Acts() && s.On == "" {
		s.On = on
	}
	stage := func(share float64) Stage {
		return Stage{
			Role: Working, Until: Ending{Kind: ByTime, Time: share * float64(s.Work.Value)},
			Handling: Handling{Tongs: s.Tongs, Grip: s.Grip, On: s.On},
		}
	}
	if !s.Acts() {
		return []Stage{stage(1)}
	}
	return []Stage{stage(0.5), {Role: Acting, Act: s}, stage(0.5)}
}

// anvil returns the first anvil or pair of dies of the shop; empty where it has none.
func (s *Shop) anvil() string {
	for _, p := range s.Plates {
		if p.Kind == "anvil" || p.Kind == "dies" {
			return p.Name
		}
	}
	return ""
}

// cooling is the second half of a step that heats and then cools.
func (s Step) cooling() Stage {
	c := Stage{Role: Cooling, In: s.Then, Until: s.To}
	switch s.Then {
	case "", Air:
		c.In = Air
	case OvenOff:
		c.In, c.Role, c.Off, c.Ramp = s.In, Burying, true, float64(s.Fall.Value)
	default:
		c.Role = Burying
	}
	return c.orHandWarm()
}

// orHandWarm ends a cooling that the job does not end.
func (s Stage) orHandWarm() Stage {
	if !s.Until.Is() {
		s.Until = Ending{Kind: BySign, Sign: HandWarm}
	}
	return s
}

// Places that every shop has.
const (
	Air     = "air"      // the still air of the shop
	OvenOff = "oven off" // the oven of the step itself, switched off with the piece inside
)
