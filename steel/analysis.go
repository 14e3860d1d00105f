package steel

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
)

// Analysis is a composition as somebody gave it: which elements were given,
// which were left out and filled with typical residuals, and which were named
// but are not kept account of.
type Analysis struct {
	Composition Composition
	Given       [NumElements]bool
	Ignored     []string // "Al 0.02": elements that no model here uses
}

// Filled returns the elements that nobody gave and that got a typical residual.
func (a Analysis) Filled() []Element {
	var list []Element
	for e := range NumElements {
		if !a.Given[e] && a.Composition[e] > 0 {
			list = append(list, e)
		}
	}
	return list
}

// ParseComposition reads a composition written by hand or copied from a mill
// certificate; what is left out is filled with typical residuals. See ParseAnalysis.
func ParseComposition(text string) (Composition, error) {
	a, err := ParseAnalysis(text)
	return a.Composition, err
}

// Other elements that certificates print.
var others = map[string]bool{
	"al": true, "ti": true, "nb": true, "cb": true, "b": true, "sn": true, "co": true, "as": true, "pb": true, "ca": true, "o": true,
	"h": true, "sb": true, "zr": true, "bi": true, "te": true, "se": true, "ta": true, "zn": true, "la": true, "ce": true, "mg": true, "fe": true,
}

var elementNames = map[string]Element{
	"carbon": C, "silicon": Si, "manganese": Mn, "chromium": Cr, "chrome": Cr, "nickel": Ni, "molybdenum": Mo, "moly": Mo,
	"vanadium": V, "tungsten": W, "wolfram": W, "copper": Cu, "nitrogen": N, "phosphorus": P, "phosphor": P, "sulfur": S, "sulphur": S, //nolint:misspell // European spelling is read too
}

// Words and marks between the numbers of a certificate that say nothing about the composition.
var certificateWords = map[string]bool{
	"%": true, "wt": true, "wt%": true, "wt.%": true, "mass": true, "percent": true, "pct": true, "w": false, "heat": true, "cast": true, "analysis": true,
	"ladle": true, "chemical": true, "composition": true, "chemistry": true, "no": true, "element": true, "elements": true, "and": true, "with": true,
	"steel": true, "result": true, "results": true, "bal": true, "balance": true, "rest": true, "max": true, "approx": true, "about": true, "of": true, "in": true,
}

// ParseAnalysis reads a composition in any of the ways it is written:
// "C 0.95, Mn 1.2, Cr 0.5" · "0.95C 1.2Mn" · "C: .95 %; Mn=1.2" · "carbon 0.95" ·
// "95 points carbon" · a certificate with a line of symbols over a line of
// numbers, the numbers also as hundredths or thousandths where the line of
// symbols is followed by multipliers ("x100 x100 x1000").
// Carbon must be given, and the result must be a steel (Composition.Check).
func ParseAnalysis(text string) (Analysis, error) {
	if len(text) > 20000 {
		return Analysis{}, bad(text, "it is too long for a certificate", "copy only the lines of the analysis")
	}
	lines := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' })
	values := map[string]float64{}
	var err error
	for i := 0; i < len(lines); i++ {
		if used, got := table(lines[i:]); used > 0 {
			for s, x := range got {
				if err == nil {
					err = put(values, s, x)
				}
			}
			i += used - 1
			continue
		}
		if e := inline(lines[i], values); e != nil && err == nil {
			err = e
		}
	}
	if err != nil {
		return Analysis{}, err
	}
	return settle(text, values)
}

func bad(text, why, remedy string) error {
	return &Error{Text: shown(strings.TrimSpace(text)), Want: "a composition", Why: why, Remedy: remedy}
}

func put(values map[string]float64, symbol string, x float64) error {
	if old, twice := values[symbol]; twice && old != x {
		return bad(symbol, "it is given twice with different numbers", "leave one of them")
	}
	values[symbol] = x
	return nil
}

func settle(text string, values map[string]float64) (Analysis, error) {
	var a Analysis
	for s, x := range values {
		if e, ok := elementOf(s); ok {
			a.Composition[e], a.Given[e] = x, true
		} else if s != "fe" {
			a.Ignored = append(a.Ignored, fmt.Sprintf("%s%s %g", strings.ToUpper(s[:1]), s[1:], x))
		}
	}
	sort.Strings(a.Ignored)
	if !a.Given[C] {
		return Analysis{}, bad(text, "it gives no carbon", `write it as "C 0.95, Mn 1.2, Cr 0.5", in percent`)
	}
	for e := range NumElements {
		if !a.Given[e] {
			a.Composition[e] = residuals[e].typical
		}
	}
	if err := a.Composition.Check(); err != nil {
		return Analysis{}, err
	}
	return a, nil
}

// symbolOf returns the lower-case symbol of an element by symbol or name.
func symbolOf(word string) (string, bool) {
	w := strings.ToLower(strings.Trim(word, "%()[]:"))
	if e, ok := elementNames[w]; ok {
		return strings.ToLower(symbols[e]), true
	}
	if _, ok := elementOf(w); ok || others[w] {
		return w, true
	}
	return "", false
}

// cells splits a line of a certificate into its cells.
func cells(line string) []string {
	return strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == '\t' || r == '|' || r == ';' || r == '\u00a0' })
}

// table reads a line of symbols, perhaps a line of multipliers, and a line of
// numbers. It returns the number of lines used, 0 when this is no table.
func table(lines []string) (used int, values map[string]float64) {
	var head []string
	for _, c := range cells(lines[0]) {
		s, ok := symbolOf(c)
		if !ok {
			if certificateWords[strings.ToLower(strings.Trim(c, ":.%"))] || c == "%" {
				continue
			}
			return 0, nil
		}
		head = append(head, s)
	}
	if len(head) < 2 {
		return 0, nil
	}
	scale := make([]float64, len(head))
	for i := range scale {
		scale[i] = 1
	}
	for at := 1; at < len(lines) && at < 5; at++ {
		if m := multipliers(lines[at]); len(m) == len(head) {
			scale = m
			continue
		}
		row := numbers(lines[at])
		if len(row) != len(head) {
			continue
		}
		values = map[string]float64{}
		for i, s := range head {
			values[s] = row[i] / scale[i]
		}
		return at + 1, values
	}
	return 0, nil
}

// numbers returns the numbers of a line when it holds nothing else.
func numbers(line string) []float64 {
	var row []float64
	for _, c := range cells(line) {
		if certificateWords[strings.ToLower(strings.Trim(c, ":.%"))] || c == "%" {
			continue
		}
		x, ok := decimal(strings.TrimLeft(c, "<"))
		if !ok {
			return nil
		}
		row = append(row, x)
	}
	return row
}

func multipliers(line string) []float64 {
	var row []float64
	for _, c := range cells(line) {
		s, ok := strings.CutPrefix(strings.ToLower(strings.ReplaceAll(c, "×", "x")), "x")
		x, isNumber := decimal(s)
		if !ok || !isNumber || x != 10 && x != 100 && x != 1000 && x != 10000 {
			return nil
		}
		row = append(row, x)
	}
	return row
}

// decimal reads ".95", "0,95", "0.95%".
func decimal(s string) (float64, bool) {
	s = strings.Replace(strings.TrimSuffix(s, "%"), ",", ".", 1)
	if s == "" || strings.ContainsAny(s, "eExXpP_+nN") { // no exponents, no hex, no NaN
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// inline reads pairs of symbol and number, in either order, from one line.
func inline(line string, values map[string]float64) error {
	words := pieces(line)
	order := 0 // +1 symbol first, −1 number first; settled by the first pair
	for i := 0; i < len(words); i++ {
		w := words[i]
		_, isSymbol := symbolOf(w)
		_, isNumber := decimal(w)
		switch {
		case isSymbol || isNumber:
			if i+1 < len(words) && (words[i+1] == "points" || words[i+1] == "point" || words[i+1] == "pt") && isNumber && i+2 < len(words) {
				if s, ok := symbolOf(words[i+2]); ok {
					x, _ := decimal(w)
					if err := put(values, s, math.Round(x*1e6)/1e8); err != nil {
						return err
					}
					i += 2
					continue
				}
			}
			if i+1 >= len(words) {
				return bad(line, fmt.Sprintf("%q stands alone", w), `write symbol and percent in pairs, as "C 0.95, Mn 1.2"`)
			}
			if order == 0 {
				order = -1
				if isSymbol {
					order = 1
				}
			}
			a, b := words[i], words[i+1]
			if order < 0 {
				a, b = b, a
			}
			s, ok := symbolOf(a)
			x, ok2 := decimal(b)
			if !ok || !ok2 {
				return bad(line, fmt.Sprintf("%q and %q are no symbol and number", words[i], words[i+1]), `write symbol and percent in pairs, as "C 0.95, Mn 1.2"`)
			}
			if err := put(values, s, x); err != nil {
				return err
			}
			i++
		case certificateWords[strings.ToLower(strings.Trim(w, ":."))]:
		default:
			return bad(line, fmt.Sprintf("%q is no element and no number", shortWord(w)), `write symbol and percent in pairs, as "C 0.95, Mn 1.2"`)
		}
	}
	return nil
}

func shortWord(w string) string {
	if r := []rune(w); len(r) > 20 {
		return string(r[:19]) + "…"
	}
	return w
}

// pieces splits a line into symbols and numbers, also where they touch: 0.95C, C0.95, C=.95.
func pieces(line string) []string {
	var list []string
	var now []rune
	flush := func() {
		if len(now) > 0 {
			list = append(list, string(now))
			now = nil
		}
	}
	runes := []rune(line)
	digit := func(i int) bool { return i >= 0 && i < len(runes) && runes[i] >= '0' && runes[i] <= '9' }
	kind := 0
	for i, r := range runes {
		k := 0
		switch {
		case r >= '0' && r <= '9', r == '.' && digit(i+1), r == ',' && digit(i+1) && (i == 0 || !digit(i-1) || zeroBefore(runes, i)),
			r == '-' && digit(i+1) && kind == 0:
			k = 1
		case r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '?':
			k = 2
		}
		if k == 0 {
			flush()
			kind = 0
			if r == '%' || r == ' ' || r == '\t' || r == ',' || r == ';' || r == ':' || r == '=' || r == '.' || r == '/' || r == '(' || r == ')' || r == '|' || r == '-' || r == '–' || r == '\u00a0' {
				continue
			}
			list = append(list, string(r))
			continue
		}
		if k != kind {
			flush()
		}
		kind = k
		now = append(now, r)
	}
	flush()
	return list
}

// zeroBefore tells a decimal comma from a comma between two numbers: only
// after a lone 0 or 1 digit is it taken for a decimal, as in 0,95 and 1,2.
func zeroBefore(runes []rune, comma int) bool {
	n := 0
	for i := comma - 1; i >= 0 && (runes[i] >= '0' && runes[i] <= '9' || runes[i] == '.'); i-- {
		if runes[i] == '.' {
			return false
		}
		n++
	}
	return n <= 2
}
