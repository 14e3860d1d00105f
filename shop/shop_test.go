package shop

import (
	"testing"

	"github.com/heatwright/heatwright/medium"
)

func TestDemonstrationWorks(t *testing.T) {
	s := Demonstration()
	b, err := s.Start()
	if err != nil {
		t.Fatal(err)
	}
	p := Piece{Length: 0.2, Width: 0.03, Thickness: 0.003, Mass: 0.14}
	f := &medium.Faces{T: []float64{1088, 600, 300}}
	q, dq := make([]float64, 3), make([]float64, 3)
	for _, e := range b.All() {
		e.Law(&p, 0.1).Fill(q, dq, f)
		before := b.Save(nil)
		e.Advance(0.1, 500)
		if err := b.Restore(before); err != nil {
			t.Fatal(err)
		}
		t.Logf("%-14s %6.1f K  q %v dq %v", e.Name(), e.Temperature(), q, dq)
		for i := range q {
			if q[i] != q[i] || dq[i] != dq[i] {
				t.Errorf("%s: q %v dq %v", e.Name(), q, dq)
			}
		}
	}
}
