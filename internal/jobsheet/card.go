package jobsheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/unit"
)

// Card is the pocket card of a job: what is done in the two minutes at the fire
// and in the temper, with boxes to tick and room for what was seen. It is A6, or a
// quarter of a letter page, in type of at least 14 points.
type Card struct {
	Title, Mark, Demo, Verdict string
	Sides                      []CardSide
	Foot                       string
	Letter                     bool
}

// CardSide is one side of the card.
type CardSide struct {
	Title string
	Lines []Line
	Seen  []string // what is to be written down, each with room beside it
}

// CardOf takes the pocket card of a job off its sheet.
func CardOf(s *Sheet, style words.Style) *Card {
	say := func(code string) string { return style.Of("card." + code).Say }
	c := &Card{Title: s.Title, Mark: s.Mark, Demo: s.Demo, Verdict: s.Verdict, Letter: style.Units == unit.Imperial, Foot: say("foot")}
	for _, b := range s.Front {
		switch b.Part {
		case "harden", "soften":
			c.Sides = append(c.Sides, CardSide{Title: b.Title, Lines: append([]Line(nil), b.Lines...)})
		case "temper":
			c.Sides = append(c.Sides, CardSide{Title: b.Title, Lines: append([]Line(nil), b.Lines...)})
		}
	}
	for _, side := range c.Sides {
		for i := range side.Lines { // below is on the sheet
			side.Lines[i].Text = strings.ReplaceAll(side.Lines[i].Text, say("below"), say("on-the-sheet"))
		}
	}
	if n := len(c.Sides); n > 0 {
		c.Sides[n-1].Seen = []string{say("seen-magnet"), say("seen-carry"), say("seen-file"), say("seen-temper"), say("seen-date")}
	}
	return c
}

// Sizes of the card [pt].
const (
	cardMargin = 17.0
	cardType   = 14.0
	cardLead   = 16.4
	tickSize   = 10.0
)

// PDF writes the card, a page for each side, with its fonts in it.
func (c *Card) PDF(w io.Writer) error {
	size := fpdf.SizeType{Wd: 105 / 25.4 * 72, Ht: 148 / 25.4 * 72}
	if c.Letter {
		size = fpdf.SizeType{Wd: 4.25 * 72, Ht: 5.5 * 72}
	}
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: size})
	f.SetCatalogSort(true)
	stamp := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // same card, same bytes
	f.SetCreationDate(stamp)
	f.SetModificationDate(stamp)
	f.SetTitle(c.Title, true)
	f.SetCreator("Heatwright", true)
	f.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	f.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	f.SetAutoPageBreak(false, 0)
	p := &cardPage{pdfPage: &pdfPage{Fpdf: f, right: size.Wd - cardMargin, bottom: size.Ht - cardMargin}, card: c}
	for _, s := range c.Sides {
		p.side(s)
	}
	if p.Err() {
		return fmt.Errorf("jobsheet: card: %w", p.Error())
	}
	return p.Output(w)
}

type cardPage struct {
	*pdfPage
	card *Card
}

// turn begins a new side, with whose it is at its top.
func (p *cardPage) turn() {
	p.AddPage()
	p.y = cardMargin
	x := cardMargin
	if mark := spaced(p.card.Mark); mark != "" {
		p.font(true, cardType)
		w := p.GetStringWidth(mark) + 10
		p.SetLineWidth(1.3)
		p.Rect(x, p.y-1, w, 18, "D")
		p.Text(x+5, p.y+12.5, mark)
		x += w + 6
	}
	p.font(true, 15)
	p.Text(x, p.y+12.5, p.card.Title)
	if p.card.Demo != "" {
		p.font(true, cardType)
		p.Text(p.right-p.GetStringWidth(p.card.Demo), p.y+12.5, p.card.Demo)
	}
	p.y += 20
	p.SetLineWidth(1.6)
	p.Line(cardMargin, p.y, p.right, p.y)
	p.y += 4
}

// room turns to a new side when so much does not fit on this one.
func (p *cardPage) room(high float64) {
	if p.y+high > p.bottom {
		p.turn()
	}
}

func (p *cardPage) side(s CardSide) {
	if p.PageNo() == 0 {
		p.turn()
		for _, l := range p.split([]span{{p.card.Verdict, true}}, cardType, p.right-cardMargin) {
			p.line(cardMargin, l, cardType)
			p.y += cardLead
		}
	}
	if p.y > cardMargin+60 && len(p.card.Sides) > 1 && s.Title != p.card.Sides[0].Title {
		p.turn()
	}
	p.y += 3
	p.font(true, 15)
	p.put(cardMargin, s.Title, 15)
	p.y += 19
	for _, l := range s.Lines {
		p.ticked(l)
	}
	for _, seen := range s.Seen {
		p.room(cardLead + 8)
		p.y += 7
		p.font(false, cardType)
		p.put(cardMargin, seen, cardType)
		p.SetLineWidth(0.7)
		p.Line(cardMargin+p.GetStringWidth(seen)+6, p.y+cardType, p.right, p.y+cardType)
		p.y += cardLead
	}
	if len(s.Seen) > 0 {
		rows := p.split([]span{{p.card.Foot, true}}, cardType, p.right-cardMargin)
		p.room(float64(len(rows))*cardLead + 6)
		p.y += 6
		for _, l := range rows {
			p.line(cardMargin, l, cardType)
			p.y += cardLead
		}
	}
}

// ticked writes a line behind a box to tick; it is not torn over two sides.
func (p *cardPage) ticked(l Line) {
	spans := []span{{l.Text, false}}
	if l.Caution != "" {
		spans = append(spans, span{"! " + l.Caution, true})
	}
	const indent = tickSize + 6
	rows := p.split(spans, cardType, p.right-cardMargin-indent)
	p.room(float64(len(rows)) * cardLead)
	p.SetLineWidth(1.1)
	p.Rect(cardMargin, p.y+2.2, tickSize, tickSize, "D")
	for _, row := range rows {
		p.line(cardMargin+indent, row, cardType)
		p.y += cardLead
	}
	p.y += 2
}

//go:embed card.html
var cardPageText string

var cardTemplate = template.Must(template.New("card").Parse(cardPageText))

// HTML writes the card as one page that needs nothing else, made for print.
func (c *Card) HTML(w io.Writer) error { return cardTemplate.Execute(w, c) }

// Size is the paper for a style sheet.
func (c *Card) Size() string {
	if c.Letter {
		return "4.25in 5.5in"
	}
	return "105mm 148mm"
}
