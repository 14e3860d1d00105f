// Package safety looks for hazards in a route, the shop it is done in and the
// history that was computed: fire, gas, hot steel that looks cold, hard steel
// that breaks, dust. Each is a code with its quantities and its source, attached
// to the step where it matters.
//
// The package knows usual cautions only. It replaces no local code, no licensed
// practice and no one's eyes; an empty answer means that no rule here was met,
// never that a thing is without danger. Nothing here supervises a fire.
package safety

import (
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
)

// Review returns the cautions for a job and its history, in the order in which
// they matter: what can kill first, then fire and burns, then what breaks, then
// dust and noise.
func Review(job route.Job, h *sim.History) []cite.Note {
	r := &review{job: job, h: h, kit: job.Shop.Kit()}
	for _, rule := range []func(){
		r.carbonMonoxide, r.dyingFire, r.gas, r.oil, r.flash, r.depth, r.partOut, r.openHeat, r.coats, r.untempered, r.blackHeat, r.asQuenched,
		r.cracks, r.embrittled, r.familyOven, r.burial, r.eyes, r.grinding, r.hammering, r.lining,
	} {
		rule()
	}
	return append(r.notes, cite.Note{Code: "safety.local-codes-first", Source: "common-practice"})
}

// review is a reading of one job.
type review struct {
	job   route.Job
	h     *sim.History
	kit   shop.Shop
	notes []cite.Note
	told  map[string]bool
}

// say adds a caution once for each step and code; where is the name of the step.
func (r *review) say(where, code string, source cite.Key, args ...cite.Quantity) {
	if r.told == nil {
		r.told = map[string]bool{}
	}
	if key := where + "\x00" + code; !r.told[key] {
		r.told[key] = true
		r.notes = append(r.notes, cite.Note{Code: code, Where: where, Args: args, Source: source})
	}
}

// each visits the steps of the history with these roles.
func (r *review) each(visit func(i int, s *sim.Step), roles ...sim.Role) {
	for i := range r.h.Steps {
		for _, role := range roles {
			if r.h.Steps[i].Role == role {
				visit(i, &r.h.Steps[i])
			}
		}
	}
}

func (r *review) bath(name string) *shop.Bath {
	for i := range r.kit.Baths {
		if r.kit.Baths[i].Name == name {
			return &r.kit.Baths[i]
		}
	}
	return nil
}

func (r *review) forge(name string) *shop.Forge {
	for i := range r.kit.Forges {
		if r.kit.Forges[i].Name == name {
			return &r.kit.Forges[i]
		}
	}
	return nil
}

func (r *review) oven(name string) *shop.Oven {
	for i := range r.kit.Ovens {
		if r.kit.Ovens[i].Name == name {
			return &r.kit.Ovens[i]
		}
	}
	return nil
}

func (r *review) box(name string) *shop.Box {
	for i := range r.kit.Boxes {
		if r.kit.Boxes[i].Name == name {
			return &r.kit.Boxes[i]
		}
	}
	return nil
}
