package web

import (
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strings"

	"github.com/heatwright/heatwright/route"
)

// sheet shows the job sheet as a page made for print, or as PDF.
func (b *bench) sheet(pdf bool) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if a, ok := b.jobOf(w, r, "j"); ok {
			b.print(w, r, a.sheet(readerOf(r)), a.job.Name, pdf)
		}
	}
}

// asPaper sets the headers of a sheet. It is one file that needs no other, so its
// style stands in it: the policy lets in exactly that style.
func (b *bench) asPaper(w http.ResponseWriter, page string) {
	w.Header().Set("Content-Security-Policy", strings.Replace(contentPolicy, "style-src 'self'", "style-src 'sha256-"+styleHash(page)+"'", 1))
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
}

func styleHash(page string) string {
	_, rest, _ := strings.Cut(page, "<style>")
	style, _, _ := strings.Cut(rest, "</style>")
	sum := sha256.Sum256([]byte(style))
	return base64.StdEncoding.EncodeToString(sum[:])
}

// save sends the job file.
func (b *bench) save(w http.ResponseWriter, r *http.Request) {
	text, err := unpackText(r.URL.Query().Get("j"))
	if err != nil {
		b.fail(w, r, err)
		return
	}
	job, _ := route.Parse(text, nil)
	attach(w, job.Name+".toml", "application/toml; charset=utf-8")
	_, _ = w.Write(text)
}

// attach names a file for the browser to keep, with nothing in its name that a disk dislikes.
func attach(w http.ResponseWriter, name, kind string) {
	clean := strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '.', c == '-':
			return c
		case c == ' ', c == '_':
			return '-'
		}
		return -1
	}, name)
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", clean))
}

// openView is where a job file is brought in.
type openView struct {
	Problems []problem
	Text     string
}

func (b *bench) openPage(w http.ResponseWriter, r *http.Request) {
	b.openWith(w, r, http.StatusOK, openView{})
}

// open reads a job file that was chosen or pasted. It never opens a file that
// the job names.
func (b *bench) open(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	text, err := uploaded(r)
	if err != nil {
		b.openWith(w, r, http.StatusRequestEntityTooLarge, openView{Problems: []problem{{What: who.w("open-too-large")}}})
		return
	}
	job, problems := route.Parse(text, nil)
	if len(problems) > 0 {
		b.openWith(w, r, http.StatusUnprocessableEntity, openView{Problems: told(problems, who), Text: string(text)})
		return
	}
	http.Redirect(w, r, address("/plan", job), http.StatusSeeOther)
}

func uploaded(r *http.Request) ([]byte, error) {
	err := r.ParseForm()
	if err == nil {
		err = r.ParseMultipartForm(maxBody)
	}
	if err != nil && !errors.Is(err, http.ErrNotMultipart) {
		return nil, fmt.Errorf("web: read upload: %w", err)
	}
	if text := strings.TrimSpace(r.FormValue("text")); text != "" {
		if link, err := url.Parse(text); err == nil && link.Query().Get("j") != "" {
			return unpackText(link.Query().Get("j"))
		}
		return []byte(text), nil
	}
	file, _, err := r.FormFile("file")
	if err != nil {
		return nil, nil // nothing was chosen: an empty file, which route tells of
	}
	text, err := io.ReadAll(io.LimitReader(file, maxBody))
	if err = errors.Join(err, file.Close()); err != nil {
		return nil, fmt.Errorf("web: read upload: %w", err)
	}
	return text, nil
}
