package main

import (
	_ "embed"
)

// Heatwright's own license and those of the modules that are built into the
// program; scripts/licenses gathers them.
//
//go:embed licenses.txt
var licenses string

type licensesCmd struct{}

func (c *licensesCmd) Run(d *desk) error {
	_, err := d.out.Write([]byte(licenses))
	return outside(err)
}
