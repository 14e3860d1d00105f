package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/unit"
)

// shopCmd tells what the equipment of a shop does in an evening.
type shopCmd struct {
	File    string `arg:"" help:"A shop file, or a job file for its shop; - reads it from standard input."`
	Evening string `placeholder:"TIME" default:"3 h" help:"How long the fires burn."`
	Curves  string `placeholder:"DIR" help:"Write the cooling curve of the standard probe in each bath into this folder, as CSV: time, temperature, rate."`
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
	if c.Curves != "" {
		if err := writeCurves(s.Kit(), c.Curves); err != nil {
			return err
		}
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

// writeCurves writes what the standard probe would draw in each bath: fast-oil.csv.
func writeCurves(s shop.Shop, folder string) error {
	if f, err := os.Stat(folder); err != nil || !f.IsDir() {
		return inputError("there is no folder %s to write to", folder)
	}
	bench, err := s.Start()
	if err != nil {
		return inputError("%w", err)
	}
	files := map[string][]byte{}
	for _, e := range bench.All() {
		p, ok := e.(*shop.Pool)
		if !ok {
			continue
		}
		curve := plan.Probed(p)
		var b bytes.Buffer
		b.WriteString("time_s,center_c,rate_k_per_s\n")
		for i := range curve.Time {
			fmt.Fprintf(&b, "%.2f,%.2f,%.2f\n", curve.Time[i], curve.T[i]-medium.CelsiusZero, curve.Rate[i])
		}
		files[filepath.Join(folder, fileName(p.Name())+".csv")] = b.Bytes()
	}
	return writeAll(files)
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
