package calphad

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Parameters is a thermodynamic database as its file states it, not yet joined
// to a composition.
type Parameters struct {
	Elements   []ElementData
	Functions  map[string]*Function
	Phases     []*PhaseData
	References map[string]string // key → publication
	LeftOut    []string          // what the reader met and does not use, in words
}

// ElementData is one ELEMENT line: molar mass [g/mol].
type ElementData struct {
	Symbol string
	Mass   float64
}

// Function is a named function of temperature.
type Function struct {
	Name   string
	Line   int
	pieces []piece
	curve  curve
	state  int // 0 unread, 1 being read, 2 read
}

// PhaseData is a phase with its sublattices, constituents and parameters.
type PhaseData struct {
	Name         string
	Sites        []float64
	Constituents [][]string // element symbols or "VA", as the file orders them
	AntiFerro    float64    // magnetic factor, −1 or −3; 0 without magnetism
	ShortRange   float64    // fraction of the magnetic enthalpy above Tc, 0.28 or 0.40
	Parameters   []*ParameterData
	typeCodes    string
}

// ParameterData is one PARAMETER line.
type ParameterData struct {
	Kind         string // "G", "TC" or "BMAGN"
	Constituents [][]string
	Order        int
	Reference    string
	Line         int
	pieces       []piece
	curve        curve
}

// ReadTDB reads a thermodynamic database in the common open text form. It takes
// files of unknown origin: size, number of commands, nesting and work are
// bounded, and the first fault is returned with its line.
//
// Of the form it knows ELEMENT, FUNCTION, PHASE, CONSTITUENT, PARAMETER (G, L, TC,
// BMAGN or BMAG), TYPE_DEFINITION for magnetism and LIST_OF_REFERENCES, with the
// usual abbreviations. A phase that needs more (ordering, associates, charge) is
// left out and named in LeftOut.
func ReadTDB(text []byte) (*Parameters, error) {
	if len(text) > maxFile {
		return nil, fmt.Errorf("calphad: the database has %d bytes, this reader takes %d", len(text), maxFile)
	}
	r := &tdb{p: &Parameters{Functions: map[string]*Function{}, References: map[string]string{}},
		phases: map[string]*PhaseData{}, skipped: map[string]bool{}}
	for _, c := range commands(string(text)) {
		if r.count++; r.count > maxCommands {
			return nil, fmt.Errorf("calphad: more than %d commands in the database", maxCommands)
		}
		if err := r.command(c); err != nil {
			return nil, fmt.Errorf("calphad: database line %d: %w", c.line, err)
		}
	}
	if err := r.finish(); err != nil {
		return nil, fmt.Errorf("calphad: %w", err)
	}
	return r.p, nil
}

type command struct {
	line int
	text string
}

// commands cuts a file at each '!' and drops comment lines, which start with $.
func commands(text string) []command {
	var list []command
	var b strings.Builder
	start := 0
	flush := func() {
		if s := strings.TrimSpace(b.String()); s != "" {
			list = append(list, command{start, s})
		}
		b.Reset()
		start = 0
	}
	line := 0
	for raw := range strings.Lines(text) {
		line++
		if strings.HasPrefix(strings.TrimSpace(raw), "$") {
			continue
		}
		for {
			before, after, found := strings.Cut(raw, "!")
			if start == 0 && strings.TrimSpace(before) != "" {
				start = line
			}
			b.WriteString(before)
			if !found {
				break
			}
			flush()
			raw = after
		}
	}
	flush()
	return list
}

type tdb struct {
	p       *Parameters
	phases  map[string]*PhaseData
	skipped map[string]bool // phases left out
	magnets []magnet
	work    int
	count   int
}

// magnet is a TYPE_DEFINITION that gives a phase its magnetic model.
type magnet struct {
	code, phase       string
	factor, shortness float64
}

// keyword reports whether word abbreviates full, with at least n letters.
func keyword(word, full string, n int) bool {
	return len(word) >= n && strings.HasPrefix(full, word)
}

func (r *tdb) command(c command) error {
	fields := strings.Fields(c.text)
	word := strings.ToUpper(fields[0])
	body := strings.TrimSpace(c.text[len(fields[0]):])
	switch {
	case keyword(word, "ELEMENT", 3):
		return r.element(fields[1:])
	case keyword(word, "FUNCTION", 3):
		return r.function(c.line, body)
	case keyword(word, "PHASE", 2):
		return r.phase(fields[1:])
	case keyword(word, "CONSTITUENT", 3):
		return r.constituents(body)
	case keyword(word, "PARAMETER", 3):
		return r.parameter(c.line, body)
	case keyword(word, "TYPE_DEFINITION", 3):
		return r.typeDefinition(fields[1:])
	case keyword(word, "LIST_OF_REFERENCES", 4), keyword(word, "ADD_REFERENCES", 4):
		return r.references(body)
	case keyword(word, "SPECIES", 3), keyword(word, "DEFINE_SYSTEM_DEFAULT", 3), keyword(word, "DEFAULT_COMMAND", 7),
		keyword(word, "ASSESSED_SYSTEMS", 3), keyword(word, "DATABASE_INFORMATION", 4), keyword(word, "VERSION_DATE", 3),
		keyword(word, "TEMPERATURE_LIMITS", 4), keyword(word, "REFERENCE_FILE", 4), keyword(word, "DIFFUSION", 4):
		return nil
	}
	return fmt.Errorf("unknown command %q", short(fields[0]))
}

func (r *tdb) element(f []string) error {
	if len(f) < 3 {
		return fmt.Errorf("ELEMENT needs a symbol, a reference phase and a molar mass")
	}
	symbol := strings.ToUpper(f[0])
	mass, err := strconv.ParseFloat(f[2], 64)
	if err != nil || mass < 0 || mass > 400 || mass != mass || len(symbol) > 2 {
		return fmt.Errorf("element %q: the molar mass %q is outside 0 to 400 g/mol", short(symbol), short(f[2]))
	}
	if symbol == "/-" {
		return nil
	}
	if slices.ContainsFunc(r.p.Elements, func(e ElementData) bool { return e.Symbol == symbol }) {
		return fmt.Errorf("element %s is given twice", symbol)
	}
	if symbol != "VA" && mass == 0 {
		return fmt.Errorf("element %s has no molar mass", symbol)
	}
	r.p.Elements = append(r.p.Elements, ElementData{symbol, mass})
	return nil
}

func (r *tdb) function(line int, body string) error {
	name, rest, _ := strings.Cut(body, " ")
	if i := strings.IndexAny(name, "\t\n\r"); i >= 0 {
		name, rest = body[:i], body[i:]
	}
	name = strings.ToUpper(name)
	list, _, err := pieces(rest)
	if err != nil {
		return fmt.Errorf("function %s: %w", short(name), err)
	}
	if r.p.Functions[name] != nil {
		return fmt.Errorf("function %s is given twice", short(name))
	}
	r.p.Functions[name] = &Function{Name: name, Line: line, pieces: list}
	return nil
}

// phaseName drops the state code of "LIQUID:L".
func phaseName(s string) string {
	s, _, _ = strings.Cut(strings.ToUpper(s), ":")
	return s
}

func (r *tdb) phase(f []string) error {
	if len(f) < 4 {
		return fmt.Errorf("PHASE needs a name, type codes, the number of sublattices and their sites")
	}
	name := phaseName(f[0])
	n, err := strconv.Atoi(f[2])
	if err != nil || n < 1 || n > 10 || len(f) < 3+n {
		return fmt.Errorf("phase %s: %q sublattices; 1 to 10 with one number of sites each", short(name), short(f[2]))
	}
	if r.phases[name] != nil {
		return fmt.Errorf("phase %s is given twice", short(name))
	}
	ph := &PhaseData{Name: name, typeCodes: f[1]}
	for _, s := range f[3 : 3+n] {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil || !(x > 0 && x <= 1000) {
			return fmt.Errorf("phase %s: %q sites on a sublattice; they lie above 0 and up to 1000", short(name), short(s))
		}
		ph.Sites = append(ph.Sites, x)
	}
	r.phases[name] = ph
	r.p.Phases = append(r.p.Phases, ph)
	return nil
}

func (r *tdb) leaveOut(ph *PhaseData, why string) {
	if !r.skipped[ph.Name] {
		r.skipped[ph.Name] = true
		r.p.LeftOut = append(r.p.LeftOut, fmt.Sprintf("phase %s: %s", ph.Name, why))
	}
}

func (r *tdb) constituents(body string) error {
	// the name may carry a state code: "LIQUID:L :C,FE:"
	head, rest, found := strings.Cut(body, " ")
	if !found {
		head, rest, _ = strings.Cut(body, ":")
		rest = ":" + rest
	}
	ph := r.phases[phaseName(strings.TrimSpace(head))]
	if ph == nil {
		return fmt.Errorf("constituents of %q, which is no phase so far", short(head))
	}
	if ph.Constituents != nil {
		return fmt.Errorf("phase %s has its constituents twice", ph.Name)
	}
	rest = strings.Trim(strings.TrimSpace(rest), ":")
	for _, lattice := range strings.Split(rest, ":") {
		var names []string
		for _, c := range strings.FieldsFunc(lattice, func(r rune) bool { return r == ',' || r == ' ' || r == '\n' || r == '\t' || r == '\r' }) {
			c = strings.ToUpper(strings.TrimSuffix(c, "%"))
			if slices.Contains(names, c) {
				return fmt.Errorf("phase %s names constituent %s twice on a sublattice", ph.Name, short(c))
			}
			names = append(names, c)
		}
		ph.Constituents = append(ph.Constituents, names)
	}
	if len(ph.Constituents) != len(ph.Sites) {
		return fmt.Errorf("phase %s has %d sublattices and constituents for %d", ph.Name, len(ph.Sites), len(ph.Constituents))
	}
	return nil
}

func (r *tdb) parameter(line int, body string) error {
	open, shut := strings.Index(body, "("), strings.Index(body, ")")
	if open < 0 || shut < open {
		return fmt.Errorf("PARAMETER without its parentheses")
	}
	kind := strings.ToUpper(strings.TrimSpace(body[:open]))
	inside, rest := body[open+1:shut], body[shut+1:]
	switch kind {
	case "L":
		kind = "G"
	case "BMAG", "BM":
		kind = "BMAGN"
	case "G", "TC", "BMAGN":
	default:
		return nil // mobilities, volumes and the like belong to other uses of the form
	}
	name, cons, found := strings.Cut(inside, ",")
	ph := r.phases[phaseName(strings.TrimSpace(name))]
	if ph == nil || !found {
		return fmt.Errorf("parameter of %q, which is no phase so far", short(name))
	}
	d := &ParameterData{Kind: kind, Line: line}
	if before, after, has := strings.Cut(cons, ";"); has {
		n, err := strconv.Atoi(strings.TrimSpace(after))
		if err != nil || n < 0 || n > 9 {
			return fmt.Errorf("order %q of a parameter; 0 to 9", short(after))
		}
		cons, d.Order = before, n
	}
	for _, lattice := range strings.Split(cons, ":") {
		var names []string
		for _, c := range strings.Split(lattice, ",") {
			names = append(names, strings.ToUpper(strings.TrimSpace(c)))
		}
		d.Constituents = append(d.Constituents, names)
	}
	list, after, err := pieces(rest)
	if err != nil {
		return fmt.Errorf("parameter %s(%s): %w", kind, short(inside), err)
	}
	d.pieces = list
	d.Reference = strings.TrimPrefix(strings.TrimSuffix(after, "!"), "REF:")
	ph.Parameters = append(ph.Parameters, d)
	return nil
}

func (r *tdb) typeDefinition(f []string) error {
	for i, s := range f {
		if u := strings.ToUpper(s); !keyword(u, "MAGNETIC", 3) || i < 2 {
			continue
		}
		if len(f) < i+3 {
			return fmt.Errorf("MAGNETIC needs a factor and a fraction")
		}
		a, err1 := strconv.ParseFloat(f[i+1], 64)
		p, err2 := strconv.ParseFloat(f[i+2], 64)
		if err1 != nil || err2 != nil || !(a <= -0.5 && a >= -10) || !(p > 0.01 && p < 1) {
			return fmt.Errorf("magnetic factor %q and fraction %q; usual are -1 or -3 and 0.28 or 0.40", short(f[i+1]), short(f[i+2]))
		}
		r.magnets = append(r.magnets, magnet{f[0], phaseName(f[i-1]), a, p})
	}
	if len(f) > 4 && slices.ContainsFunc(f, func(s string) bool { return strings.HasPrefix(strings.ToUpper(s), "DIS") }) {
		for i, s := range f {
			if u := strings.ToUpper(s); keyword(u, "DISORDERED_PART", 3) || keyword(u, "DIS_PART", 3) {
				if ph := r.phases[phaseName(f[i-1])]; ph != nil {
					r.leaveOut(ph, "it is an ordered form with a disordered part")
				} else {
					r.skipped[phaseName(f[i-1])] = true
					r.p.LeftOut = append(r.p.LeftOut, fmt.Sprintf("phase %s: it is an ordered form with a disordered part", phaseName(f[i-1])))
				}
			}
		}
	}
	return nil
}

// references reads "NUMBER SOURCE 'key' 'text'" pairs; the key may stand bare.
func (r *tdb) references(body string) error {
	fields := quoted(body)
	for len(fields) > 0 && (strings.EqualFold(fields[0], "NUMBER") || strings.EqualFold(fields[0], "SOURCE")) {
		fields = fields[1:]
	}
	for i := 0; i+1 < len(fields); i += 2 {
		r.p.References[fields[i]] = fields[i+1]
	}
	return nil
}

func quoted(s string) []string {
	var list []string
	for s = strings.TrimSpace(s); s != ""; s = strings.TrimSpace(s) {
		if q := s[0]; q == '\'' || q == '"' {
			text, rest, _ := strings.Cut(s[1:], string(q))
			list, s = append(list, strings.Join(strings.Fields(text), " ")), rest
			continue
		}
		end := strings.IndexAny(s, " \t\r\n")
		if end < 0 {
			end = len(s)
		}
		list, s = append(list, s[:end]), s[end:]
	}
	return list
}
