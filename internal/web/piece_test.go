package web

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// Sections and steels come and go, each with measures that are taken as they are,
// and their fields write to their places.
func TestSectionsAndSteels(t *testing.T) {
	w, err := readSentence(map[string][]string{"make": {"belt knife"}}, unit.Imperial).wish(unit.Imperial)
	if err != nil {
		t.Fatal(err)
	}
	job, _, err := plan.Draft(w)
	if err != nil {
		t.Fatal(err)
	}
	sound := func(what string) {
		t.Helper()
		parsed, problems := route.Parse(route.Write(job), nil)
		if len(problems) > 0 {
			t.Errorf("%s: %v", what, problems)
		}
		if _, err := parsed.Piece.Solid(); err != nil {
			t.Errorf("%s: %v", what, err)
		}
		job = parsed
	}
	for n := range 3 {
		if !apply(&job, "add-station") || len(job.Piece.Stations) != n+1 {
			t.Fatal("a section was not added")
		}
		sound(fmt.Sprint(n+1, " sections"))
	}
	if !strings.HasSuffix(job.Piece.Stations[0].At.Text, "in") {
		t.Errorf("a blade in inches has a section at %s", job.Piece.Stations[0].At.Text)
	}
	for place, text := range map[string]string{"piece, station 2, spine": "2.2 mm", "piece, tang, length": "80 mm", "piece, tang, width": "12 mm", "piece, tang, thickness": "3 mm"} {
		if !set(&job, place, text) {
			t.Errorf("%s was not written", place)
		}
	}
	sound("with a tang")
	if job.Piece.Stations[1].Spine.Text != "2.2 mm" || job.Piece.Tang.Length.Text != "80 mm" {
		t.Errorf("%+v %+v", job.Piece.Stations[1], job.Piece.Tang)
	}
	if !apply(&job, "add-steel") || len(job.Steel) != 2 || !set(&job, "steel 2, grade", "1018") {
		t.Error("a steel was not added")
	}
	sound("two steels")
	if job.Steel[1].Grade != "1018" || job.Steel[0].Region == "" {
		t.Errorf("%+v", job.Steel)
	}
	if !apply(&job, "drop-steel 2") || !apply(&job, "drop-station 1") || len(job.Piece.Stations) != 2 || job.Steel[0].Region != "" {
		t.Errorf("%+v %+v", job.Steel, job.Piece.Stations)
	}
	sound("one less")
	for _, no := range []string{"drop-station 9", "drop-steel 1", "drop-station x"} {
		before := string(route.Write(job))
		if apply(&job, no) && string(route.Write(job)) != before && no != "drop-station x" {
			t.Errorf("%s did something", no)
		}
	}
}

// On the page a section is added by a button, drawn at once, and a wrong measure of
// it is told beside its field.
func TestSectionOnThePage(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	link := value2(ctx, t, `document.querySelector('a[href^="/plan?"]').getAttribute("href")`)
	do(ctx, t, chromedp.Navigate(server.URL+link))
	drawn := `document.querySelector("figure.piece path[stroke-width='2.5']")?.getAttribute("d") || "none"`
	before := value2(ctx, t, drawn)
	do(ctx, t, chromedp.Click(chromedp.CSS(`button[value="add-station"]`)))
	waitFor(ctx, t, `document.querySelector("[name='piece, station 1, width']") && document.readyState === "complete"`)
	set := func(name, text string) {
		do(ctx, t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => { const f = document.querySelector("[name='%s']"); f.value = %q; f.dispatchEvent(new Event("input", {bubbles: true})); })()`, name, text)))
	}
	set("piece, station 1, width", "0.5 in")
	waitFor(ctx, t, fmt.Sprintf("![%q, 'none'].includes(%s)", before, drawn))
	set("piece, station 1, at", "3 ft")
	waitFor(ctx, t, `document.querySelector(".field .problem")`)
	if !value[bool](ctx, t, `document.querySelector("[name='piece, station 1, at']").closest(".field").contains(document.querySelector(".problem"))`) {
		t.Error("the problem does not stand beside its field")
	}
}
