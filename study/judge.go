package study

import (
	"context"
	"math"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

const (
	hardEnough  = 0.90 // martensite + retained austenite (+ carbide) of a zone that counts as hardened
	edgeCarbon  = 0.35 // wt % below which no quench gives an edge
	softHRC     = 28.0 // files and drills without trouble up to here; common practice
	percentile  = 1.2816
	leastSpread = 0.05 // in the logit of the hardened share
)

// lenders maps zones that a cross-section lacks to the zone whose band they borrow.
var lenders = map[string][]string{
	"tip": {"edge", "core", "surface"}, "heel": {"edge", "core", "surface"}, "tang": {"spine", "core"}, "end": {"surface", "core"},
}

// lend returns the key with the zone replaced by one that the section has.
func lend(key string, have map[string]bool) string {
	for zone, from := range lenders {
		if !have[zone] && strings.Contains(key, "/"+zone) {
			for _, f := range from {
				if have[f] {
					return strings.Replace(key, "/"+zone, "/"+f, 1)
				}
			}
		}
	}
	return key
}

// judge says whether the piece hardens, how surely, and what else to do.
func (s *Spread) judge(ctx context.Context, setup *sim.Setup, h *sim.History) sim.Verdict {
	v := sim.Verdict{Aim: aims(setup, h)}
	q := lastQuench(h)
	if q < 0 {
		q = lastAir(setup, h)
	}
	switch {
	case setup.Steel[steel.C] < edgeCarbon && q >= 0:
		v.Code, v.Likelihood = sim.NotForAnEdge, 0.99
		v.Remedies = []cite.Note{{Code: "study.remedy-steel-with-carbon", Args: []cite.Quantity{cite.Num("carbon", 0.75, "wt%")}, Source: "common-practice"}}
		s.tellQuench(&v, h, q, weakest(setup, h, q))
	case q >= 0:
		s.judgeQuench(ctx, setup, h, q, &v)
	case buried(h) >= 0:
		s.judgeSoft(h, &v)
	default:
		v.Code, v.Likelihood = sim.NoHardeningStep, 1
	}
	return v
}

// logit of the share that did not become pearlite, bainite or ferrite, nor is
// still hot austenite that has all that before it.
func hardened(z *sim.Zone) float64 {
	c := &z.Constituents
	x := 1 - c.Pearlite - c.Bainite - c.Ferrite - c.Austenite
	x = math.Min(1-1e-3, math.Max(1e-3, x))
	return math.Log(x / (1 - x))
}

// likely returns the likelihood that value − limit ≥ 0, with the deviations
// taken as percentiles of a normal distribution on each side.
func (d *deviations) likely(key string, value, limit, least float64) float64 {
	side := d.down[key]
	if value < limit {
		side = d.up[key]
	}
	sigma := math.Max(side, least) / percentile
	return 0.5 * math.Erfc(-(value-limit)/(sigma*math.Sqrt2))
}

func (s *Spread) judgeQuench(ctx context.Context, setup *sim.Setup, h *sim.History, q int, v *sim.Verdict) {
	d := s.deviations(func(h *sim.History, tell func(string, float64)) {
		for i := range h.Steps {
			for k := range h.Steps[i].Zones {
				tell(stepKey(i)+"/"+h.Steps[i].Zones[k].Name, hardened(&h.Steps[i].Zones[k]))
			}
		}
	})
	have := map[string]bool{}
	for _, z := range s.Base.Zones {
		have[z.Name] = true
	}
	limit := math.Log(hardEnough / (1 - hardEnough))
	p := func(z *sim.Zone) float64 {
		return d.likely(lend(stepKey(q)+"/"+z.Name, have), hardened(z), limit, leastSpread)
	}
	zones := h.Steps[q].Zones
	weak := weakest(setup, h, q)
	least := p(&zones[weak])
	edge := 0
	for i := range zones {
		if n := zones[i].Name; n == "edge" || n == "surface" || n == "point" || n == "face" {
			edge = i
			break
		}
	}
	switch pe := p(&zones[edge]); {
	case least >= 0.5 && inPart(setup) != nil:
		v.Code, v.Likelihood = sim.HardensEdge, least
	case least >= 0.5:
		v.Code, v.Likelihood = sim.HardensThrough, least
	case pe >= 0.5:
		v.Code, v.Likelihood = sim.HardensEdge, math.Min(pe, 1-least)
	default:
		v.Code, v.Likelihood = sim.DoesNotHarden, 1-pe
	}
	s.tellQuench(v, h, q, weak)
	v.Advice = advice(setup, h, q)
	hard, serves := served(setup, h)
	if serves && v.Code == sim.DoesNotHarden {
		v.Code, v.Likelihood = sim.HardensEdge, hard
	}
	if s.glance {
		return
	}
	if setup.Mystery {
		doubt(ctx, setup, q, v)
	}
	if v.Code != sim.HardensThrough && !(least >= 0.5) && !serves {
		v.Remedies = remedies(ctx, setup, h, q)
	}
}

func (s *Spread) tellQuench(v *sim.Verdict, h *sim.History, q, weak int) {
	z := &h.Steps[q].Zones[weak]
	v.Zone, v.Medium = z.Name, h.Steps[q].Where.Name
	b := unit.Exactly(z.Constituents.Hardened())
	if sp := z.Spread; sp != nil {
		b.Low = math.Max(0, b.Value-math.Hypot(z.Constituents.Pearlite-sp.High.Pearlite, z.Constituents.Bainite-sp.High.Bainite))
		b.High = math.Min(1, b.Value+math.Hypot(z.Constituents.Pearlite-sp.Low.Pearlite, z.Constituents.Bainite-sp.Low.Bainite))
	}
	v.Hardened, v.AsQuenched = &b, z.HardnessHRC
}

// soft are the zones that nobody wants hard: what goes into a handle and what is struck.
var soft = map[string]bool{"tang": true, "left tang": true, "right tang": true, "struck end": true, "shank": true, "eye": true, "poll": true}

// A wish below wantedSoft beside one above wantedHard is for a piece that is hardened in
// part [HRC]: clay on its spine, its edge alone in the water; common practice.
const (
	wantedSoft = 45
	wantedHard = 52
)

// inPart returns the zones that are wanted hard of a piece that is to be hardened in
// part; nil where all of it is. A spring wants all of it hardened, and tempered to its wish.
func inPart(setup *sim.Setup) map[string]bool {
	hard, some := map[string]bool{}, false
	for _, a := range setup.Aim {
		some = some || a.Low < unit.HVofHRC(wantedSoft)
		if a.Low > unit.HVofHRC(wantedHard) {
			hard[a.Zone] = true
		}
	}
	if !some || len(hard) == 0 {
		return nil
	}
	return hard
}

// weakest returns the zone of a step with the least martensite and retained
// austenite. Zones that are meant to stay soft are not asked, and of a piece that is
// wanted soft in part only those that are wanted hard.
func weakest(setup *sim.Setup, h *sim.History, q int) int {
	weak := -1
	zones := h.Steps[q].Zones
	asked := inPart(setup)
	for i := range zones {
		if soft[zones[i].Name] || asked != nil && !asked[zones[i].Name] {
			continue
		}
		if weak < 0 || hardened(&zones[i]) < hardened(&zones[weak]) {
			weak = i
		}
	}
	return max(weak, 0)
}

func lastQuench(h *sim.History) int {
	for i := len(h.Steps) - 1; i >= 0; i-- {
		if h.Steps[i].Role == sim.Quenching {
			return i
		}
	}
	return -1
}

// lastAir returns the step in which the piece hung in air to harden, and no bath
// was asked: it is tempered after it, or it came out hard. −1: none.
func lastAir(setup *sim.Setup, h *sim.History) int {
	tempered := false
	for i := len(h.Steps) - 1; i >= 0; i-- {
		switch s := &h.Steps[i]; {
		case s.Role == sim.Tempering:
			tempered = true
		case s.Role == sim.Cooling && s.Verb == string(route.Cool):
			if tempered || s.Zones[weakest(setup, h, i)].Constituents.Hardened() >= 0.5 {
				return i
			}
			return -1
		}
	}
	return -1
}

func buried(h *sim.History) int {
	for i := len(h.Steps) - 1; i >= 0; i-- {
		if h.Steps[i].Role == sim.Burying || h.Steps[i].Role == sim.Holding {
			return i
		}
	}
	return -1
}

// judgeSoft tells whether the piece files and drills after a slow cooling.
func (s *Spread) judgeSoft(h *sim.History, v *sim.Verdict) {
	hardest := 0
	for i := range h.Zones {
		if h.Zones[i].HardnessHV.Value > h.Zones[hardest].HardnessHV.Value {
			hardest = i
		}
	}
	z := &h.Zones[hardest]
	limit := unit.HVofHRC(softHRC)
	p := within(z.HardnessHV, 0, limit)
	v.Zone, v.AsQuenched = z.Name, z.HardnessHRC
	v.Medium = h.Steps[buried(h)].Where.Name
	v.Code, v.Likelihood = sim.DrawsSoft, p
	if p < 0.5 {
		v.Code, v.Likelihood = sim.StaysHard, 1-p
		v.Remedies = []cite.Note{
			{Code: "study.remedy-companion-bar", Source: "common-practice"},
			{Code: "study.remedy-hold-below-critical", Args: []cite.Quantity{cite.Num("temperature", 690+medium.CelsiusZero, "K"), cite.Num("time", 4*3600, "s")}, Source: "own-derivation"},
		}
	}
}

// within returns the likelihood that a quantity with this band lies in lo..hi, each
// side taken as half of a normal distribution.
func within(b unit.Band, lo, hi float64) float64 {
	below := func(x float64) float64 {
		side := b.High - b.Value
		if x < b.Value {
			side = b.Value - b.Low
		}
		sigma := math.Max(side, 1e-9) / percentile
		return 0.5 * math.Erfc(-(x-b.Value)/(sigma*math.Sqrt2))
	}
	return math.Max(0, below(hi)-below(lo))
}

func aims(setup *sim.Setup, h *sim.History) []sim.AimMet {
	var list []sim.AimMet
	for _, a := range setup.Aim {
		for i := range h.Zones {
			z := &h.Zones[i]
			if z.Name != a.Zone {
				continue
			}
			list = append(list, sim.AimMet{Zone: a.Zone, Low: a.Low, High: a.High, Found: z.HardnessHV, FoundHRC: z.HardnessHRC, Likelihood: within(z.HardnessHV, a.Low, a.High)})
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].Likelihood < list[j].Likelihood })
	return list
}
