package main

import (
	"github.com/heatwright/heatwright/route"
)

type schemaCmd struct{}

func (c *schemaCmd) Run(d *desk) error {
	_, err := d.out.Write(route.Schema())
	if err != nil {
		return outsideError("the schema cannot be written: %w", err)
	}
	return nil
}
