package web

import (
	"net/http"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
)

// entry is one word of the trade.
type entry struct{ ID, Word, Means, Term string }

// glossary shows the words of the trade with their meaning and the engineer's word.
func (b *bench) glossary(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	var all []entry
	for _, code := range words.Codes() {
		if name, ok := strings.CutPrefix(code, "word."); ok {
			t := who.Of(code)
			all = append(all, entry{name, t.Say, t.Why, t.Term})
		}
	}
	sort.Slice(all, func(i, j int) bool { return strings.ToLower(all[i].Word) < strings.ToLower(all[j].Word) })
	b.show(w, r, "word", who.w("words-title"), http.StatusOK, all)
}
