package sim

import (
	"context"
	"testing"
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

// BenchmarkKnifeRoute is the same on the whole knife, 40 × 14 × 8 cells.
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
}
