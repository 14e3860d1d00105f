package steel

import (
	"fmt"
	"sort"
	"strings"
)

// Names of forms and uses that several steels are sold under: ask which.
//
// Source: common practice.
var ambiguous = map[string][]string{
	"drillrod":         {"W1", "O1", "A2"},
	"silversteel":      {"W1", "O1", "110WCrV5"},
	"gaugeplate":       {"O1", "A2", "D2"},
	"gageplate":        {"O1", "A2", "D2"},
	"groundflatstock":  {"O1", "A2", "D2"},
	"toolsteel":        {"O1", "W1", "A2", "D2"},
	"springsteel":      {"5160", "6150", "9260", "1075", "1095"},
	"leafspring":       {"5160", "6150", "9260", "1095"},
	"coilspring":       {"5160", "6150", "9260"},
	"bluespringsteel":  {"1075", "1095"},
	"filesteel":        {"1095", "W1", "W2"},
	"mildsteel":        {"A36", "1018"},
	"hotrolled":        {"A36", "1018", "1045"},
	"coldrolled":       {"1018", "1045"},
	"carbonsteel":      {"1045", "1075", "1084", "1095"},
	"highcarbonsteel":  {"1075", "1084", "1095"},
	"highcarbon":       {"1075", "1084", "1095"},
	"bearingsteel":     {"52100"},
	"chromemoly":       {"4140"},
	"waterhardening":   {"W1", "W2", "C105U"},
	"oilhardening":     {"O1", "O2", "O6"},
	"airhardening":     {"A2", "D2", "S7"},
	"en42":             {"1075", "1080"},
	"oldfile":          {"1095", "W1", "W2"},
	"sawblade":         {"1075", "1080", "L6", "75Ni8"},
	"bandsaw":          {"1075", "75Ni8"},
	"ballbearing":      {"52100"},
	"crowbar":          {"1045", "1060", "1080"},
	"hammersteel":      {"1045", "1060", "4140"},
	"tungstensteel":    {"110WCrV5", "142WV13", "O1"},
	"hotworktoolsteel": {"H13"},
}

// plain strips a name of what people add and leave out: case, spaces, dashes,
// and the words in front and behind that name no steel.
func plain(name string) string {
	s := strings.ToLower(strings.TrimSpace(name))
	var b strings.Builder
	for _, r := range s {
		switch r {
		case ' ', '-', '_', '/', '\t', ',', '(', ')', '"', '\'', '\u00a0':
		default:
			b.WriteRune(r)
		}
	}
	s = b.String()
	for _, head := range []string{"aisi", "sae", "astm", "uns", "wnr", "w.nr.", "wnr.", "werkstoff", "din", "jis", "bs", "eniso", "enisotype"} {
		if rest, ok := strings.CutPrefix(s, head); ok && rest != "" {
			s = rest
		}
	}
	for _, tail := range []string{"steel", "type", "grade", "bar"} {
		if rest, ok := strings.CutSuffix(s, tail); ok && rest != "" && !isAmbiguous(s) {
			s = rest
		}
	}
	return s
}

func isAmbiguous(s string) bool { return ambiguous[s] != nil }

// Find returns the grade of this name or designation: "O1", "AISI 1095",
// "1.2842", "100Cr6". A steel of another standard that only comes near is
// returned with Asked set: show the composition beside it. A name that stands
// for several steels (drill rod, silver steel, leaf spring) and an unknown name
// give an *Error that lists them.
func Find(name string) (Grade, error) {
	key := plain(name)
	switch key {
	case "":
		return Grade{}, &Error{Text: "no name", Want: "a steel", Why: "nothing is written", Remedy: `give a grade such as "1084", a composition, or "unknown"`}
	case "unknown", "mystery", "mysterysteel", "?", "dontknow", "don'tknow", "notknown":
		return Unknown(), nil
	}
	for _, g := range book() {
		if plain(g.Name) == key || contains(g.Same, key) {
			return g, nil
		}
	}
	if which := ambiguous[key]; len(which) > 1 {
		return Grade{}, &Error{Text: shown(name), Want: "a steel", Why: "the name stands for several steels", Near: which, Ask: true,
			Remedy: `name the steel, or write "unknown"`}
	} else if len(which) == 1 {
		g, err := Find(which[0])
		g.Asked = name
		return g, err
	}
	for _, g := range book() {
		if contains(g.Near, key) {
			g.Asked = name
			return g, nil
		}
	}
	return Grade{}, &Error{Text: shown(name), Want: "a steel", Why: "no grade of that name is known", Near: nearest(key),
		Remedy: `give the composition instead, as "C 0.95, Mn 1.2, Cr 0.5"`}
}

func shown(name string) string {
	r := []rune(strings.ToValidUTF8(name, "?"))
	if len(r) > 40 {
		return fmt.Sprintf("%q", string(r[:39])+"…")
	}
	return fmt.Sprintf("%q", string(r))
}

func contains(list []string, key string) bool {
	for _, s := range list {
		if plain(s) == key {
			return true
		}
	}
	return false
}

// nearest returns up to four grades whose names take the fewest changes.
func nearest(key string) []string {
	if len(key) > 40 {
		key = key[:40]
	}
	type match struct {
		name string
		off  int
	}
	var all []match
	for _, g := range book() {
		best := edits(key, plain(g.Name))
		for _, s := range append(append([]string(nil), g.Same...), g.Near...) {
			best = min(best, edits(key, plain(s)))
		}
		all = append(all, match{g.Name, best})
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].off < all[j].off })
	var list []string
	for _, m := range all {
		if len(list) < 4 && m.off <= max(1, len(key)/2) {
			list = append(list, m.name)
		}
	}
	return list
}

// edits counts the letters to change, add, drop or swap with a neighbor
// between two names (Damerau and Levenshtein, restricted form).
func edits(a, b string) int {
	two := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	next := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			next[j] = min(prev[j]+1, next[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], two[j-2]+1)
			}
		}
		two, prev, next = prev, next, two
	}
	return prev[len(b)]
}

// Unknown returns mystery steel: a grade so wide that every answer about it
// carries a wide band. It covers the carbon and low-alloy steels that turn up
// as springs, bars and tools; not stainless, not high-speed steel.
func Unknown() Grade {
	g := Grade{Name: "unknown", Use: "mystery steel", Source: "common-practice", ReadBy: cite0}
	set := func(e Element, low, mid, high float64) {
		g.low[e], g.high[e], g.nominal[e], g.given[e] = low, high, mid, between
	}
	set(C, 0.30, 0.65, 1.10)
	set(Mn, 0.30, 0.80, 1.30)
	set(Si, 0.10, 0.30, 2.00)
	set(Cr, 0.03, 0.40, 1.60)
	set(Ni, 0.03, 0.10, 0.80)
	set(Mo, 0.005, 0.03, 0.25)
	set(V, 0, 0.03, 0.25)
	set(W, 0, 0.02, 0.60)
	g.Family = FamilyOf(g.Nominal())
	return g
}

const cite0 = "common practice"
