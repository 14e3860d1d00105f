package main

import (
	"context"
	"errors"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// forecast marches the job with its bands.
func forecast(ctx context.Context, job route.Job, o sim.Options, watch func(share float64, what string)) (*sim.History, error) {
	var tell func(sim.Progress)
	if watch != nil {
		tell = func(p sim.Progress) { watch(p.Share, p.Name) }
	}
	return sim.Run(ctx, job, o, tell)
}

// classify turns an error of a run into what the shell is told: what the smith
// can put right is his input; the rest is a fault of the program.
func classify(err error) error {
	var bad *sim.Error
	if errors.As(err, &bad) {
		return &failure{exitInput, err}
	}
	return err
}
