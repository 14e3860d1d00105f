package route

import "strings"

// refusal is a way of working that the program does not offer to anybody. The
// reason and the way that is offered instead belong to its code.
type refusal struct {
	code  string
	words []string
}

func (r refusal) names(lower string) bool {
	for _, w := range r.words {
		if strings.Contains(lower, w) {
			return true
		}
	}
	return false
}

// notOffered lists what is refused with its reason wherever it is named.
var notOffered = []refusal{
	{"route.no-molten-salt", []string{"salt"}},
	{"route.no-molten-lead", []string{"lead"}},
	{"route.no-sub-zero", []string{"nitrogen", "dry ice", "cryo", "sub-zero", "subzero", "freezer", "acetone"}},
}

// hotOil is the refusal of tempering in a bath.
const hotOil = "route.no-hot-oil-temper"
