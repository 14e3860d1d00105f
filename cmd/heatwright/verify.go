package main

import (
	"fmt"

	"github.com/heatwright/heatwright/verification"
)

// verifyCmd computes the verification of the heat solver anew and prints
// docs/verification.md. It fails when a figure is not as it should be.
type verifyCmd struct{}

func (c *verifyCmd) Run(d *desk) error {
	all := verification.All()
	if err := verification.Write(d.out, all); err != nil {
		return outsideError("the page cannot be written: %w", err)
	}
	for _, c := range all {
		if !c.Passes() && !c.Reported {
			return fmt.Errorf("%s, %s: %.5g, and it should be %.5g", c.Problem, c.Quantity, c.Got, c.Want)
		}
	}
	return nil
}
