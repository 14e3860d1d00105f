package web

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"net/http"
	"slices"
	"strings"

	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/steel"
)

// wallSteels are the steels that every wall chart compares, beside the job's own.
var wallSteels = []string{"1084", "1095", "5160", "O1"}

// wall shows the wall chart of the shop of a job, as a page or as PDF.
func (b *bench) wall(pdf bool) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		who := readerOf(r)
		job, problems, err := unpack(r.URL.Query().Get("j"))
		if err != nil {
			b.fail(w, r, err)
			return
		}
		if len(problems) > 0 {
			b.openWith(w, r, http.StatusUnprocessableEntity, openView{Problems: told(problems, who), Text: string(route.Write(job))})
			return
		}
		if err := b.smithy.cores.Acquire(r.Context(), 1); err != nil {
			return // the browser has gone
		}
		defer b.smithy.cores.Release(1)
		grades := append([]string(nil), wallSteels...)
		for _, m := range job.Steel {
			if m.Grade != "" && !slices.Contains(grades, m.Grade) {
				grades = append([]string{m.Grade}, grades...)
			}
		}
		chart, err := plan.WallOf(r.Context(), job.Shop, grades, nil)
		if err != nil {
			b.fail(w, r, err)
			return
		}
		g, err := steel.Find("1084")
		if err != nil {
			b.fail(w, r, err)
			return
		}
		b.print(w, r, jobsheet.WallChart(chart, job.Shop.Name, job.Demo, g.Nominal(), who.Style), "wall chart", pdf)
	}
}

// paper is what can be printed: a job sheet, a card, a chart.
type paper interface {
	HTML(w io.Writer) error
	PDF(w io.Writer) error
}

// print sends a paper as a page made for print, or as PDF. The page on the screen
// has a way to the PDF, to the printer and back, none of which is printed.
func (b *bench) print(w http.ResponseWriter, r *http.Request, s paper, title string, pdf bool) {
	var out bytes.Buffer
	draw := s.HTML
	if pdf {
		draw = s.PDF
	}
	if err := draw(&out); err != nil {
		b.fail(w, r, err)
		return
	}
	if pdf {
		attach(w, title+".pdf", "application/pdf")
		// A write error means that the browser has gone.
		_, _ = w.Write(out.Bytes())
		return
	}
	who := readerOf(r)
	nav := fmt.Sprintf(`<nav aria-label="%s"><button type="button" data-print>%s</button><a href="%s">PDF</a><a href="/plan?j=%s">%s</a></nav>`,
		who.w("print"), who.w("print"), html.EscapeString(r.URL.Path+".pdf?"+r.URL.RawQuery), html.EscapeString(r.URL.Query().Get("j")), who.w("back-to-the-plan"))
	page := strings.Replace(out.String(), "<body>", "<body>\n"+nav, 1)
	page = strings.Replace(page, "</head>", `<script src="/static/bench.js" defer></script></head>`, 1)
	if who.Theme == "forge" { // dark on the screen, black on white on paper
		page = strings.Replace(page, "<html ", `<html data-theme="forge" `, 1)
	}
	b.asPaper(w, page)
	_, _ = io.WriteString(w, page)
}

// card shows the pocket card of a job.
func (b *bench) card(pdf bool) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if a, ok := b.jobOf(w, r, "j"); ok {
			who := readerOf(r)
			b.print(w, r, jobsheet.CardOf(a.sheet(who), who.Style), a.job.Name+" card", pdf)
		}
	}
}
