package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

func colors(t *testing.T, args ...string) (out, errs string, code int) {
	t.Helper()
	var o, e bytes.Buffer
	code = heatwright(context.Background(), append([]string{"colors"}, args...), strings.NewReader(""), &o, &e)
	return o.String(), e.String(), code
}

// The page of computed and printed colors is what the command writes now. Write it
// anew with: go run ./cmd/heatwright colors --as markdown --out docs/colors.md,
// and the same with svg for docs/colors.svg.
func TestColorsPageIsCurrent(t *testing.T) {
	for as, name := range map[string]string{"markdown": "colors.md", "svg": "colors.svg"} {
		want, err := os.ReadFile(filepath.Join("..", "..", "docs", name))
		if err != nil {
			t.Fatal(err)
		}
		if got, errs, code := colors(t, "--as", as); code != 0 || got != string(want) {
			t.Errorf("docs/%s is stale (%d, %s)", name, code, errs)
		}
	}
}

func TestColorsSayWhatIsAsked(t *testing.T) {
	out, _, code := colors(t, "--light", "shade", "--time", "2 h", "--steel", "O1", "--glasses", "didymium")
	for _, want := range []string{"in the shade", "didymium", "O1 after 2 h", "above magnet-off", "straw", "°C"} {
		if !strings.Contains(out, want) {
			t.Errorf("the chart lacks %q", want)
		}
	}
	if code != exitDone {
		t.Errorf("exit %d", code)
	}
	page, _, code := colors(t, "--as", "html")
	if code != exitDone || !strings.Contains(page, "<svg") || strings.Contains(page, "http://") && !strings.Contains(page, "http://www.w3.org/2000/svg") {
		t.Error("the page for print lacks its chart or reaches outside")
	}
	if png, _, code := colors(t, "--as", "png"); code != exitDone || !strings.HasPrefix(png, "\x89PNG") {
		t.Error("no PNG")
	}
}

func TestColorsRefuseWhatTheyCannot(t *testing.T) {
	for _, row := range [][]string{{"--light", "moon"}, {"--glasses", "rose"}, {"--time", "5"}, {"--time", "1 s"}, {"--time", "3 days"}, {"--steel", "unobtainium"}, {"--as", "gif"}} {
		if out, errs, code := colors(t, row...); code != exitInput || errs == "" || out != "" {
			t.Errorf("%v: exit %d, %q, %q", row, code, out, errs)
		}
	}
}

func TestColorsDrawAJob(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "knife.toml")
	svg, errs, code := colors(t, "--job", job, "--light", "dark", "--as", "svg")
	if code != exitDone || !strings.Contains(svg, "in a dark shop") || !strings.Contains(svg, ">edge<") {
		t.Errorf("exit %d, %s", code, errs)
	}
	if _, errs, code := colors(t, "--job", job); code != exitInput || errs == "" {
		t.Errorf("a strip as text: exit %d", code)
	}
	if _, errs, code := colors(t, "--job", "nothing-here.toml", "--as", "svg"); code == exitDone || errs == "" {
		t.Errorf("no job: exit %d", code)
	}
}

// The edge of a hardened 1084 blade that stays cold: 64 to 67 HRC as quenched.
// Common practice; the model's own figure moves by a unit with its constants.
var asQuenched = regexp.MustCompile(`edge +bright +\d+ °C +6[4-7] HRC`)

func TestColorsRunDownAPiece(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "knife.toml")
	out, errs, code := colors(t, "--job", job, "--draw", "hot block")
	for _, want := range []string{"from the spine", "Watch the edge", "HRC", "factor of two", "burns"} {
		if !strings.Contains(out, want) {
			t.Errorf("exit %d, %s: the text lacks %q", code, errs, want)
		}
	}
	out, errs, code = colors(t, "--job", job, "--draw", "torch", "--want", "blue", "--wet", "10 mm", "--at", "near")
	if code != exitDone || !strings.Contains(out, "Watch the spine") || !asQuenched.MatchString(out) {
		t.Errorf("exit %d, %s, %s", code, errs, out)
	}
	if png, errs, code := colors(t, "--job", job, "--draw", "hot plate", "--hot", "350 C", "--as", "png"); code != exitDone || !strings.HasPrefix(png, "\x89PNG") {
		t.Errorf("exit %d, %s", code, errs)
	}
	out, errs, code = colors(t, "--job", filepath.Join("..", "..", "examples", "cold_chisel.toml"), "--draw", "shank", "--hot", "780 C")
	if code != exitDone || !strings.Contains(out, "still air") || !strings.Contains(out, "under 20 HRC") {
		t.Errorf("exit %d, %s, %s", code, errs, out)
	}
	for _, row := range [][]string{
		{"--draw", "torch"}, {"--job", job, "--draw", "torch", "--wet", "10 mm"}, {"--job", job, "--draw", "hot block", "--want", "mauve"},
		{"--job", job, "--draw", "hot block", "--hot", "3000 C"}, {"--job", job, "--draw", "hot block", "--mass", "heavy"}, {"--job", job, "--draw", "torch", "--as", "html"},
	} {
		if out, errs, code := colors(t, row...); code != exitInput || errs == "" || out != "" {
			t.Errorf("%v: exit %d, %q", row, code, errs)
		}
	}
}
