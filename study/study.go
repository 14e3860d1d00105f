// Package study asks how far an answer may be off and what moves it. A spread
// runs the job again on a cross-section with one thing changed at a time: a bar
// with more manganese, an oven that runs hotter, an oil that bites less. What
// comes out differently is the band of the answer.
//
// Everything here is deterministic: the same job gives the same bands for any
// number of workers.
package study

import (
	"context"
	"fmt"
	"sync/atomic"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"golang.org/x/sync/errgroup"
)

// Options says how a forecast is made.
type Options struct {
	sim.Options     // of the central run
	Workers     int // runs at a time; 0: 2
}

// Forecast runs a job, on the whole piece or a section as the options say, and
// around it the section runs that give every answer its band; then it judges.
// watch, when not nil, hears of progress, never from two goroutines at once.
func Forecast(ctx context.Context, job route.Job, o Options, watch func(sim.Progress)) (*sim.History, error) {
	setup, err := sim.Prepare(job)
	if err != nil {
		return nil, err
	}
	return ForecastOf(ctx, setup, o, watch)
}

// ForecastOf is Forecast of a setup.
func ForecastOf(ctx context.Context, setup *sim.Setup, o Options, watch func(sim.Progress)) (*sim.History, error) {
	if watch == nil {
		watch = func(sim.Progress) {}
	}
	const spreadShare = 0.6 // of the bar that shows progress
	spread, err := spreadOf(ctx, setup, o, func(share float64) {
		watch(sim.Progress{Share: spreadShare * share, Name: "spread"})
	})
	if err != nil {
		return nil, err
	}
	h := spread.Base
	if !o.Section {
		whole := o.Options
		whole.Brief = true
		h, err = setup.Run(ctx, whole, func(p sim.Progress) {
			p.Share = spreadShare + (1-spreadShare)*p.Share
			watch(p)
		})
		if err != nil {
			return nil, err
		}
		h.Borrow(spread.Base, sim.LatestForOil, sim.WindowOpens, sim.WindowCloses)
	}
	spread.Widen(h)
	h.Verdict = spread.judge(ctx, setup, h)
	watch(sim.Progress{Share: 1, Stage: len(h.Steps), Of: len(h.Steps), Name: "done", Time: h.Steps[len(h.Steps)-1].End})
	return h, nil
}

// Spread is a base run and what each change made of it.
type Spread struct {
	Base  *sim.History
	Moves []Move

	glance bool // nothing was varied, and nothing else is to be tried
}

// Move is one thing that may be other than taken, and the runs in which it is.
type Move struct {
	Name string         // stable id: "carbon", "bath_vigor", …
	Runs []*sim.History // at its 10th and at its 90th percentile

	early bool // the runs end before the route does
}

// SpreadOf runs the variations of a job on a cross-section.
func SpreadOf(ctx context.Context, setup *sim.Setup, o Options) (*Spread, error) {
	return spreadOf(ctx, setup, o, func(float64) {})
}

// caught turns a panic of a run into its error: in a goroutine of its own it
// would end the program past everyone who could tell it in words.
func caught(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("study: a run broke off: %v", r)
	}
}

func spreadOf(ctx context.Context, setup *sim.Setup, o Options, watch func(share float64)) (*Spread, error) {
	base := o.Options
	base.Section = true
	if !o.Section {
		base.Fields = nil // of the whole piece they are wanted
	}
	changes := variations(setup)
	s := &Spread{Moves: make([]Move, len(changes))}
	total := 1
	for i, c := range changes {
		s.Moves[i] = Move{Name: c.name, Runs: make([]*sim.History, len(c.setups)), early: c.early}
		total += len(c.setups)
	}
	g, ctx := errgroup.WithContext(ctx)
	workers := o.Workers
	if workers <= 0 {
		workers = 2
	}
	g.SetLimit(workers)
	var done atomic.Int64
	told := make(chan struct{}, 1) // one teller at a time
	tell := func() {
		n := done.Add(1)
		told <- struct{}{}
		watch(float64(n) / float64(total))
		<-told
	}
	forks := map[int]*sim.March{}
	for _, c := range changes {
		forks[c.from] = nil
	}
	ready := make(chan struct{}) // the base has passed all stages at which it is varied
	g.Go(func() (err error) {
		defer tell()
		defer caught(&err)
		s.Base, err = runBase(ctx, setup, base, forks, ready)
		return err
	})
	vary := func(i, k int) {
		c := changes[i]
		g.Go(func() (err error) {
			defer tell()
			defer caught(&err)
			h, err := c.run(ctx, c.setups[k], base, forks[c.from])
			if err != nil {
				return fmt.Errorf("study: %s: %w", c.name, err)
			}
			s.Moves[i].Runs[k] = h
			return nil
		})
	}
	each := func(late bool) {
		for i := range changes {
			for k := range changes[i].setups {
				if late == (changes[i].from > 0) {
					vary(i, k)
				}
			}
		}
	}
	each(false)
	select {
	case <-ready:
		each(true)
	case <-ctx.Done():
	}
	return s, g.Wait()
}

// runBase runs the base and keeps a fork of it at each stage that is asked for.
func runBase(ctx context.Context, setup *sim.Setup, o sim.Options, forks map[int]*sim.March, ready chan struct{}) (*sim.History, error) {
	last := 0
	for k := range forks {
		last = max(last, k)
	}
	m, err := setup.March(o)
	if err != nil {
		return nil, err
	}
	for k := 1; k <= last; k++ {
		if err := m.Until(ctx, func(m *sim.March) bool { return m.Stage() >= k }); err != nil {
			return nil, err
		}
		if _, asked := forks[k]; asked && m.Stage() == k {
			forks[k] = m.Fork()
		}
	}
	close(ready)
	if err := m.Finish(ctx, nil); err != nil {
		return nil, err
	}
	return m.History()
}

// run runs one varied setup: from the fork of the base where it first differs, or
// from the start. It leaves out what does not move the bands.
func (v *variation) run(ctx context.Context, setup *sim.Setup, o sim.Options, fork *sim.March) (*sim.History, error) {
	o.NoSeries, o.Quick, o.Fields = true, !v.ahead, nil
	if v.from == 0 || fork == nil {
		return setup.Run(ctx, o, nil)
	}
	m, err := fork.Vary(setup, o)
	if err != nil {
		return nil, err
	}
	if err := m.Finish(ctx, nil); err != nil {
		return nil, err
	}
	return m.History()
}
