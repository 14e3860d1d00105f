package steel

import (
	"testing"

	"github.com/heatwright/heatwright/cite"
)

// Every file names its source, and its columns are as a solver needs them.
func TestThermalFile(t *testing.T) {
	s := thermals()
	if _, ok := cite.Find(s.Source); !ok || s.Where == "" || s.ReadBy == "" || s.Error == "" {
		t.Errorf("thermal.toml: source %q, %q, %q, %q", s.Source, s.Where, s.ReadBy, s.Error)
	}
	for name, table := range map[string]thermalTable{"ferrite": s.Ferrite, "bainite": s.Bainite, "martensite": s.Mart, "tempered": s.Temper, "austenite": s.Gamma} {
		n := len(table.Temp)
		if n < 3 || len(table.K) != n || len(table.Rho) != n || len(table.Cp) != 0 && len(table.Cp) != n {
			t.Errorf("%s: columns of unequal length", name)
			continue
		}
		for i := range n {
			if table.K[i] < 10 || table.K[i] > 60 || table.Rho[i] < 7300 || table.Rho[i] > 7950 {
				t.Errorf("%s at %g °C: k %g, density %g", name, table.Temp[i], table.K[i], table.Rho[i])
			}
			if i > 0 && (table.Temp[i] <= table.Temp[i-1] || table.Rho[i] >= table.Rho[i-1]) {
				t.Errorf("%s at %g °C: temperature does not rise or density does not fall", name, table.Temp[i])
			}
			if len(table.Cp) > 0 && i > 0 && table.Cp[i] < table.Cp[i-1] {
				t.Errorf("%s at %g °C: heat capacity falls", name, table.Temp[i])
			}
		}
	}
}

func TestPracticeFile(t *testing.T) {
	for name, p := range practices() {
		if _, ok := cite.Find(p.Source); !ok || p.ReadBy == "" {
			t.Errorf("%s: source %q, read %q", name, p.Source, p.ReadBy)
		}
		if p.Forge[0] < 1000 || p.Forge[0] > 1300 || p.Quench == "" {
			t.Errorf("%s: forge %v, quench %q", name, p.Forge, p.Quench)
		}
	}
	for _, g := range Grades() {
		if g.Practice == nil {
			t.Errorf("%s has no windows of the trade", g.Name)
		}
	}
	for _, a := range Accuracy() {
		if _, ok := cite.Find(a.Source); !ok || a.Half <= 0 {
			t.Errorf("%s claims ±%g by %q", a.Model, a.Half, a.Source)
		}
	}
}
