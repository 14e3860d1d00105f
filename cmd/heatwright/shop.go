package main

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// shopCmd tells what the equipment of a shop does in an evening.
type shopCmd struct {
	File    string `arg:"" help:"A shop file, or a job file for its shop; - reads it from standard input."`
	Evening string `placeholder:"TIME" default:"3 h" help:"How long the fires burn."`
}

func (c *shopCmd) Run(d *desk) error {
	length, err := unit.ParseDuration(c.Evening)
	if err != nil || !(length >= 60 && length <= 24*3600) {
		return inputError("%q is no evening: give a time from 1 min to 24 h, as 3 h", c.Evening)
	}
	text, err := d.read(c.File)
	if err != nil {
		return err
	}
	s, units, err := d.shopOf(c.File, text)
	if err != nil {
		return err
	}
	notes, err := plan.Evening(s.Kit(), float64(length))
	if err != nil {
		return inputError("%w", err)
	}
	style := d.style(units)
	where := ""
	for _, n := range notes {
		if n.Where != where {
			where = n.Where
			if _, err := fmt.Fprintf(d.out, "%s\n", where); err != nil {
				return outside(err)
			}
		}
		if _, err := fmt.Fprintf(d.out, "  %s\n", style.Note(n).Say); err != nil {
			return outside(err)
		}
	}
	return nil
}

// shopOf reads a shop from a file of its own or from a job.
func (d *desk) shopOf(name string, text []byte) (route.Shop, string, error) {
	if !bytes.Contains(text, []byte("[[step]]")) && !bytes.Contains(text, []byte("[piece]")) {
		s, problems := route.ParseShop(text)
		if len(problems) > 0 {
			return s, "", &failure{exitInput, errors.New(tellProblems(d.style(""), name, problems))}
		}
		return s, "", nil
	}
	job, problems := route.Parse(text, besides(name))
	if len(problems) > 0 {
		return route.Shop{}, "", &failure{exitInput, errors.New(tellProblems(d.style(""), name, problems))}
	}
	return job.Shop, job.Units, nil
}
