package jobsheet

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Sizes of the sheet in a terminal [characters].
const (
	width  = 80
	gutter = 10
)

// Terminal writes the sheet as plain text of 80 columns: the front, and the
// back when it is asked for.
func (s *Sheet) Terminal(w io.Writer, back bool) error {
	t := &text{}
	s.terminalFront(t)
	if back {
		t.line("")
		t.line(strings.Repeat("─", width))
		t.line(s.Words.Back)
		for _, b := range s.Back {
			t.line("")
			t.line(strings.ToUpper(b.Title))
			for _, l := range b.Lines {
				t.wrapped(l.plain(), "  ", "  ")
			}
		}
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

func (s *Sheet) terminalFront(t *text) {
	head := strings.ToUpper(s.Title)
	if s.Mark != "" {
		head = "[" + s.Mark + "]  " + head
	}
	if s.Demo != "" {
		head += strings.Repeat(" ", max(2, width-utf8.RuneCountInString(head)-utf8.RuneCountInString(s.Demo)-2)) + "[" + s.Demo + "]"
	}
	t.line(head)
	for _, l := range s.Lead {
		t.wrapped(l, "", "")
	}
	t.line(strings.Repeat("═", width))
	t.wrapped(strings.ToUpper(s.Verdict), "", "")
	if s.Detail != "" {
		t.wrapped(s.Detail, "", "")
	}
	t.line(strings.Repeat("═", width))
	for _, b := range s.Front {
		s.terminalBlock(t, b)
	}
	if s.Foot != "" {
		t.line(strings.Repeat("─", width))
		t.wrapped(s.Foot, "", "")
	}
}

func (s *Sheet) terminalBlock(t *text, b Block) {
	if b.Kind == Boxed {
		t.line("┌─ " + b.Title + " " + strings.Repeat("─", width-5-utf8.RuneCountInString(b.Title)) + "┐")
		for i, l := range b.Lines {
			for _, row := range wrap(l.plain(), width-8) {
				number := "  "
				if row.first {
					number = fmt.Sprintf("%d ", i+1)
				}
				t.line("│ " + number + pad(row.text, width-6) + " │")
			}
		}
		t.line("└" + strings.Repeat("─", width-2) + "┘")
		return
	}
	label := b.Title
	for _, l := range b.Lines {
		first := pad(label, gutter)
		body := l.plain()
		switch b.Kind {
		case Ticks:
			body = "[ ] " + body
		case Columns:
			if len(l.Cells) > 0 {
				t.line(first + columns(l.Cells))
				label = ""
				continue
			}
		}
		if utf8.RuneCountInString(label) > gutter-1 {
			head, rest := twoLines(label)
			first = pad(head, gutter)
			t.wrapped(body, first, pad(rest, gutter))
			label = ""
			if len(wrap(body, width-gutter)) == 1 {
				label = rest
			}
			continue
		}
		hang := strings.Repeat(" ", gutter)
		if b.Kind == Ticks {
			hang += "    "
		}
		t.wrapped(body, first, hang)
		label = ""
	}
	if label != "" {
		t.line(label)
	}
}

// twoLines breaks a title at the space that makes its longer line shortest.
func twoLines(title string) (head, rest string) {
	head = title
	for i, r := range title {
		if r == ' ' && max(i, len(title)-i-1) < max(len(head), len(rest)) {
			head, rest = title[:i], title[i+1:]
		}
	}
	return head, rest
}

func columns(cells []string) string {
	sizes := []int{12, 18, 42}
	var b strings.Builder
	for i, c := range cells {
		if i < len(sizes)-1 && i < len(cells)-1 {
			b.WriteString(pad(plainSpaces(c), sizes[i]))
		} else {
			b.WriteString(plainSpaces(c))
		}
	}
	return b.String()
}

// plain is the line with its caution behind it.
func (l Line) plain() string {
	if l.Caution == "" {
		return l.Text
	}
	return strings.TrimSpace(l.Text + " !\u00a0" + l.Caution)
}

func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s)))
}

// text gathers lines and counts those that are not empty or a rule.
type text struct {
	b     strings.Builder
	count int
}

func (t *text) line(s string) {
	s = strings.TrimRight(s, " ")
	t.b.WriteString(s + "\n")
	if strings.Trim(s, "─═┌┐└┘│ ") != "" {
		t.count++
	}
}

func (t *text) wrapped(s, first, next string) {
	for _, row := range wrap(s, width-utf8.RuneCountInString(first)) {
		lead := next
		if row.first {
			lead = first
		}
		t.line(lead + row.text)
	}
}

// atSpaces breaks a text where a line may end: not at the space that holds a
// number and its unit together.
func atSpaces(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' })
}

func plainSpaces(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

type row struct {
	text  string
	first bool
}

// wrap breaks a text at spaces into rows of at most n characters.
func wrap(s string, n int) []row {
	var rows []row
	line := ""
	for _, w := range atSpaces(s) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) <= n:
			line += " " + w
		default:
			rows = append(rows, row{plainSpaces(line), len(rows) == 0})
			line = w
		}
	}
	return append(rows, row{plainSpaces(line), len(rows) == 0})
}

// CountLines returns the number of lines with words on the front, as the
// terminal of 80 columns shows it.
func (s *Sheet) CountLines() int {
	t := &text{}
	s.terminalFront(t)
	return t.count
}
