package main

import (
	"context"
	"errors"
	"fmt"
	"runtime"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/safety"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/study"
)

// forecast works the job through, and around it the runs that give each answer
// its band.
func forecast(ctx context.Context, job route.Job, o sim.Options, watch func(share float64, what string)) (*sim.History, error) {
	var tell func(sim.Progress)
	if watch != nil {
		tell = func(p sim.Progress) {
			what := p.Name
			if what == "spread" {
				what = "what may differ"
			}
			watch(p.Share, what)
		}
	}
	h, err := study.Forecast(ctx, job, study.Options{Options: o, Workers: runtime.NumCPU()}, tell)
	if err != nil {
		return nil, err
	}
	h.Cautions = safety.Review(job, h)
	return h, nil
}

// classify turns an error of a run into what the shell is told: what the smith
// can put right is his input; the rest is a fault of the program.
func classify(err error) error {
	var bad *sim.Error
	if !errors.As(err, &bad) {
		return err
	}
	place := "the job"
	if bad.Step != "" {
		place = "step " + bad.Step
	}
	what := bad.Text
	if bad.Err != nil {
		what += bad.Err.Error()
	}
	text := fmt.Sprintf("%s cannot be worked\n  %s", place, what)
	if bad.Limits != "" {
		text += "\n  taken: " + bad.Limits
	}
	if bad.Remedy != "" {
		text += "\n  do:    " + bad.Remedy
	}
	return &failure{exitInput, errors.New(text)}
}
