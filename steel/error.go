package steel

import (
	"fmt"
	"strings"
)

// Error is a steel that could not be taken: what was given, what is wrong with
// it, the limits, the remedy, and the names that come near.
type Error struct {
	Text   string
	Want   string
	Why    string
	Limits string
	Remedy string
	Near   []string // names that could have been meant
	Ask    bool     // the name is right but stands for several steels: Near lists them
}

// Error returns the problem in one line.
func (e *Error) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "steel: %s: %s", e.Text, e.Why)
	if e.Limits != "" {
		fmt.Fprintf(&b, "; this program covers %s", e.Limits)
	}
	if len(e.Near) > 0 {
		head := "near matches: "
		if e.Ask {
			head = "which one: "
		}
		fmt.Fprintf(&b, "; %s%s", head, strings.Join(e.Near, ", "))
	}
	if e.Remedy != "" {
		fmt.Fprintf(&b, "; %s", e.Remedy)
	}
	return b.String()
}
