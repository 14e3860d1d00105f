package jobsheet

import (
	_ "embed"
	"html/template"
	"io"
)

//go:embed sheet.html
var page string

var pageTemplate = template.Must(template.New("sheet").Parse(page))

// HTML writes the sheet as one page that needs nothing else, made for print:
// the front on the first side, the back on the next.
func (s *Sheet) HTML(w io.Writer) error {
	return pageTemplate.Execute(w, s)
}

// Size is the paper for a style sheet.
func (s *Sheet) Size() string {
	if s.Letter {
		return "letter"
	}
	return "A4"
}

// Is reports whether a block is drawn in this way, for the page.
func (b Block) Is(kind string) bool {
	return kind == [...]string{"plain", "ticks", "boxed", "columns"}[b.Kind]
}
