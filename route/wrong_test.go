package route

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"
)

// A job that is right, of which each test spoils a line.
const right = `format = 1
name = "kitchen knife"

[piece]
form = "blade"
length = "150 mm"
width = "28 mm"
spine = "2.6 mm"
edge = "0.8 mm"

[steel]
grade = "1084"
condition = "hot-rolled"

[shop]
air = "20 C"

[[shop.forge]]
name = "pipe"
kind = "pipe"
holds = "820 C"

[[shop.oven]]
name = "kiln"
kind = "kiln"
most = "1280 C"

[[shop.bath]]
name = "oil 1"
kind = "fast oil"
warm = "50 C"

[[shop.box]]
name = "drum"
fill = "vermiculite"

[aim]
hardness = { edge = "60-62 HRC" }

[[step]]
do = "heat"
in = "pipe"
until = "magnet off"
hold = "2 min"

[[step]]
do = "carry"
until = "2 s"

[[step]]
do = "quench"
in = "oil 1"

[[step]]
do = "temper"
in = "kiln"
at = "205 C"
hold = "2 h"
times = 2
`

func TestRightJobHasNoProblems(t *testing.T) {
	if _, problems := Parse([]byte(right), nil); len(problems) > 0 {
		t.Fatal(problems)
	}
}

// Each slip is told once, by its own code, at the line where it stands.
func TestWrongInputIsToldWhereItStands(t *testing.T) {
	for _, c := range []struct{ name, was, is, code, key string }{
		{"carbon of cast iron", `grade = "1084"`, `composition = "C 4, Mn 0.7"`, "route.bad-composition", "steel, composition"},
		{"no steel at all", `grade = "1084"`, ``, "route.steel-not-said", "steel"},
		{"steel twice", `grade = "1084"`, "grade = \"1084\"\nunknown = true", "route.steel-said-twice", "steel"},
		{"unknown grade", `grade = "1084"`, `grade = "1048X"`, "route.unknown-grade", "steel, grade"},
		{"name of several steels", `grade = "1084"`, `grade = "drill rod"`, "route.ambiguous-grade", "steel, grade"},
		{"negative thickness", `spine = "2.6 mm"`, `spine = "-2.6 mm"`, "route.no-quantity", "piece, spine"},
		{"no thickness", `spine = "2.6 mm"`, `spine = "0 mm"`, "route.outside", "piece, spine"},
		{"edge thicker than spine", `edge = "0.8 mm"`, `edge = "8 mm"`, "route.edge-thicker-than-spine", "piece, edge"},
		{"spine thicker than width", `width = "28 mm"`, `width = "2.5 mm"`, "route.spine-thicker-than-width", "piece, spine"},
		{"oven at 1500 °C", `at = "205 C"`, `at = "1500 C"`, "route.outside", "step 4, at"},
		{"oven that cannot", `at = "205 C"`, `at = "1300 C"`, "route.oven-cannot", "step 4, at"},
		{"oven not set", `at = "205 C"`, ``, "route.oven-not-set", "step 4, in"},
		{"missing unit", `at = "205 C"`, `at = "205"`, "route.no-unit", "step 4, at"},
		{"missing unit, a number", `length = "150 mm"`, `length = 150`, "route.no-unit", "piece, length"},
		{"missing unit in an ending", `until = "magnet off"`, `until = "815 at edge"`, "route.ending-no-unit", "step 1, until"},
		{"ending that says nothing", `until = "magnet off"`, `until = "when it is done"`, "route.no-ending", "step 1, until"},
		{"ending that would not come", `until = "magnet off"`, `until = "900 C at core"`, "route.never-reached", "step 1, until"},
		{"ending of a cooling", `until = "magnet off"`, `until = "hand-warm"`, "route.ending-not-here", "step 1, until"},
		{"zone of a bar", `until = "magnet off"`, `until = "800 C at surface"`, "route.no-such-zone", "step 1, until"},
		{"quench before any heating", "do = \"heat\"\nin = \"pipe\"\nuntil = \"magnet off\"\nhold = \"2 min\"", "do = \"quench\"\nin = \"oil 1\"", "route.quench-before-heat", "step 1, do"},
		{"a bath that is not there", `in = "oil 1"`, `in = "oil 2"`, "route.no-such-place", "step 3, in"},
		{"a quench in the kiln", `in = "oil 1"`, `in = "kiln"`, "route.wrong-place", "step 3, in"},
		{"tempering in oil", `in = "kiln"`, `in = "oil 1"`, "route.no-hot-oil-temper", "step 4, in"},
		{"molten salt", `kind = "fast oil"`, `kind = "molten salt"`, "route.no-molten-salt", "shop, bath 1, kind"},
		{"molten lead", `in = "kiln"`, `in = "lead pot"`, "route.no-molten-lead", "step 4, in"},
		{"sub-zero", `in = "oil 1"`, `in = "liquid nitrogen"`, "route.no-sub-zero", "step 3, in"},
		{"a name twice", `name = "drum"`, `name = "Kiln"`, "route.name-twice", "shop, box 1, name"},
		{"a key that is not there", `width = "28 mm"`, "width = \"28 mm\"\nwidht = \"3 mm\"", "route.unknown-key", "piece, widht"},
		{"a key of another form", `width = "28 mm"`, "width = \"28 mm\"\ndiameter = \"3 mm\"", "route.not-for", "piece, diameter"},
		{"a key of another verb", `do = "carry"`, "do = \"carry\"\nhold = \"1 s\"", "route.not-for", "step 2, hold"},
		{"a missing key", `in = "oil 1"`, ``, "route.missing", "step 3, in"},
		{"an unknown verb", `do = "carry"`, `do = "carrry"`, "route.not-one-of", "step 2, do"},
		{"a key twice", `name = "kitchen knife"`, "name = \"kitchen knife\"\nname = \"x\"", "route.twice", "name"},
		{"words without quotes", `name = "kitchen knife"`, `name = kitchen knife`, "route.unreadable", ""},
		{"a newer format", `format = 1`, `format = 2`, "route.newer-format", "format"},
		{"no format", `format = 1`, ``, "route.no-format", "format"},
		{"a flag in words", `name = "kitchen knife"`, "name = \"kitchen knife\"\ndemo = \"yes\"", "route.wrong-kind", "demo"},
		{"a name that commands a terminal", `name = "kitchen knife"`, `name = "\u001b[31mknife"`, "route.not-printable", "name"},
		{"a name too long", `name = "kitchen knife"`, `name = "` + strings.Repeat("long ", 12) + `"`, "route.too-long", "name"},
		{"too many times", `times = 2`, `times = 200`, "route.outside", "step 4, times"},
		{"oil above its flash point", `warm = "50 C"`, `warm = "140 C"`, "route.shop-limits", "shop, bath 1"},
	} {
		if !strings.Contains(right, c.was) {
			t.Fatalf("%s: the line %q is not in the job", c.name, c.was)
		}
		_, problems := Parse([]byte(strings.Replace(right, c.was, c.is, 1)), nil)
		found := false
		for _, p := range problems {
			found = found || p.Code == c.code && (c.key == "" || p.Key == c.key) && p.Line > 0 && p.Column > 0
		}
		if !found {
			t.Errorf("%s: want %s at %s, got %v", c.name, c.code, c.key, problems)
		}
	}
}

// The place of a problem is the value itself.
func TestProblemKnowsLineAndColumn(t *testing.T) {
	text := strings.Replace(right, `at = "205 C"`, `  at = "205"   # dial`, 1)
	_, problems := Parse([]byte(text), nil)
	if len(problems) != 1 {
		t.Fatal(problems)
	}
	p := problems[0]
	line := strings.Split(text, "\n")[p.Line-1]
	if line[p.Column-1:p.Column+4] != `"205"` || p.Value != "205" {
		t.Errorf("line %d column %d of %q: %v", p.Line, p.Column, line, p)
	}
}

// One reading tells all that is wrong.
func TestAllProblemsAtOnce(t *testing.T) {
	text := right
	for _, slip := range [][2]string{
		{`name = "kitchen knife"`, `name = `}, {`length = "150 mm"`, `length = "150"`}, {`grade = "1084"`, `grade = "10844"`},
		{`kind = "kiln"`, `kind = "kilnn"`}, {`in = "oil 1"`, `in = "oil"`}, {`at = "205 C"`, `at = "2050 C"`},
	} {
		text = strings.Replace(text, slip[0], slip[1], 1)
	}
	_, problems := Parse([]byte(text), nil)
	if len(problems) < 6 {
		t.Errorf("six slips, %d told: %v", len(problems), problems)
	}
	for i := 1; i < len(problems); i++ {
		if problems[i].Line < problems[i-1].Line {
			t.Errorf("not in the order of lines: %v", problems)
		}
	}
}

func TestRubbishIsRefusedQuickly(t *testing.T) {
	big := bytes.Repeat([]byte("a = [1, 2, 3]\n"), 50_000_000/14)
	start := time.Now()
	for code, text := range map[string][]byte{
		"route.too-large": big, "route.empty": []byte(" \n\n"), "route.not-text": {0xff, 0xfe, 0x00, 0x41},
	} {
		_, problems := Parse(text, nil)
		if len(problems) != 1 || problems[0].Code != code {
			t.Errorf("want %s, got %v", code, problems)
		}
	}
	if d := time.Since(start); d > 5*time.Second {
		t.Errorf("refusing took %v", d)
	}
	_, problems := Parse(bytes.Repeat([]byte("]"), 1000), nil)
	if len(problems) == 0 || len(problems) > maxProblems {
		t.Errorf("a line of brackets: %d problems", len(problems))
	}
	_, problems = Parse(bytes.Repeat([]byte("=\n"), 100000), nil)
	if len(problems) != maxProblems {
		t.Errorf("many unreadable lines: %d problems are told, want %d", len(problems), maxProblems)
	}
}

func TestShopInAFileOfItsOwn(t *testing.T) {
	at := strings.Index(right, "[shop]")
	until := strings.Index(right, "[aim]")
	shop := "format = 1\n" + strings.NewReplacer("[shop]\n", "", "shop.", "").Replace(right[at:until])
	job := right[:at] + "[shop]\nfile = \"shop.toml\"\n\n" + right[until:]
	files := func(name string) ([]byte, error) {
		if name != "shop.toml" {
			return nil, errors.New("open " + name + ": no such file")
		}
		return []byte(shop), nil
	}
	got, problems := Parse([]byte(job), files)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	whole, problems := Parse(Write(got.Whole()), nil)
	if len(problems) > 0 || whole.Shop.Baths[0] != got.Shop.Baths[0] {
		t.Errorf("the whole job: %v", problems)
	}
	if again := string(Write(got)); strings.Contains(again, "oil 1\"\nkind") || !strings.Contains(again, `file = "shop.toml"`) {
		t.Errorf("the file of the shop is named, not copied:\n%s", again)
	}
	shop = strings.Replace(shop, `"fast oil"`, `"quick oil"`, 1)
	_, problems = Parse([]byte(job), files)
	if len(problems) != 1 || problems[0].File != "shop.toml" || problems[0].Code != "route.not-one-of" {
		t.Errorf("a problem of the shop's file: %v", problems)
	}
	_, problems = Parse([]byte(strings.Replace(job, "shop.toml", "other.toml", 1)), files)
	if len(problems) != 1 || problems[0].Code != "route.file-missing" {
		t.Errorf("a missing file: %v", problems)
	}
}

// A bare temperature is read in the unit of the shop, where it has one.
func TestShopSetsTheUnitOfBareTemperatures(t *testing.T) {
	text := strings.Replace(right, "[shop]\n", "[shop]\ndegrees = \"F\"\n", 1)
	text = strings.Replace(text, `at = "205 C"`, `at = "400"`, 1)
	text = strings.Replace(text, `until = "magnet off"`, `until = "1470 at edge"`, 1)
	job, problems := Parse([]byte(text), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if got := job.Steps[3].At.Value.F(); got < 399.9 || got > 400.1 {
		t.Errorf("400 is read as %.1f °F", got)
	}
	if got := job.Steps[0].Until.Temp.F(); got < 1469.9 || got > 1470.1 {
		t.Errorf("1470 is read as %.1f °F", got)
	}
}
