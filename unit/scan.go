package unit

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A token of what people write: a number, a vulgar fraction such as ½, a word
// (units and marks such as ° or Ø included), or a sign.
type token struct {
	kind  rune // 'n' number, 'v' vulgar fraction, 'w' word, else the sign itself
	text  string
	value float64
	whole bool // a number written without decimals
}

var vulgar = map[rune]float64{
	'½': 1. / 2, '⅓': 1. / 3, '⅔': 2. / 3, '¼': 1. / 4, '¾': 3. / 4, '⅕': 1. / 5, '⅖': 2. / 5, '⅗': 3. / 5, '⅘': 4. / 5,
	'⅙': 1. / 6, '⅚': 5. / 6, '⅐': 1. / 7, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8, '⅑': 1. / 9, '⅒': 1. / 10,
}

// Marks that stand for a word.
var marks = map[rune]string{
	'"': "in", '”': "in", '″': "in", '“': "in",
	'\'': "ft", '’': "ft", '′': "ft",
	'Ø': "ø", 'ø': "ø", '⌀': "ø", 'φ': "ø", 'Φ': "ø", '∅': "ø",
	'☐': "☐", '□': "☐", '◻': "☐", '⬜': "☐", '▢': "☐",
	'⬡': "hex", '⎔': "hex", '%': "%", '×': "x", '✕': "x", '*': "x", '⨯': "x", '~': "about", '≈': "about",
	'<': "under", '≤': "under", '>': "over", '≥': "over", '±': "±", '…': "to",
}

// scan splits a text into tokens. why is empty when all of it could be read.
func scan(text string) (tokens []token, why string) {
	if len(text) > longest {
		return nil, whyLong
	}
	if !utf8.ValidString(text) {
		return nil, "it is not readable text"
	}
	rest := text
	for rest != "" {
		r, size := utf8.DecodeRuneInString(rest)
		switch {
		case unicode.IsSpace(r) || r == '\u00a0':
			rest = rest[size:]
		case isDigit(r) || (r == '.' || r == ',') && len(rest) > 1 && isDigit(rune(rest[1])):
			t, n, bad := scanNumber(rest)
			if bad != "" {
				return nil, bad
			}
			tokens = append(tokens, t)
			rest = rest[n:]
		case vulgar[r] > 0:
			tokens = append(tokens, token{kind: 'v', text: string(r), value: vulgar[r]})
			rest = rest[size:]
		case marks[r] != "":
			word := marks[r]
			if word == "ft" && strings.HasPrefix(rest[size:], string(r)) { // '' is another way to write "
				word, size = "in", 2*size
			}
			tokens = append(tokens, token{kind: 'w', text: word})
			rest = rest[size:]
		case isLetter(r):
			n := 0
			for n < len(rest) {
				r, size := utf8.DecodeRuneInString(rest[n:])
				if !isLetter(r) {
					break
				}
				n += size
			}
			word := strings.ToLower(rest[:n])
			if before, ok := strings.CutSuffix(word, "x"); ok && glued[before] { // 6mmx40
				tokens = append(tokens, token{kind: 'w', text: before}, token{kind: 'w', text: "x"})
			} else {
				tokens = append(tokens, token{kind: 'w', text: word})
			}
			rest = rest[n:]
		case r == '.' && strings.HasPrefix(rest, ".."):
			tokens = append(tokens, token{kind: 'w', text: "to"})
			rest = strings.TrimLeft(rest, ".")
		case r == '.' && len(tokens) > 0 && tokens[len(tokens)-1].kind == 'w': // abbreviation: in. approx.
			rest = rest[size:]
		case r == '⁄' || r == '/':
			tokens = append(tokens, token{kind: '/', text: "/"})
			rest = rest[size:]
		case r == '-' || r == '−' || r == '–' || r == '—' || r == '‐' || r == '‑':
			tokens = append(tokens, token{kind: '-', text: "-"})
			rest = rest[size:]
		case r == '+' || r == ',' || r == '@' || r == '(' || r == ')' || r == ';' || r == ':' || r == '=':
			tokens = append(tokens, token{kind: r, text: string(r)})
			rest = rest[size:]
		default:
			return nil, "the sign " + strconv.QuoteRune(r) + " has no meaning here"
		}
	}
	return tokens, ""
}

var glued = map[string]bool{"mm": true, "cm": true, "in": true, "inch": true, "ft": true}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func isLetter(r rune) bool {
	return unicode.IsLetter(r) && marks[r] == "" || r == '°' || r == '²' || r == '³' || r == 'µ' || r == 'º' || r == '℃' || r == '℉'
}

// scanNumber reads digits with one decimal point or comma. A comma before
// three last digits is refused, because it means a thousand to half of the
// world and a decimal to the other half; 0,125 can only be a decimal.
func scanNumber(s string) (t token, n int, why string) {
	point := -1
	for n < len(s) {
		c := s[n]
		if isDigit(rune(c)) {
			n++
			continue
		}
		if (c == '.' || c == ',') && point < 0 && n+1 < len(s) && isDigit(rune(s[n+1])) {
			point = n
			n++
			continue
		}
		break
	}
	digits := s[:n]
	if point > 0 && s[point] == ',' && n-point == 4 && s[0] != '0' {
		return token{}, 0, whyComma
	}
	v, err := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) {
		return token{}, 0, "the number is too large"
	}
	return token{kind: 'n', text: digits, value: v, whole: point < 0}, n, ""
}
