package main

import (
	_ "embed"

	"github.com/heatwright/heatwright/calphad"
)

// Heatwright's own license and those of the modules that are built into the
// program; scripts/licenses gathers them.
//
//go:embed licenses.txt
var licenses string

type licensesCmd struct{}

func (c *licensesCmd) Run(d *desk) error {
	_, err := d.out.Write([]byte(licenses + "\n\n" + calphad.Attribution()))
	return outside(err)
}
