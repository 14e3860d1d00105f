package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"sync"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/safety"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/study"
	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"
)

// depth is how thoroughly a job is worked.
type depth int

const (
	glanced depth = iota // one short run: no odds; for whoever is typing
	section              // a cross-section with everything that may differ
	whole                // the whole piece, with the bands of the section
)

func (d depth) String() string { return [...]string{"glance", "section", "whole"}[d] }

// worked is a job with what will come of it.
type worked struct {
	job     route.Job
	history *sim.History
	depth   depth
	spread  *study.Spread // of a section or a whole piece
}

func (a *worked) sheet(who reader) *jobsheet.Sheet {
	return jobsheet.Compose(a.job, a.history, who.Style)
}

// smithy does the computing behind the pages: at most as many marches at a time
// as there are cores, and no job twice.
type smithy struct {
	engine sim.Engine
	cores  *semaphore.Weighted // for answers
	quick  *semaphore.Weighted // for glances, which do not wait behind answers
	mu     sync.Mutex
	kept   map[string]*worked
	order  []string // keys, the oldest first
	plans  map[string]planned
	odds   map[string]*odds // being worked

	sections map[steel.Composition]calphad.Section
}

type planned struct {
	job   route.Job
	notes []cite.Note // why it is as it is
	err   error
}

// keep is how many answers the smithy remembers.
const keep = 64

func newSmithy(engine sim.Engine) *smithy {
	return &smithy{
		engine: engine, cores: semaphore.NewWeighted(2), quick: semaphore.NewWeighted(2),
		kept: map[string]*worked{}, plans: map[string]planned{}, odds: map[string]*odds{}, sections: map[steel.Composition]calphad.Section{},
	}
}

func hashOf(job route.Job) string {
	sum := sha256.Sum256(route.Write(job))
	return hex.EncodeToString(sum[:])
}

// work answers a job at least as thoroughly as asked. What is known better
// already is given at once.
func (s *smithy) work(ctx context.Context, job route.Job, want depth, watch func(share float64)) (*worked, error) {
	hash := hashOf(job)
	known := s.remembered(hash)
	if known != nil && known.depth >= want {
		return known, nil
	}
	room := s.cores
	if want == glanced {
		room = s.quick
	}
	if err := room.Acquire(ctx, 1); err != nil {
		return nil, err
	}
	defer room.Release(1)
	if watch == nil {
		watch = func(float64) {}
	}
	a := &worked{job: job, depth: want}
	var err error
	switch want {
	case glanced:
		a.history, err = study.Glance(ctx, job, s.engine)
	case section:
		if a.spread, err = s.spread(ctx, job, hash, watch); err == nil {
			a.history = a.spread.Base
		}
	case whole:
		err = s.whole(ctx, a, hash, watch)
	}
	if err != nil {
		return nil, err
	}
	a.history.JobSHA256 = hash
	a.history.Cautions = safety.Review(job, a.history)
	s.remember(hash, a)
	return a, nil
}

// odds are the variations of a section while they are worked: the page asks for them and
// for the whole piece at once.
type odds struct {
	done   chan struct{}
	spread *study.Spread
	err    error
}

// spread returns the variations of a job with the answer of its section; who asks while they
// are being worked waits for them, and takes over when who had them worked went away.
func (s *smithy) spread(ctx context.Context, job route.Job, hash string, watch func(share float64)) (*study.Spread, error) {
	for {
		s.mu.Lock()
		if known := s.kept[hash]; known != nil && known.spread != nil {
			s.mu.Unlock()
			return known.spread, nil
		}
		o, others := s.odds[hash]
		if !others {
			o = &odds{done: make(chan struct{})}
			s.odds[hash] = o
		}
		s.mu.Unlock()
		if !others {
			o.spread, o.err = s.vary(ctx, job, hash, watch)
			s.mu.Lock()
			delete(s.odds, hash)
			s.mu.Unlock()
			close(o.done)
			return o.spread, o.err
		}
		select {
		case <-o.done:
			if !errors.Is(o.err, context.Canceled) {
				return o.spread, o.err
			}
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

func (s *smithy) vary(ctx context.Context, job route.Job, hash string, watch func(share float64)) (_ *study.Spread, err error) {
	defer func() { // it may run in a goroutine of its own, where a panic would end the program
		if r := recover(); r != nil {
			err = fmt.Errorf("web: a run broke off: %v", r)
		}
	}()
	setup, err := sim.Prepare(job)
	if err != nil {
		return nil, err
	}
	o := study.Options{Options: sim.Options{Section: true, Engine: s.engine, JobSHA256: hash}}
	spread, err := study.SpreadWith(ctx, setup, o, watch)
	if err != nil {
		return nil, err
	}
	spread.Answer(ctx, setup, spread.Base)
	return spread, ctx.Err()
}

// whole marches the whole piece, on a core of its own while its section is varied, and lends
// it the bands of that.
func (s *smithy) whole(ctx context.Context, a *worked, hash string, watch func(share float64)) error {
	g, both := errgroup.WithContext(ctx)
	g.Go(func() (err error) {
		a.spread, err = s.spread(both, a.job, hash, func(float64) {})
		return err
	})
	setup, err := sim.Prepare(a.job)
	if err == nil {
		a.history, err = setup.Run(both, sim.Options{Engine: s.engine, JobSHA256: hash}, func(p sim.Progress) { watch(p.Share) })
	}
	if other := g.Wait(); other != nil {
		return other
	}
	if err != nil {
		return err
	}
	a.spread.Answer(ctx, setup, a.history)
	return ctx.Err()
}

func (s *smithy) remembered(key string) *worked {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.kept[key]
}

// remember keeps an answer unless a better one is known.
func (s *smithy) remember(key string, a *worked) {
	s.mu.Lock()
	defer s.mu.Unlock()
	old, twice := s.kept[key]
	if twice && old.depth > a.depth {
		return
	}
	if !twice {
		s.order = append(s.order, key)
	}
	s.kept[key] = a
	for len(s.order) > keep {
		delete(s.kept, s.order[0])
		s.order = s.order[1:]
	}
}

// plan finds the route for a sentence; the same sentence is planned once. The
// march that found it is kept as a glance at it.
func (s *smithy) plan(ctx context.Context, f sentence, who reader) (route.Job, []cite.Note, error) {
	key := who.Units.String() + f.query().Encode()
	s.mu.Lock()
	p, ok := s.plans[key]
	s.mu.Unlock()
	if ok {
		return p.job, p.notes, p.err
	}
	w, err := f.wish(who.Units)
	if err != nil {
		return route.Job{}, nil, err
	}
	if err := s.quick.Acquire(ctx, 1); err != nil {
		return route.Job{}, nil, err
	}
	defer s.quick.Release(1)
	found, err := plan.Find(ctx, w)
	if ctx.Err() != nil {
		return found.Job, nil, ctx.Err()
	}
	if h := found.Glance; err == nil && h != nil {
		study.GlanceAt(ctx, found.Setup, h)
		h.Engine, h.JobSHA256 = s.engine, hashOf(found.Job)
		h.Cautions = safety.Review(found.Job, h)
		s.remember(h.JobSHA256, &worked{job: found.Job, history: h, depth: glanced})
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.plans) > 4*keep {
		s.plans = map[string]planned{}
	}
	s.plans[key] = planned{found.Job, found.Notes, err}
	return found.Job, found.Notes, err
}
