package unit

import (
	"errors"
	"fmt"
	"strings"
)

// Error is a text that could not be read as a quantity. It says what was
// typed, what was wanted, the limits where there are any, and what to write instead.
type Error struct {
	Text   string // as typed, cut to a readable length
	Want   string // "a temperature"
	Why    string // what is wrong with it
	Limits string // "-100 to 1700 °C"; empty where none was met
	Remedy string // what to write instead
}

// Error returns the problem in one line.
func (e *Error) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "unit: %q is not %s: %s", e.Text, e.Want, e.Why)
	if e.Limits != "" {
		fmt.Fprintf(&b, " (limits %s)", e.Limits)
	}
	if e.Remedy != "" {
		fmt.Fprintf(&b, "; %s", e.Remedy)
	}
	return b.String()
}

// NeedsUnit reports whether err says that a number came without its unit.
func NeedsUnit(err error) bool {
	var e *Error
	return errors.As(err, &e) && e.Why == whyNoUnit
}

const (
	whyEmpty  = "nothing is written"
	whyNoUnit = "the unit is missing"
	whyNumber = "no number stands where one is needed"
	whyLong   = "it is too long"
	whyComma  = "a comma before three digits can mean a decimal or thousands"
	longest   = 120 // bytes; nobody writes a quantity longer than this
)

// shown returns the text as an error repeats it: never longer than 40 runes.
func shown(text string) string {
	runes := []rune(strings.ToValidUTF8(text, "?"))
	if len(runes) > 40 {
		return string(runes[:39]) + "…"
	}
	return string(runes)
}
