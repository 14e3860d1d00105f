package web

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/sim"
)

// signsOfCracks tells which signs of a crack a quench raises, and how many that is.
func (who reader) signsOfCracks(s *sim.Step, t *tale, tell func(string, ...cite.Quantity)) {
	if s.Crack == nil {
		return
	}
	t.ids = append(t.ids, "micro.crack")
	var signs []string
	for _, what := range s.Crack.Raised {
		signs = append(signs, who.Of("sim.crack-"+what).Say)
	}
	tell("cracks", cite.Txt("rank", strconv.Itoa(s.Crack.Rank)), cite.Txt("signs", strings.Join(signs, "; ")))
}

// toughAndGrown tells of a tempered zone how tough it is, what takes from it, and how
// much longer hardening has left the steel there.
func (who reader) toughAndGrown(z *sim.Zone, t *tale, tell func(string, ...cite.Quantity)) {
	if x := z.Toughness; x != nil {
		t.ids = append(t.ids, "micro.toughness")
		var why []string
		for _, r := range x.Reasons {
			why = append(why, who.w("tough-"+r))
		}
		rank := strconv.Itoa(x.Rank)
		tell("tough", cite.Txt("rank", rank), cite.Txt("word", who.w("tough-rank-"+rank)), cite.Txt("reasons", strings.Join(why, "; ")))
	}
	if g := z.Growth; g != nil {
		t.ids = append(t.ids, "micro.length")
		tell("grown", cite.Txt("grown", fmt.Sprintf("%+.2f %% (%+.2f to %+.2f)", 100*g.Value, 100*g.Low, 100*g.High)),
			who.thin("each", 100*max(g.Value, -g.Value)))
	}
}

// lastTemper reports whether no temper comes after step i.
func lastTemper(h *sim.History, i int) bool {
	for _, s := range h.Steps[i+1:] {
		if s.Role == sim.Tempering || s.Role == sim.Holding || s.Role == sim.Heating {
			return false
		}
	}
	return true
}
