package sim

import (
	"context"
	"runtime"
	"testing"
)

// Marching allocates nothing: in the fire, in air, in the bath, in the kiln.
func TestStepAllocatesNothing(t *testing.T) {
	m, err := knife(t).March(Options{Section: true, Quick: true, NoSeries: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, stage := range []int{0, 1, 4, 8, 9} {
		if err := m.Until(context.Background(), func(m *March) bool { return m.Stage() >= stage }); err != nil {
			t.Fatal(err)
		}
		var before, after runtime.MemStats
		const steps = 20
		for n := range 5 + steps {
			if n == 5 { // the first steps may make room
				runtime.ReadMemStats(&before)
			}
			if err := m.Step(); err != nil {
				t.Fatal(err)
			}
		}
		runtime.ReadMemStats(&after)
		if n := after.Mallocs - before.Mallocs; n >= steps {
			t.Errorf("stage %d: %d allocations in %d steps", stage, n, steps)
		}
	}
}
