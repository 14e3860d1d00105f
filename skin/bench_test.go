package skin

import (
	"testing"

	"github.com/heatwright/heatwright/medium"
)

// BenchmarkTemper is two hours at 200 °C of the same patches: films alone.
func BenchmarkTemper(b *testing.B) {
	patches := make([]Patch, 44)
	for i := range patches {
		patches[i] = Patch{Steel: plain(0.84), Half: 0.2e-3 + float64(i)*30e-6}
	}
	s := New(patches)
	T := make([]float64, len(patches))
	for i := range T {
		T[i] = 473
	}
	a, c := s.Start(), s.Start()
	b.ReportAllocs()
	for b.Loop() {
		for range 400 {
			s.Step(c, a, T, 18, medium.OpenAir)
			a, c = c, a
		}
	}
}
