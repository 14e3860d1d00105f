package main

import (
	"encoding/json"
	"fmt"
	"os"

	"github.com/heatwright/heatwright/evidence"
)

// evidenceCmd holds the models against a folder of measurements and prints how
// far off they are, beside the published formulas on the same rows.
type evidenceCmd struct {
	Data string `help:"Folder of the data sets (CSV)." env:"HEATWRIGHT_DATA" placeholder:"DIR"`
	JSON bool   `help:"Print the figures as JSON instead of a page." name:"json"`
	Plot string `help:"Draw computed against measured into this folder." placeholder:"DIR"`
}

func (c *evidenceCmd) Run(d *desk) error {
	if c.Data == "" {
		return inputError("no data: give the folder of the data sets with --data DIR, or in HEATWRIGHT_DATA")
	}
	if at, err := os.Stat(c.Data); err != nil {
		return outsideError("the folder of the data sets cannot be read: %w", err)
	} else if !at.IsDir() {
		return inputError("%s is a file; --data wants the folder that holds the data sets", c.Data)
	}
	watch := func(int, int, string) {}
	if terminal(d.err) {
		watch = func(done, of int, file string) { _, _ = fmt.Fprintf(d.err, "\r\033[K%d of %d: %s", done+1, of, file) }
		defer func() { _, _ = fmt.Fprint(d.err, "\r\033[K") }()
	}
	report, err := evidence.Run(d.ctx, os.DirFS(c.Data), watch)
	if err != nil {
		if d.ctx.Err() != nil {
			return d.ctx.Err()
		}
		return inputError("%w", err)
	}
	if c.Plot != "" {
		if _, err := report.Plot(c.Plot); err != nil {
			return outsideError("the drawings cannot be written: %w", err)
		}
	}
	if c.JSON {
		out := json.NewEncoder(d.out)
		out.SetIndent("", "  ")
		err = out.Encode(report)
	} else {
		err = report.Write(d.out)
	}
	if err != nil {
		return outsideError("the figures cannot be written: %w", err)
	}
	for _, f := range report.Faults {
		fmt.Fprintf(d.err, "heatwright: not scored: %s\n", f)
	}
	if len(report.Faults) > 0 {
		return inputError("%d of the data sets could not be read; the others stand above", len(report.Faults))
	}
	return nil
}
