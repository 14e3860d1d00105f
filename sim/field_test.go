package sim

import (
	"bufio"
	"context"
	"fmt"
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
	for _, want := range []string{"DATASET STRUCTURED_GRID", "DIMENSIONS 2 15 9", "CELL_DATA 112", "SCALARS hardness_hv float 1", "SCALARS martensite float 1"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the mesh file lacks %q", want)
		}
	}
}

// The mesh file is a right-handed grid that holds the volume of the piece, before
// and after an act, with the cells of a hole marked.
func TestMeshFileHoldsThePiece(t *testing.T) {
	hatchet := "[piece]\nform = \"hatchet\"\nlength = \"120 mm\"\npoll = \"30 mm\"\npoll_thick = \"20 mm\"\neye = \"35 mm\"\neye_wide = \"16 mm\"\neye_at = \"30 mm\"\ncheek = \"26 mm\"\nedge_height = \"60 mm\"\nedge = \"2 mm\"\n[steel]\ngrade = \"1084\"\n"
	blade := bladeOf("1084", "3 mm", "1 mm", "normalized")
	for name, piece := range map[string]string{"hatchet": hatchet, "blade": blade} {
		job := parse(t, piece, heat("400 C", "1 s")+"[[step]]\ndo = \"grind\"\noff = \"0.2 mm\"\n"+"[[step]]\ndo = \"cool\"\nuntil = \"10 s\"\n")
		var fields []*Field
		_, err := Run(context.Background(), job, Options{Along: 12, Across: 6, Through: 6, Quick: true, Fields: func(f *Field) { fields = append(fields, f) }}, nil)
		if err != nil {
			t.Fatal(name, err)
		}
		s, err := Prepare(job)
		if err != nil {
			t.Fatal(err)
		}
		before, after := volumeOfFile(t, fields[0]), volumeOfFile(t, fields[len(fields)-1])
		if want := s.Solid.Volume() * 1e9; math.Abs(before/want-1) > 0.1 {
			t.Errorf("%s: the file holds %.0f mm³, the piece %.0f", name, before, want)
		}
		if after >= before {
			t.Errorf("%s: %.0f mm³ before grinding, %.0f after", name, before, after)
		}
	}
}

// volumeOfFile reads a mesh file back and returns the volume of its solid cells [mm³].
func volumeOfFile(t *testing.T, f *Field) float64 {
	t.Helper()
	var b strings.Builder
	if err := f.WriteVTK(&b); err != nil {
		t.Fatal(err)
	}
	r := bufio.NewScanner(strings.NewReader(b.String()))
	line := func() string { r.Scan(); return r.Text() }
	for range 4 {
		line()
	}
	var ni, nj, nk, n int
	if _, err := fmt.Sscanf(line(), "DIMENSIONS %d %d %d", &ni, &nj, &nk); err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Sscanf(line(), "POINTS %d float", &n); err != nil || n != ni*nj*nk {
		t.Fatal(n, err)
	}
	points := make([][3]float64, n)
	for i := range points {
		if _, err := fmt.Sscan(line(), &points[i][0], &points[i][1], &points[i][2]); err != nil {
			t.Fatal(err)
		}
	}
	line() // CELL_DATA
	if l := line(); l != "SCALARS solid int 1" {
		t.Fatal(l)
	}
	line()
	sum := 0.0
	for k := range nk - 1 {
		for j := range nj - 1 {
			for i := range ni - 1 {
				at := func(a, b, c int) [3]float64 { return points[((k+c)*nj+j+b)*ni+i+a] }
				// A hexahedron as six tetrahedra around its diagonal.
				v := 0.0
				o, far := at(0, 0, 0), at(1, 1, 1)
				ring := [][3]float64{at(1, 0, 0), at(1, 1, 0), at(0, 1, 0), at(0, 1, 1), at(0, 0, 1), at(1, 0, 1), at(1, 0, 0)}
				for q := range 6 {
					v += tetrahedron(o, ring[q], ring[q+1], far)
				}
				if v <= 0 {
					t.Fatalf("cell %d, %d, %d has %g mm³", i, j, k, v)
				}
				if line() == "1" {
					sum += v
				}
			}
		}
	}
	return sum
}

func tetrahedron(o, a, b, c [3]float64) float64 {
	var u, v, w [3]float64
	for i := range o {
		u[i], v[i], w[i] = a[i]-o[i], b[i]-o[i], c[i]-o[i]
	}
	return (u[0]*(v[1]*w[2]-v[2]*w[1]) - u[1]*(v[0]*w[2]-v[2]*w[0]) + u[2]*(v[0]*w[1]-v[1]*w[0])) / 6
}
