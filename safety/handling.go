package safety

import (
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// jobStep returns the step of the job that a step of the history belongs to.
func (r *review) jobStep(s *sim.Step) route.Step {
	if s.JobStep < 0 || s.JobStep >= len(r.job.Steps) {
		return route.Step{}
	}
	return r.job.Steps[s.JobStep]
}

// coats holds for what is laid on a piece before the fire.
func (r *review) coats() {
	r.each(func(_ int, s *sim.Step) {
		switch step := r.jobStep(s); {
		case step.Do != route.Coat:
		case step.With == route.FoilCoat:
			r.say(s.Name, "safety.foil-cuts", "common-practice")
		default:
			r.say(s.Name, "safety.damp-clay-bursts", "common-practice")
		}
	}, sim.Acting)
}

// partOut holds for hot steel of which a part stays above burning oil.
func (r *review) partOut() {
	r.each(func(_ int, s *sim.Step) {
		step := r.jobStep(s)
		if b := r.bath(s.Where.Name); b != nil && step.Under.Is() {
			if _, burns := b.FlashPoint(); burns {
				r.say(s.Name, "safety.part-out-of-oil", "common-practice")
			}
		}
	}, sim.Quenching)
}

// openHeat holds for a torch and for hot metal that stands about.
func (r *review) openHeat() {
	for _, st := range r.job.Steps {
		name := st.Name
		if name == "" {
			name = string(st.Do)
		}
		if _, torch := r.job.Shop.Torch(st.In); torch {
			r.say(name, "safety.torch-in-hand", "common-practice")
		}
		if p, block := r.job.Shop.Plate(st.In); block && p.Warm.Value > hotBlock {
			r.say(name, "safety.hot-block", "common-practice", cite.Num("temperature", float64(p.Warm.Value), "K"))
		}
		if st.EdgeIn != "" {
			r.say(name, "safety.steam-at-the-edge", "common-practice")
		}
	}
}

// hotBlock is where metal that was left standing burns whoever takes it up [K]: skin bears about 43 °C.
const hotBlock = 60 + medium.CelsiusZero
