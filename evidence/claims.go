package evidence

import (
	"strings"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/forging"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// Claims returns what all models say of their own accuracy.
func Claims() []cite.Accuracy {
	var all []cite.Accuracy
	for _, list := range [][]cite.Accuracy{steel.Accuracy(), calphad.Accuracy(), micro.Accuracy(), medium.Accuracy(), shop.Accuracy(), skin.Accuracy(), color.Accuracy(), forging.Accuracy()} {
		all = append(all, list...)
	}
	return all
}

// claims prints every claim, and whether a data set here has tested it.
func (r *Report) claims(p *printer) {
	tested := map[string][]string{}
	for i := range r.Sets {
		s := &r.Sets[i]
		if s.Claim != "" && s.Inside != nil {
			tested[s.Claim] = append(tested[s.Claim], s.Name+", "+s.Subset+" "+percent(s.Inside))
		}
	}
	p.f("## What the models claim\n\nHalf the width of the band that should hold 80 %%. A claim without a data set rests on what the last\ncolumn says, and on nothing else.\n\n")
	p.f("| model | quantity | band | covers | inside, by data set | held to |\n|---|---|---|---|---|---|\n")
	for _, a := range Claims() {
		band := "±" + digits(a.Half)
		if a.Factor {
			band = "×/÷ " + digits(a.Half)
		} else if a.Unit != "" {
			band += " " + a.Unit
		}
		by := strings.Join(tested[a.Model], "; ")
		p.f("| %s | %s | %s | %s | %s | %s |\n", a.Model, a.Quantity, band, a.Covers, first(by, "**no data set**"), first(a.HeldTo, "–"))
	}
	p.f("\n")
}
