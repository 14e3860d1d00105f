package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"sync"

	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/study"
	"golang.org/x/sync/semaphore"
)

// worked is a job with what will come of it.
type worked struct {
	job     route.Job
	history *sim.History
	whole   bool // the whole piece was marched, not one section
}

func (a *worked) sheet(who reader) *jobsheet.Sheet {
	return jobsheet.Compose(a.job, a.history, who.Style)
}

// smithy does the computing behind the pages: at most as many marches at a time
// as there are cores, and no job twice.
type smithy struct {
	engine sim.Engine
	cores  *semaphore.Weighted
	mu     sync.Mutex
	kept   map[string]*worked
	order  []string // keys, the oldest first
	plans  map[string]planned
}

type planned struct {
	job route.Job
	err error
}

// keep is how many answers the smithy remembers.
const keep = 64

func newSmithy(engine sim.Engine) *smithy {
	return &smithy{engine: engine, cores: semaphore.NewWeighted(2), kept: map[string]*worked{}, plans: map[string]planned{}}
}

// work marches a job, in section or whole, and gives every answer its band.
func (s *smithy) work(ctx context.Context, job route.Job, whole bool, watch func(sim.Progress)) (*worked, error) {
	text := route.Write(job)
	sum := sha256.Sum256(text)
	hash := hex.EncodeToString(sum[:])
	key := hash
	if whole {
		key += " whole"
	}
	if a := s.remembered(key); a != nil {
		return a, nil
	}
	if err := s.cores.Acquire(ctx, 1); err != nil {
		return nil, err
	}
	defer s.cores.Release(1)
	h, err := study.Forecast(ctx, job, study.Options{Options: sim.Options{Section: !whole, Engine: s.engine, JobSHA256: hash}}, watch)
	if err != nil {
		return nil, err
	}
	a := &worked{job, h, whole}
	s.remember(key, a)
	return a, nil
}

func (s *smithy) remembered(key string) *worked {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.kept[key]
}

func (s *smithy) remember(key string, a *worked) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, twice := s.kept[key]; !twice {
		s.order = append(s.order, key)
	}
	s.kept[key] = a
	for len(s.order) > keep {
		delete(s.kept, s.order[0])
		s.order = s.order[1:]
	}
}

// plan finds the route for a sentence; the same sentence is planned once.
func (s *smithy) plan(ctx context.Context, f sentence, who reader) (route.Job, error) {
	key := who.Units.String() + f.query().Encode()
	s.mu.Lock()
	p, ok := s.plans[key]
	s.mu.Unlock()
	if ok {
		return p.job, p.err
	}
	w, err := f.wish(who.Units)
	if err != nil {
		return route.Job{}, err
	}
	if err := s.cores.Acquire(ctx, 1); err != nil {
		return route.Job{}, err
	}
	defer s.cores.Release(1)
	job, _, err := plan.Find(ctx, w)
	if ctx.Err() != nil {
		return job, ctx.Err()
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.plans) > 4*keep {
		s.plans = map[string]planned{}
	}
	s.plans[key] = planned{job, err}
	return job, err
}
