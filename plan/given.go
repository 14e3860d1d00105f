package plan

import (
	"fmt"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// A plan writes its quantities the way a smith of that system would type them,
// so that the job file it becomes reads like one written by hand. The value is
// read back from the text: what stands on the sheet is what is computed.

func given[T any](text string, parse func(string, ...string) (T, error)) route.Given[T] {
	v, err := parse(text)
	if err != nil {
		panic("plan: its own text does not parse: " + err.Error())
	}
	return route.Given[T]{Text: text, Value: v}
}

// length keeps what a caliper or a rule shows: a tenth of a mm under 10 mm, else
// a mm; 64ths of an inch under an inch, thousandths where it is thin and no 64th,
// else an eighth.
func length(l unit.Length, s unit.System) route.Length {
	switch {
	case s == unit.Imperial && l.Inches() < 1:
		l = unit.Inch(round(l.Inches()*1000) / 1000)
		if n := round(l.Inches()*64) / 64; l.Inches() > 0.1 || n > 0 && n-l.Inches() < 0.001 && l.Inches()-n < 0.001 {
			l = unit.Inch(n)
		}
	case s == unit.Imperial:
		l = unit.Inch(round(l.Inches()*8) / 8)
	case l.MM() < 10:
		l = unit.MM(round(l.MM()*10) / 10)
	default:
		l = unit.MM(round(l.MM()))
	}
	if text, ok := fraction(l); ok && s == unit.Imperial {
		return given(text, unit.ParseLength)
	}
	return given(l.Exact(s), unit.ParseLength)
}

// fraction writes a length of whole 64ths of an inch as a rule has it: "1-1/8 in".
func fraction(l unit.Length) (string, bool) {
	n := int(round(l.Inches() * 64))
	if d := l.Inches()*64 - float64(n); n <= 0 || d > 1e-6 || d < -1e-6 {
		return "", false
	}
	whole, n, d := n/64, n%64, 64
	if n == 0 {
		return fmt.Sprintf("%d in", whole), true
	}
	for n%2 == 0 {
		n, d = n/2, d/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d in", n, d), true
	}
	return fmt.Sprintf("%d-%d/%d in", whole, n, d), true
}

// temp rounds to what a dial or an eye can follow: 5 °C or 10 °F.
func temp(kelvin float64, s unit.System) route.Temp {
	t := unit.Temp(kelvin)
	text := fmt.Sprintf("%.0f C", 5*round(t.C()/5))
	if s == unit.Imperial {
		text = fmt.Sprintf("%.0f F", 10*round(t.F()/10))
	}
	return given(text, unit.ParseTemp)
}

func minutes(m float64) route.Duration {
	text := fmt.Sprintf("%.0f min", m)
	if m >= 60 && m == 60*round(m/60) {
		text = fmt.Sprintf("%.0f h", m/60)
	}
	return given(text, unit.ParseDuration)
}

func until(text string, kind route.EndKind, e route.Ending) route.Ending {
	e.Text, e.Kind = text, kind
	return e
}

func untilSign(sign string) route.Ending {
	return until(sign, route.BySign, route.Ending{Sign: sign})
}

func hrcText(low, high float64) string { return fmt.Sprintf("%.0f-%.0f HRC", low, high) }

func round(x float64) float64 {
	if x < 0 {
		return -round(-x)
	}
	return float64(int(x + 0.5))
}
