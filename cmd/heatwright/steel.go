package main

import (
	"errors"
	"fmt"
	"strings"
	"text/tabwriter"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

type steelCmd struct {
	Name        []string `arg:"" optional:"" help:"A grade as it is called, 1084 or O1; nothing lists them all."`
	Diagram     string   `help:"Draw instead, as SVG: it, what forms while it is held at a temperature; cc, while it cools steadily; phases, what there is at equilibrium." placeholder:"it|cc|phases"`
	Composition string   `help:"A steel by what it holds, in mass percent, for a drawing: \"C 0.95, Mn 1.2\". What is not named is as usual." placeholder:"TEXT"`
	Austenitize string   `help:"How the austenite of it and cc is made: \"815 C, 5 min\". Without it: as the sheets of the grade have it." placeholder:"TEXT"`
	Bar         string   `help:"How the bar of it and cc comes: spheroidized, lamellar, normalized, hardened, as-forged." default:"spheroidized" placeholder:"HOW"`
	Out         string   `help:"File for the drawing instead of the screen." type:"path" placeholder:"FILE"`
}

func (c *steelCmd) Run(d *desk) error {
	if c.Diagram != "" {
		return c.diagram(d)
	}
	if c.Composition != "" || c.Austenitize != "" {
		return inputError("--composition and --austenitize are for a drawing\n  do: add --diagram it, cc or phases")
	}
	if len(c.Name) == 0 {
		return d.listSteels()
	}
	return d.showSteel(strings.Join(c.Name, " "))
}

func (d *desk) listSteels() error {
	w := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "steel\tcarbon %\twhat it is\talso called")
	for _, g := range steel.Grades() {
		fmt.Fprintf(w, "%s\t%.2f\t%s\t%s\n", g.Name, g.Nominal()[steel.C], g.Use, strings.Join(g.Same, ", "))
	}
	return outside(w.Flush())
}

func (d *desk) showSteel(name string) error {
	g, err := steel.Find(name)
	var bad *steel.Error
	if errors.As(err, &bad) {
		near := ""
		if len(bad.Near) > 0 {
			near = "\n  near it: " + strings.Join(bad.Near, ", ")
		}
		return inputError("%s: %s%s\n  do: %s", name, bad.Why, near, bad.Remedy)
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(d.out, "%s: %s\n", g.Name, g.Use)
	if g.Asked != "" {
		fmt.Fprintf(d.out, "%s comes near it; compare the figures with the paper of your bar.\n", g.Asked)
	}
	if len(g.Same) > 0 {
		fmt.Fprintf(d.out, "also called: %s\n", strings.Join(g.Same, ", "))
	}
	if len(g.Near) > 0 {
		fmt.Fprintf(d.out, "near to it: %s\n", strings.Join(g.Near, ", "))
	}
	fmt.Fprintln(d.out, "\nin percent; residuals are what scrap leaves in steel where the standard says nothing")
	w := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "\ttypical\tfrom\tto\t")
	mid := g.Nominal()
	low, high := g.Range()
	for e := range steel.NumElements {
		if mid[e] == 0 && high[e] == 0 {
			continue
		}
		from := ""
		if !g.Specified(e) {
			from = "residual"
		}
		fmt.Fprintf(w, "%s\t%.3g\t%.3g\t%.3g\t%s\n", e, mid[e], low[e], high[e], from)
	}
	if err := w.Flush(); err != nil {
		return outside(err)
	}
	if err := d.showCritical(mid, low, high); err != nil {
		return err
	}
	if s, ok := cite.Find(g.Source); ok {
		fmt.Fprintf(d.out, "\nlimits: %s\n", s)
	}
	return nil
}
