package web

import (
	"fmt"
	"strings"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// claim is what a model says of itself: how far off it may be, for what, held
// against what, and from which source.
type claim struct{ ID, What, Off, Covers, HeldTo, Source string }

// claims lists what every model behind the numbers says of itself.
func (who reader) claims() []claim {
	var all []claim
	for _, list := range [][]cite.Accuracy{micro.Accuracy(), medium.Accuracy(), skin.Accuracy(), shop.Accuracy(), steel.Accuracy(), calphad.Accuracy(), color.Accuracy()} {
		for _, a := range list {
			c := claim{ID: a.Model, What: sentenceOf(a.Quantity), Covers: a.Covers, HeldTo: a.HeldTo}
			switch {
			case a.Half == 0:
				c.Off = who.w("off-not-said")
			case a.Factor:
				c.Off = fmt.Sprintf("×/÷ %.3g", a.Half)
			case a.Unit == "K":
				c.Off = "± " + who.Quantity(cite.Num("", a.Half, "K-step"), "")
			default:
				c.Off = strings.TrimSpace(fmt.Sprintf("± %.3g %s", a.Half, a.Unit))
			}
			if s, ok := cite.Find(a.Source); ok {
				c.Source = s.String()
			}
			all = append(all, c)
		}
	}
	return all
}

// who links to the claims behind a line, by their ids.
type whoLink struct{ ID, Text string }

func (who reader) links(ids []string) []whoLink {
	known := map[string]string{}
	for _, c := range who.claims() {
		known[c.ID] = strings.TrimSuffix(c.What, ".") + " " + c.Off
	}
	var all []whoLink
	for _, id := range ids {
		if text, ok := known[id]; ok {
			all = append(all, whoLink{id, text})
		}
	}
	return all
}
