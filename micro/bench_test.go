package micro

import "testing"

// BenchmarkKnifeRoute is what one cell of a knife costs: three normalizing heats,
// hardening and two tempers of two hours in 1800 steps.
func BenchmarkKnifeRoute(b *testing.B) {
	m := metalOf(b, s1084)
	const n = 112
	c, T := NewCells(n), make([]float64, n)
	run := func(from, to, dt float64, steps int) {
		for k := range steps {
			for i := range T {
				T[i] = from + (to-from)*float64(k+1)/float64(steps)
			}
			m.Step(c, c, T, dt)
		}
	}
	for b.Loop() {
		m.Start(c, Spheroidized)
		for range 3 {
			run(293, 1140, 1, 100)
			run(1140, 1140, 1, 60)
			run(1140, 293, 2, 200)
		}
		run(293, 1088, 1, 150)
		run(1088, 1088, 1, 60)
		run(1088, 330, 0.05, 200)
		for range 2 {
			run(300, 477, 5, 60)
			run(477, 477, 60, 90)
			run(477, 300, 5, 60)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n/1e6, "ms/cell")
}
