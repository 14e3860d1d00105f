package main

import (
	"bytes"
	"github.com/heatwright/heatwright/sim"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/steel"
)

// cardCmd prints the pocket card of a job.
type cardCmd struct {
	Job string `arg:"" help:"The job file; - reads it from standard input."`
	Out string `placeholder:"FILE" help:"Write the card as FILE.pdf or FILE.html; left out: HTML on standard output."`
}

func (c *cardCmd) Run(d *desk) error {
	job, err := d.readJob(c.Job)
	if err != nil {
		return err
	}
	h, err := d.work(job, sim.Options{})
	if err != nil {
		return err
	}
	style := d.style(job.Units)
	return d.paper(jobsheet.CardOf(jobsheet.Compose(job, h, style), style), c.Out)
}

// wallCmd prints the wall chart of the shop of a job.
type wallCmd struct {
	Job    string   `arg:"" help:"A job file: the chart is of its shop; - reads it from standard input."`
	Out    string   `placeholder:"FILE" help:"Write the chart as FILE.pdf or FILE.html; left out: HTML on standard output."`
	Steels []string `help:"The steels to compare." default:"1084,1095,5160,O1"`
}

func (c *wallCmd) Run(d *desk) error {
	job, err := d.readJob(c.Job)
	if err != nil {
		return err
	}
	for _, s := range c.Steels {
		if _, err := steel.Find(s); err != nil {
			return inputError("%s", strings.TrimPrefix(err.Error(), "steel: "))
		}
	}
	watch, done := d.progress()
	var tell func(float64)
	if watch != nil {
		tell = func(share float64) { watch(share, "wall chart") }
	}
	chart, err := plan.WallOf(d.ctx, job.Shop, c.Steels, tell)
	done()
	if err != nil {
		return classify(err)
	}
	g, err := steel.Find("1084")
	if err != nil {
		return err
	}
	return d.paper(jobsheet.WallChart(chart, job.Shop.Name, job.Demo, g.Nominal(), d.style(job.Units)), c.Out)
}

// paper writes a paper to a file, by the ending of its name, or as HTML to the output.
func (d *desk) paper(p interface {
	HTML(w io.Writer) error
	PDF(w io.Writer) error
}, out string) error {
	draw := p.HTML
	switch ext := strings.ToLower(filepath.Ext(out)); ext {
	case ".pdf":
		draw = p.PDF
	case "", ".html", ".htm":
	default:
		return inputError("a paper is written as .html or .pdf, not as %q: name the file so", ext)
	}
	var b bytes.Buffer
	if err := draw(&b); err != nil {
		return err
	}
	if out == "" {
		_, err := d.out.Write(b.Bytes())
		return outside(err)
	}
	if folder := filepath.Dir(out); folder != "." {
		if f, err := os.Stat(folder); err != nil || !f.IsDir() {
			return inputError("there is no folder %s to write to", folder)
		}
	}
	return writeAll(map[string][]byte{out: b.Bytes()})
}
