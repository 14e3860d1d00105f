package web

import (
	"net/http"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
)

// entry is one word of the trade.
type entry struct {
	ID, Word, Term string
	Means          []said
}

// wordsView is the page of words with who says their numbers.
type wordsView struct {
	page
	Entries []entry
	by      *sayer
}

// Sources are who says the numbers above.
func (v wordsView) Sources() []claim { return v.by.list() }

// glossary shows the words of the trade with their meaning and the engineer's word.
func (b *bench) glossary(w http.ResponseWriter, r *http.Request) {
	who := readerOf(r)
	v := wordsView{page: page{who, string(who.Language), who.Theme, who.w("words-title"), r.URL.RequestURI(), nil}, by: &sayer{who: who, prefix: "says-"}}
	for _, code := range words.Codes() {
		if name, ok := strings.CutPrefix(code, "word."); ok {
			t := who.Of(code)
			v.Entries = append(v.Entries, entry{name, t.Say, t.Term, v.by.say(words.Numbers(t.Why, "trade"))})
		}
	}
	sort.Slice(v.Entries, func(i, j int) bool { return strings.ToLower(v.Entries[i].Word) < strings.ToLower(v.Entries[j].Word) })
	b.render(w, "word", "layout", http.StatusOK, v)
}
