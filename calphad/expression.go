package calphad

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Bounds on what a reader takes from a file of unknown origin. The largest open
// steel databases stay below a tenth of each.
const (
	maxFile     = 8 << 20 // bytes
	maxCommands = 60000
	maxSegments = 64  // pieces of one function of temperature
	maxTerms    = 64  // powers in one piece
	maxPower    = 40  // exponent of T
	maxDepth    = 24  // nested parentheses, and functions calling functions
	maxWork     = 2e6 // parse and expansion steps for one file
)

// piece is a stretch of temperature with the text of its expression.
type piece struct {
	low, high float64
	text      string
}

// pieces splits "298.15 +A+B*T; 1811 Y +C; 6000 N REF:91Din" into its stretches
// and returns what follows the last N, which is the reference.
func pieces(text string) ([]piece, string, error) {
	low, rest, err := leadingNumber(text)
	if err != nil {
		return nil, "", fmt.Errorf("lower temperature: %w", err)
	}
	var list []piece
	for {
		expr, after, found := strings.Cut(rest, ";")
		if !found {
			return nil, "", fmt.Errorf("no ';' after the expression %q", short(rest))
		}
		high := 6000.0
		after = strings.TrimSpace(after)
		if !strings.HasPrefix(after, ",") {
			if high, after, err = leadingNumber(after); err != nil {
				return nil, "", fmt.Errorf("upper temperature: %w", err)
			}
		}
		if high < low {
			return nil, "", fmt.Errorf("the range %g to %g K runs backward", low, high)
		}
		list = append(list, piece{low, high, expr})
		if len(list) > maxSegments {
			return nil, "", fmt.Errorf("more than %d temperature ranges", maxSegments)
		}
		after = strings.TrimSpace(after)
		if after != "" && (after[0] == 'Y' || after[0] == 'y') {
			low, rest = high, after[1:]
			continue
		}
		if after != "" && (after[0] == 'N' || after[0] == 'n') {
			after = after[1:]
		}
		return list, strings.TrimSpace(after), nil
	}
}

func leadingNumber(text string) (float64, string, error) {
	text = strings.TrimSpace(text)
	end := numberEnd(text, 0)
	x, err := strconv.ParseFloat(text[:end], 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, "", fmt.Errorf("%q is not a number", short(text))
	}
	return x, text[end:], nil
}

// numberEnd returns where the number that starts at i ends: digits, a point, an
// exponent, a sign at the start or after the exponent letter.
func numberEnd(s string, i int) int {
	start := i
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	for ; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9', c == '.':
		case (c == 'e' || c == 'E') && i > start && i+1 < len(s) && (isDigit(s[i+1]) || (s[i+1] == '-' || s[i+1] == '+') && i+2 < len(s) && isDigit(s[i+2])):
			i++
		default:
			return i
		}
	}
	return i
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isName(c byte) bool {
	return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || isDigit(c) || c == '_'
}

func short(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if len(s) > 40 {
		s = s[:40] + "…"
	}
	return s
}

// reader turns the text of an expression into a polynomial over one stretch of
// temperature; lookup resolves the name of a function there.
type reader struct {
	s      string
	i      int
	depth  int
	work   *int
	lookup func(name string) (polynomial, error)
}

func (r *reader) parse() (polynomial, error) {
	p, err := r.sum()
	if err != nil {
		return nil, err
	}
	if r.space(); r.i < len(r.s) {
		return nil, fmt.Errorf("unexpected %q", short(r.s[r.i:]))
	}
	if len(p) > maxTerms {
		return nil, fmt.Errorf("%d powers of temperature in one expression, more than %d", len(p), maxTerms)
	}
	for _, c := range p {
		if math.IsNaN(c) || math.IsInf(c, 0) {
			return nil, fmt.Errorf("a coefficient overflows")
		}
	}
	return p, nil
}

func (r *reader) space() {
	for r.i < len(r.s) && (r.s[r.i] == ' ' || r.s[r.i] == '\t' || r.s[r.i] == '\n' || r.s[r.i] == '\r') {
		r.i++
	}
}

func (r *reader) peek() byte {
	if r.space(); r.i < len(r.s) {
		return r.s[r.i]
	}
	return 0
}

func (r *reader) step() error {
	if *r.work++; *r.work > maxWork {
		return fmt.Errorf("the expressions of this file take more work than this reader gives")
	}
	return nil
}

func (r *reader) sum() (polynomial, error) {
	if r.depth++; r.depth > maxDepth {
		return nil, fmt.Errorf("more than %d nested parentheses", maxDepth)
	}
	defer func() { r.depth-- }()
	total := polynomial{}
	sign := 1.0
	for first := true; ; first = false {
		switch c := r.peek(); {
		case c == '+' || c == '-':
			r.i++
			if sign = 1; c == '-' {
				sign = -1
			}
		case !first:
			return total, nil
		}
		p, err := r.product()
		if err != nil {
			return nil, err
		}
		total = total.plus(p, sign)
		if *r.work += len(total); len(total) > 4*maxTerms {
			return nil, fmt.Errorf("a sum of more than %d powers of temperature", 4*maxTerms)
		}
		sign = 1
	}
}

func (r *reader) product() (polynomial, error) {
	p, err := r.factor()
	if err != nil {
		return nil, err
	}
	for {
		op := r.peek()
		if op != '*' && op != '/' {
			return p, nil
		}
		r.i++
		q, err := r.factor()
		if err != nil {
			return nil, err
		}
		if op == '/' {
			if q, err = inverse(q); err != nil {
				return nil, err
			}
		}
		*r.work += len(p) * len(q)
		if p, err = p.times(q); err != nil {
			return nil, err
		}
	}
}

// factor reads a signed atom with an optional integer power.
func (r *reader) factor() (polynomial, error) {
	if err := r.step(); err != nil {
		return nil, err
	}
	sign := 1.0
	for c := r.peek(); c == '+' || c == '-'; c = r.peek() {
		if c == '-' {
			sign = -sign
		}
		r.i++
	}
	p, err := r.atom()
	if err != nil {
		return nil, err
	}
	if r.peek() == '*' && r.i+1 < len(r.s) && r.s[r.i+1] == '*' {
		r.i += 2
		n, err := r.integer()
		if err != nil {
			return nil, err
		}
		if p, err = r.raise(p, n); err != nil {
			return nil, err
		}
	}
	if sign < 0 {
		p = polynomial{}.plus(p, -1)
	}
	return p, nil
}

func (r *reader) integer() (int, error) {
	paren := r.peek() == '('
	if paren {
		r.i++
		r.space()
	}
	end := numberEnd(r.s, r.i)
	x, err := strconv.ParseFloat(r.s[r.i:end], 64)
	if err != nil || x != math.Trunc(x) || math.Abs(x) > maxPower {
		return 0, fmt.Errorf("the exponent %q is no whole number within ±%d", short(r.s[r.i:]), maxPower)
	}
	r.i = end
	if paren {
		if r.peek() != ')' {
			return 0, fmt.Errorf("no ')' after an exponent")
		}
		r.i++
	}
	return int(x), nil
}

func (r *reader) raise(p polynomial, n int) (polynomial, error) {
	var err error
	if n < 0 {
		if p, err = inverse(p); err != nil {
			return nil, err
		}
		n = -n
	}
	if len(p) == 1 { // a monomial, most often T**n
		for k, c := range p {
			up := power{k.n * n, k.l * n}
			if up.n > maxPower || up.n < -maxPower || up.l > 4 {
				return nil, fmt.Errorf("the power T^%d is outside what this reader takes", up.n)
			}
			return polynomial{up: math.Pow(c, float64(n))}, nil
		}
	}
	result := polynomial{power{}: 1}
	for range n {
		*r.work += len(result) * len(p)
		if err = r.step(); err != nil {
			return nil, err
		}
		if result, err = result.times(p); err != nil {
			return nil, err
		}
	}
	return result, nil
}

// inverse returns 1/p, which is in reach only for a single power of T.
func inverse(p polynomial) (polynomial, error) {
	for k, c := range p {
		if len(p) == 1 && k.l == 0 && c != 0 {
			return polynomial{power{n: -k.n}: 1 / c}, nil
		}
	}
	return nil, fmt.Errorf("division by something other than a number or a power of T")
}

func (r *reader) atom() (polynomial, error) {
	c := r.peek()
	switch {
	case c == '(':
		r.i++
		p, err := r.sum()
		if err != nil {
			return nil, err
		}
		if r.peek() != ')' {
			return nil, fmt.Errorf("a parenthesis is not closed")
		}
		r.i++
		return p, nil
	case isDigit(c) || c == '.':
		end := numberEnd(r.s, r.i)
		x, err := strconv.ParseFloat(r.s[r.i:end], 64)
		if err != nil {
			return nil, fmt.Errorf("%q is not a number", short(r.s[r.i:end]))
		}
		r.i = end
		return polynomial{power{}: x}, nil
	case isName(c):
		return r.name()
	case c == 0:
		return nil, fmt.Errorf("the expression ends early")
	}
	return nil, fmt.Errorf("unexpected %q", short(r.s[r.i:]))
}

// name reads T, LN(T), or the name of a function, with or without a closing #.
func (r *reader) name() (polynomial, error) {
	start := r.i
	for r.i < len(r.s) && isName(r.s[r.i]) {
		r.i++
	}
	word := strings.ToUpper(r.s[start:r.i])
	if r.i < len(r.s) && r.s[r.i] == '#' {
		r.i++
	}
	switch word {
	case "T":
		return polynomial{power{n: 1}: 1}, nil
	case "R":
		return polynomial{power{}: R}, nil
	case "LN", "LOG":
		if r.peek() != '(' {
			return nil, fmt.Errorf("%s without a parenthesis", word)
		}
		p, err := r.atom()
		if err != nil {
			return nil, err
		}
		if len(p) == 1 {
			if c := p[power{n: 1}]; c == 1 {
				return polynomial{power{l: 1}: 1}, nil
			}
			if c := p[power{}]; c > 0 {
				return polynomial{power{}: math.Log(c)}, nil
			}
		}
		return nil, fmt.Errorf("the logarithm of something other than T or a number")
	case "EXP":
		return nil, fmt.Errorf("EXP is not taken by this reader: only powers of T and LN(T)")
	}
	return r.lookup(word)
}
