package study

import (
	"slices"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

const benchOf = `
[[shop.oven]]
name = "kiln"
kind = "kiln"
[[shop.bath]]
name = "oil"
kind = "fast oil"
volume = "40 L"
[[shop.bath]]
name = "water"
kind = "water"
volume = "60 L"
`

// jobOf is a piece that is held at a heat in the kiln, quenched and tempered at 205 °C.
func jobOf(t *testing.T, piece, aim, at, hold, bath string) route.Job {
	t.Helper()
	text := "format = 1\nname = \"advice\"\n" + piece + benchOf + "[aim]\nhardness = { " + aim + " }\n" +
		"[[step]]\ndo = \"heat\"\nin = \"kiln\"\nat = \"" + at + "\"\nuntil = \"at heat\"\nhold = \"" + hold + "\"\n" +
		"[[step]]\ndo = \"carry\"\nuntil = \"2 s\"\n[[step]]\ndo = \"quench\"\nin = \"" + bath + "\"\n" +
		"[[step]]\ndo = \"temper\"\nin = \"kiln\"\nat = \"205 C\"\nhold = \"2 h\"\n"
	job, problems := route.Parse([]byte(text), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return job
}

const thin = "[piece]\nform = \"blade\"\nlength = \"150 mm\"\nwidth = \"30 mm\"\nspine = \"3 mm\"\nedge = \"0.8 mm\"\n[steel]\n"

func has(notes []cite.Note, code string) bool {
	return slices.ContainsFunc(notes, func(n cite.Note) bool { return n.Code == code })
}

// Beside the verdict stands what a smith would say first: of steel that nobody knows that
// a test piece comes before the blade, of oil-hardening steel in water that it may crack,
// of twenty minutes at 1200 °C that the grain is coarse. 1084 as every class hardens it
// gets no word. Common practice.
func TestAdviceBesideTheVerdict(t *testing.T) {
	for _, c := range []struct{ name, steel, at, hold, bath, code string }{
		{"nobody knows", "unknown = true\n", "815 C", "5 min", "oil", "study.coupon-first"},
		{"O1 in water", "grade = \"O1\"\n", "800 C", "15 min", "water", "study.may-crack-in-water"},
		{"overheated", "grade = \"1084\"\n", "1200 C", "20 min", "oil", "study.coarse-grain"},
		{"as usual", "grade = \"1084\"\n", "815 C", "5 min", "oil", ""},
	} {
		v := forecast(t, jobOf(t, thin+c.steel, `edge = "58-62 HRC"`, c.at, c.hold, c.bath), 2).Verdict
		if c.code == "" && len(v.Advice) > 0 || c.code != "" && !has(v.Advice, c.code) {
			t.Errorf("%s: %v, wanted %q", c.name, v.Advice, c.code)
		}
		if c.code == "study.coupon-first" && (v.Likelihood > 0.9 || v.Likelihood < 0.5) {
			t.Errorf("steel that nobody knows hardens with %.2f: structural bar never does, spring steel nearly always", v.Likelihood)
		}
	}
}

// Water-hardening steel of 25 mm is bought for a hard case on a tough core (common
// practice): where the wish is for the surface and water gives it, nobody is told to
// buy another steel. In oil, which gives it no case, the water of the shop is named.
func TestCaseThatServes(t *testing.T) {
	bar := "[piece]\nform = \"round\"\ndiameter = \"25 mm\"\nlength = \"120 mm\"\n[steel]\ngrade = \"W1\"\n"
	v := forecast(t, jobOf(t, bar, `surface = "58-62 HRC"`, "790 C", "5 min", "water"), 2).Verdict
	if v.Code != sim.HardensEdge || len(v.Remedies) > 0 {
		t.Errorf("in water: %s, %v", v.Code, v.Remedies)
	}
	v = forecast(t, jobOf(t, bar, `surface = "58-62 HRC"`, "790 C", "5 min", "oil"), 2).Verdict
	if v.Code != sim.DoesNotHarden || !has(v.Remedies, "study.remedy-bath") {
		t.Errorf("in oil: %s, %v", v.Code, v.Remedies)
	}
	v = forecast(t, jobOf(t, bar, `core = "58-62 HRC"`, "790 C", "5 min", "water"), 2).Verdict
	if !has(v.Remedies, "study.remedy-deeper-hardening-steel") {
		t.Errorf("wished hard to the core: %s, %v", v.Code, v.Remedies)
	}
}
