package sim

import (
	"context"
	"math"
	"strings"
	"testing"
)

// The field at the end of a step holds the whole thickness, also where half of it
// was marched, and its mean is what the history says.
func TestFieldIsWhole(t *testing.T) {
	job := parse(t, bladeOf("1084", "3 mm", "0.8 mm", "hot-rolled"), heat("815 C", "1 min")+carry("2 s")+quench("fast oil"))
	var fields []*Field
	h, err := Run(context.Background(), job, Options{Section: true, Quick: true, Fields: func(f *Field) { fields = append(fields, f) }}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(fields) != len(h.Steps) {
		t.Fatalf("%d fields of %d steps", len(fields), len(h.Steps))
	}
	f := fields[len(fields)-1]
	if f.NJ != 14 || f.NK != 8 || len(f.Temperature) != f.NI*f.NJ*f.NK || len(f.X) != (f.NI+1)*(f.NJ+1)*(f.NK+1) {
		t.Errorf("%d × %d × %d cells, %d temperatures, %d corners", f.NI, f.NJ, f.NK, len(f.Temperature), len(f.X))
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i, z := range f.Z {
		low, high = math.Min(low, z), math.Max(high, z)
		if math.IsNaN(f.X[i] + f.Y[i] + z) {
			t.Fatal("a corner is nowhere")
		}
	}
	if math.Abs(low+high) > 1e-9 || math.Abs(high-1.5e-3) > 0.1e-3 {
		t.Errorf("from %g to %g mm through the thickness", low*1e3, high*1e3)
	}
	for k := range f.NK { // mirrored
		if f.Hardness[k] != f.Hardness[f.NK-1-k] {
			t.Error("the halves differ")
		}
	}
	var b strings.Builder
	if err := f.WriteVTK(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"DATASET STRUCTURED_GRID", "DIMENSIONS 9 15 2", "CELL_DATA 112", "SCALARS hardness_hv float 1", "SCALARS martensite float 1"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the mesh file lacks %q", want)
		}
	}
}
