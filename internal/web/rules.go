package web

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/sim"
)

// rules answers the rules of the trade that bear on this piece, each with the
// piece's own numbers: what the rule is good for, and where it stops.
func (who reader) rules(a *worked) []jobsheet.Line {
	var all []jobsheet.Line
	tell := func(code string, args ...cite.Quantity) {
		all = append(all, jobsheet.Line{Text: who.Of("bench.rule-"+code, args...).Say})
	}
	h := a.history
	if off, ok := signOf(h, string(sim.MagnetLetsGo)); ok {
		if step := hardening(h); step != nil {
			tell("magnet", cite.Num("off", off.Temperature.Value+273.15, "K"), cite.Num("hot", step.Peak.Temperature+273.15, "K"), cite.Num("more", math.Max(0, step.End-off.Time.Value), "s"))
		}
	}
	if latest, ok := signOf(h, string(sim.LatestForOil)); ok {
		tell("second-lost", cite.Num("latest", latest.Since.Value, "s"))
	}
	var first *sim.Zone
	for i := range h.Steps {
		s := &h.Steps[i]
		if s.Role != sim.Tempering || len(s.Zones) == 0 {
			continue
		}
		z := zoneOf(s.Zones, "edge", "core")
		if first == nil {
			first = z
			continue
		}
		if z != nil {
			tell("twice", cite.Num("once", first.HardnessHV.Value, "HV"), cite.Num("again", z.HardnessHV.Value, "HV"))
		}
		break
	}
	if z := zoneOf(h.Zones, "edge", "surface", "core"); z != nil && z.Decarb.Value > 0.01 {
		tell("skin", cite.Num("skin", z.Decarb.Value/1000, "m"))
	}
	if step := hardening(h); step != nil {
		if z := zoneOf(step.Zones, "core", "edge"); z != nil {
			tell("grain", cite.Num("grain", z.Grain.Value*1e-6, "m"))
		}
	}
	return all
}

func signOf(h *sim.History, name string) (sim.Sign, bool) {
	for i := len(h.Signs) - 1; i >= 0; i-- {
		if string(h.Signs[i].Name) == name {
			return h.Signs[i], true
		}
	}
	return sim.Sign{}, false
}

// hardening returns the last heating before a quench.
func hardening(h *sim.History) *sim.Step {
	var heat *sim.Step
	for i := range h.Steps {
		switch h.Steps[i].Role {
		case sim.Heating:
			heat = &h.Steps[i]
		case sim.Quenching:
			return heat
		}
	}
	return heat
}

func zoneOf(zones []sim.Zone, names ...string) *sim.Zone {
	for _, n := range names {
		for i := range zones {
			if zones[i].Name == n {
				return &zones[i]
			}
		}
	}
	return nil
}
