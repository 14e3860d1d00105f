// Package plan goes from an aim to a route: from "a belt knife in 1084, this
// thick, in this shop" to steps that a smith can follow, with the reason for
// each choice. What the trade and the makers' sheets say of a steel sets the
// starting point; the temper is found by marching the piece.
package plan

import (
	"context"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Wish is what the smith wants and has.
type Wish struct {
	Name  string // of the piece
	Piece route.Piece
	Steel route.Metal
	Shop  route.Shop
	Aim   route.Aim
	Fire  string // name in Shop of the fire for hardening
	Bath  string // name in Shop of what it is quenched in; "air" for still air
	Oven  string // name in Shop of the oven for the temper
	Units unit.System
}

// Limits of the search for a temper [K]: below, martensite keeps its stress;
// above, the hold is a softening.
const (
	coolestTemper = 150 + 273.15
	hottestTemper = 560 + 273.15
	hottestFamily = 270 + 273.15 // of a kitchen or toaster oven; common practice
	usualTemper   = 200 + 273.15
)

// Found is a route for a wish.
type Found struct {
	Job    route.Job
	Notes  []cite.Note  // why it is as it is
	Setup  *sim.Setup   // of the job
	Glance *sim.History // a short run of the job, without bands; nil where none was needed
}

// Find returns a route for the wish, and why it is as it is. The error is the
// smith's to mend: a steel that is not known, a piece that cannot be.
func Find(ctx context.Context, w Wish) (Found, error) {
	job, notes, err := Draft(w)
	if err != nil {
		return Found{}, err
	}
	f := Found{Job: job, Notes: notes}
	if f.Setup, err = sim.Prepare(job); err != nil {
		return f, err
	}
	if len(w.Aim.Hardness) > 0 {
		err = f.temper(ctx, w)
	}
	return f, err
}

// Draft returns the route with the temper that the trade would start from.
func Draft(w Wish) (route.Job, []cite.Note, error) {
	nominal, _, _, err := w.Steel.Known()
	if err != nil {
		return route.Job{}, nil, err
	}
	var sheet *steel.Practice
	if g, err := steel.Find(w.Steel.Grade); err == nil {
		sheet = g.Practice
	}
	h, err := heatsFor(nominal, sheet)
	if err != nil {
		return route.Job{}, nil, err
	}
	units := "metric"
	if w.Units == unit.Imperial {
		units = "imperial"
	}
	job := route.Job{
		Format: route.Format, Name: w.Name, Units: units,
		Piece: w.Piece, Steel: []route.Metal{w.Steel}, Shop: w.Shop, Aim: w.Aim,
	}
	add := func(s route.Step) { job.Steps = append(job.Steps, s) }
	if h.normalize > 0 {
		add(route.Step{Do: route.Normalize, In: w.Fire, At: temp(h.normalize, w.Units), Times: 3, To: untilSign(route.BlackHeat)})
	}
	if h.wraps() {
		add(route.Step{Do: route.Coat, Coating: route.Coating{With: route.FoilCoat}})
		h.notes = append(h.notes, cite.Note{Code: "plan.wrapped", Source: "common-practice"})
		if _, dial := w.Shop.Oven(w.Fire); !dial {
			h.notes = append(h.notes, cite.Note{Code: "plan.needs-kiln", Args: []cite.Quantity{
				cite.Txt("fire", w.Fire), cite.Num("temperature", h.harden, "K"), cite.Num("time", h.soak*60, "s")}, Source: "common-practice"})
		}
	}
	add(route.Step{Do: route.Heat, In: w.Fire, At: temp(h.harden, w.Units), Until: until("at heat", route.AtHeat, route.Ending{}), Hold: minutes(h.soakIn(w, nominal))})
	switch {
	case w.Bath == route.Air:
		add(route.Step{Do: route.Cool, Until: untilSign(route.HandWarm)})
		if h.wraps() {
			add(route.Step{Do: route.Strip})
		}
	case h.wraps(): // cut out of its foil on the way
		add(route.Step{Do: route.Strip})
		add(route.Step{Do: route.Carry, Until: until("10 s", route.ByTime, route.Ending{Time: 10})})
		add(route.Step{Do: route.Quench, In: w.Bath, Until: untilSign(route.HandWarm)})
	default:
		add(route.Step{Do: route.Carry, Until: until("2 s", route.ByTime, route.Ending{Time: 2})})
		add(route.Step{Do: route.Quench, In: w.Bath, Until: untilSign(route.HandWarm)})
	}
	add(route.Step{Do: route.Temper, In: w.Oven, At: temp(h.temper, w.Units), Hold: minutes(120), Times: 2})
	return job, h.notes, nil
}

// heats are the temperatures of a route [K], the soak and the least that will do [min].
type heats struct {
	normalize, harden, temper float64
	soak, least               float64
	notes                     []cite.Note
}

// bareUpTo is the hardening heat above which a bare piece loses more skin in the soak
// than an edge can spare [K]: A2, D2, S7 and H13 lie above it, and are wrapped in foil.
// Common practice.
const bareUpTo = 900 + 273.15

// wraps reports whether the piece is wrapped in foil for its hardening heat.
func (h heats) wraps() bool { return h.harden > bareUpTo }

// How far above its critical temperature a steel without a sheet is hardened [K]: steel
// below the eutectoid above the last ferrite (Ac3), other steel above the end of the
// three-phase field, with carbide left. Common practice.
const (
	overFerrite = 40
	overCarbide = 45
	eutectoid   = 0.76 // wt % C
)

// heatsFor takes the middle of what makers' sheets say of the steel; for a steel
// without a sheet it goes above critical, as common practice does.
func heatsFor(c steel.Composition, p *steel.Practice) (heats, error) {
	const zero = 273.15
	if p != nil && p.Harden[1] > 0 {
		h := heats{
			harden: (p.Harden[0]+p.Harden[1])/2 + zero, soak: (p.SoakMinutes[0] + p.SoakMinutes[1]) / 2, least: p.SoakMinutes[0],
			temper: (p.Temper[0]+p.Temper[1])/2 + zero,
		}
		if p.Temper[1] == 0 {
			h.temper = usualTemper
		}
		if p.Normalize > 0 {
			h.normalize = p.Normalize + zero
		}
		h.notes = []cite.Note{{Code: "plan.heats-from-sheet", Args: []cite.Quantity{cite.Num("temperature", h.harden, "K")}, Source: p.Source}}
		return h, nil
	}
	limits, err := micro.Equilibrium(c)
	if err != nil {
		return heats{}, err
	}
	_, critical := limits.Ae1()
	over := float64(overCarbide)
	if c[steel.C] < eutectoid {
		critical, over = math.Max(critical, limits.Upper()), overFerrite
	}
	h := heats{harden: critical + over, soak: soakOf(steel.FamilyOf(c)), temper: usualTemper}
	h.least = h.soak
	h.normalize = h.harden + 55
	h.notes = []cite.Note{{Code: "plan.heats-from-critical", Args: []cite.Quantity{
		cite.Num("temperature", h.harden, "K"), cite.Num("over", over, "K-step"), cite.Num("critical", critical, "K")}, Source: "common-practice"}}
	return h, nil
}

// soakIn is the hold at heat [min]. In an open fire, whose heat is judged by eye,
// plain steel of up to 0.9 wt % C, which needs no soak, gets two minutes to even out
// and the rest the shortest that its sheet gives: every minute more there costs skin.
// Common practice.
func (h heats) soakIn(w Wish, c steel.Composition) float64 {
	if _, closed := w.Shop.Oven(w.Fire); closed {
		return h.soak
	}
	if steel.FamilyOf(c) == steel.PlainCarbon && c[steel.C] <= 0.9 {
		return min(h.soak, 2)
	}
	return min(h.soak, h.least)
}

// soakOf is the usual hold at heat [min]; common practice.
func soakOf(f steel.Family) float64 {
	switch f {
	case steel.AlloyTool, steel.ChromiumBearing, steel.Tungsten:
		return 12
	case steel.AirHardening:
		return 35
	case steel.LowAlloy:
		return 8
	}
	return 5
}

// hottestOf returns the most that the oven of the wish reaches [K].
func hottestOf(w Wish) float64 {
	for _, o := range w.Shop.Ovens {
		switch {
		case o.Name != w.Oven:
		case o.Most.Is():
			return math.Min(hottestTemper, o.Most.Value.K())
		case o.Kind != "kiln":
			return hottestFamily
		}
	}
	return hottestTemper
}
