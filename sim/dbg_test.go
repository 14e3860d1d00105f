package sim

import (
	"context"
	"testing"
)

func TestWhereSteps(t *testing.T) {
	m, err := knife(t).March(Options{Section: true})
	if err != nil {
		t.Fatal(err)
	}
	dbg = map[[2]int]int{}
	last, n := m.index, 0
	for !m.over {
		n0 := m.index
		if err := m.Step(); err != nil {
			t.Fatal(err)
		}
		n++
		if m.index != n0 {
			t.Logf("stage %d %s: %d steps, limits err %d rise %d frac %d; rejects %d", last, knife(t).Stages[last].Name, n, dbg[[2]int{last, 0}], dbg[[2]int{last, 1}], dbg[[2]int{last, 2}], dbg[[2]int{last, 3}])
			n = 0
			last = m.index
		}
	}
	_ = context.Background
}
