package jobsheet

import (
	"bytes"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// A card has the lines of the box and of the temper, each with its box to tick,
// and room for what was seen; no caution is lost on the way from the sheet.
func TestCardHoldsWhatTheFireNeeds(t *testing.T) {
	style := words.Style{Language: words.American, Units: unit.Metric}
	sheet := &Sheet{Title: "Knife", Mark: "||-", Verdict: "Hardens", Front: []Block{
		{Part: "ready", Title: "READY", Lines: []Line{{Text: "Oil warm"}}},
		{Part: "harden", Title: "HARDEN", Kind: Boxed, Lines: []Line{{Text: "To oil.", Caution: "or it flares"}, {Text: "Bites: see below."}}},
		{Part: "temper", Title: "TEMPER", Lines: []Line{{Text: "200 °C"}}},
	}}
	c := CardOf(sheet, style)
	var page bytes.Buffer
	if err := c.HTML(&page); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"HARDEN", "or it flares", "TEMPER", "200 °C", "see the sheet", "||-", "not a sensor"} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("the card lacks %q", want)
		}
	}
	if strings.Contains(page.String(), "READY") {
		t.Error("what is made ready before does not belong on the card")
	}
	if sheet.Front[1].Lines[1].Text != "Bites: see below." {
		t.Error("the card changed its sheet")
	}
	for _, letter := range []bool{false, true} {
		c.Letter = letter
		var pdf bytes.Buffer
		if err := c.PDF(&pdf); err != nil || !bytes.HasPrefix(pdf.Bytes(), []byte("%PDF-")) {
			t.Errorf("letter %v: %v", letter, err)
		}
	}
	if cardType < 14 {
		t.Error("type of the card is under 14 points")
	}
}

// The color chart fits one side in both units, and no column runs into the next.
func TestColorChartFits(t *testing.T) {
	g, err := steel.Find("O1")
	if err != nil {
		t.Fatal(err)
	}
	for _, units := range []unit.System{unit.Metric, unit.Imperial} {
		for _, light := range color.Lights() {
			s := ColorChart(ColorsOf(light, color.Didymium, 600, "O1", g.Nominal(), words.Style{Language: words.British, Units: units}))
			p, err := s.draw()
			if err != nil {
				t.Errorf("%v, %s: %v", units, light.Name, err)
				continue
			}
			for _, b := range s.Front {
				at := p.columns(margin+labelWide, b.Lines)
				for _, l := range b.Lines {
					for i, c := range l.Cells {
						end := p.right
						if i+1 < len(at) {
							end = at[i+1]
						}
						p.font(i == 0, base)
						if at[i]+p.GetStringWidth(c) > end {
							t.Errorf("%v, %s: %q runs over its column", units, light.Name, c)
						}
					}
				}
			}
		}
	}
}
