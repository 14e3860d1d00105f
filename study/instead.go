package study

import (
	"context"
	"math"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
)

// spoiled is the share of soft structure that shows where a hardening was lost:
// what hardEnough leaves.
const spoiled = 1 - hardEnough

// lostCarbon is how much less carbon a zone holds in solution than the best one
// where the fire has taken it [wt %]; half of what divides 60 from 50 HRC (astm-a255).
const lostCarbon = 0.12

// atFault returns what to do where the bath cannot be blamed: the piece was not
// hot enough to begin with, it grew cold on the way, it came out before it had
// changed, or the fire had taken the carbon.
func atFault(setup *sim.Setup, h *sim.History, q int) []cite.Note {
	weak := h.Steps[q].Zones[weakest(setup, h, q)].Name
	heat := q - 1
	for heat >= 0 && h.Steps[heat].Role != sim.Heating {
		heat--
	}
	if heat < 0 {
		return nil
	}
	hot := zoneOf(&h.Steps[heat], weak)
	if hot == nil {
		return nil
	}
	if 1-hot.Constituents.Austenite-hot.Constituents.Carbide > spoiled {
		return []cite.Note{{Code: "study.remedy-hotter", Args: []cite.Quantity{cite.Num("temperature", hardeningHeat(setup), "K")}, Source: "common-practice"}}
	}
	for i := range h.Steps[heat].Zones {
		if h.Steps[heat].Zones[i].DissolvedC.Value-hot.DissolvedC.Value > lostCarbon && hot.Decarb.Value > 0 {
			return []cite.Note{{Code: "study.remedy-keep-carbon", Args: []cite.Quantity{cite.Txt("zone", hot.Name)}, Source: "own-derivation"}}
		}
	}
	switch {
	case q > heat+1 && softer(zoneOf(&h.Steps[q-1], weak)) > spoiled:
		return []cite.Note{sooner(h, heat, q)}
	case zoneOf(&h.Steps[q], weak).Constituents.Austenite > spoiled:
		return []cite.Note{{Code: "study.remedy-longer-in-bath", Args: []cite.Quantity{cite.Txt("bath", h.Steps[q].Where.Name)}, Source: "common-practice"}}
	}
	return nil
}

func zoneOf(s *sim.Step, name string) *sim.Zone {
	for i := range s.Zones {
		if s.Zones[i].Name == name {
			return &s.Zones[i]
		}
	}
	return nil
}

// softer returns the share that has gone to soft structure.
func softer(z *sim.Zone) float64 {
	if z == nil {
		return 0
	}
	return z.Constituents.Pearlite + z.Constituents.Bainite + z.Constituents.Ferrite
}

// sooner says by when the piece has to be in the bath, where the history knows.
func sooner(h *sim.History, heat, q int) cite.Note {
	n := cite.Note{Code: "study.remedy-sooner", Args: []cite.Quantity{cite.Num("carry", h.Steps[q-1].End-h.Steps[heat].End, "s")}, Source: "own-derivation"}
	for i := range h.Signs {
		if s := &h.Signs[i]; s.Name == sim.LatestForOil && s.Since.Low >= 0.5 {
			n.Args = append(n.Args, cite.Num("latest", math.Min(10, math.Floor(s.Since.Low)), "s"))
		}
	}
	return n
}

// hardeningHeat returns where this steel is hardened [K]: the middle of what its
// sheets say; without one 30 K above the last ferrite, or 45 K above the end of the
// three-phase field where carbide outlasts it (common practice).
func hardeningHeat(setup *sim.Setup) float64 {
	if g, err := steel.Find(setup.Grade); err == nil && g.Practice != nil && g.Practice.Harden[1] > 0 {
		return (g.Practice.Harden[0]+g.Practice.Harden[1])/2 + medium.CelsiusZero
	}
	limits := setup.Limits
	if limits == nil {
		var err error
		if limits, err = micro.Equilibrium(setup.Steel); err != nil {
			return 820 + medium.CelsiusZero
		}
	}
	_, end := limits.Ae1()
	T := end + 45
	if setup.Steel[steel.C] < eutectoid {
		T = math.Max(T, limits.Upper()+30)
	}
	return math.Round((T-medium.CelsiusZero)/5)*5 + medium.CelsiusZero
}

// eutectoid is the carbon below which ferrite is what goes last [wt %].
const eutectoid = 0.76

// remedies tries the other baths of the shop, then faster classes of oil, and
// names those in which the piece does harden.
func remedies(ctx context.Context, setup *sim.Setup, h *sim.History, q int) []cite.Note {
	if notes := atFault(setup, h, q); len(notes) > 0 {
		return notes
	}
	if h.Steps[q].Role != sim.Quenching {
		return []cite.Note{{Code: "study.remedy-deeper-hardening-steel", Source: "common-practice"}}
	}
	var notes []cite.Note
	now := h.Steps[q].Where.Name
	index := h.Steps[q]
	try := func(c *sim.Setup) (float64, bool) {
		run, err := c.Run(ctx, sim.Options{Section: true, Quick: true, NoSeries: true}, nil)
		if err != nil || q >= len(run.Steps) {
			return 0, false
		}
		if a := cased(setup); a != nil { // a case is enough, if it is hard
			if z := zoneOf(&run.Steps[q], a.Zone); z != nil {
				return z.Constituents.Hardened(), z.HardnessHV.Value >= a.Low
			}
		}
		z := &run.Steps[q].Zones[weakest(setup, run, q)]
		return z.Constituents.Hardened(), hardened(z) > math.Log(hardEnough/(1-hardEnough))
	}
	for i := range setup.Shop.Baths {
		b := &setup.Shop.Baths[i]
		if strings.EqualFold(b.Name, now) {
			continue
		}
		c := setup.Clone()
		for k := range c.Stages {
			if c.Stages[k].Step == index.JobStep && strings.EqualFold(c.Stages[k].In, now) {
				c.Stages[k].In = b.Name
			}
		}
		if share, ok := try(c); ok {
			notes = append(notes, bathNote("study.remedy-bath", b, share))
		}
	}
	if len(notes) > 0 {
		return notes
	}
	for _, kind := range []medium.Quenchant{medium.FastOil, medium.Brine} {
		c := setup.Clone()
		for i := range c.Shop.Baths {
			if b := &c.Shop.Baths[i]; strings.EqualFold(b.Name, now) {
				b.Liquid, b.Vigor, b.Temperature, b.Own = kind, shop.Estimate{}, shop.Estimate{}, nil
			}
		}
		if share, ok := try(c); ok {
			b := shop.Bath{Name: string(kind), Liquid: kind}
			return append(notes, bathNote("study.remedy-liquid", &b, share))
		}
	}
	return append(notes, cite.Note{Code: "study.remedy-deeper-hardening-steel", Source: "common-practice"},
		cite.Note{Code: "study.remedy-thinner-section", Source: "common-practice"})
}

func bathNote(code string, b *shop.Bath, share float64) cite.Note {
	return cite.Note{Code: code, Args: []cite.Quantity{cite.Txt("bath", b.Name), cite.Txt("liquid", string(b.Liquid)), cite.Num("hardened", share, "1")}, Source: "own-derivation"}
}
