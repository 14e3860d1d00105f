package sim

import (
	"errors"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// Prepare turns a job into a setup: sizes into a body, a grade into a
// composition with its spread, the equipment into estimates, the steps into
// stages, and what was not said into what is usual, with a note.
func Prepare(job route.Job) (*Setup, error) {
	if len(job.Steel) == 0 {
		return nil, &Error{Text: "the steel is not said", Remedy: "name a grade, a composition, or unknown"}
	}
	s := &Setup{Name: job.Name, Demo: job.Demo, Shop: job.Shop.Kit(), Lying: !job.Piece.OnEdge()}
	start, acts, err := job.Acts()
	if err != nil {
		return nil, notFitting(job, err)
	}
	s.Solid = start.Solid
	m := mainSteel(job.Steel)
	if len(job.Steel) > 1 {
		s.Notes = append(s.Notes, cite.Note{Code: "sim.one-steel", Args: []cite.Quantity{cite.Txt("steel", m.Called()), cite.Txt("region", m.Region)}, Source: "own-derivation"})
	}
	s.Grade, s.Mystery = m.Called(), m.Unknown
	if s.Steel, s.Low, s.High, err = m.Known(); err != nil {
		return nil, &Error{Err: err}
	}
	s.condition(m.Condition)
	s.finish(m.Finish)
	for _, w := range job.Aim.Hardness {
		b := w.Band.Value.HV()
		s.Aim = append(s.Aim, Aim{w.Zone, b.Low, b.High})
	}
	return s, s.layOut(job, acts)
}

// mainSteel returns the steel that the edge is made of, or the first.
func mainSteel(list []route.Metal) route.Metal {
	for _, m := range list {
		if m.Region == "edge" || m.Region == "core" {
			return m
		}
	}
	return list[0]
}

// rolledBark is the decarburized depth that hot-rolled bar brings along [m]:
// 0.1–0.3 mm on thin stock, from memory.
const rolledBark = 0.15e-3

func (s *Setup) condition(c route.Condition) {
	known := map[route.Condition]micro.Condition{
		route.Spheroidized: micro.Spheroidized, route.Annealed: micro.LamellarPearlite, route.HotRolled: micro.Normalized,
		route.ColdRolled: micro.Spheroidized, route.Normalized: micro.Normalized, route.Hardened: micro.Hardened, route.AsForged: micro.AsForged,
	}
	start, ok := known[c]
	if !ok {
		// Bar of tool steel is sold spheroidized, plain spring and structural bar as rolled.
		start = micro.Normalized
		if s.Steel[steel.C] > 0.9 || s.Steel[steel.Cr]+s.Steel[steel.W]+s.Steel[steel.Mo] > 0.4 {
			start = micro.Spheroidized
		}
		s.Notes = append(s.Notes, cite.Note{Code: "sim.condition-assumed", Args: []cite.Quantity{cite.Txt("condition", start.String())}, Source: "common-practice"})
	}
	s.Start.Condition = start
	if c == route.HotRolled || c == route.AsForged {
		s.Finish, s.Bark = skin.Scaled, rolledBark
	}
}

// finish takes the surface that the job names: whoever made it brighter than scaled
// has taken the bark off with it.
func (s *Setup) finish(name string) {
	for _, f := range []skin.Finish{skin.Ground, skin.Satin, skin.Polished, skin.Scaled} {
		if f.String() != name {
			continue
		}
		if s.Finish = f; f != skin.Scaled {
			s.Bark = 0
		}
	}
}

// layOut lays the steps out as stages, with what each act makes of the shape.
func (s *Setup) layOut(job route.Job, acts []route.Change) error {
	for n, st := range job.Stages() {
		step := job.Steps[st.Step]
		stage := Stage{Stage: st, Name: step.Name}
		if stage.Name == "" {
			stage.Name = string(step.Do)
		}
		if len(acts) > 0 && acts[0].Stage == n {
			stage.Change, stage.Lying = acts[0].Change, !acts[0].Piece.OnEdge()
			acts = acts[1:]
		}
		s.Stages = append(s.Stages, stage)
	}
	if len(s.Stages) == 0 {
		return errors.New("sim: the route has no steps")
	}
	return s.timeBlows(job)
}

// notFitting tells what is wrong with the piece, or with an act on it.
func notFitting(job route.Job, err error) error {
	var m *route.Misfit
	if !errors.As(err, &m) {
		return &Error{Text: "the piece cannot be: ", Err: err}
	}
	name := job.Steps[m.Step].Name
	if name == "" {
		name = string(job.Steps[m.Step].Do)
	}
	return &Error{Step: name, Err: m.Err}
}
