package web

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
)

// unsaid lists the numbers of a page that lead to nobody who says them: every
// quantity in running text, every number in a table or on the drawing of the
// piece. What stands in a blank is the reader's own, pictures have their sources
// under them, and the sources themselves are what is led to.
const unsaid = `(() => {
	const quantity = /\d[\d.,]*[½¼¾]?[\s\u00a0]?(?:°C|°F|%|(?:mm|in|µm|s|min|h|HRC|HV|ppm)\b)|\d+[\s\u00a0]in[\s\u00a0]\d+/;
	const own = "select, option, input, textarea, label, button, noscript, script, .sources, .claim, .who, .cited";
	const walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
	const bad = [];
	for (let n; (n = walk.nextNode()); ) {
		const e = n.parentElement;
		if (e.closest(own)) continue;
		const picture = e.closest("svg"), figure = e.closest("figure");
		if (picture && figure && figure.querySelector(".who a")) continue;
		const number = quantity.test(n.textContent) || picture && /\d/.test(n.textContent) || e.closest("td") && /^\W*\d/.test(n.textContent);
		if (!number) continue;
		const href = e.closest("a.n")?.getAttribute("href") || "";
		if (!href.startsWith("#says-") && !/^#[ab]-says-/.test(href) || !document.getElementById(href.slice(1))) bad.push(n.textContent.trim() + " (" + e.tagName + ")");
	}
	return bad.join("\n");
})()`

// exampleJobs are the job files of the repository with their shop written in.
func exampleJobs(t *testing.T) map[string]route.Job {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.toml")
	if err != nil || len(files) < 5 {
		t.Fatal("no examples", err)
	}
	all := map[string]route.Job{}
	for _, file := range files {
		if filepath.Base(file) == "shop.toml" {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		job, problems := route.Parse(text, func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("../../examples", name)) })
		if len(problems) > 0 {
			t.Errorf("%s: %v", file, problems)
			continue
		}
		all[strings.TrimSuffix(filepath.Base(file), ".toml")] = job.Whole()
	}
	return all
}

// Every number that is shown leads to who says it: on the first screen whatever is
// made of whatever, on the plan and inside of every example, and where two plans
// are compared. It does without JavaScript: the ways are links within the page.
func TestEveryNumberSaysWho(t *testing.T) {
	server, ctx := opened(t), browser(t)
	look := func(where, link string) {
		t.Helper()
		do(ctx, t, chromedp.Navigate(server.URL+link))
		if n := value[float64](ctx, t, `document.querySelectorAll("main a.n").length`); n == 0 {
			t.Errorf("%s has no number that leads anywhere", where)
		}
		if bad := value2(ctx, t, unsaid); bad != "" {
			t.Errorf("%s: nobody says\n%s", where, bad)
		}
	}
	for i, c := range changes {
		if i%3 == 0 || c.Get("steel") == "unknown" {
			look("first screen, "+c.Encode(), "/?speed=section&"+c.Encode())
		}
	}
	first := ""
	for name, job := range exampleJobs(t) {
		look("plan of "+name, address("/plan", job)+"&speed=section")
		look("inside "+name, address("/inside", job))
		if first == "" {
			first = pack(job)
		}
		look("comparing "+name, "/compare?a="+first+"&b="+pack(job))
	}
	look("words", "/words")
	look("what was seen", "/seen?light=dim&magnet=holds&glow=yellow&film=straw&file=bites,+skates+after+12")
	look("colors", "/colors?light=sun&glasses=green&steel=O1")
}

// A number leads to its entry by keyboard, and the entry is there to be read.
func TestNumberLeadsToItsSource(t *testing.T) {
	server, ctx := opened(t), browser(t)
	do(ctx, t, chromedp.Navigate(server.URL+"/?make=belt+knife&steel=1084"))
	waitFor(ctx, t, `document.querySelector("#answer").dataset.speed === "whole"`)
	do(ctx, t, chromedp.Evaluate[chromedp.Void](`document.querySelector(".harden a.n").focus()`), chromedp.KeyEvent("\r"))
	waitFor(ctx, t, `location.hash.startsWith("#says-") && document.querySelector(".sources").open`)
	entry := value2(ctx, t, `document.getElementById(location.hash.slice(1)).textContent`)
	if !strings.Contains(entry, "may be off by") || !strings.Contains(entry, "source:") {
		t.Errorf("the entry says %q", entry)
	}
	do(ctx, t, chromedp.Evaluate[chromedp.Void](`history.back()`))
	waitFor(ctx, t, `location.hash === "" && document.querySelector("#answer .verdict")`)
}

// What the table of sources names is there: a model's claim, an origin, or an
// entry of the bibliography.
func TestSourcesAreKnown(t *testing.T) {
	who := readerOf(&http.Request{Header: http.Header{}, URL: &url.URL{}})
	alias := map[string]bool{"fire": true, "bath": true, "hard": true}
	for code, names := range words.Origins() {
		if !words.Has(code) {
			t.Errorf("the table of sources has %q, the catalog has not", code)
		}
		for name, from := range names {
			if _, ok := who.claim(from); !ok && !alias[from] {
				t.Errorf("%s, %s: nobody is called %q", code, name, from)
			}
		}
	}
	if got := fmt.Sprint(words.Numbers("core to 840 °C, 5 min", "plan")); !strings.Contains(got, "840 °C") {
		t.Error(got)
	}
}
