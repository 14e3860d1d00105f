package verification

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/heatwright/heatwright/cite"
)

// Every case holds, except those named here with the reason.
var doesNotHoldYet = map[string]string{}

func TestAllCases(t *testing.T) {
	for _, c := range All() {
		t.Logf("%-50s %-40s want %.6g got %.6g (± %g%s)", c.Problem, c.Quantity, c.Want, c.Got, c.Tolerance, c.Bound)
		if _, ok := cite.Find(c.Source); !ok {
			t.Errorf("%s: source %q is not in the bibliography", c.Problem, c.Source)
		}
		if c.Passes() || c.Reported {
			continue
		}
		if reason, known := doesNotHoldYet[c.Problem]; known {
			t.Logf("known: %s", reason)
			continue
		}
		t.Errorf("%s, %s: want %.6g, got %.6g", c.Problem, c.Quantity, c.Want, c.Got)
	}
}

// First eigenvalues and coefficients of the series at Bi 1 (heat-transfer tables, values
// recomputed): plate 0.8603, 1.1191; cylinder 1.2558, 1.2071; sphere π/2, 4/π.
func TestSeries(t *testing.T) {
	for b, want := range map[Body][2]float64{Plate: {0.8603, 0.53386}, Cylinder: {1.2558, 0.24938}, Sphere: {math.Pi / 2, 0.10798}} {
		if z := b.root(0, 1); math.Abs(z-want[0]) > 5e-5 {
			t.Errorf("%v: first eigenvalue %.5f, table %.5f", b, z, want[0])
		}
		if c := b.Center(1, 1); math.Abs(c-want[1]) > 1e-5 {
			t.Errorf("%v: θ(Fo 1) %.6f, table %.6f", b, c, want[1])
		}
	}
}

// The comparison with a general-purpose finite-element library, as last run by
// make reference, is within 1 % of the temperature span and at least 30 times as fast.
func TestReferenceResults(t *testing.T) {
	file, err := os.Open("../reference/field/results.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	problems := map[string]bool{}
	for _, r := range rows[1:] {
		problems[r[0]] = true
		off, err1 := strconv.ParseFloat(r[column("worst_percent_of_span")], 64)
		ratio, err2 := strconv.ParseFloat(r[column("library_over_our_time")], 64)
		if err1 != nil || err2 != nil || off > 1 || ratio < 30 {
			t.Errorf("%s after %s s: %g %% of the span apart, %g times as fast", r[0], r[1], off, ratio)
		}
	}
	if len(problems) != 5 {
		t.Errorf("%d problems, and there should be 5", len(problems))
	}
}
