package safety

import (
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
)

const (
	warmUp     = 20 * 60 // a fire burns so long before the piece goes in [s]; common practice
	alarmBelow = 28.     // oil must stay this far below its flash point [K]: 50 °F, wac-296-835
	hobbyBelow = 60.     // and should in a shop without thermometer and alarm [K]; from memory
	aflame     = 500 + medium.CelsiusZero
)

// carbonMonoxide forecasts the gas in the room over the time that the fires burn.
func (r *review) carbonMonoxide() {
	seconds, first := 0.0, ""
	var fires []string
	r.each(func(_ int, s *sim.Step) {
		if f := r.forge(s.Where.Name); f != nil {
			if seconds == 0 {
				seconds, first = warmUp, s.Name
			}
			seconds += s.End - s.Start
			fires = append(fires, f.Name)
		}
	}, sim.Heating, sim.Working, sim.Holding)
	if first == "" {
		return
	}
	f := r.kit.CarbonMonoxide(fires, seconds)
	if f.HoodOrOpen {
		r.say(first, "safety.carbon-monoxide-hood", "niosh-co",
			cite.Num("high", f.Peak.High*1e6, "ppm"), cite.Num("likely", f.Peak.Value*1e6, "ppm"), cite.Num("limit", shop.RecommendedCO*1e6, "ppm"), cite.Num("time", seconds, "s"))
	}
	r.say(first, "safety.carbon-monoxide-alarm", "niosh-co", cite.Num("limit", shop.RecommendedCO*1e6, "ppm"), cite.Num("ceiling", shop.CeilingCO*1e6, "ppm"))
}

// dyingFire warns of coke and charcoal that go on making gas after the work.
func (r *review) dyingFire() {
	r.each(func(_ int, s *sim.Step) {
		if f := r.forge(s.Where.Name); f != nil && (f.Kind == shop.CokeHearth || f.Kind == shop.CharcoalFire) {
			r.say(s.Name, "safety.fire-dying-down", "hpa-charcoal")
		}
	}, sim.Heating)
}

func (r *review) gas() {
	r.each(func(_ int, s *sim.Step) {
		if f := r.forge(s.Where.Name); f != nil && (f.Kind == shop.GasForge || f.Kind == shop.Muffle) {
			r.say(s.Name, "safety.gas-leak", "common-practice")
			return
		}
	}, sim.Heating)
}

// oil holds for every quench in a liquid that burns.
func (r *review) oil() {
	r.each(func(i int, s *sim.Step) {
		b := r.bath(s.Where.Name)
		if b == nil {
			return
		}
		if _, burns := b.FlashPoint(); !burns {
			r.say(s.Name, "safety.steam-scald", "common-practice")
			return
		}
		entry := s.Peak.Temperature + medium.CelsiusZero
		if entry > aflame {
			r.say(s.Name, "safety.oil-flare", "common-practice", cite.Num("temperature", entry, "K"))
		}
		if !b.Lid {
			r.say(s.Name, "safety.oil-no-lid", "common-practice")
		}
		// Water at 20 °C makes RT/pM·ρ = 1700 times its volume of steam at 100 °C, as an ideal gas.
		r.say(s.Name, "safety.oil-wet-tongs", "own-derivation")
	}, sim.Quenching)
}

// flash compares the hottest that the oil gets with its flash point.
func (r *review) flash() {
	r.each(func(_ int, s *sim.Step) {
		b := r.bath(s.Where.Name)
		if b == nil {
			return
		}
		flash, burns := b.FlashPoint()
		if !burns {
			return
		}
		hottest := s.Where.Peak + medium.CelsiusZero
		margin := flash - hottest
		args := []cite.Quantity{cite.Num("flash", flash, "K"), cite.Num("bath", hottest, "K"), cite.Num("margin", margin, "K-step")}
		switch {
		case margin < alarmBelow:
			r.say(s.Name, "safety.oil-at-flash-point", "wac-296-835", append(args, cite.Num("least", alarmBelow, "K-step"))...)
		case margin < hobbyBelow:
			r.say(s.Name, "safety.oil-near-flash-point", "common-practice", append(args, cite.Num("least", hobbyBelow, "K-step"))...)
		}
		if limit := b.Limit; limit.Known && hottest > limit.Value {
			r.say(s.Name, "safety.bath-over-its-limit", "common-practice", cite.Num("bath", hottest, "K"), cite.Num("limit", limit.Value, "K"))
		}
	}, sim.Quenching)
}

// depth asks whether the piece goes under.
func (r *review) depth() {
	r.each(func(_ int, s *sim.Step) {
		b := r.bath(s.Where.Name)
		if b == nil {
			return
		}
		solid, err := r.job.Body(s.JobStep)
		if err != nil {
			return
		}
		l, w, t := solid.Extent()
		step := r.jobStep(s)
		if step.Under.Is() && !step.UnderFor.Is() { // meant to stand out
			l, w = min(l, float64(step.Under.Value)), min(w, float64(step.Under.Value))
		}
		if b.Takes(&shop.Piece{Length: l, Width: w, Thickness: t}, step.First != "" && step.First != "tip") == nil {
			return
		}
		if _, burns := b.FlashPoint(); burns {
			r.say(s.Name, "safety.oil-too-shallow", "common-practice", cite.Num("length", l, "m"), cite.Num("depth", b.Depth.Low, "m"))
		}
	}, sim.Quenching)
}

// familyOven holds for ovens in which food is made.
func (r *review) familyOven() {
	r.each(func(_ int, s *sim.Step) {
		if o := r.oven(s.Where.Name); o != nil && (o.Kind == shop.Kitchen || o.Kind == shop.Toaster) {
			r.say(s.Name, "safety.family-oven", "common-practice")
		}
	}, sim.Tempering, sim.Holding)
}

// burial holds for loose fillings.
func (r *review) burial() {
	r.each(func(_ int, s *sim.Step) {
		b := r.box(s.Where.Name)
		if b == nil {
			return
		}
		switch b.Filling {
		case "vermiculite":
			r.say(s.Name, "safety.old-vermiculite", "epa-vermiculite")
		case "lime":
			r.say(s.Name, "safety.lime-burns", "icsc-0409")
		case "sand":
			r.say(s.Name, "safety.silica-dust", "osha-silica-2016")
		case "fiber blanket":
			r.say(s.Name, "safety.fiber-dust", "clp-ceramic-fiber")
		}
		if b.Moisture.Known && b.Moisture.Value > 0.03 {
			r.say(s.Name, "safety.damp-filling", "own-derivation", cite.Num("share", b.Moisture.Value, "1"))
		}
	}, sim.Burying)
}

// eyes holds for looking into a fire.
func (r *review) eyes() {
	r.each(func(_ int, s *sim.Step) {
		if r.forge(s.Where.Name) == nil {
			return
		}
		if fire := s.Where.Peak; fire > 1000 {
			r.say(s.Name, "safety.eyes-infrared", "icnirp-optical", cite.Num("temperature", fire+medium.CelsiusZero, "K"))
		}
	}, sim.Heating)
}

// lining holds for fires lined with fiber.
func (r *review) lining() {
	r.each(func(_ int, s *sim.Step) {
		if f := r.forge(s.Where.Name); f != nil && f.Kind == shop.GasForge {
			r.say(s.Name, "safety.fiber-lining", "clp-ceramic-fiber")
		}
	}, sim.Heating)
}
