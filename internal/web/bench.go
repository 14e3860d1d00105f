// Package web is the bench: pages that a browser on this machine shows, made by
// this program, with nothing fetched from anywhere else. It translates between
// forms and jobs and between histories and pages, and computes nothing itself.
//
// It keeps no job: a plan lives in the address of its page. What it remembers
// are answers, so that a page seen twice is marched once.
package web

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/sim"
)

//go:embed static
var static embed.FS

//go:embed pages/*.html
var pages embed.FS

// bench answers the requests.
type bench struct {
	smithy *smithy
	pages  map[string]*template.Template
}

// Handler returns the bench for listeners whose Host headers are in hosts.
func Handler(hosts map[string]bool, engine sim.Engine) http.Handler {
	b := &bench{smithy: newSmithy(engine), pages: map[string]*template.Template{}}
	for _, name := range []string{"first", "plan", "inside", "compare", "open", "word", "colors", "seen"} {
		t := template.Must(template.ParseFS(pages, "pages/layout.html", "pages/answer.html", "pages/parts.html"))
		b.pages[name] = template.Must(t.ParseFS(pages, "pages/"+name+".html"))
	}
	files, err := fs.Sub(static, "static")
	if err != nil {
		panic("web: " + err.Error()) // embedded
	}
	mux := http.NewServeMux()
	mux.Handle("GET /static/", cached(http.StripPrefix("/static/", http.FileServerFS(files))))
	mux.HandleFunc("GET /{$}", b.first)
	mux.HandleFunc("GET /plan", b.plan)
	mux.HandleFunc("GET /inside", b.inside)
	mux.HandleFunc("GET /compare", b.compare)
	mux.HandleFunc("GET /words", b.glossary)
	mux.HandleFunc("GET /sheet", b.sheet(false))
	mux.HandleFunc("GET /sheet.pdf", b.sheet(true))
	mux.HandleFunc("GET /card", b.card(false))
	mux.HandleFunc("GET /card.pdf", b.card(true))
	mux.HandleFunc("GET /colors", b.colors)
	mux.HandleFunc("GET /seen", b.seen)
	mux.HandleFunc("GET /chart", b.chart(false))
	mux.HandleFunc("GET /chart.pdf", b.chart(true))
	mux.HandleFunc("GET /wall", b.wall(false))
	mux.HandleFunc("GET /wall.pdf", b.wall(true))
	mux.HandleFunc("GET /job.toml", b.save)
	mux.HandleFunc("GET /open", b.openPage)
	mux.HandleFunc("POST /open", b.open)
	mux.HandleFunc("POST /choose", choose)
	return guard(hosts, compressed(mux))
}

// cached lets a browser keep what does not change while this program runs.
func cached(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Cache-Control", "public, max-age=3600")
		next.ServeHTTP(w, r)
	})
}

// page is what every page has.
type page struct {
	who   reader
	Lang  string
	Theme string
	Title string
	Here  string // its own address
	Data  any
}

// W returns words of the bench for a template.
func (p page) W(key string) string { return p.who.w(key) }

// Imperial reports whether inches and °F come first.
func (p page) Imperial() bool { return p.who.Units.String() == "imperial" }

// Forge reports whether the page is in its dress for the dark.
func (p page) Forge() bool { return p.Theme == "forge" }

// American reports whether the words are American.
func (p page) American() bool { return p.Lang == "en-US" }

// openWith shows the page on which a job file is brought in, with what is wrong with it.
func (b *bench) openWith(w http.ResponseWriter, r *http.Request, status int, v openView) {
	who := readerOf(r)
	b.render(w, "open", "layout", status, page{who, string(who.Language), who.Theme, who.w("open"), r.URL.RequestURI(), v})
}

// render makes a page whole before a byte of it is sent.
func (b *bench) render(w http.ResponseWriter, name, part string, status int, data any) {
	var out bytes.Buffer
	if err := b.pages[name].ExecuteTemplate(&out, part, data); err != nil {
		panic(fmt.Sprintf("web: page %s: %v", name, err)) // a fault of the template
	}
	if w.Header().Get("Content-Type") == "" { // else a page that waited has begun already
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		w.WriteHeader(status)
	}
	// A write error means that the browser has gone.
	_, _ = w.Write(out.Bytes())
}

// fail answers with a plain sentence where a page cannot be made.
func (b *bench) fail(w http.ResponseWriter, r *http.Request, err error) {
	if r.Context().Err() != nil {
		return // the browser asked for something else meanwhile
	}
	b.openWith(w, r, http.StatusUnprocessableEntity, openView{Problems: problemsOf(err)})
}

// problem is one thing to put right, beside the field that it speaks of.
type problem struct {
	Field, What, Limits, Remedy string
	Choices                     []string // names that could have been meant
}

// problemsOf takes an error of the science apart into what, limits and remedy.
func problemsOf(err error) []problem {
	if err == nil {
		return nil
	}
	var s *sim.Error
	if errors.As(err, &s) && s.Err == nil {
		return []problem{{What: sentenceOf(s.Text), Limits: sentenceOf(s.Limits), Remedy: sentenceOf(s.Remedy)}}
	}
	text := strings.ReplaceAll(words.Plain(err), "the piece cannot be: ", "")
	parts := strings.SplitN(text, "; ", 2)
	p := problem{What: sentenceOf(parts[0])}
	if len(parts) > 1 {
		p.Remedy = sentenceOf(parts[1])
	}
	return []problem{p}
}

func sentenceOf(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
