package observe

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

func account(t *testing.T, s Setting, lines ...string) *Account {
	t.Helper()
	a := &Account{Setting: s}
	for _, line := range lines {
		thing, said, _ := strings.Cut(line, "=")
		if err := a.Tell(thing, said); err != nil {
			t.Fatal(err)
		}
	}
	return a
}

func ExampleAccount() {
	a := &Account{Setting: Setting{Light: &color.Shade}}
	for _, seen := range [][2]string{{"glow", "medium red"}, {"magnet", "lets go"}, {"shadow", "don't know"}} {
		if err := a.Tell(seen[0], seen[1]); err != nil {
			fmt.Println(err)
		}
	}
	for _, f := range a.Findings() {
		fmt.Printf("%s %.0f–%.0f °C\n", f.About, 5*float64(int((f.Band.Low-kelvin)/5+0.5)), 5*float64(int((f.Band.High-kelvin)/5+0.5)))
	}
	// Output: temperature 755–820 °C
}

// Every word that is offered is understood, each alone comes to a band, and not
// knowing is legal of every thing and comes to nothing.
func TestEveryOfferedWordIsUnderstood(t *testing.T) {
	for _, thing := range Things {
		if len(Words(thing)) == 0 {
			t.Errorf("no words for %s", thing)
		}
		for _, w := range Words(thing) {
			fs := account(t, Setting{}, thing+"="+w).Findings()
			if len(fs) == 0 || fs[0].Below && fs[0].Above {
				t.Errorf("%s=%s comes to nothing", thing, w)
			}
			for _, f := range fs {
				if !(f.Band.Low < f.Band.Value && f.Band.Value < f.Band.High) || f.Against[0].Said != "" {
					t.Errorf("%s=%s: %+v", thing, w, f)
				}
			}
		}
		for _, w := range unsaid {
			if fs := account(t, Setting{}, thing+"="+w).Findings(); len(fs) != 0 {
				t.Errorf("%s=%q comes to %+v", thing, w, fs)
			}
		}
	}
}

// What is not understood is answered with what would be.
func TestWrongWordsAreRefused(t *testing.T) {
	for thing, wrong := range map[string][]string{
		"magnet": {"maybe"}, "glow": {"mauve", "straw"}, "shadow": {"long"}, "thermometer": {"800", "9000 C", "hot"}, "hand": {"cold"}, "film": {"cherry"},
		"file": {"sings", "bites, skates", "skates, bites after 5", "bites, skates after many", "bites, skates after -3"}, "slid": {"9000", "x"}, "tester": {"5 HRC"}, "scale": {"blue"},
		"smell": {"burnt"}, "": {""},
	} {
		for _, said := range wrong {
			a := &Account{}
			err := a.Tell(thing, said)
			var m *Misread
			if !errors.As(err, &m) || len(m.Legal) == 0 || len(a.Findings()) != 0 {
				t.Errorf("%s=%s: %v", thing, said, err)
			}
		}
	}
}

// Two that cannot both be right are named, in whatever order they were told, and
// among others that agree.
func TestContradictionsAreNamed(t *testing.T) {
	for _, lines := range [][]string{
		{"magnet=holds", "glow=yellow", "thermometer=1080 C"}, {"glow=yellow", "thermometer=1080 C", "magnet=holds"}, {"thermometer=1080 C", "magnet=holds", "glow=yellow"},
	} {
		f := account(t, Setting{Light: &color.Dim}, lines...).Findings()[0]
		if f.Against[0].Said != "magnet=holds" && f.Against[1].Said != "magnet=holds" {
			t.Errorf("%v: %v", lines, f.Against)
		}
	}
	f := account(t, Setting{}, "tester=62 HRC", "file=bites").Findings()
	if f[0].Against[0].Said != "tester=62 HRC" || f[0].Against[1].Said != "file=bites" {
		t.Errorf("%+v", f)
	}
	if f := account(t, Setting{}, "magnet=lets go", "glow=cherry", "shadow=gone").Findings(); f[0].Against[0].Said != "" {
		t.Errorf("%+v", f)
	}
}

// One-sided things give the end that they know: a magnet off, over 730 °C and not
// a percentile of all heats there are.
func TestOpenEnds(t *testing.T) {
	off := account(t, Setting{}, "magnet=off").Findings()[0]
	if !off.Above || off.Below || off.Band.Low < 728+kelvin || off.Band.Low > 732+kelvin {
		t.Errorf("%+v", off)
	}
	holds := account(t, Setting{}, "magnet=holds").Findings()[0]
	if holds.Above || !holds.Below || holds.Band.High < 758+kelvin || holds.Band.High > 762+kelvin {
		t.Errorf("%+v", holds)
	}
	if f := account(t, Setting{}, "file=skates").Findings(); !f[0].Above || f[0].Band.Low < 54.5 || f[0].Band.Low > 55.5 || len(f) != 2 || !f[1].Below {
		t.Errorf("%+v", f)
	}
	if f := account(t, Setting{}, "file=bites").Findings(); len(f) != 1 || !f[0].Below {
		t.Errorf("a file that bites tells nothing of the skin: %+v", f)
	}
}

// A film tells of the temper and leaves the temperature alone.
func TestFilmTellsOfTheTemper(t *testing.T) {
	f := account(t, Setting{Steel: carbonSteel(), Seconds: 3600}, "hand=warm", "film=straw").Findings()
	if len(f) != 2 || f[0].Band.High > 80+kelvin || f[1].Band.Low < 150+kelvin || f[1].Against[0].Said != "" {
		t.Errorf("%+v", f)
	}
}

// A magnet lets go of steels with 0.7 % carbon and more soon after austenite
// begins, of mild steel at 770 °C (common practice: 730 to 760, 770).
func TestChangesFollowTheSteel(t *testing.T) {
	for _, row := range []struct{ carbon, low, high float64 }{{0.84, 725, 765}, {1.0, 725, 765}, {0.2, 755, 776}} {
		var c steel.Composition
		c[steel.C], c[steel.Mn], c[steel.Si] = row.carbon, 0.5, 0.2
		limits, err := micro.Equilibrium(c)
		if err != nil {
			t.Fatal(err)
		}
		at := ChangesOf(limits, row.carbon)
		m, sh := celsius(at.Magnet), celsius(at.Shadow)
		t.Logf("%v %% C: magnet %.0f–%.0f, shadow %.0f–%.0f °C", row.carbon, m.Low, m.High, sh.Low, sh.High)
		if m.Low < row.low || m.High > row.high || m.Low >= m.High {
			t.Errorf("%v %% C: magnet %.0f–%.0f °C", row.carbon, m.Low, m.High)
		}
	}
}

func FuzzTell(f *testing.F) {
	f.Add("file", "bites, skates after 12")
	f.Add("thermometer", "1490 F")
	f.Fuzz(func(_ *testing.T, thing, said string) {
		a := &Account{}
		_ = a.Tell(thing, said)
		a.Findings()
	})
}
