package study

import (
	"context"
	"math"
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// coarseGrain is ASTM 6 [µm]: from here a break looks sandy to sugary, and hardened
// steel breaks easily. Common practice.
const coarseGrain = 45.0

// airHardening is the chromium from which makers' sheets forbid normalizing [wt %].
const airHardening = 3

// advice lists what to know beside the verdict, whatever it is: that nobody knows what
// steel this is, that this quench cracks such a piece, that its grain is coarse.
func advice(setup *sim.Setup, h *sim.History, q int) []cite.Note {
	var notes []cite.Note
	if setup.Mystery {
		notes = append(notes, cite.Note{Code: "study.coupon-first", Source: "common-practice"})
	}
	if s := crackiest(h, q); s != nil {
		code := "study.may-crack"
		if slices.ContainsFunc(s.Crack.Raised, func(x string) bool {
			return x == micro.CrackCarbonInWater || x == micro.CrackLowMs || x == micro.CrackThrough
		}) {
			code = "study.may-crack-in-water"
		}
		notes = append(notes, cite.Note{Code: code, Where: s.Name, Args: []cite.Quantity{cite.Txt("bath", s.Where.Name)}, Source: "kunitake-1971"})
	}
	if z := coarsest(h, q); z != nil {
		code := "study.coarse-grain"
		if setup.Steel[steel.Cr] >= airHardening {
			code = "study.coarse-grain-anneal"
		}
		notes = append(notes, cite.Note{Code: code, Where: z.Name, Args: []cite.Quantity{cite.Num("grain", z.Grain.Value*1e-6, "m")}, Source: "common-practice"})
	}
	return notes
}

// crackiest returns the bath of the last hardening that ranks highest, where that is high.
func crackiest(h *sim.History, q int) *sim.Step {
	var worst *sim.Step
	for i := q; i >= 0 && h.Steps[i].Role != sim.Heating; i-- {
		if c := h.Steps[i].Crack; c != nil && c.Rank >= micro.CrackHigh && (worst == nil || c.Rank > worst.Crack.Rank) {
			worst = &h.Steps[i]
		}
	}
	return worst
}

// coarsest returns the zone with the coarsest grain after the quench where that is
// coarse. Zones that nobody wants hard are not asked.
func coarsest(h *sim.History, q int) *sim.Zone {
	var worst *sim.Zone
	for i := range h.Steps[q].Zones {
		z := &h.Steps[q].Zones[i]
		if !soft[z.Name] && z.Grain.Value > coarseGrain && (worst == nil || z.Grain.Value > worst.Grain.Value) {
			worst = z
		}
	}
	return worst
}

// scrap is what steel nobody knows may be: springs, axles, bearings, files, saws, drill
// rod, structural bar. Common practice; each counts as likely as the next.
var scrap = []string{"A36", "1045", "1060", "1075", "1095", "W1", "O1", "4140", "5160", "9260", "52100"}

// toolHard is how hard the weakest zone has to come from the bath before it is worth a
// temper [HRC]; common practice.
const toolHard = 50

// shareOfScrap returns how many of the steels that this may be come out hard where
// they are treated as the job says [–].
func shareOfScrap(ctx context.Context, setup *sim.Setup, q int) float64 {
	hard, all := 0, 0
	for _, name := range scrap {
		g, err := steel.Find(name)
		if err != nil {
			continue
		}
		c := setup.Clone()
		c.Steel, c.Grade, c.Limits = g.Nominal(), name, nil
		h, err := c.Run(ctx, Coarse(c), nil)
		if err != nil || q >= len(h.Steps) {
			continue
		}
		all++
		z := &h.Steps[q].Zones[weakest(setup, h, q)]
		if hardened(z) > math.Log(hardEnough/(1-hardEnough)) && z.HardnessHV.Value >= unit.HVofHRC(toolHard) {
			hard++
		}
	}
	if all == 0 {
		return 0.5
	}
	return float64(hard) / float64(all)
}

// doubt lowers the likelihood of a verdict on steel that nobody knows to what the
// steels that it may be say of it.
func doubt(ctx context.Context, setup *sim.Setup, q int, v *sim.Verdict) {
	p := shareOfScrap(ctx, setup, q)
	if v.Code != sim.HardensThrough {
		p = 1 - p
	}
	v.Likelihood = math.Max(0.05, math.Min(v.Likelihood, p))
}

// atSurface are zones whose hardness may be a case over a soft core.
var atSurface = map[string]bool{"surface": true, "face": true, "point": true, "edge": true}

// cased returns the wish that asks for a hard case and nothing of the core; nil where
// more is asked for, or nothing.
func cased(setup *sim.Setup) *sim.Aim {
	var hardest *sim.Aim
	for i := range setup.Aim {
		a := &setup.Aim[i]
		switch {
		case a.Low <= unit.HVofHRC(wantedSoft):
		case !atSurface[a.Zone]:
			return nil
		case hardest == nil || a.Low > hardest.Low:
			hardest = a
		}
	}
	return hardest
}

// served returns the likelihood that what is wished of the case is met, and whether it is.
func served(setup *sim.Setup, h *sim.History) (float64, bool) {
	a := cased(setup)
	if a == nil {
		return 0, false
	}
	for i := range h.Zones {
		if z := &h.Zones[i]; z.Name == a.Zone {
			return within(z.HardnessHV, a.Low, math.Inf(1)), z.HardnessHV.Value >= a.Low
		}
	}
	return 0, false
}
