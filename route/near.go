package route

import (
	"math"
	"strings"
)

// nearest returns the word that takes the fewest changes to get to, if that is
// few for its length.
func nearest(to string, words []string) string {
	best, least := "", math.MaxInt
	for _, w := range words {
		if n := changes(strings.ToLower(to), strings.ToLower(w)); n < least {
			best, least = w, n
		}
	}
	if least > max(1, len(to)/3+1) || best == "" {
		return ""
	}
	return best
}

// changes counts the letters to put in, take out or swap (Levenshtein's distance).
func changes(a, b string) int {
	x, y := []rune(clip(a)), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		before := row[0]
		row[0] = i + 1
		for j := range y {
			cost := before
			if x[i] != y[j] {
				cost++
			}
			before = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}
