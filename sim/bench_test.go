package sim

import (
	"context"
	"math"
	"sync"
	"testing"
	"time"
)

// BenchmarkSectionRoute is what the smith waits for while typing: three
// normalizing heats, harden, two tempers of two hours, on a section of 14 × 8 cells.
func BenchmarkSectionRoute(b *testing.B) {
	s := knife(b)
	steps := 0
	for b.Loop() {
		h, err := s.Run(context.Background(), Options{Section: true, Quick: true}, nil)
		if err != nil {
			b.Fatal(err)
		}
		steps = h.Mesh.Steps + h.Mesh.Again
	}
	b.ReportMetric(float64(steps), "steps")
}

// BenchmarkKnifeRoute is the same on the whole knife, 40 × 14 × 8 cells, of which
// the mirrored half is marched. Beside the time it tells where that goes, what the
// metal costs each cell over the whole route, and how near it all is to the time
// in which the memory that it touches could be copied on this machine.
func BenchmarkKnifeRoute(b *testing.B) {
	s := knife(b)
	steps := 0
	for b.Loop() {
		h, err := s.Run(context.Background(), Options{Quick: true}, nil)
		if err != nil {
			b.Fatal(err)
		}
		steps = h.Mesh.Steps + h.Mesh.Again
	}
	b.ReportMetric(float64(steps), "steps")

	w, m := watched(b, s)
	all := 0.0
	for _, t := range w.spent {
		all += t
	}
	for k, name := range map[work]string{conducting: "conduction", looking: "properties", lawful: "law", turning: "metal", skinning: "skin", recording: "recording", elsewhere: "rest"} {
		b.ReportMetric(100*w.spent[k]/all, "%-"+name)
	}
	cells := float64(m.mesh.Len())
	b.ReportMetric(1e3*w.spent[turning]/cells, "metal-ms/cell")
	bound := w.bytes(m) / copyRate()
	b.ReportMetric(1e3*bound, "bound-ms")
	b.ReportMetric(all/bound, "of-bound")
}

// watch is where the time of a march goes.
type watch struct {
	spent       [works]float64 // [s]
	tries, with int            // tried steps, and those in which the metal moved
	at          work
	last        time.Time
}

func watched(b *testing.B, s *Setup) (*watch, *March) {
	m, err := s.March(Options{Quick: true})
	if err != nil {
		b.Fatal(err)
	}
	w := &watch{last: time.Now()}
	m.laps = func(to work) (was work) {
		now := time.Now()
		w.spent[w.at] += now.Sub(w.last).Seconds()
		switch {
		case to == conducting && w.at == elsewhere:
			w.tries++
		case to == turning:
			w.with++
		}
		was, w.at, w.last = w.at, to, now
		return was
	}
	m.rim.laps = m.laps
	if err := m.Finish(context.Background(), nil); err != nil {
		b.Fatal(err)
	}
	m.laps(elsewhere)
	return w, m
}

// bytes returns what a march has to move at least as it is made: in every try
// enthalpy, temperature and what they were, read and written; heat capacity, conductivity
// and enthalpy of two stages, written and read; the factor of the planes, written once
// and read twice up and down; and where the metal moves its whole state, read and written.
// Lists of faces and links, what is added up on the way and arithmetic are left out.
func (w *watch) bytes(m *March) float64 {
	const float = 8
	field := 2*4 + 2*2*3 + 2*2*2 + float64(m.mesh.NK+1)*(1+2*2)
	state := 2 * float64(len(m.now.cells.Values())) / float64(m.mesh.Len())
	return float * float64(m.mesh.Len()) * (float64(w.tries)*field + float64(w.with)*state)
}

// copyRate returns the bytes read and written in a second where as much is copied
// as the state of a knife holds, the best of some tries.
func copyRate() float64 {
	const n = 1 << 18 // floats: 2 MB
	from, to := make([]float64, n), make([]float64, n)
	best := math.Inf(1)
	for range 50 {
		start := time.Now()
		copy(to, from)
		best = min(best, time.Since(start).Seconds())
		from, to = to, from
	}
	return 2 * 8 * n / best
}

// BenchmarkTwoPieces marches two knives, each a section, one after the other and
// then side by side: how much sooner both are done is what a second core is worth.
// They share tables that no one changes, and the allocator.
func BenchmarkTwoPieces(b *testing.B) {
	march := func() {
		if _, err := knife(b).Run(context.Background(), Options{Section: true, Quick: true}, nil); err != nil {
			b.Error(err)
		}
	}
	march()
	one, two := 0.0, 0.0
	for b.Loop() {
		start := time.Now()
		march()
		march()
		one += time.Since(start).Seconds()
		start = time.Now()
		var both sync.WaitGroup
		both.Go(march)
		both.Go(march)
		both.Wait()
		two += time.Since(start).Seconds()
	}
	b.ReportMetric(one/two, "sooner")
}
