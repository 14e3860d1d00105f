package web

import (
	"net/http"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/unit"
)

// reader is whoever looks at a page: the words and units they use, and the
// light they read in.
type reader struct {
	words.Style
	Theme string // "paper" or "forge", the dark one
}

// Names of the cookies in which a reader's choice is kept. They hold no more than that.
const (
	cookieUnits = "bench_units"
	cookieWords = "bench_words"
	cookieTheme = "bench_theme"
)

// readerOf returns how to speak to the sender of a request: what was chosen
// here before, else what the browser's language suggests.
func readerOf(r *http.Request) reader {
	who := reader{Theme: "paper"}
	who.Language, who.Units = words.British, unit.Metric
	if first, _, _ := strings.Cut(r.Header.Get("Accept-Language"), ","); first == "" || strings.HasPrefix(strings.ToLower(first), "en-us") {
		who.Language, who.Units = words.American, unit.Imperial
	}
	switch chosen(r, cookieUnits) {
	case "metric":
		who.Units = unit.Metric
	case "imperial":
		who.Units = unit.Imperial
	}
	switch words.Language(chosen(r, cookieWords)) {
	case words.American:
		who.Language = words.American
	case words.British:
		who.Language = words.British
	}
	if chosen(r, cookieTheme) == "forge" {
		who.Theme = "forge"
	}
	return who
}

func chosen(r *http.Request, name string) string {
	c, err := r.Cookie(name)
	if err != nil {
		return ""
	}
	return c.Value
}

// choose keeps a reader's choice and goes back to the page it was made on.
func choose(w http.ResponseWriter, r *http.Request) {
	kept := map[string][]string{
		cookieUnits: {"metric", "imperial"},
		cookieWords: {string(words.American), string(words.British)},
		cookieTheme: {"paper", "forge"},
	}
	for name, allowed := range kept {
		value := r.FormValue(strings.TrimPrefix(name, "bench_"))
		for _, a := range allowed {
			if value == a {
				http.SetCookie(w, &http.Cookie{Name: name, Value: value, Path: "/", MaxAge: 400 * 86400, HttpOnly: true, SameSite: http.SameSiteStrictMode})
			}
		}
	}
	back := r.FormValue("back")
	if !strings.HasPrefix(back, "/") || strings.HasPrefix(back, "//") || strings.Contains(back, "\\") {
		back = "/"
	}
	http.Redirect(w, r, back, http.StatusSeeOther)
}

// w returns the words of the bench's own catalog.
func (who reader) w(key string) string { return who.Of("bench." + key).Say }
