package sim

import "github.com/heatwright/heatwright/route"

// Prepare turns a job into a setup.
func Prepare(job route.Job) (*Setup, error) {
	s := &Setup{Name: job.Name, Demo: job.Demo}
	return s, nil
}
