package main

import "fmt"

type checkCmd struct {
	Job string `arg:"" help:"The job file; - reads it from standard input."`
}

func (c *checkCmd) Run(d *desk) error {
	job, err := d.readJob(c.Job)
	if err != nil {
		return err
	}
	fmt.Fprintf(d.out, "%s: %s in %d steps; nothing has to be put right\n", c.Job, job.Name, len(job.Steps))
	return nil
}
