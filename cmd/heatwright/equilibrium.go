package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// EquilibriumCmd shows the phases of a steel at a temperature, or draws its
// phase diagram.
type EquilibriumCmd struct {
	Composition string `help:"What the steel holds, in mass percent: \"C 0.95, Mn 1.2\". Elements not named are absent." placeholder:"TEXT"`
	Steel       string `help:"A grade by its name instead, with its typical composition." placeholder:"NAME"`
	At          string `help:"The temperature, with its unit: \"800 C\"." placeholder:"TEMP"`
	JSON        bool   `name:"json" help:"Write the answer as JSON."`
	Database    string `help:"A thermodynamic database of your own in the common text form (TDB) instead of the built-in one." type:"path" placeholder:"FILE"`
	Diagram     string `help:"Draw instead: phases, the section through carbon and the amounts, as SVG." placeholder:"phases"`
	Out         string `help:"File for the drawing instead of the screen." type:"path" placeholder:"FILE"`
}

// Run implements the command.
func (c *EquilibriumCmd) Run(d *desk) error {
	comp, name, left, err := c.composition()
	if err != nil {
		return err
	}
	db, err := c.database(d)
	if err != nil {
		return err
	}
	switch c.Diagram {
	case "":
	case "phases":
		return c.draw(d, db, comp, name)
	default:
		return inputError("--diagram %s: there is one diagram, phases", c.Diagram)
	}
	a := answer{composition: comp, left: left}
	if c.At != "" {
		T, err := unit.ParseTemp(c.At)
		if err != nil {
			return inputError("--at: %w", err)
		}
		q, err := db.Equilibrium(comp, float64(T))
		if err != nil {
			return equilibriumError(err)
		}
		a.q = &q
	}
	if a.tr, err = db.Transitions(comp); err != nil {
		return equilibriumError(err)
	}
	if c.JSON {
		return a.json(d)
	}
	return a.print(d, name)
}

// largestDatabase is how much of a file is read at most; the reader takes less.
const largestDatabase = 16 << 20

// database opens the built-in parameters or those of a file.
func (c *EquilibriumCmd) database(d *desk) (*calphad.Database, error) {
	if c.Database == "" {
		return calphad.Open()
	}
	f, err := os.Open(c.Database)
	if err != nil {
		return nil, outsideError("the database cannot be read: %w", err)
	}
	defer f.Close() //nolint:errcheck // only read
	text, err := io.ReadAll(io.LimitReader(f, largestDatabase))
	if err != nil {
		return nil, outsideError("the database cannot be read: %w", err)
	}
	p, err := calphad.ReadTDB(text)
	if err == nil {
		for _, left := range p.LeftOut {
			fmt.Fprintln(d.err, "left out:", left)
		}
		var db *calphad.Database
		if db, err = calphad.New(p); err == nil {
			return db, nil
		}
	}
	return nil, inputError("%s: %s", c.Database, strings.ReplaceAll(err.Error(), "calphad: ", ""))
}

// equilibriumError tells a refusal of the equilibrium as something to be put right.
func equilibriumError(err error) error {
	return inputError("%s", strings.TrimPrefix(err.Error(), "calphad: "))
}

// composition returns what was asked about, its name, and what was given of
// elements that nobody keeps account of.
func (c *EquilibriumCmd) composition() (steel.Composition, string, []string, error) {
	switch {
	case c.Steel != "" && c.Composition != "":
		return steel.Composition{}, "", nil, inputError("--steel and --composition both name a steel: give one of them")
	case c.Steel != "":
		g, err := steel.Find(c.Steel)
		if err != nil {
			return steel.Composition{}, "", nil, inputError("--steel: %w", err)
		}
		return g.Nominal(), g.Name, nil, nil
	case c.Composition == "":
		return steel.Composition{}, "", nil, inputError("what steel? give --composition \"C 0.95, Mn 1.2, Cr 0.5\" or --steel O1")
	}
	a, err := steel.ParseAnalysis(c.Composition)
	var bad *steel.Error
	if errors.As(err, &bad) {
		return steel.Composition{}, "", nil, inputError("--composition: %w", err)
	}
	if err != nil {
		return steel.Composition{}, "", nil, err
	}
	comp := a.Composition
	for e := range comp {
		if !a.Given[e] {
			comp[e] = 0 // an equilibrium is that of what was named
		}
	}
	return comp, comp.String(), a.Ignored, nil
}

func (c *EquilibriumCmd) draw(d *desk, db *calphad.Database, comp steel.Composition, name string) error {
	svg, err := d.phaseDrawing(db, comp, name)
	if err != nil {
		return equilibriumError(err)
	}
	return d.deliver(c.Out, svg)
}

// answer is what the command has to say.
type answer struct {
	composition steel.Composition
	left        []string // elements that were named and are not kept account of
	q           *calphad.Equilibrium
	tr          calphad.Transitions
}

// covered reports whether the equilibrium takes the element into account.
func (a *answer) covered(e steel.Element) bool {
	for _, p := range a.q.Phases {
		if p.Composition[e] > 0 {
			return true
		}
	}
	return false
}

func (a *answer) notes() []cite.Note {
	notes := a.tr.Notes
	for _, text := range a.left {
		element, _, _ := strings.Cut(text, " ")
		notes = append(notes, cite.Note{Code: "equilibrium.not-kept", Args: []cite.Quantity{cite.Txt("element", element), cite.Txt("text", text)}})
	}
	if a.composition[steel.P] > 0 || a.composition[steel.S] > 0 {
		notes = append(notes, cite.Note{Code: "equilibrium.solidus-too-high"})
	}
	return notes
}

func (a *answer) print(d *desk, name string) error {
	s := d.style("metric")
	w := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	if a.q != nil {
		fmt.Fprintf(d.out, "%s, %s\n\n", name, toTheDegree(s, a.q.T))
		present := []steel.Element{}
		head := "\tmass %\t"
		for e := range steel.NumElements {
			if a.composition[e] > 0 && a.covered(e) {
				present = append(present, e)
				head += e.String() + "\t"
			}
		}
		fmt.Fprintln(w, head)
		for _, p := range a.q.Phases {
			fmt.Fprintf(w, "%s\t%.2f\t", p.Name, 100*p.MassFraction)
			for _, e := range present {
				fmt.Fprintf(w, "%.3f\t", p.Composition[e])
			}
			fmt.Fprintln(w)
		}
		if err := w.Flush(); err != nil {
			return outside(err)
		}
		if a.q.CarbonActivity > 0 {
			fmt.Fprintf(d.out, "\n%s\n", s.Of("equilibrium.activity", cite.Num("activity", a.q.CarbonActivity, "1")).Say)
		}
		fmt.Fprintln(d.out)
	} else {
		fmt.Fprintf(d.out, "%s\n\n", name)
	}
	fmt.Fprintln(d.out, s.Of("equilibrium.spread").Say)
	w = tabwriter.NewWriter(d.out, 0, 0, 2, ' ', 0)
	for _, row := range a.named() {
		t := s.Of("equilibrium." + row.code)
		fmt.Fprintf(w, "%s\t%s\t%s\t%.0f–%.0f %s\n", t.Say, t.Term, toTheDegree(s, row.T), reading(s, row.T-row.half), reading(s, row.T+row.half), degrees(s))
	}
	if err := w.Flush(); err != nil {
		return outside(err)
	}
	for _, n := range a.notes() {
		fmt.Fprintf(d.out, "\n%s\n", s.Note(n).Say)
	}
	return nil
}

type namedT struct {
	code    string
	T, half float64 // and half of the range in which published databases put it
}

// named returns the named temperatures that this steel has, in rising order but
// for the field of three phases.
func (a *answer) named() []namedT {
	ae, acm, solidus := calphad.Spread(a.composition)
	all := []namedT{
		{"ae1-start", a.tr.Ae1Start, ae}, {"ae1-end", a.tr.Ae1End, ae}, {"ae3", a.tr.Ae3, ae},
		{"acm", a.tr.Acm, acm}, {"solidus", a.tr.Solidus, solidus}, {"liquidus", a.tr.Liquidus, solidus},
	}
	var list []namedT
	for _, n := range all {
		if n.T > 0 {
			list = append(list, n)
		}
	}
	return list
}

// json writes the answer for other programs. Within /1 keys are only added.
func (a *answer) json(d *desk) error {
	type jsonPhase struct {
		Name         string             `json:"name"`
		MassFraction float64            `json:"mass_fraction"`
		Composition  map[string]float64 `json:"composition_wt"`
	}
	type jsonChange struct {
		T       float64 `json:"temperature_c"`
		Phase   string  `json:"phase"`
		Appears bool    `json:"appears"`
	}
	out := struct {
		Format       string             `json:"format"`
		Composition  map[string]float64 `json:"composition_wt"`
		Temperature  *float64           `json:"temperature_c,omitempty"`
		Phases       []jsonPhase        `json:"phases,omitempty"`
		Austenite    map[string]float64 `json:"austenite_wt,omitempty"`
		Activity     float64            `json:"carbon_activity,omitempty"`
		Enthalpy     float64            `json:"enthalpy_j_kg,omitempty"`
		HeatCapacity float64            `json:"heat_capacity_j_kg_k,omitempty"`
		Transitions  map[string]float64 `json:"transitions"`
		Spread       map[string]float64 `json:"transitions_half_band_k"` // 10th to 90th percentile between published databases
		Changes      []jsonChange       `json:"changes"`
		Notes        []cite.Note        `json:"notes,omitempty"`
	}{Format: "heatwright.equilibrium/1", Composition: percents(a.composition), Transitions: map[string]float64{}, Spread: map[string]float64{}, Notes: a.notes()}
	if a.q != nil {
		T := celsius(a.q.T)
		out.Temperature, out.Activity, out.Enthalpy, out.HeatCapacity = &T, a.q.CarbonActivity, a.q.Enthalpy, a.q.HeatCapacity
		for _, p := range a.q.Phases {
			out.Phases = append(out.Phases, jsonPhase{p.Name, p.MassFraction, percents(p.Composition)})
			if p.Name == calphad.Austenite {
				out.Austenite = percents(p.Composition)
			}
		}
	}
	for _, n := range a.named() {
		key := strings.ReplaceAll(n.code, "-", "_")
		out.Transitions[key+"_c"], out.Spread[key] = celsius(n.T), n.half
	}
	for _, c := range a.tr.Changes {
		out.Changes = append(out.Changes, jsonChange{celsius(c.T), c.Phase, c.Appears})
	}
	enc := json.NewEncoder(d.out)
	enc.SetIndent("", "  ")
	return outside(enc.Encode(out))
}

// celsius returns °C without the rounding of the subtraction.
func celsius(T float64) float64 { return math.Round((T-273.15)*1e6) / 1e6 }

// toTheDegree says a temperature [K] in both units, not rounded to what a forge
// can hold: an equilibrium is sharper than a fire.
func toTheDegree(s words.Style, T float64) string {
	c, f := fmt.Sprintf("%.0f °C", T-273.15), fmt.Sprintf("%.0f °F", (T-273.15)*1.8+32)
	if s.Units == unit.Imperial {
		c, f = f, c
	}
	return c + " (" + f + ")"
}

func percents(c steel.Composition) map[string]float64 {
	m := map[string]float64{}
	if fe := c.Fe(); fe > 1e-9 {
		m["Fe"] = fe
	}
	for e, x := range c {
		if x > 0 {
			m[steel.Element(e).String()] = x
		}
	}
	return m
}
