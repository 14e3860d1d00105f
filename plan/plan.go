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

// Find returns a route for the wish, and why it is as it is. The error is the
// smith's to mend: a steel that is not known, a piece that cannot be.
func Find(ctx context.Context, w Wish) (route.Job, []cite.Note, error) {
	job, notes, err := Draft(w)
	if err != nil || len(w.Aim.Hardness) == 0 {
		return job, notes, err
	}
	more, err := findTemper(ctx, &job, w)
	return job, append(notes, more...), err
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
	add(route.Step{Do: route.Heat, In: w.Fire, At: temp(h.harden, w.Units), Until: until("at heat", route.AtHeat, route.Ending{}), Hold: minutes(h.soak)})
	if w.Bath == route.Air {
		add(route.Step{Do: route.Cool, Until: untilSign(route.HandWarm)})
	} else {
		add(route.Step{Do: route.Carry, Until: until("2 s", route.ByTime, route.Ending{Time: 2})})
		add(route.Step{Do: route.Quench, In: w.Bath, Until: untilSign(route.HandWarm)})
	}
	add(route.Step{Do: route.Temper, In: w.Oven, At: temp(h.temper, w.Units), Hold: minutes(120), Times: 2})
	return job, h.notes, nil
}

// heats are the temperatures of a route [K] and the soak [min].
type heats struct {
	normalize, harden, temper float64
	soak                      float64
	notes                     []cite.Note
}

// heatsFor takes the middle of what makers' sheets say of the steel; for a
// steel without a sheet it goes 45 K above the end of its critical range, which
// is common practice.
func heatsFor(c steel.Composition, p *steel.Practice) (heats, error) {
	const zero = 273.15
	if p != nil && p.Harden[1] > 0 {
		h := heats{
			harden: (p.Harden[0]+p.Harden[1])/2 + zero, soak: (p.SoakMinutes[0] + p.SoakMinutes[1]) / 2,
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
	_, end := limits.Ae1()
	h := heats{harden: math.Max(end, math.Min(limits.Upper(), end+60)) + 45, soak: soakOf(steel.FamilyOf(c)), temper: usualTemper}
	h.normalize = h.harden + 55
	h.notes = []cite.Note{{Code: "plan.heats-from-critical", Args: []cite.Quantity{
		cite.Num("temperature", h.harden, "K"), cite.Num("critical", end, "K")}, Source: "common-practice"}}
	return h, nil
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

// findTemper sets the temper that brings the zone of the first wish to the
// middle of its band, by marching the piece in section at falling distance from
// the mark.
func findTemper(ctx context.Context, job *route.Job, w Wish) ([]cite.Note, error) {
	wish := w.Aim.Hardness[0]
	band := wish.Band.Value.HV()
	low, high := 200.0, 1000.0
	if !math.IsInf(band.Low, 0) {
		low = band.Low
	}
	if !math.IsInf(band.High, 0) {
		high = band.High
	}
	want := (low + high) / 2
	setup, err := sim.Prepare(*job)
	if err != nil {
		return nil, err
	}
	if setup.Limits == nil { // one equilibrium for all runs
		if setup.Limits, err = micro.Equilibrium(setup.Steel); err != nil {
			return nil, err
		}
	}
	found := func(kelvin float64) (float64, error) {
		s := setup.Clone()
		for i := range s.Stages {
			if s.Stages[i].Role == route.Tempering {
				s.Stages[i].At = route.Temp{Text: "search", Value: unit.Temp(kelvin)}
			}
		}
		h, err := s.Run(ctx, sim.Options{Section: true, Across: 10, Through: 4, Quick: true, NoSeries: true}, nil)
		if err != nil {
			return 0, err
		}
		return hardnessAt(h, wish.Zone), nil
	}
	cool, hot := coolestTemper, hottestOf(w)
	hard, err := found(cool)
	if err != nil {
		return nil, err
	}
	code, at := "plan.temper-found", cool
	if hard <= want {
		code = "plan.softer-than-wished"
	} else {
		if at, err = between(cool, hot, hard-want, func(t float64) (float64, error) {
			hv, err := found(t)
			return hv - want, err
		}); err != nil {
			return nil, err
		}
		if at >= hot-1 {
			code = "plan.harder-than-wished"
		}
	}
	for i := range job.Steps {
		if job.Steps[i].Do == route.Temper {
			job.Steps[i].At = temp(at, w.Units)
		}
	}
	return []cite.Note{{Code: code, Where: wish.Zone, Args: []cite.Quantity{
		cite.Num("temperature", at, "K"), cite.Num("untempered", hard, "HV"), cite.Num("wished", want, "HV")}}}, nil
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

// between finds where f falls through zero between lo and hi to 3 K; f(lo) = atLo > 0.
// Where f stays above zero it returns hi.
func between(lo, hi, atLo float64, f func(float64) (float64, error)) (float64, error) {
	atHi, err := f(hi)
	if err != nil || atHi >= 0 {
		return hi, err
	}
	for range 8 {
		mid := lo + (hi-lo)*math.Min(0.9, math.Max(0.1, atLo/(atLo-atHi)))
		v, err := f(mid)
		if err != nil {
			return mid, err
		}
		if math.Abs(v) < 2 || hi-lo < 3 {
			return mid, nil
		}
		if v > 0 {
			lo, atLo = mid, v
		} else {
			hi, atHi = mid, v
		}
	}
	return (lo + hi) / 2, nil
}

// hardnessAt returns the hardness of a zone at the end of the route [HV]; of
// the first zone when the piece has none of that name.
func hardnessAt(h *sim.History, zone string) float64 {
	for _, z := range h.Zones {
		if z.Name == zone {
			return z.HardnessHV.Value
		}
	}
	return h.Zones[0].HardnessHV.Value
}
