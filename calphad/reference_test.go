package calphad

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/internal/opendata"
	"github.com/heatwright/heatwright/steel"
)

// referenceRow is one line of a table of equilibria computed by another solver
// on the same parameters.
type referenceRow struct {
	steel    string
	quantity string
	T        float64 // [°C]
	phases   map[string]float64
	carbon   map[string]float64 // of the austenite
	given    bool
}

// columns of the table and our names of the phases.
var referencePhases = map[string]string{
	"wt%_aust": Austenite, "wt%_ferr": Ferrite, "wt%_cementite": Cementite, "wt%_mc": MC, "wt%_m7c3": M7C3, "wt%_m23c6": M23C6,
	"wt%_m6c": M6C, "wt%_m2c": M2C, "wt%_wc": WC, "wt%_mc_eta": EtaMC, "wt%_ksi_carbide": Ksi, "wt%_liquid": Liquid,
}

func readReference(t testing.TB, path, database string) []referenceRow {
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(text)))
	r.Comment = '#'
	r.FieldsPerRecord = -1
	records, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	head := records[0]
	var rows []referenceRow
	for _, rec := range records[1:] {
		if rec[0] != database {
			continue
		}
		row := referenceRow{steel: rec[1], quantity: rec[2], phases: map[string]float64{}, carbon: map[string]float64{}}
		row.T, _ = strconv.ParseFloat(rec[3], 64)
		for i, name := range head {
			x, err := strconv.ParseFloat(rec[i], 64)
			if err != nil {
				continue
			}
			if p, ok := referencePhases[name]; ok {
				row.given = true
				if x > 0 {
					row.phases[p] = x
				}
			}
			if e, ok := strings.CutPrefix(name, "aust_wt%_"); ok {
				row.carbon[e] = x
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// parseSteel reads "0.95C-1.2Mn-0.3Si".
func parseSteel(t testing.TB, text string) steel.Composition {
	var c steel.Composition
	for _, part := range strings.Split(text, "-") {
		i := strings.IndexFunc(part, func(r rune) bool { return r >= 'A' })
		x, err := strconv.ParseFloat(part[:i], 64)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for e := range steel.NumElements {
			if e.String() == part[i:] {
				c[e], found = x, true
			}
		}
		if !found {
			t.Fatalf("no element %q", part[i:])
		}
	}
	return c
}

// matchReference compares our equilibrium with one row: the phase set, the mass
// fractions and the composition of the austenite. Rows print three decimals of
// wt % and stop at a residual of 5e-4 RT, so a phase below 0.002 wt % may be on
// either side.
func matchReference(row referenceRow, q Equilibrium) []string {
	var faults []string
	got := map[string]float64{}
	for _, p := range q.Phases {
		got[p.Name] += 100 * p.MassFraction
	}
	for name, x := range row.phases {
		if _, ok := got[name]; !ok && x > 0.002 {
			faults = append(faults, fmt.Sprintf("%s %.3f %% is missing", name, x))
		} else if d := got[name] - x; math.Abs(d) > 0.01 {
			faults = append(faults, fmt.Sprintf("%s %.4f %%, reference %.3f %%", name, got[name], x))
		}
	}
	for name, x := range got {
		if _, ok := row.phases[name]; !ok && x > 0.002 {
			faults = append(faults, fmt.Sprintf("%s %.4f %% is too much", name, x))
		}
	}
	if a, ok := q.Find(Austenite); ok {
		for e := range steel.NumElements {
			want, given := row.carbon[strings.ToUpper(e.String())]
			if d := a.Composition[e] - want; given && math.Abs(d) > 1e-3 {
				faults = append(faults, fmt.Sprintf("austenite %s %.5f %%, reference %.4f %%", e, a.Composition[e], want))
			}
		}
	}
	return faults
}

// transition returns our value of a row's transition [°C]. Where a phase goes,
// comes back and goes again, the table gives one of its ends without saying
// which (its own row at Ae3 holds M23C6 that is listed as gone 25 K lower):
// ours is the one nearest to it.
func transition(quantity string, T float64, tr Transitions) float64 {
	what, phase, _ := strings.Cut(quantity, " ")
	switch {
	case what == "Ae1":
		return tr.Ae1Start - 273.15
	case what == "Ae3":
		return tr.Ae3 - 273.15
	case what == "solidus":
		return tr.Solidus - 273.15
	case phase == "gone":
		best := math.NaN()
		for _, c := range tr.Changes {
			if at := c.T - 273.15; c.Phase == what && !c.Appears && !(math.Abs(at-T) >= math.Abs(best-T)) {
				best = at
			}
		}
		return best
	}
	return math.NaN()
}

// A handful of its rows, so that the solver is held wherever the tests run.
func TestSomeEquilibriaOfAnotherSolver(t *testing.T) {
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []referenceRow{
		{steel: "0.45C-0.7Mn", T: 730, phases: map[string]float64{Austenite: 68.841, Ferrite: 31.159}, carbon: map[string]float64{"C": 0.6468, "MN": 0.9029}},
		{steel: "0.95C-1.2Mn-0.3Si-0.5Cr-0.5W-0.15V", T: 760, phases: map[string]float64{Austenite: 96.560, Cementite: 2.912, MC: 0.335, WC: 0.194},
			carbon: map[string]float64{"C": 0.7295, "SI": 0.3107, "MN": 1.1607, "CR": 0.3744, "V": 0.0099, "W": 0.1386}},
		{steel: "1.0C-1.45Cr-0.35Mn-0.25Si", T: 850, phases: map[string]float64{Austenite: 97.952, Cementite: 2.048}, carbon: map[string]float64{"C": 0.8799, "CR": 1.2483}},
		{steel: "0.75C-0.7Mn-0.25Si-0.9Cr-1.7Ni-0.3Mo", T: 730, phases: map[string]float64{Austenite: 97.197, Cementite: 2.633, Ksi: 0.170}, carbon: map[string]float64{"C": 0.5799, "MO": 0.2150, "NI": 1.7439}},
		{steel: "1.55C-11.8Cr-0.8Mo-0.8V-0.3Mn-0.3Si", T: 760, phases: map[string]float64{Ferrite: 82.189, M7C3: 16.878, M23C6: 0.741, EtaMC: 0.192}},
		{steel: "1.55C-11.8Cr-0.8Mo-0.8V-0.3Mn-0.3Si", T: 1100, phases: map[string]float64{Austenite: 90.053, M7C3: 9.947}, carbon: map[string]float64{"C": 0.7557, "CR": 7.5897, "MO": 0.7182, "V": 0.3357}},
	} {
		q, err := db.Equilibrium(parseSteel(t, row.steel), row.T+273.15)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range matchReference(row, q) {
			t.Errorf("%s %g °C: %s", row.steel, row.T, f)
		}
	}
	for _, row := range []struct {
		steel              string
		ae1, ae3, acm, sol float64
	}{
		{"0.84C-0.8Mn-0.2Si", 717.1, 724.1, 766.6, 1366.2},
		{"0.95C-1.2Mn-0.3Si-0.5Cr-0.5W-0.15V", 717.0, 729.8, 831.8, 1333.8},
		{"1.0C-1.45Cr-0.35Mn-0.25Si", 736.5, 744.8, 892.9, 1342.4},
	} {
		tr, err := db.Transitions(parseSteel(t, row.steel))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range [][3]float64{{tr.Ae1Start, row.ae1, 0.3}, {tr.Ae3, row.ae3, 0.3}, {tr.Acm, row.acm, 0.7}, {tr.Solidus, row.sol, 0.7}} {
			if math.Abs(p[0]-273.15-p[1]) > p[2] {
				t.Errorf("%s: %.2f °C, reference %.1f °C", row.steel, p[0]-273.15, p[1])
			}
		}
	}
}

// All rows of the table: the solver agrees with OpenCalphad 6.116 on the same
// parameters. This proves the solver, nothing about steel.
func TestEquilibriaOfAnotherSolver(t *testing.T) {
	rows := readReference(t, opendata.File(t, "equilibria.csv"), "toolsteel_thermo")
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	worst := map[string]float64{}
	n := 0
	for _, row := range rows {
		c := parseSteel(t, row.steel)
		n++
		if row.quantity == "equilibrium" {
			q, err := db.Equilibrium(c, row.T+273.15)
			if err != nil {
				t.Errorf("%s %.1f: %v", row.steel, row.T, err)
				continue
			}
			for _, f := range matchReference(row, q) {
				t.Errorf("%s %.1f °C: %s", row.steel, row.T, f)
			}
			continue
		}
		tr, err := db.Transitions(c)
		if err != nil {
			t.Errorf("%s: %v", row.steel, err)
			continue
		}
		limit := 0.7
		if strings.HasPrefix(row.quantity, "Ae") {
			limit = 0.3
		}
		d := math.Abs(transition(row.quantity, row.T, tr) - row.T)
		worst[row.quantity] = max(worst[row.quantity], d)
		if !(d <= limit) {
			t.Errorf("%s %s: %.2f °C, reference %.1f °C", row.steel, row.quantity, transition(row.quantity, row.T, tr), row.T)
		}
	}
	if n == 0 {
		t.Fatal("no rows")
	}
	t.Logf("%d rows; largest differences [K]: %v", n, worst)
}

// The results of pycalphad that reference/calphad keeps: phase set and mass
// fractions within 1e-4, austenite within 1e-3 wt %. At the points that are marked
// as local minima the library's Gibbs energy is the higher one.
func TestResultsOfPycalphad(t *testing.T) {
	text, err := os.ReadFile("../reference/calphad/results.csv")
	if err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	db, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	n, last := 0, ""
	var q Equilibrium
	for _, rec := range records[1:] {
		quantity, of, _ := strings.Cut(rec[2], " ")
		theirs, err := strconv.ParseFloat(rec[4], 64)
		if rec[0] == "all" || strings.HasSuffix(quantity, "_s") || err != nil {
			continue
		}
		if key := rec[0] + rec[1]; key != last {
			T, err := strconv.ParseFloat(rec[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			if q, err = db.Equilibrium(spaced(t, rec[0]), T+273.15); err != nil {
				t.Fatal(err)
			}
			last = key
		}
		n++
		switch quantity {
		case "gibbs_j_per_kg":
			if q.Gibbs > theirs+0.2 {
				t.Errorf("%s %s °C: our Gibbs energy %.3f is higher than %.3f J/kg", rec[0], rec[1], q.Gibbs, theirs)
			}
		case "mass_fraction":
			best := math.Inf(1)
			for _, p := range q.Phases {
				if p.Model == of {
					best = min(best, math.Abs(p.MassFraction-theirs))
				}
			}
			if best > 1e-4 {
				t.Errorf("%s %s °C: %s %v in theirs, ours differs by %.2g", rec[0], rec[1], of, theirs, best)
			}
		case "austenite_wt_percent":
			a, _ := q.Find(Austenite)
			for e := range steel.NumElements {
				if strings.EqualFold(e.String(), of) && math.Abs(a.Composition[e]-theirs) > 1e-3 {
					t.Errorf("%s %s °C: austenite %s %v, theirs %v", rec[0], rec[1], of, a.Composition[e], theirs)
				}
			}
		}
	}
	if n < 500 {
		t.Errorf("only %d quantities compared", n)
	}
}

// spaced reads "C 0.8 Mn 0.7".
func spaced(t testing.TB, text string) steel.Composition {
	words := strings.Fields(text)
	var b strings.Builder
	for i := 0; i+1 < len(words); i += 2 {
		if i > 0 {
			b.WriteString("-")
		}
		b.WriteString(words[i+1] + words[i])
	}
	return parseSteel(t, b.String())
}
