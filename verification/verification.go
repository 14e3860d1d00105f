// Package verification holds the heat solver against exact solutions, published
// numerical benchmarks and conservation. Each case is computed anew whenever it
// is asked for; docs/verification.md is the table that `heatwright verify` writes.
package verification

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shop"
)

// Case is one figure of one problem: what it should be, what the solver gives
// and how far apart they may be.
type Case struct {
	Problem   string   // "NAFEMS T3"
	Quantity  string   // "temperature at 0.08 m and 32 s"
	Unit      string   // "K", "°C", "–"
	Want, Got float64  // target and result; for an order of convergence Want is the least
	Tolerance float64  // largest |Got − Want| that passes; 0 when Want is a least or a most
	Bound     string   // "" for |Got − Want| ≤ Tolerance, "least" for Got ≥ Want, "most" for Got ≤ Want
	Source    cite.Key // where the target is from
	Reported  bool     // the target is from memory: shown, and not counted
	How       string   // mesh and step in words
}

// Passes reports whether the figure is as it should be.
func (c Case) Passes() bool {
	switch c.Bound {
	case "least":
		return c.Got >= c.Want
	case "most":
		return c.Got <= c.Want
	}
	return math.Abs(c.Got-c.Want) <= c.Tolerance
}

// All computes every case, in the order of the document. It takes some seconds.
func All() []Case {
	var all []Case
	for _, group := range []func() []Case{
		nafems, groeber, semiInfinite, twoBodies, lumped, stefan, finEdge, manufactured, timeOrder, conservation, cut,
		radiatingFlats, hotBlock, buriedPlate, buriedRound, companionBook, standardProbe, rememberedProbes, warmedBath,
	} {
		all = append(all, group()...)
	}
	return all
}

// Write prints the cases as a page of Markdown.
func Write(w io.Writer, all []Case) error {
	var b strings.Builder
	b.WriteString(`# Verification of the heat solver

Written by ` + "`heatwright verify`" + `; do not edit. Every line is computed anew by that command.

The solver (package conduction) is held against exact solutions, published
numerical benchmarks and its own conservation laws. "Reported" means that the target
was recalled from memory and is shown without being counted. What a
general-purpose finite-element library makes of five pieces is in reference/field/results.csv.

| problem | quantity | target | result | allowed | holds | source |
|---|---|---|---|---|---|---|
`)
	for _, c := range all {
		allowed := "± " + short(c.Tolerance)
		switch c.Bound {
		case "least":
			allowed = "at least"
		case "most":
			allowed = "at most"
		}
		holds := "yes"
		if !c.Passes() {
			holds = "**no**"
		}
		if c.Reported {
			holds += " (reported)"
		}
		got := short(c.Got)
		if c.Bound == "most" && c.Got < c.Want/1000 {
			got = "under " + short(c.Want/1000) // rounding, not the same on every machine
		}
		fmt.Fprintf(&b, "| %s | %s | %s %s | %s | %s | %s | %s |\n", c.Problem, c.Quantity, short(c.Want), c.Unit, got, allowed, holds, c.Source)
	}
	b.WriteString("\n## How each was computed\n\n")
	seen := map[string]bool{}
	for _, c := range all {
		if line := c.Problem + ": " + c.How; c.How != "" && !seen[line] {
			seen[line] = true
			b.WriteString("- " + line + "\n")
		}
	}
	b.WriteString("\n## Bands of the surface laws\n\nHow far each law may be off: eight times of ten within this factor, down or up. The answers of the program carry the bands of baths and joints as they stand here; those of fires and ovens by how well their temperature is known.\n\n| law | factor | holds for | held to |\n|---|---|---|---|\n")
	for _, a := range append(medium.Accuracy(), shop.Accuracy()...) {
		if a.Factor {
			fmt.Fprintf(&b, "| %s | %.2f | %s | %s |\n", a.Quantity, a.Half, a.Covers, a.HeldTo)
		}
	}
	b.WriteString("\n## Sources\n\n")
	named := map[cite.Key]bool{}
	for _, c := range all {
		if s, ok := cite.Find(c.Source); ok && !named[c.Source] {
			named[c.Source] = true
			fmt.Fprintf(&b, "- `%s`: %s\n", s.Key, s)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// short prints five significant digits, so that the page is the same on every machine.
func short(v float64) string { return fmt.Sprintf("%.5g", v) }
