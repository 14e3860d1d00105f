package web

import (
	"bytes"
	"net/http"
	"slices"

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
			b.show(w, r, "open", who.w("open"), http.StatusUnprocessableEntity, openView{Problems: told(problems, who), Text: string(route.Write(job))})
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
		b.print(w, r, jobsheet.WallChart(chart, job.Shop.Name, job.Demo, g.Nominal(), who.Style), pdf)
	}
}

// print sends a sheet as a page made for print, or as PDF.
func (b *bench) print(w http.ResponseWriter, r *http.Request, s *jobsheet.Sheet, pdf bool) {
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
		attach(w, s.Title+".pdf", "application/pdf")
	} else {
		b.asPaper(w, out.String())
	}
	// A write error means that the browser has gone.
	_, _ = w.Write(out.Bytes())
}
