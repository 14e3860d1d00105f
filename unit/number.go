package unit

import "math"

// Numbers as people say them.
var numberWords = map[string]float64{
	"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
	"eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18,
	"nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}

var fractionWords = map[string]float64{
	"half": 1. / 2, "halves": 1. / 2, "third": 1. / 3, "thirds": 1. / 3, "quarter": 1. / 4, "quarters": 1. / 4,
	"eighth": 1. / 8, "eighths": 1. / 8, "sixteenth": 1. / 16, "sixteenths": 1. / 16,
}

// reader walks over the tokens of one text.
type reader struct {
	tokens []token
	at     int
}

func (r *reader) peek(ahead int) token {
	if r.at+ahead < len(r.tokens) {
		return r.tokens[r.at+ahead]
	}
	return token{}
}

func (r *reader) done() bool { return r.at >= len(r.tokens) }

// word consumes the next token if it is one of the words.
func (r *reader) word(words ...string) bool {
	t := r.peek(0)
	if t.kind != 'w' {
		return false
	}
	for _, w := range words {
		if t.text == w {
			r.at++
			return true
		}
	}
	return false
}

// sign consumes the next token if it is that sign.
func (r *reader) sign(kind rune) bool {
	if r.peek(0).kind == kind {
		r.at++
		return true
	}
	return false
}

// number is a number as written, with what its writing tells.
type number struct {
	value    float64
	fraction bool // written as a fraction: in lengths, that is inches
}

// number reads 38, 1.5, 1/4, 1-1/2, 1 1/2, 1½, "three quarters", "two and a
// half", "fifteen hundred". It consumes nothing when there is none.
func (r *reader) number() (number, bool) {
	start := r.at
	sign := 1.0
	if k := r.peek(0).kind; k == '-' || k == '+' {
		if k == '-' {
			sign = -1
		}
		r.at++
	}
	n, ok := r.unsigned()
	if !ok {
		r.at = start
		return number{}, false
	}
	n.value *= sign
	return n, true
}

func (r *reader) unsigned() (number, bool) {
	switch t := r.peek(0); t.kind {
	case 'n':
		return r.figures()
	case 'v':
		r.at++
		return number{t.value, true}, true
	case 'w':
		return r.words()
	}
	return number{}, false
}

// figures reads a number that begins with digits.
func (r *reader) figures() (number, bool) {
	first := r.peek(0)
	r.at++
	if f, ok := r.overBar(first); ok {
		return number{f, true}, true
	}
	if !first.whole {
		return number{first.value, false}, true
	}
	// A fraction may follow, after a space, a dash or "and".
	mark := r.at
	joined := r.sign('-') || r.word("and")
	r.word("a")
	t := r.peek(0)
	switch {
	case t.kind == 'v':
		r.at++
		return number{first.value + t.value, true}, true
	case t.kind == 'n' && r.peek(1).kind == '/' && r.peek(2).kind == 'n':
		r.at++
		if f, ok := r.overBar(t); ok && f < 1 {
			return number{first.value + f, true}, true
		}
	case t.kind == 'w' && fractionWords[t.text] > 0 && joined:
		r.at++
		return number{first.value + fractionWords[t.text], true}, true
	}
	r.at = mark
	return number{first.value, false}, true
}

// overBar reads "/4" after a numerator that has just been taken.
func (r *reader) overBar(over token) (float64, bool) {
	under := r.peek(1)
	if r.peek(0).kind != '/' || under.kind != 'n' || !over.whole || !under.whole || under.value == 0 {
		return 0, false
	}
	r.at += 2
	return over.value / under.value, true
}

// words reads "two", "twenty-five", "fifteen hundred", "fourteen seventy-five",
// "half a", "three quarters", "two and a half".
func (r *reader) words() (number, bool) {
	if f := fractionWords[r.peek(0).text]; f > 0 {
		r.at++
		r.word("of")
		r.word("a", "an")
		return number{f, true}, true
	}
	start := r.at
	v, ok := r.below100()
	if !ok && r.word("a", "an") {
		v, ok = 1, true
		if next := r.peek(0); next.kind == 'w' && numberWords[next.text] > 0 { // "a ten count"
			v, ok = r.below100()
		}
	}
	if !ok {
		r.at = start
		return number{}, false
	}
	if r.word("hundred") {
		v *= 100
		if more, ok := r.below100(); ok {
			v += more
		}
	} else if v >= 10 {
		if more, ok := r.below100(); ok && more >= 10 {
			v = v*100 + more
		}
	}
	mark := r.at
	r.sign('-')
	and := r.word("and")
	if and {
		r.word("a")
	}
	if f := fractionWords[r.peek(0).text]; f > 0 && r.peek(0).kind == 'w' {
		r.at++
		if and {
			return number{v + f, true}, true
		}
		r.word("of")
		r.word("a", "an")
		return number{v * f, true}, true
	}
	r.at = mark
	return number{v, false}, true
}

func (r *reader) below100() (float64, bool) {
	t := r.peek(0)
	v, ok := numberWords[t.text]
	if t.kind != 'w' || !ok {
		return 0, false
	}
	r.at++
	if v >= 20 && math.Mod(v, 10) == 0 {
		skip := 0
		if r.peek(0).kind == '-' {
			skip = 1
		}
		next := r.peek(skip)
		if u, ok := numberWords[next.text]; ok && next.kind == 'w' && u > 0 && u < 10 {
			r.at += skip + 1
			v += u
		}
	}
	return v, true
}
