package jobsheet

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

// ErrOverflow says that the front does not fit on one side. Nothing is made
// smaller to squeeze it in.
var ErrOverflow = errors.New("jobsheet: the front does not fit on one side")

// Sizes of the page [pt].
const (
	margin    = 32.0
	labelWide = 88.0
	base      = 14.0
	leading   = 16.2
	large     = 17.0
	largeLead = 19.8
	backSize  = 9.0
	backLead  = 10.9
	between   = 18.0 // the two columns of the back
)

// pdfPage draws on one PDF.
type pdfPage struct {
	*fpdf.Fpdf
	right, bottom float64 // edges of what may be printed
	y             float64 // of the next line's top
	column        int     // of the back, 0 or 1
	lines         int     // lines of text on the front
	front         bool
}

// PDF writes the sheet as a PDF with its fonts in it, on letter or A4.
func (s *Sheet) PDF(w io.Writer) error {
	p, err := s.draw()
	if err != nil {
		return err
	}
	return p.Output(w)
}

func (s *Sheet) draw() (*pdfPage, error) {
	paper := "A4"
	if s.Letter {
		paper = "Letter"
	}
	f := fpdf.New("P", "pt", paper, "")
	f.SetCatalogSort(true)
	stamp := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // same sheet, same bytes
	f.SetCreationDate(stamp)
	f.SetModificationDate(stamp)
	f.SetTitle(s.Title, true)
	f.SetCreator("Heatwright", true)
	f.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	f.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(margin, margin, margin)
	f.AddPage()
	wide, high := f.GetPageSize()
	p := &pdfPage{Fpdf: f, right: wide - margin, bottom: high - margin, y: margin, front: true}
	p.head(s)
	for _, b := range s.Front {
		p.block(b)
	}
	p.foot(s.Foot)
	if p.y > p.bottom+0.5 {
		return p, fmt.Errorf("%w: it is %.0f pt too long", ErrOverflow, p.y-p.bottom)
	}
	p.front = false
	p.back(s)
	if p.Err() {
		return p, fmt.Errorf("jobsheet: PDF: %w", p.Error())
	}
	return p, nil
}

func (p *pdfPage) font(bold bool, size float64) {
	style := ""
	if bold {
		style = "B"
	}
	p.SetFont("sans", style, size)
}

func (p *pdfPage) rule(thick float64) {
	p.SetLineWidth(thick)
	p.Line(margin, p.y, p.right, p.y)
}

// put writes one line of text with its top at p.y.
func (p *pdfPage) put(x float64, text string, size float64) {
	p.Text(x, p.y+0.86*size, text)
}

func (p *pdfPage) head(s *Sheet) {
	x := margin
	if mark := spaced(s.Mark); mark != "" {
		p.font(true, 17)
		w := p.GetStringWidth(mark) + 14
		p.SetLineWidth(1.6)
		p.Rect(x, p.y, w, 21, "D")
		p.Text(x+7, p.y+16.5, mark)
		x += w + 8
	}
	p.font(true, 19)
	p.Text(x, p.y+17, s.Title)
	if s.Demo != "" {
		p.font(true, base)
		text := strings.ToUpper(s.Demo)
		w := p.GetStringWidth(text) + 10
		p.SetLineWidth(1)
		p.Rect(p.right-w, p.y+2, w, 18, "D")
		p.Text(p.right-w+5, p.y+15.5, text)
	}
	p.lines++
	p.y += 24
	p.font(false, base)
	for _, l := range s.Lead {
		p.paragraph(margin, l, "")
	}
	p.y += 3
	p.rule(1.6)
	p.y += 4
	p.font(true, 17)
	for _, l := range p.split([]span{{s.Verdict, true}}, 17, p.right-margin) {
		p.line(margin, l, 17)
		p.y += 20
	}
	if s.Detail != "" {
		p.paragraph(margin, s.Detail, "")
	}
	p.y += 3
	p.rule(1.6)
	p.y += 3
}

// spaced sets the strokes of a mark apart, as they stand on the tang.
func spaced(mark string) string { return strings.Join(strings.Split(mark, ""), " ") }

func (p *pdfPage) foot(text string) {
	if text == "" {
		return
	}
	p.rule(0.6)
	p.y += 3
	p.paragraph(margin, "", text)
}

func (p *pdfPage) block(b Block) {
	if b.Kind == Boxed {
		p.boxed(b)
		return
	}
	top := p.y
	p.y += 2.5
	p.font(true, base)
	titleLines := p.split([]span{{b.Title, true}}, base, labelWide-8)
	for i, l := range titleLines {
		p.font(true, base)
		p.Text(margin, p.y+float64(i)*leading+0.86*base, l.text())
	}
	x := margin + labelWide
	for _, l := range b.Lines {
		switch {
		case b.Kind == Ticks:
			p.SetLineWidth(1.1)
			p.Rect(x, p.y+2.2, 9, 9, "D")
			p.paragraph(x+16, l.Text, l.Caution)
		case len(l.Cells) > 0:
			p.cells(p.columns(x, b.Lines), l.Cells)
		default:
			p.paragraph(x, l.Text, l.Caution)
		}
	}
	p.y = max(p.y, top+2.5+float64(len(titleLines))*leading) + 2.5
	p.rule(0.6)
}

// columns returns where the cells of a block begin, each column as wide as its
// widest cell and a gap, spread over the page where there is room.
func (p *pdfPage) columns(x float64, lines []Line) []float64 {
	const gap, most = 12.0, 40.0
	var wide []float64
	for _, l := range lines {
		for i, c := range l.Cells {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			p.font(i == 0, base)
			wide[i] = max(wide[i], p.GetStringWidth(strings.ReplaceAll(c, "\u00a0", " ")))
		}
	}
	sum := 0.0
	for _, w := range wide {
		sum += w
	}
	between := max(gap, min(most, (p.right-x-sum)/float64(len(wide))))
	at := make([]float64, len(wide))
	for i := range wide {
		at[i] = x
		x += wide[i] + between
	}
	return at
}

func (p *pdfPage) cells(at []float64, cells []string) {
	for i, c := range cells {
		p.font(i == 0, base)
		p.put(at[i], strings.ReplaceAll(c, "\u00a0", " "), base)
	}
	p.lines++
	p.y += leading
}

func (p *pdfPage) boxed(b Block) {
	p.y += 4
	top := p.y
	p.y += 5
	p.font(true, 17)
	p.put(margin+9, b.Title, 17)
	p.lines++
	p.y += 22
	for i, l := range b.Lines {
		p.font(true, large)
		p.put(margin+9, strconv.Itoa(i+1), large)
		p.paragraphIn(margin+25, p.right-9, l.Text, l.Caution, large, largeLead)
	}
	p.y += 4
	p.SetLineWidth(2.2)
	p.Rect(margin, top, p.right-margin, p.y-top, "D")
	p.y += 4
}

// paragraph writes a text and its caution in bold behind it.
func (p *pdfPage) paragraph(x float64, text, caution string) {
	p.paragraphIn(x, p.right, text, caution, base, leading)
}

func (p *pdfPage) paragraphIn(x, right float64, text, caution string, size, lead float64) {
	spans := []span{{text, false}}
	if caution != "" {
		mark := "!\u00a0"
		if text == "" {
			mark = ""
		}
		spans = append(spans, span{mark + caution, true})
	}
	for _, l := range p.split(spans, size, right-x) {
		p.line(x, l, size)
		p.y += lead
	}
}

// turn goes to the next column of the back, or to a new page, when this one is full.
func (p *pdfPage) turn(lead float64) {
	if p.front || p.y+lead <= p.bottom {
		return
	}
	p.column++
	if p.column > 1 {
		p.column = 0
		p.AddPage()
	}
	p.y = margin
}

// span of the present column of the back, from left to right [pt].
func (p *pdfPage) columnSpan() (left, right float64) {
	wide := (p.right - margin - between) / 2
	left = margin + float64(p.column)*(wide+between)
	return left, left + wide
}

// span is a run of text in one weight.
type span struct {
	words string
	bold  bool
}

type word struct {
	text string
	bold bool
}

type pdfLine []word

func (l pdfLine) text() string {
	parts := make([]string, len(l))
	for i, w := range l {
		parts[i] = w.text
	}
	return strings.Join(parts, " ")
}

// split breaks spans at spaces into lines no wider than wide [pt].
func (p *pdfPage) split(spans []span, size, wide float64) []pdfLine {
	var lines []pdfLine
	var now pdfLine
	used := 0.0
	p.font(false, size)
	space := p.GetStringWidth(" ")
	for _, s := range spans {
		for _, w := range atSpaces(s.words) {
			p.font(s.bold, size)
			need := p.GetStringWidth(w)
			if len(now) > 0 && used+space+need > wide {
				lines, now, used = append(lines, now), nil, 0
			}
			if len(now) > 0 {
				used += space
			}
			now, used = append(now, word{w, s.bold}), used+need
		}
	}
	if len(now) > 0 {
		lines = append(lines, now)
	}
	return lines
}

func (p *pdfPage) line(x float64, l pdfLine, size float64) {
	p.font(false, size)
	space := p.GetStringWidth(" ")
	for _, w := range l {
		p.font(w.bold, size)
		p.put(x, strings.ReplaceAll(w.text, "\u00a0", " "), size)
		x += p.GetStringWidth(w.text) + space
	}
	if p.front {
		p.lines++
	}
}

func (p *pdfPage) back(s *Sheet) {
	p.AddPage()
	p.y = margin
	p.font(true, 13)
	p.put(margin, s.Words.Back, 13)
	p.y += 18
	for _, b := range s.Back {
		p.y += 3
		p.turn(3 * backLead)
		left, _ := p.columnSpan()
		p.font(true, backSize+0.5)
		p.put(left, b.Title, backSize+0.5)
		p.y += backLead + 1
		for _, l := range b.Lines {
			p.backLine(l)
			p.y += 1.5
		}
	}
}

// backLine writes a line of the back, which may run over into the next column.
func (p *pdfPage) backLine(l Line) {
	left, right := p.columnSpan()
	for i, row := range p.split([]span{{l.Text, false}}, backSize, right-left-8) {
		p.turn(backLead)
		left, _ = p.columnSpan()
		indent := 8.0
		if i == 0 {
			indent = 0
		}
		p.line(left+indent, row, backSize)
		p.y += backLead
	}
}
