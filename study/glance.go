package study

import (
	"context"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// Coarse is how a glance is marched: a section of few cells, without looking
// ahead. Against the section of a forecast the hardness of a zone differs by
// less than 10 HV, a third of the models' own accuracy; at the thick end of a
// struck tool, where a shallow steel hardens in part, by up to 50 HV. A test holds it to that.
func Coarse(setup *sim.Setup) sim.Options {
	o := sim.Options{Section: true, Across: 10, Through: 4, Quick: true, NoSeries: true}
	if setup.Solid.EndOn { // its section runs lengthwise, and has more cells for the same fineness
		o.Across, o.Through = 8, 4
	}
	return o
}

// Glance is the answer of one short run, for whoever is still typing: bands hold
// the models' own accuracy and nothing of what fire, bath and bar may be off by,
// so the verdict has no likelihood (0: not judged) and no remedies.
func Glance(ctx context.Context, job route.Job, engine sim.Engine) (*sim.History, error) {
	setup, err := sim.Prepare(job)
	if err != nil {
		return nil, err
	}
	o := Coarse(setup)
	o.Engine = engine
	h, err := setup.Run(ctx, o, nil)
	if err != nil {
		return nil, err
	}
	GlanceAt(ctx, setup, h)
	return h, nil
}

// GlanceAt makes a glance of a run that was already made: bands and verdict.
func GlanceAt(ctx context.Context, setup *sim.Setup, h *sim.History) {
	s := &Spread{Base: h, glance: true}
	s.Widen(h)
	h.Verdict = s.judge(ctx, setup, h)
	h.Verdict.Likelihood = 0
	for i := range h.Verdict.Aim {
		h.Verdict.Aim[i].Likelihood = 0
	}
}

// Answer judges a run of the whole piece, or any other of the same setup, with
// the bands of a spread that was made before.
func (s *Spread) Answer(ctx context.Context, setup *sim.Setup, h *sim.History) {
	s.Widen(h)
	h.Verdict = s.judge(ctx, setup, h)
}

// SpreadWith is SpreadOf for whoever waits: watch hears the share of the runs
// that are done, never from two goroutines at once.
func SpreadWith(ctx context.Context, setup *sim.Setup, o Options, watch func(share float64)) (*Spread, error) {
	return spreadOf(ctx, setup, o, watch)
}
