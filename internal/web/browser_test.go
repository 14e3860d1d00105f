package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// opened is the bench on a port of its own.
func opened(t *testing.T) *httptest.Server {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = Handler(loopbackHosts(server.Listener.Addr()), sim.Engine{Name: "heatwright", Version: "test"})
	server.Start()
	t.Cleanup(server.Close)
	return server
}

// browser starts Chromium, real and headless. Without one the test is skipped,
// which is a failure where REQUIRE=all.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("REQUIRE") == "all" {
			t.Fatal("chromium is not installed: apt-get install chromium")
		}
		t.Skip("chromium is not installed: apt-get install chromium")
	}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Flag("lang", "en-US"))...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("start chromium: %v", err)
	}
	return ctx
}

func do(ctx context.Context, t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	limit, stop := context.WithTimeout(ctx, 90*time.Second)
	defer stop()
	if err := chromedp.Do(limit, steps...); err != nil {
		t.Fatal(err)
	}
}

func value[T any](ctx context.Context, t *testing.T, js string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%s: %v", js, err)
	}
	return v
}

// waitFor waits until a JavaScript condition holds.
func waitFor(ctx context.Context, t *testing.T, condition string) {
	t.Helper()
	end := time.Now().Add(90 * time.Second)
	for time.Now().Before(end) {
		if value[bool](ctx, t, "!!("+condition+")") {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("never came true: %s", condition)
}

// snap keeps a picture of the page, to be looked at, in SCREENSHOTS.
func snap(ctx context.Context, t *testing.T, name string) {
	t.Helper()
	dir := os.Getenv("SCREENSHOTS")
	if dir == "" {
		return
	}
	png, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		t.Fatal(err)
	}
}

// axe runs the accessibility checks of axe-core and returns what they find.
func axe(ctx context.Context, t *testing.T) []string {
	t.Helper()
	script, err := os.ReadFile("testdata/axe.min.js")
	if err != nil {
		t.Fatal(err)
	}
	do(ctx, t, chromedp.Evaluate[chromedp.Void](string(script)))
	text := value[string](ctx, t, `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then(r => JSON.stringify(r.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160) + " — " + (n.any[0] || n.all[0] || n.none[0] || {}).message).join(" | "))))`)
	var found []string
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		t.Fatal(err)
	}
	return found
}

// A newcomer: the page opens with an answer, one change of a blank changes it,
// and Print is one tap away. Nothing is typed, and there are six taps at most.
func TestNewcomersMinute(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.EmulateViewport(390, 844), chromedp.Navigate(server.URL))
	taps := 0
	choose := func(blank, value string) {
		before := value2(ctx, t, `document.querySelector("#answer").textContent`)
		do(ctx, t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => { const s = document.querySelector("select[name=%s]"); s.value = %q; s.dispatchEvent(new Event("input", {bubbles: true})); })()`, blank, value)))
		waitFor(ctx, t, fmt.Sprintf("document.querySelector('#answer').textContent !== %q", before))
		taps += 2 // open the blank, pick
	}
	choose("steel", "1095")
	choose("bath", "fast oil")
	if href := value2(ctx, t, `document.querySelector("a.button").getAttribute("href")`); !strings.HasPrefix(href, "/sheet?") {
		t.Fatalf("the first button leads to %q, not to the paper", href)
	}
	do(ctx, t, chromedp.Click(chromedp.CSS("a.button")))
	taps++
	waitFor(ctx, t, `document.querySelector("h1") && document.body.textContent.includes("HARDEN") && document.querySelector("[data-print]")`)
	taps++ // the print button, which opens the browser's own window
	if taps > 6 {
		t.Errorf("from opening to paper it took %d taps", taps)
	}
}

func value2(ctx context.Context, t *testing.T, js string) string {
	t.Helper()
	return value[string](ctx, t, js)
}

// After a pause the answer has its odds, the way to stop it works, and undo goes
// back to what was before.
func TestOddsFollowAndUndoGoesBack(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.EmulateViewport(360, 740), chromedp.Navigate(server.URL))
	waitFor(ctx, t, `document.querySelector("#answer").dataset.speed === "section"`)
	if said := value2(ctx, t, `document.querySelector(".verdict").textContent`); !strings.Contains(said, " in ") {
		t.Errorf("the odds are not told: %q", said)
	}
	// How far it is, and the way to stop it, are seen without scrolling.
	waitFor(ctx, t, `(() => { const b = document.querySelector("#busy"), p = b.querySelector("progress"), r = p.getBoundingClientRect(); return b.dataset.on && p.value > 0 && r.width > 50 && r.top >= 0 && r.bottom <= innerHeight && getComputedStyle(p.parentElement).visibility === "visible"; })()`)
	do(ctx, t, chromedp.Click(chromedp.CSS("#cancel")))
	waitFor(ctx, t, `!document.querySelector("#busy").dataset.on`)
	do(ctx, t, chromedp.Evaluate[chromedp.Void](`(() => { const s = document.querySelector("select[name=bath]"); s.value = "water"; s.dispatchEvent(new Event("input", {bubbles: true})); })()`))
	waitFor(ctx, t, `!document.querySelector("#undo").disabled && location.search.includes("water")`)
	do(ctx, t, chromedp.Click(chromedp.CSS("#undo")))
	waitFor(ctx, t, `!location.search.includes("water") && document.querySelector("select[name=bath]") && document.querySelector("select[name=bath]").value === "cooking oil"`)
}

// While answers come in, nothing that stands on the page jumps.
func TestNothingJumps(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.EmulateViewport(1440, 900), chromedp.Navigate(server.URL))
	shift := value[float64](ctx, t, `new Promise(done => { let sum = 0; new PerformanceObserver(l => { for (const e of l.getEntries()) if (!e.hadRecentInput) sum += e.value; }).observe({type: "layout-shift", buffered: true}); const wait = () => document.querySelector("#answer").dataset.speed === "section" ? setTimeout(() => done(sum), 200) : setTimeout(wait, 50); wait(); })`)
	if shift > 0.1 { // under 0.1 people do not notice: the published limit of a good page (web vitals)
		t.Errorf("the layout shifts by %.3f", shift)
	}
}

// Each form opens with its own fields, a drawing and no problem, in both dresses.
func TestEachForm(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.EmulateViewport(820, 1180), chromedp.Navigate(server.URL))
	plan := value2(ctx, t, `document.querySelector('a[href^="/plan?"]').getAttribute("href")`)
	do(ctx, t, chromedp.Navigate(server.URL+plan))
	for _, form := range route.Forms() {
		if form != route.Blade {
			do(ctx, t, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => { const s = document.querySelector("[name='piece, form']"); s.value = %q; s.dispatchEvent(new Event("input", {bubbles: true})); })()`, form)))
			waitFor(ctx, t, fmt.Sprintf(`document.readyState === "complete" && document.querySelector("[name='piece, form'] option[selected]") && document.querySelector("[name='piece, form'] option[selected]").value === %q`, form))
		}
		if wrong := value2(ctx, t, `[...document.querySelectorAll(".problem")].map(p => p.textContent).join("; ")`); wrong != "" {
			t.Errorf("%s: %s", form, wrong)
		}
		if !value[bool](ctx, t, `!!document.querySelector("figure.piece svg") && document.querySelector("figure.piece svg").getAttribute("aria-label").includes("HRC")`) {
			t.Errorf("%s has no drawing", form)
		}
		snap(ctx, t, "form-"+string(form))
	}
}

// A trade name that several steels are sold under asks which, and one tap answers.
func TestAmbiguousSteelAsks(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	plan := value2(ctx, t, `document.querySelector('a[href^="/plan?"]').getAttribute("href")`)
	do(ctx, t, chromedp.Navigate(server.URL+plan),
		chromedp.Evaluate[chromedp.Void](`(() => { const f = document.querySelector("[name='steel, grade']"); f.value = "silver steel"; f.dispatchEvent(new Event("input", {bubbles: true})); })()`))
	waitFor(ctx, t, `document.querySelector("button.pick")`)
	do(ctx, t, chromedp.Evaluate[chromedp.Void](`document.querySelector("button.pick").click()`))
	waitFor(ctx, t, `document.querySelector("[name='steel, grade']") && document.querySelector("[name='steel, grade']").value === "W1"`)
}

// A plan is tried another way beside itself, and the page tells where they differ.
func TestCompareTellsTheDifference(t *testing.T) {
	server := opened(t)
	body := get(t, server, "/?make=belt+knife&steel=1084")
	_, rest, _ := strings.Cut(body, `href="/plan?j=`)
	a, _, _ := strings.Cut(rest, `"`)
	body = get(t, server, "/plan?j="+a+"&beside="+a+"&step+5,+at=260+C")
	_, rest, _ = strings.Cut(body, `href="/compare?`)
	link, _, _ := strings.Cut(rest, `"`)
	link = strings.ReplaceAll(link, "&amp;", "&")
	body = get(t, server, "/compare?"+link)
	for _, want := range []string{"260 C", "Step 5", "HRC</a></td>"} {
		if !strings.Contains(body, want) {
			t.Errorf("the comparison lacks %q", want)
		}
	}
}

// Everything can be reached and done by keyboard alone: tab to a blank, change it
// by the arrows, tab to Print, enter. What has the focus shows it.
func TestKeyboardAlone(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	press := func(key string) { do(ctx, t, chromedp.KeyEvent(key)) }
	focus := func() string {
		return value2(ctx, t, `(() => { const e = document.activeElement; return e.name || e.getAttribute("href") || e.id || e.tagName; })()`)
	}
	seen := map[string]bool{}
	for range 40 {
		press(kb.Tab)
		at := focus()
		seen[at] = true
		if at == "steel" {
			before := value2(ctx, t, `document.querySelector("[name=steel]").value`)
			press(kb.ArrowDown)
			if value2(ctx, t, `document.querySelector("[name=steel]").value`) == before {
				t.Error("the arrows do not change a blank")
			}
		}
		if !value[bool](ctx, t, `(() => { const s = getComputedStyle(document.activeElement); return document.activeElement === document.body || s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2; })()`) {
			t.Errorf("the focus on %s does not show", at)
		}
		if strings.HasPrefix(at, "/sheet?") {
			press(kb.Enter)
			waitFor(ctx, t, `location.pathname === "/sheet"`)
			break
		}
	}
	for _, want := range []string{"make", "steel", "back", "edge", "fire", "bath", "oven"} {
		if !seen[want] {
			t.Errorf("tab does not come to %s", want)
		}
	}
	if value2(ctx, t, `location.pathname`) != "/sheet" {
		t.Error("the sheet was not reached by keyboard")
	}
}

// Enter in a field works the plan out and does nothing else.
func TestEnterInAField(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	plan := value2(ctx, t, `document.querySelector('a[href^="/plan?"]').getAttribute("href")`)
	do(ctx, t, chromedp.Navigate(server.URL+plan))
	steps := `[...document.querySelectorAll(".steps .say")].map(s => [...s.querySelectorAll("input, select:not([name^=glow])")].map(f => f.value).join("|")).join("\n")`
	before := value2(ctx, t, steps)
	do(ctx, t, chromedp.Evaluate[chromedp.Void](`document.querySelector("[name='piece, spine']").focus()`), chromedp.KeyEvent(kb.Enter))
	waitFor(ctx, t, `location.search.includes("piece") && document.readyState === "complete"`)
	if after := value2(ctx, t, steps); after != before {
		t.Errorf("enter changed the steps from\n%s\nto\n%s", before, after)
	}
}

// Every paper prints from the browser on its own size of page, and no ink runs
// beyond it.
func TestPrintsFromTheBrowser(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	j := value2(ctx, t, `new URL(document.querySelector('a[href^="/plan?"]').href).searchParams.get("j")`)
	for _, paper := range []string{"sheet", "card", "chart", "wall"} {
		do(ctx, t, chromedp.Navigate(server.URL+"/"+paper+"?j="+j))
		if wide := value[float64](ctx, t, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide > 0 {
			t.Errorf("%s is %.0f px wider than the screen", paper, wide)
		}
		pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
		if err != nil || !strings.HasPrefix(string(pdf), "%PDF-") {
			t.Errorf("%s: %v", paper, err)
		}
		if dir := os.Getenv("SCREENSHOTS"); dir != "" {
			if err := os.WriteFile(filepath.Join(dir, paper+"-printed.pdf"), pdf, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if own := get(t, server, "/"+paper+".pdf?j="+j); !strings.HasPrefix(own, "%PDF-") {
			t.Errorf("%s: its own PDF is none", paper)
		}
	}
}

// The first page and all that it needs are under 300 kB as they are sent.
func TestFirstPageIsSmall(t *testing.T) {
	server := opened(t)
	sum := 0
	for _, path := range []string{"/", "/static/bench.css", "/static/bench.js", "/static/mark.svg", "/static/bitter-500.woff2", "/static/bitter-800.woff2"} {
		req, err := http.NewRequest(http.MethodGet, server.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		req.Header.Set("Accept-Encoding", "gzip")
		r, err := http.DefaultTransport.RoundTrip(req)
		if err != nil {
			t.Fatal(err)
		}
		sum += len(readAll(t, r))
		closed(t, r)
	}
	if sum > 300<<10 {
		t.Errorf("the first page is %d kB", sum>>10)
	}
	t.Logf("the first page is %d kB", sum>>10)
}

// Every page, narrow and wide, bright and dark, in both unit systems, pairwise:
// no violation of the accessibility rules, nothing wider than the screen, no
// touch target under 44 px (links in running text apart), nothing from elsewhere.
func TestEveryPageInEveryDress(t *testing.T) {
	server, ctx := opened(t), browser(t)
	var foreign []string
	if err := chromedp.Listen(ctx, func(ev any) {
		if e, ok := ev.(*network.EventRequestWillBeSent); ok && !strings.HasPrefix(e.Request.URL, server.URL) && !strings.HasPrefix(e.Request.URL, "data:") && e.Request.URL != "about:blank" {
			foreign = append(foreign, e.Request.URL)
		}
	}); err != nil {
		t.Fatal(err)
	}
	do(ctx, t, chromedp.Navigate(server.URL))
	links := map[string]string{"first": "/", "open": "/open", "words": "/words"}
	for _, name := range []string{"plan", "inside"} {
		links[name] = value[string](ctx, t, fmt.Sprintf(`document.querySelector('a[href^="/%s?"]').getAttribute("href")`, name))
	}
	u, err := url.Parse(links["plan"])
	if err != nil {
		t.Fatal(err)
	}
	links["sheet"] = "/sheet?" + u.RawQuery
	links["card"] = "/card?" + u.RawQuery
	links["colors"] = "/colors?" + u.RawQuery + "&light=shade&glasses=didymium&time=2+h"
	links["seen"] = "/seen?light=dim&magnet=holds&glow=yellow&film=straw&file=bites,+skates+after+12&thermometer=hot"
	links["wrong"] = links["plan"] + "&piece,+edge=10+mm&steel,+grade=silver+steel"
	links["compare"] = "/compare?a=" + u.Query().Get("j") + "&b=" + u.Query().Get("j")
	dresses := []struct {
		w, h         int64
		theme, units string
	}{{360, 740, "paper", "imperial"}, {820, 1180, "forge", "imperial"}, {1440, 900, "paper", "metric"}, {360, 740, "forge", "metric"}, {820, 1180, "paper", "metric"}, {1440, 900, "forge", "imperial"}}
	for _, d := range dresses {
		do(ctx, t, chromedp.EmulateViewport(d.w, d.h), chromedp.Navigate(server.URL+"/open"))
		for _, set := range []string{"theme=" + d.theme, "units=" + d.units, "words=" + map[string]string{"metric": "en-GB", "imperial": "en-US"}[d.units]} {
			value[string](ctx, t, fmt.Sprintf(`fetch("/choose", {method: "POST", body: new URLSearchParams(%q)}).then(r => r.url)`, set+"&back=/open"))
		}
		for name, link := range links {
			do(ctx, t, chromedp.Navigate(server.URL+link))
			where := fmt.Sprintf("%s %dx%d %s %s", name, d.w, d.h, d.theme, d.units)
			snap(ctx, t, strings.ReplaceAll(where, " ", "-"))
			for _, v := range axe(ctx, t) {
				t.Errorf("%s: %s", where, v)
			}
			if wide := value[float64](ctx, t, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide > 0 {
				t.Errorf("%s is %.0f px wider than the screen", where, wide)
			}
			if ground := value2(ctx, t, `getComputedStyle(document.documentElement).backgroundColor`); d.theme == "forge" && ground != "rgb(0, 0, 0)" {
				t.Errorf("%s is a flash in the dark: %s", where, ground)
			}
			small := value[string](ctx, t, `[...document.querySelectorAll("button, select, input:not([type=hidden]), a.button, summary")].filter(e => { const r = e.getBoundingClientRect(); return r.width > 0 && (r.height < 56 || r.width < 44); }).map(e => e.outerHTML.slice(0, 80)).join("; ")`)
			if small != "" {
				t.Errorf("%s: too small for a glove: %s", where, small)
			}
		}
	}
	if len(foreign) > 0 {
		t.Errorf("requests left this machine: %v", foreign)
	}
}

// What is typed wrong stays as typed, with the reason, the limits and the remedy.
func TestWrongInputStaysAndIsTold(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	plan := value[string](ctx, t, `document.querySelector('a[href^="/plan?"]').getAttribute("href")`)
	wrong := []struct{ field, text, says string }{
		{"steel, grade", "unobtainium", "not in the list"},
		{"piece, spine", "-3 mm", "outside"},
		{"piece, edge", "10 mm", "thicker than the spine"},
		{"piece, width", "28", "unit"},
		{"step 2, at", "5000 C", "temperature"},
		{"aim, hardness, edge", "99 HRC", "scale"},
		{"piece, length", "six inches and a bit", "length"},
		{"step 2, until", "when it sings", "ends"},
		{"step 5, hold", "2", "unit"},
		{"steel, certificate", "C 4.3", "iron"},
		{"shop, oven 1, offset", "hot", "temperature"},
	}
	for _, w := range wrong {
		do(ctx, t, chromedp.Navigate(server.URL+plan),
			chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => { const f = document.querySelector('[name=%q]'); f.value = %q; f.dispatchEvent(new Event("input", {bubbles: true})); })()`, w.field, w.text)))
		waitFor(ctx, t, `document.querySelector(".problem")`)
		if said := value[string](ctx, t, `document.querySelector(".problem").textContent`); !strings.Contains(said, w.says) {
			t.Errorf("%s = %q: the page says %q, nothing of %q", w.field, w.text, said, w.says)
		}
		if kept := value[string](ctx, t, fmt.Sprintf(`document.querySelector('[name=%q]').value`, w.field)); kept != w.text {
			t.Errorf("%s: typed %q, kept %q", w.field, w.text, kept)
		}
		if !value[bool](ctx, t, fmt.Sprintf(`document.querySelector('[name=%q]').getAttribute("aria-invalid") === "true"`, w.field)) {
			t.Errorf("%s: the field is not marked", w.field)
		}
	}
}

// A step is added, moved, taken out, and going back undoes it.
func TestStepsMoveAndBackUndoes(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL))
	plan := value[string](ctx, t, `document.querySelector('a[href^="/plan?"]').getAttribute("href")`)
	do(ctx, t, chromedp.Navigate(server.URL+plan))
	steps := func() int { return int(value[float64](ctx, t, `document.querySelectorAll(".steps > li").length`)) }
	n := steps()
	do(ctx, t, chromedp.Click(chromedp.CSS(`button[value="add"]`)))
	waitFor(ctx, t, fmt.Sprintf(`document.querySelectorAll(".steps > li").length === %d`, n+1))
	do(ctx, t, chromedp.Click(chromedp.CSS(`button[value="drop 1"]`)))
	waitFor(ctx, t, fmt.Sprintf(`document.querySelectorAll(".steps > li").length === %d`, n))
	do(ctx, t, chromedp.Evaluate[chromedp.Void](`history.back()`))
	waitFor(ctx, t, fmt.Sprintf(`document.querySelectorAll(".steps > li").length === %d`, n+1))
}

// A step is added while something is still wrong: nothing that was typed is lost.
func TestNothingTypedIsLost(t *testing.T) {
	server := opened(t)
	body := get(t, server, "/?make=belt+knife&steel=1084")
	_, rest, _ := strings.Cut(body, `href="/plan?j=`)
	j, _, _ := strings.Cut(rest, `"`)
	body = get(t, server, "/plan?j="+j+"&piece,+spine=three+fingers&name=my+knife&do=add&add=grind")
	for _, want := range []string{`value="three fingers"`, `value="my knife"`, `value="1084"`, "Grind", "put right first"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page has lost %q", want)
		}
	}
}

// The first screen and the sheet work without JavaScript: plain requests.
func TestWithoutScript(t *testing.T) {
	server := opened(t)
	body := get(t, server, "/?make=belt+knife&steel=O1")
	for _, want := range []string{"HARDEN", "<noscript>", `class="verdict"`} {
		if !strings.Contains(body, want) {
			t.Errorf("the first screen lacks %q", want)
		}
	}
	_, rest, _ := strings.Cut(body, `href="/sheet?`)
	link, _, _ := strings.Cut(rest, `"`)
	sheet := get(t, server, "/sheet?"+link)
	if !strings.Contains(sheet, "HARDEN") {
		t.Error("the sheet lacks its box")
	}
	if pdf := get(t, server, "/sheet.pdf?"+link); !strings.HasPrefix(pdf, "%PDF-") {
		t.Error("the PDF is none")
	}
	toml := get(t, server, "/job.toml?"+link)
	if _, problems := route.Parse([]byte(toml), nil); len(problems) > 0 {
		t.Errorf("the saved job has problems: %v", problems)
	}
}

func get(t *testing.T, server *httptest.Server, path string) string {
	t.Helper()
	r, err := http.Get(server.URL + path)
	if err != nil {
		t.Fatal(err)
	}
	defer closed(t, r)
	var b strings.Builder
	if _, err := fmt.Fprint(&b, readAll(t, r)); err != nil {
		t.Fatal(err)
	}
	if r.StatusCode != http.StatusOK {
		t.Fatalf("%s: status %d: %.300s", path, r.StatusCode, b.String())
	}
	return b.String()
}

// The bench answers to its own name only, refuses what other sites send, and
// what is damaged or too large.
func TestGuard(t *testing.T) {
	server := opened(t)
	try := func(method, path string, header map[string]string, body string) (int, http.Header) {
		t.Helper()
		req, err := http.NewRequest(method, server.URL+path, strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		for k, v := range header {
			if k == "Host" {
				req.Host = v
			} else {
				req.Header.Set(k, v)
			}
		}
		r, err := http.DefaultClient.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		closed(t, r)
		return r.StatusCode, r.Header
	}
	if status, _ := try("GET", "/", map[string]string{"Host": "evil.example"}, ""); status != http.StatusMisdirectedRequest {
		t.Errorf("a foreign host name got %d", status)
	}
	if status, _ := try("POST", "/choose", map[string]string{"Sec-Fetch-Site": "cross-site"}, "theme=forge"); status != http.StatusForbidden {
		t.Errorf("a post from another site got %d", status)
	}
	if status, _ := try("GET", "/plan?j=!!!", nil, ""); status != http.StatusUnprocessableEntity {
		t.Errorf("a damaged link got %d", status)
	}
	if status, _ := try("POST", "/open", map[string]string{"Content-Type": "application/x-www-form-urlencoded"}, "text="+strings.Repeat("x", 2*maxBody)); status != http.StatusRequestEntityTooLarge {
		t.Errorf("an upload that is too large got %d", status)
	}
	_, header := try("GET", "/open", nil, "")
	if csp := header.Get("Content-Security-Policy"); strings.Contains(csp, "unsafe") || !strings.Contains(csp, "default-src 'none'") {
		t.Errorf("content policy is %q", csp)
	}
	for _, addr := range []string{"0.0.0.0:80", "192.168.1.5:8000", ":7468", "nonsense"} {
		if CheckListen(addr) == nil {
			t.Errorf("listening on %q was not refused", addr)
		}
	}
	if err := CheckListen("127.0.0.1:0"); err != nil {
		t.Error(err)
	}
	if hosts := loopbackHosts(&net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 81}); !hosts["localhost:81"] || hosts["localhost"] {
		t.Errorf("host names %v", hosts)
	}
}

// An upload never opens a file that it names.
func TestUploadOpensNoFile(t *testing.T) {
	server := opened(t)
	text := "format = 1\nname = \"x\"\n[piece]\nform = \"round\"\ndiameter = \"12 mm\"\nlength = \"100 mm\"\n[steel]\ngrade = \"O1\"\n[shop]\nfile = \"/etc/passwd\"\n[[step]]\ndo = \"heat\"\nin = \"f\"\nuntil = \"magnet off\"\n"
	r, err := http.PostForm(server.URL+"/open", url.Values{"text": {text}})
	if err != nil {
		t.Fatal(err)
	}
	defer closed(t, r)
	body := readAll(t, r)
	if r.StatusCode != http.StatusUnprocessableEntity || strings.Contains(body, "root:") {
		t.Errorf("status %d: %.400s", r.StatusCode, body)
	}
}
