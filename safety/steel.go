package safety

import (
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
)

const (
	hardened    = 0.3   // share of martensite from which a zone counts as hard and brittle
	soon        = 1800. // from the quench to the temper [s]: low risk under half an hour
	late        = 4 * 3600.
	tooHotToTry = 43 + medium.CelsiusZero // skin bears it [K]; niosh and others give 43–45 °C, from memory
	coarse      = 45.                     // grain over which a quench cracks more easily [µm]: ASTM 6
	crackCarbon = 0.6                     // dissolved carbon from which water is risky [wt %]
	crackCe     = 0.55                    // C + Mn/5 + Mo/5 + Cr/10 + Ni/50 likewise
	softTME     = 240.                    // °C, tempered-martensite embrittlement: begins for high carbon
	hardTME     = 260.
	endTME      = 370.
	siliconTME  = 1.0  // from this silicon on the window lies 50–100 K higher [wt %]; from memory
	softTE      = 450. // °C, reversible embrittlement
	endTE       = 600.
)

// quench returns the index of a step's next temper, or −1.
func (r *review) nextTemper(i int) int {
	for k := i + 1; k < len(r.h.Steps); k++ {
		switch r.h.Steps[k].Role {
		case sim.Tempering, sim.Holding:
			return k
		case sim.Heating:
			return -1
		}
	}
	return -1
}

func hardest(s *sim.Step) *sim.Zone {
	var z *sim.Zone
	for i := range s.Zones {
		if z == nil || s.Zones[i].Constituents.Martensite > z.Constituents.Martensite {
			z = &s.Zones[i]
		}
	}
	return z
}

// untempered watches how long a hard piece lies before its temper.
func (r *review) untempered() {
	r.each(func(i int, s *sim.Step) {
		z := hardest(s)
		if z == nil || z.Constituents.Martensite < hardened {
			return
		}
		k := r.nextTemper(i)
		if k < 0 {
			r.say(s.Name, "safety.never-tempered", "o1-a2-sheets", cite.Txt("zone", z.Name))
			return
		}
		switch wait := r.h.Steps[k].Start - s.End; {
		case wait > late:
			r.say(r.h.Steps[k].Name, "safety.untempered-for-hours", "o1-a2-sheets", cite.Num("time", wait, "s"), cite.Num("most", late, "s"))
		case wait > soon:
			r.say(r.h.Steps[k].Name, "safety.untempered-too-long", "o1-a2-sheets", cite.Num("time", wait, "s"), cite.Num("most", soon, "s"))
		default:
			r.say(r.h.Steps[k].Name, "safety.temper-at-once", "o1-a2-sheets", cite.Num("most", soon, "s"))
		}
	}, sim.Quenching)
}

// blackHeat tells until when a piece that looks cold still burns: the upper end
// of the band of its hottest zone.
func (r *review) blackHeat() {
	for i := range r.h.Signs {
		s := &r.h.Signs[i]
		if s.Name != sim.HotUntil || s.Step >= len(r.h.Steps) {
			continue
		}
		place, since := r.left(s)
		args := []cite.Quantity{cite.Num("since", since, "s"), cite.Txt("place", place), cite.Txt("zone", s.Zone), cite.Num("temperature", tooHotToTry, "K")}
		if place == "" {
			r.say(r.h.Steps[s.Step].Name, "safety.hot-until-later", "common-practice", args...)
			continue
		}
		r.say(r.h.Steps[s.Step].Name, "safety.hot-until", "common-practice", args...)
	}
	r.each(func(i int, s *sim.Step) {
		hottest := 0.0
		for k := range s.Zones {
			hottest = max(hottest, s.Zones[k].Temperature.Value)
		}
		if i+1 < len(r.h.Steps) && r.h.Steps[i+1].Role == sim.Acting && hottest+medium.CelsiusZero > tooHotToTry {
			r.say(r.h.Steps[i+1].Name, "safety.still-hot", "common-practice", cite.Num("temperature", hottest+medium.CelsiusZero, "K"))
		}
	}, sim.Cooling, sim.Burying, sim.Quenching, sim.Tempering)
}

// left returns the oven or fire that a piece came out of before it cooled, and how long
// after that the sign comes [s]; without one "" and the time since the step began.
func (r *review) left(s *sim.Sign) (place string, since float64) {
	step := &r.h.Steps[s.Step]
	hot := func(x *sim.Step) bool {
		return x.Role == sim.Tempering || x.Role == sim.Holding || x.Role == sim.Heating
	}
	if hot(step) && s.Time.High > step.End {
		return step.Where.Name, s.Time.High - step.End
	}
	if s.Step > 0 && step.Role == sim.Cooling && hot(&r.h.Steps[s.Step-1]) {
		return r.h.Steps[s.Step-1].Where.Name, s.Since.High
	}
	return "", s.Since.High
}

// asQuenched: hard steel breaks like glass when it is bent, struck or dropped.
func (r *review) asQuenched() {
	r.each(func(_ int, s *sim.Step) {
		if z := hardest(s); z != nil && z.Constituents.Martensite >= hardened {
			r.say(s.Name, "safety.hard-steel-shatters", "common-practice", cite.Num("hardness", z.HardnessHV.Value, "HV"), cite.Txt("zone", z.Name))
			r.say(s.Name, "safety.hidden-cracks", "common-practice")
		}
	}, sim.Quenching)
}

// cracks raises the indicators of quench cracking. It is a count, not a likelihood.
func (r *review) cracks() {
	comp := steel.Composition{}
	if len(r.job.Steel) > 0 {
		if c, _, _, err := r.job.Steel[0].Known(); err == nil {
			comp = c
		}
	}
	ce := comp[steel.C] + comp[steel.Mn]/5 + comp[steel.Mo]/5 + comp[steel.Cr]/10 + comp[steel.Ni]/50
	r.each(func(i int, s *sim.Step) {
		b := r.bath(s.Where.Name)
		z := hardest(s)
		if b == nil || z == nil || z.Constituents.Martensite < hardened {
			return
		}
		if b.Liquid.Aqueous() && (z.DissolvedC.Value > crackCarbon || ce > crackCe) {
			r.say(s.Name, "safety.water-cracks", "kunitake-1971", cite.Num("equivalent", ce, "wt%"), cite.Num("limit", crackCe, "wt%"), cite.Num("dissolved", z.DissolvedC.Value, "wt%"))
		}
		if z.Grain.Value > coarse {
			r.say(s.Name, "safety.coarse-grain-cracks", "common-practice", cite.Num("grain", z.Grain.Value*1e-6, "m"), cite.Num("limit", coarse*1e-6, "m"))
		}
		if ratio := r.thickToThin(); ratio > 4 && b.Liquid.Aqueous() {
			r.say(s.Name, "safety.uneven-section", "common-practice", cite.Num("ratio", ratio, "1"))
		}
	}, sim.Quenching)
	// Hardened steel that goes straight back into a fire cracks on the way up.
	for i := 1; i < len(r.h.Steps); i++ {
		if r.h.Steps[i].Role != sim.Heating {
			continue
		}
		if z := hardest(&r.h.Steps[i-1]); z != nil && z.Constituents.Martensite > hardened && r.untemperedAt(i-1) {
			r.say(r.h.Steps[i].Name, "safety.reheated-untempered", "common-practice", cite.Num("martensite", z.Constituents.Martensite, "1"))
		}
	}
}

// untemperedAt tells whether no temper has come since the last quench before step i.
func (r *review) untemperedAt(i int) bool {
	for ; i >= 0; i-- {
		switch r.h.Steps[i].Role {
		case sim.Quenching:
			return true
		case sim.Tempering, sim.Holding, sim.Heating:
			return false
		}
	}
	return false
}

func (r *review) thickToThin() float64 {
	p := &r.job.Piece
	if p.Spine.Is() && p.Edge.Is() && p.Edge.Value > 0 {
		return float64(p.Spine.Value / p.Edge.Value)
	}
	return 1
}

// embrittled finds tempers in the windows where hardened steel turns brittle.
func (r *review) embrittled() {
	silicon := 0.0
	if len(r.job.Steel) > 0 {
		if c, _, _, err := r.job.Steel[0].Known(); err == nil {
			silicon = c[steel.Si]
		}
	}
	shift := 0.0
	if silicon >= siliconTME {
		shift = 75
	}
	r.each(func(_ int, s *sim.Step) {
		z := hardest(s)
		if z == nil || z.Constituents.Martensite < hardened {
			return
		}
		T := cite.Num("temperature", s.Peak.Temperature+medium.CelsiusZero, "K")
		window := []cite.Quantity{T, cite.Num("from", hardTME+shift+medium.CelsiusZero, "K"), cite.Num("to", endTME+shift+medium.CelsiusZero, "K")}
		switch t := s.Peak.Temperature - shift; {
		case t >= hardTME && t <= endTME:
			r.say(s.Name, "safety.temper-brittle", "temper-embrittlement-lecture", window...)
		case t >= softTME && t < hardTME:
			r.say(s.Name, "safety.temper-near-brittle", "thomas-1978", window...)
		case t >= softTE && t <= endTE:
			r.say(s.Name, "safety.temper-cool-fast", "temper-embrittlement-lecture", T)
		}
	}, sim.Tempering)
}

// grinding: dust, sparks, gloves, heat.
func (r *review) grinding() {
	hard := false
	for i := range r.h.Steps {
		s := &r.h.Steps[i]
		switch s.Role {
		case sim.Quenching:
			hard = true
		case sim.Heating:
			hard = false
		case sim.Acting:
			if s.Verb == string(route.Drill) {
				r.say(s.Name, "safety.drill-clamp", "common-practice")
				r.say(s.Name, "safety.grinding-gloves", "common-practice")
			}
			if s.Verb == string(route.Bend) && hard {
				r.say(s.Name, "safety.bent-flies", "common-practice")
			}
			if s.Verb != string(route.Grind) {
				continue
			}
			r.say(s.Name, "safety.grinding-dust", "common-practice")
			r.say(s.Name, "safety.grinding-gloves", "common-practice")
			if hard {
				r.say(s.Name, "safety.grinding-heat", "common-practice", cite.Num("temperature", r.lastTemper(i), "K"))
			}
		}
	}
}

// lastTemper returns the hottest temper before step i [K], or 150 °C where there was none.
func (r *review) lastTemper(i int) float64 {
	hottest := 150.0
	for k := 0; k < i; k++ {
		if r.h.Steps[k].Role == sim.Tempering {
			hottest = max(hottest, r.h.Steps[k].Peak.Temperature)
		}
	}
	return hottest + medium.CelsiusZero
}

// hammering: noise and flying chips.
func (r *review) hammering() {
	r.each(func(_ int, s *sim.Step) {
		r.say(s.Name, "safety.noise", "brueck-2023")
		r.say(s.Name, "safety.scale-flies", "common-practice")
	}, sim.Working)
}
