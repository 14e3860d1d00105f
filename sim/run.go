package sim

import (
	"context"
	"slices"
	"sort"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// Progress tells whoever waits how far a run has come.
type Progress struct {
	Share float64 // of the stages, 0 … 1
	Stage int
	Of    int
	Name  string  // of the step
	Time  float64 // of the history [s]
}

// Start prepares a job and lays the piece on the bench.
func Start(job route.Job, o Options) (*March, error) {
	s, err := Prepare(job)
	if err != nil {
		return nil, err
	}
	return s.March(o)
}

// Run marches a job from bench to bench and returns its history. watch, when not
// nil, is told once for each stage and about every thousand steps.
func Run(ctx context.Context, job route.Job, o Options, watch func(Progress)) (*History, error) {
	m, err := Start(job, o)
	if err != nil {
		return nil, err
	}
	return m.toEnd(ctx, watch)
}

func (m *March) toEnd(ctx context.Context, watch func(Progress)) (*History, error) {
	if err := m.Finish(ctx, watch); err != nil {
		return nil, err
	}
	return m.History()
}

// Run marches the setup to its end.
func (s *Setup) Run(ctx context.Context, o Options, watch func(Progress)) (*History, error) {
	m, err := s.March(o)
	if err != nil {
		return nil, err
	}
	return m.toEnd(ctx, watch)
}

// Finish marches to the end of the route.
func (m *March) Finish(ctx context.Context, watch func(Progress)) error {
	last := -1
	for n := 0; !m.over; n++ {
		if n%64 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		if watch != nil && (m.index != last || n%1000 == 0) {
			last = m.index
			of := len(m.setup.Stages)
			watch(Progress{float64(m.index) / float64(of), m.index, of, m.stageNow().Name, m.clock})
		}
		if err := m.Step(); err != nil {
			return err
		}
	}
	return m.lookAhead(ctx)
}

// lookAhead adds the signs that need other ways to be tried.
func (m *March) lookAhead(ctx context.Context) error {
	if m.log == nil || m.opts.Quick {
		return nil
	}
	if m.left != nil {
		s, ok, err := m.latest(ctx)
		if err != nil {
			return err
		}
		if ok {
			m.log.signs = append(m.log.signs, s)
		}
	}
	if m.out != nil {
		opens, closes, err := m.window(ctx)
		if err != nil {
			return err
		}
		if closes.Name != "" {
			m.log.signs = append(m.log.signs, opens, closes)
		}
	}
	s, ok, err := m.hotUntil(ctx)
	if err != nil {
		return err
	}
	if ok {
		s.Step = m.log.stageIndex()
		s.Since = unit.Exactly(s.Time.Value - m.log.steps[s.Step].Start)
		m.log.signs = append(m.log.signs, s)
	}
	return nil
}

// Until marches until the condition holds after a step, or the route is at its end.
func (m *March) Until(ctx context.Context, stop func(*March) bool) error {
	for n := 0; !m.over && !stop(m); n++ {
		if n%64 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		if err := m.Step(); err != nil {
			return err
		}
	}
	return nil
}

// UntilTime marches to the moment t [s] of the history exactly, or to the end of the route.
func (m *March) UntilTime(ctx context.Context, t float64) error {
	for n := 0; !m.over && m.clock < t; n++ {
		if n%64 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		m.cap = t
		if err := m.Step(); err != nil {
			return err
		}
	}
	m.cap = 0
	return nil
}

// History returns what became of the piece so far, after the books are found to balance.
func (m *March) History() (*History, error) {
	balance := m.books.close(m)
	if err := balance.check(); err != nil {
		return nil, err
	}
	mode := "whole"
	if m.mesh.Flat {
		mode = "section"
	}
	cells := m.mesh.Len()
	if m.mirror {
		cells *= 2
	}
	r := m.log.clone()
	h := &History{
		Format: HistoryFormat, Engine: m.opts.Engine, JobSHA256: m.opts.JobSHA256, Name: m.setup.Name, Demo: m.setup.Demo,
		Mesh:  Mesh{Mode: mode, Cells: cells, Mirrored: m.mirror, Steps: m.steps, Again: m.again, Mass: m.mass},
		Zones: m.zones(), Steps: r.steps, Signs: r.signs, Series: r.series, Balance: balance,
		Notes: []cite.Note{}, Cautions: []cite.Note{}, Shop: m.bench.Keep(),
	}
	h.Notes = append(h.Notes, m.setup.Notes...)
	h.Notes = append(h.Notes, m.told...)
	h.Notes = append(h.Notes, m.metal.Notes()...)
	h.Notes = append(h.Notes, m.robbed()...)
	h.Notes = append(h.Notes, crackNotes(h.Steps)...)
	h.Notes = append(h.Notes, m.equipmentNotes()...)
	sort.SliceStable(h.Signs, func(i, j int) bool { return h.Signs[i].Time.Value < h.Signs[j].Time.Value })
	return h, nil
}

// equipmentNotes tells what had to be assumed of the equipment in use, what does
// not fit it, and where it was used outside its data.
func (m *March) equipmentNotes() []cite.Note {
	var used []string
	var fits []cite.Note
	body := m.setup.Solid
	for i := range m.setup.Stages {
		st := &m.setup.Stages[i]
		if st.Change != nil {
			body = st.Change.To
		}
		for _, name := range []string{st.In, st.On, st.Tongs, st.EdgeIn} {
			if name != "" && !slices.Contains(used, name) {
				used = append(used, name)
			}
		}
		for _, n := range m.setup.Shop.Fits(st.In, m.goesIn(st, body), st.First != "" && st.First != "tip") {
			if !slices.ContainsFunc(fits, func(o cite.Note) bool { return o.Code == n.Code && o.Where == n.Where }) {
				fits = append(fits, n)
			}
		}
	}
	if len(used) == 0 {
		return nil
	}
	kit := &m.setup.Shop
	notes := append(kit.Assumed(used...), fits...)
	return append(notes, m.bench.Happened()...)
}

// Borrow takes over the signs of these names from another history of the same
// job: what was looked for on a cross-section holds for the whole piece. Times
// count from the beginning of the step.
func (h *History) Borrow(from *History, names ...SignName) {
	for _, s := range from.Signs {
		if !slices.Contains(names, s.Name) || s.Step >= len(h.Steps) {
			continue
		}
		s.Time = unit.Exactly(h.Steps[s.Step].Start + s.Since.Value)
		h.Signs = append(h.Signs, s)
	}
	sort.SliceStable(h.Signs, func(i, j int) bool { return h.Signs[i].Time.Value < h.Signs[j].Time.Value })
}
