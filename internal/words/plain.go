package words

import "strings"

// rooms are the packages whose errors a person may come to read.
var rooms = []string{
	"calphad: ", "color: ", "conduction: ", "jobsheet: ", "micro: ", "observe: ", "plan: ", "route: ", "shape: ", "shop: ",
	"sim: ", "skin: ", "steel: ", "study: ", "unit: ", "web: ", "words: ",
}

// Plain returns the text of an error without the names of the packages that it
// came through: they help whoever mends the program, not whoever works with it.
func Plain(err error) string {
	text := err.Error()
	for _, r := range rooms {
		text = strings.TrimPrefix(text, r)
		text = strings.ReplaceAll(text, ": "+r, ": ") // not where a sentence ends in "a steel: "
		text = strings.ReplaceAll(text, "\n"+r, "\n")
	}
	return text
}
