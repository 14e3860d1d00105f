package steel

import (
	"fmt"
	"strings"
)

// Element is a chemical element that the program keeps account of.
type Element int

// The elements of a Composition. Iron is the rest.
const (
	C Element = iota
	Si
	Mn
	Cr
	Ni
	Mo
	V
	W
	Cu
	N
	P
	S
	NumElements
)

var symbols = [NumElements]string{"C", "Si", "Mn", "Cr", "Ni", "Mo", "V", "W", "Cu", "N", "P", "S"}

// String returns the chemical symbol.
func (e Element) String() string { return symbols[e] }

func elementOf(symbol string) (Element, bool) {
	for e, s := range symbols {
		if strings.EqualFold(s, symbol) {
			return Element(e), true
		}
	}
	return 0, false
}

// Composition holds mass percent [wt %] of each element; iron is the rest.
type Composition [NumElements]float64

// Fe returns the mass percent of iron [wt %].
func (c Composition) Fe() float64 {
	rest := 100.0
	for _, x := range c {
		rest -= x
	}
	return rest
}

// String returns the elements above 0.05 % that make the steel, carbon first: "C 0.95, Mn 1.2, Cr 0.5".
func (c Composition) String() string {
	var b strings.Builder
	for e, x := range c {
		if Element(e) != C && x < 0.05 {
			continue
		}
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%s %.3g", Element(e), x)
	}
	return b.String()
}

// Least and most of each element that the models reach [wt %]. Beyond lie cast
// iron, stainless and high-speed steel, manganese steel that stays austenitic.
var covered = [NumElements]struct {
	low, high float64
	name      string // what lies above
}{
	C:  {0.05, 2.1, "cast iron"},
	Si: {0, 4, "silicon iron"},
	Mn: {0, 4, "austenitic manganese steel"},
	Cr: {0, 14, "stainless or heat-resisting steel"},
	Ni: {0, 6, "austenitic or maraging steel"},
	Mo: {0, 6, "high-speed steel"},
	V:  {0, 4, "high-vanadium steel"},
	W:  {0, 10, "high-speed steel"},
	Cu: {0, 2, "copper-bearing iron"},
	N:  {0, 0.3, "nitrogen steel"},
	P:  {0, 0.15, "phosphor iron"},
	S:  {0, 0.4, "sulfide-laden iron"},
}

// Check refuses a composition that the program has no physics for, with the limit that it breaks.
func (c Composition) Check() error {
	for e := range NumElements {
		x, r := c[e], covered[e]
		switch {
		case x >= r.low && x <= r.high:
		case e == C && x < r.low:
			return &Error{Want: "steel", Text: fmt.Sprintf("carbon %.3g %%", x), Why: "it has too little carbon to harden",
				Limits: "0.05-2.1 % carbon", Remedy: "give the carbon of the bar in percent"}
		case x > r.high:
			return &Error{Want: "steel", Text: fmt.Sprintf("%s %.3g %%", names[e], x), Why: "that is " + r.name,
				Limits: fmt.Sprintf("%g-%g %% %s", r.low, r.high, names[e]), Remedy: "check the number; percent is meant, not points"}
		default:
			return &Error{Want: "steel", Text: fmt.Sprintf("%s %.3g %%", names[e], x), Why: "no content can be that",
				Limits: fmt.Sprintf("%g-%g %% %s", r.low, r.high, names[e]), Remedy: "check the number"}
		}
	}
	return nil
}

var names = [NumElements]string{"carbon", "silicon", "manganese", "chromium", "nickel", "molybdenum", "vanadium", "tungsten",
	"copper", "nitrogen", "phosphorus", "sulfur"}
