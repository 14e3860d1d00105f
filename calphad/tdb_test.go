package calphad

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

func embeddedParameters(t testing.TB) *Parameters {
	t.Helper()
	p, err := ReadTDB(steelTDB)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The embedded parameters are whole: counts, references, ranges, no jumps, no
// parameter stated twice, constituents in one order.
func TestEmbeddedParameters(t *testing.T) {
	p := embeddedParameters(t)
	n := 0
	used := map[string]bool{}
	for _, d := range p.Phases {
		for s, names := range d.Constituents {
			if !slices.IsSorted(names) {
				t.Errorf("%s: constituents of sublattice %d are out of order", d.Name, s+1)
			}
		}
		for _, q := range d.Parameters {
			n++
			used[q.Reference] = true
			if q.Reference == "" {
				t.Errorf("line %d: no reference", q.Line)
			}
			for _, names := range q.Constituents {
				if !slices.IsSorted(names) {
					t.Errorf("line %d: %v: odd orders would change their sign", q.Line, names)
				}
			}
		}
	}
	if len(p.Elements) != 12 || len(p.Phases) != 18 || n != 833 || len(p.Functions) != 43 || len(p.LeftOut) != 0 {
		t.Errorf("%d elements, %d phases, %d parameters, %d functions, left out %v", len(p.Elements), len(p.Phases), n, len(p.Functions), p.LeftOut)
	}
	for key := range p.References {
		if !used[key] {
			t.Errorf("reference %s is not used", key)
		}
	}
	if err := p.Check(); err != nil {
		t.Error(err)
	}
}

func TestAdditionsAndSourcesAreInTheBibliography(t *testing.T) {
	if len(additions()) != 2 {
		t.Errorf("%d additions", len(additions()))
	}
	for _, a := range additions() {
		if a.Uncertainty <= 0 || a.ReadBy == "" {
			t.Errorf("addition of %s lacks its uncertainty or how it was read", a.Element)
		}
	}
	for _, a := range Accuracy() {
		if _, ok := cite.Find(a.Source); !ok || a.Half <= 0 || a.HeldTo == "" {
			t.Errorf("claim %s: source %q", a.Model, a.Source)
		}
	}
	for _, k := range []cite.Key{"povoden-2016", "hallstedt-2017", "sundman-1981", "hillert-jarl-1978", "sundman-2015", "hillert-1998", "gustafson-1985", "dinsdale-1991"} {
		if _, ok := cite.Find(k); !ok {
			t.Errorf("%s is not in the bibliography", k)
		}
	}
	for _, word := range []string{"CC BY 4.0", "Hallstedt", "Frichtl", "MIT license", "Open Database License"} {
		if !strings.Contains(Attribution(), word) {
			t.Errorf("the attribution does not name %q", word)
		}
	}
}

const tiny2 = `$ a small database, one command over several lines, abbreviations, lower case
ELEM VA VACUUM 0 0 0 !
ELEM FE BCC_A2 55.847 0 0 ! ELEM C GRAPHITE 12.011 0 0 !
FUNCT gfe 298.15 -1000+2*T-3*T*LN(T)+4E-3*T**2-5*T**(-1); 900 Y
  -1900+3*T-3*T*LN(T)+4E-3*T**2-5*T**(-1); 6000 N !
TYPE_DEF % SEQ * !
TYPE_DEF B GES AMEND_PHASE_DESCRIPTION BCC_A2 MAGNETIC -1 .4 !
PHASE LIQUID:L % 1 1.0 !
CONST LIQUID:L :C,FE: !
PARA G(LIQUID,FE;0) 298.15 2*(GFE#-100)+T*T/2; 6000 N REF1 !
PARA L(LIQUID,C,FE;1) 298.15 -5; 6000 N !
PHASE BCC_A2 %B 2 1 3 !
CONSTITUENT BCC_A2 :FE%:C,VA%: !
PARAMETER TC(BCC_A2,FE:VA;0) 298.15 1043; 6000 N !
PHASE GAS:G % 1 1 !
CONST GAS:G :C1O1: !
LIST_OF_REFERENCES
NUMBER SOURCE
 REF1 'somebody, somewhere' !
`

// The forms that such files are written in: abbreviations, comments, state codes,
// percent signs of major constituents, functions with and without #.
func TestFormsOfTheText(t *testing.T) {
	p, err := ReadTDB([]byte(tiny2))
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Phases) != 2 || len(p.LeftOut) != 1 || !strings.Contains(p.LeftOut[0], "GAS") {
		t.Fatalf("phases %v, left out %v", p.Phases, p.LeftOut)
	}
	g := p.Phases[0].Parameters[0].curve
	for _, T := range []float64{500, 1200} {
		a, b := -1000.0, 2.0
		if T > 900 {
			a, b = -1900, 3
		}
		gfe := a + b*T - 3*T*math.Log(T) + 4e-3*T*T - 5/T
		if want := 2*(gfe-100) + T*T/2; math.Abs(g.value(T)-want) > 1e-9*math.Abs(want) {
			t.Errorf("%g K: %v, want %v", T, g.value(T), want)
		}
	}
	if b := p.Phases[1]; b.AntiFerro != -1 || b.ShortRange != 0.4 {
		t.Errorf("magnetism %g, %g", b.AntiFerro, b.ShortRange)
	}
	if p.References["REF1"] != "somebody, somewhere" {
		t.Errorf("references %v", p.References)
	}
	if _, err := New(p); err == nil || !strings.Contains(err.Error(), "lacks phase FCC_A1") {
		t.Errorf("a database without austenite: %v", err)
	}
}

// Faults are named with their line; none makes the reader work for long.
func TestFaultsOfTheText(t *testing.T) {
	phase := "ELEMENT FE BCC_A2 55.8 0 0 !\nELEMENT C GRAPHITE 12 0 0 !\nPHASE A % 1 1 !\nCONSTITUENT A :C,FE: !\n"
	deep := strings.Repeat("(", 40) + "1" + strings.Repeat(")", 40)
	bomb := "ELEMENT FE BCC_A2 55.8 0 0 !\nFUNCTION F0 298 T+1; 6000 N !\n"
	for i := 1; i < 40; i++ {
		f, g := "F"+string(rune('0'+i/10))+string(rune('0'+i%10)), "F0"
		if i > 1 {
			g = "F" + string(rune('0'+(i-1)/10)) + string(rune('0'+(i-1)%10))
		}
		bomb += "FUNCTION " + f + " 298 (" + g + "+1)*(" + g + "-1); 6000 N !\n"
	}
	for _, row := range []struct{ text, want string }{
		{"", "holds no phase"},
		{"NONSENSE 1 2 !", "line 1: unknown command"},
		{"ELEMENT FE BCC_A2 heavy 0 0 !", "molar mass"},
		{"ELEMENT FE BCC_A2 55.8 0 0 !\nELEMENT FE BCC_A2 55.8 0 0 !", "line 2: element FE is given twice"},
		{"PHASE A % 99 1 !", "sublattices"},
		{"PHASE A % 1 -1 !", "sites"},
		{"CONSTITUENT A :FE: !", "no phase so far"},
		{phase + "CONSTITUENT A :C,FE: !", "twice"},
		{phase + "PARAMETER G(A,AL;0) 298 1; 6000 N !", "AL, which is no constituent"},
		{phase + "PARAMETER G(A,FE;3) 298 1; 6000 N !", "end-member of A has order 3"},
		{phase + "PARAMETER G(A,FE:C;0) 298 1; 6000 N !", "names 2 sublattices of 1"},
		{phase + "PARAMETER G(A,FE;0) 298 1+; 6000 N !", "ends early"},
		{phase + "PARAMETER G(A,FE;0) 298 1", "no ';'"},
		{phase + "PARAMETER G(A,FE;0) 298 GXX; 6000 N !", `unknown function "GXX"`},
		{phase + "PARAMETER G(A,FE;0) 298 EXP(T); 6000 N !", "EXP is not taken"},
		{phase + "PARAMETER G(A,FE;0) 298 1/(T+1); 6000 N !", "division"},
		{phase + "PARAMETER G(A,FE;0) 298 T**99; 6000 N !", "exponent"},
		{phase + "PARAMETER G(A,FE;0) 298 " + deep + "; 6000 N !", "nested parentheses"},
		{phase + "PARAMETER G(A,FE;0) 900 1; 300 N !", "runs backward"},
		{phase + "FUNCTION F1 298 F2; 6000 N !\nFUNCTION F2 298 F1; 6000 N !\nPARAMETER G(A,FE;0) 298 F1; 6000 N !", "calls itself"},
		{bomb + "PHASE A % 1 1 !\nCONSTITUENT A :FE: !\nPARAMETER G(A,FE;0) 298 F39; 6000 N !", "F"},
		{"TYPE_DEFINITION B GES A_P_D X MAGNETIC 0 0 !", "magnetic factor"},
		{strings.Repeat("x", maxFile+1), "bytes"},
	} {
		_, err := ReadTDB([]byte(row.text))
		if err == nil || !strings.Contains(err.Error(), row.want) || !strings.HasPrefix(err.Error(), "calphad: ") {
			t.Errorf("%s: %v, want %q", short(row.text), err, row.want)
		}
	}
}

// A database can be read and still be wrong.
func TestFaultsOfAGoodText(t *testing.T) {
	text := string(steelTDB)
	for _, row := range []struct{ from, to, want string }{
		{"6000 N REF:91Din", "6000 N REF:99Nobody", "is not in the list"},
		{"PARAMETER G(LIQUID,C;0) 298.15", "PARAMETER G(LIQUID,C;0) 900", "it holds from 900"},
		{"1811 Y +4.9251E+30", "1811 Y +4.9251E+30", ""},
		{"+GHSERFE;\n  1811 Y -1713.815", "+GHSERFE;\n  1811 Y -17138.15", "jumps"},
		{"PARAMETER L(LIQUID,C,CR;1) 298.15", "PARAMETER L(LIQUID,CR,C;0) 298.15", "stated again"},
		{"PHASE CEMENTITE", "PHASE CEMENTIT2", "no phase so far"},
	} {
		if !strings.Contains(text, row.from) {
			if row.want != "" {
				t.Errorf("the text no longer holds %q", row.from)
			}
			continue
		}
		p, err := ReadTDB([]byte(strings.Replace(text, row.from, row.to, 1)))
		if err == nil {
			_, err = New(p)
		}
		if row.want != "" && (err == nil || !strings.Contains(err.Error(), row.want)) {
			t.Errorf("%q for %q: %v, want %q", row.to, row.from, err, row.want)
		}
	}
}

// Another person's database gives another's answers: without the nickel phases'
// parameters nothing breaks, without tungsten its element is named.
func TestAnotherDatabase(t *testing.T) {
	var kept []string
	for _, c := range commands(string(steelTDB)) {
		if !strings.Contains(c.text, "W") || strings.HasPrefix(c.text, "FUNCTION") || strings.HasPrefix(c.text, "LIST") {
			kept = append(kept, c.text+" !")
			continue
		}
		if strings.HasPrefix(c.text, "CONSTITUENT") {
			c.text = strings.ReplaceAll(strings.ReplaceAll(c.text, ",W", ""), "W,", "")
			kept = append(kept, c.text+" !")
		}
	}
	p, err := ReadTDB([]byte(strings.Join(kept, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	p.References = nil
	other, err := New(p)
	if err != nil {
		t.Fatal(err)
	}
	c := steel.Composition{steel.C: 0.9, steel.Cr: 1, steel.W: 0.3}
	q, err := other.Equilibrium(c, 1100)
	if err != nil {
		t.Fatal(err)
	}
	if len(q.Notes) != 1 || q.Notes[0].Args[0].Text != "W" {
		t.Errorf("notes %v", q.Notes)
	}
	ours, _ := Open()
	c[steel.W] = 0
	a, _ := ours.Equilibrium(c, 1100)
	b, _ := other.Equilibrium(c, 1100)
	if d := differ(outcome(&a), outcome(&b), 1e-9); d != "" {
		t.Errorf("without tungsten: %s", d)
	}
}

// FuzzReadTDB feeds the reader anything: it must return, with an error or with
// parameters that can be checked and evaluated.
func FuzzReadTDB(f *testing.F) {
	f.Add([]byte(tiny2))
	f.Add(steelTDB[:6000])
	f.Add([]byte("PHASE A % 1 1 !\nFUNCTION F 298.15 +T**(-9)*LN(T); 6000 N !"))
	f.Add([]byte("PARAMETER G(A,*:VA;0) 298.15 ((T)); 1 Y T; 6000 N !"))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := ReadTDB(text)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "calphad: ") {
				t.Errorf("error without its package: %v", err)
			}
			return
		}
		if p.Check() != nil {
			return
		}
		for _, d := range p.Phases {
			for _, q := range d.Parameters {
				q.curve.value(1000)
			}
		}
		var symbols []string
		for _, e := range p.Elements {
			if e.Symbol != "VA" && len(symbols) < 3 {
				symbols = append(symbols, e.Symbol)
			}
		}
		if sys, err := p.join(symbols, func(string) bool { return true }); err == nil {
			newWork(sys).at(1000)
		}
	})
}
