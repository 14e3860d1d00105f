package words

import (
	_ "embed"
	"strings"
	"sync"
	"unicode"
)

// british.txt holds an American word and the British one for it in each line.
//
//go:embed british.txt
var britishList string

var british = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for line := range strings.Lines(britishList) {
		american, other, ok := strings.Cut(strings.TrimSpace(line), " = ")
		if ok {
			all[american] = other
		}
	}
	return all
})

// spell turns an American sentence into the reader's English, word by word.
func (s Style) spell(t string) string {
	if s.Language != British {
		return t
	}
	var b strings.Builder
	word := ""
	flush := func() {
		b.WriteString(britishWord(word))
		word = ""
	}
	for _, r := range t {
		if unicode.IsLetter(r) || r == '-' && word != "" {
			word += string(r)
			continue
		}
		flush()
		b.WriteRune(r)
	}
	flush()
	return b.String()
}

func britishWord(w string) string {
	other, ok := british()[strings.ToLower(w)]
	if !ok {
		return w
	}
	if w == strings.ToUpper(w) {
		return strings.ToUpper(other)
	}
	if unicode.IsUpper([]rune(w)[0]) {
		return strings.ToUpper(other[:1]) + other[1:]
	}
	return other
}
