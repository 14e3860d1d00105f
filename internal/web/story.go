package web

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

// tale is what happened in the steel in one step, in plain words, with the
// models that say so.
type tale struct {
	Title []said
	Lines [][]said
	Says  []whoLink
	ids   []string // of who says so
}

// story tells what happens in the steel step by step, with the numbers of this
// piece. Of what repeats, the last turn speaks for all.
func (who reader) story(a *worked, by *sayer) []tale {
	h := a.history
	var all []tale
	var before *sim.Zone
	for i := range h.Steps {
		s := &h.Steps[i]
		z := zoneOf(s.Zones, workingZones...)
		if z == nil {
			continue
		}
		if s.Turn == 0 || s.Turn >= s.Turns {
			t := tale{Title: by.stepTitle(s)}
			tell := func(code string, args ...cite.Quantity) {
				args = append(args, cite.Txt("zone", z.Name))
				t.Lines = append(t.Lines, by.of("bench.story-"+code, args...))
			}
			who.happened(h, i, before, z, &t, tell)
			t.Says = by.links(t.ids)
			if len(t.Lines) > 0 {
				all = append(all, t)
			}
		}
		before = z
	}
	return all
}

// workingZones are the zones that do the work, whatever the form.
var workingZones = []string{"edge", "point", "face", "surface", "core"}

func (by *sayer) stepTitle(s *sim.Step) []said {
	times := ""
	if s.Turns > 1 {
		times = words.Times(s.Turns)
	}
	return by.of("bench.step-title", cite.Txt("name", strings.ToUpper(s.Name[:1])+s.Name[1:]), cite.Txt("times", times), secs("time", s.End-s.Start))
}

func (who reader) happened(h *sim.History, i int, before, z *sim.Zone, t *tale, tell func(string, ...cite.Quantity)) {
	s := &h.Steps[i]
	switch s.Role {
	case sim.Heating:
		t.ids = []string{"micro.dissolution", "micro.grain", "medium.fire"}
		tell("heated", kelvin("hot", s.Peak.Temperature), secs("through", s.Reached-s.Start))
		if m, ok := signIn(h, i, sim.MagnetLetsGo); ok {
			tell("magnet", kelvin("off", m.Temperature.Value), secs("since", m.Since.Value))
		}
		if z.DissolvedC.Value > 0.01 {
			tell("dissolved", cite.Num("carbon", z.DissolvedC.Value, "wt%"), micron("grain", z.Grain.Value))
		}
	case sim.Carrying:
		t.ids = []string{"medium.air", "micro.pearlite"}
		if before != nil {
			tell("carried", kelvin("from", before.Temperature.Value), kelvin("to", z.Temperature.Value), share("soft", z.Constituents.Pearlite))
		}
	case sim.Quenching:
		t.ids = []string{"bath", "micro.pearlite", "micro.ms", "micro.hardness", "micro.retained"}
		if n, ok := signIn(h, i, sim.BelowNose); ok {
			tell("below-nose", secs("since", n.Since.Value))
		}
		if m, ok := signIn(h, i, sim.MartensiteStarts); ok {
			tell("martensite-starts", kelvin("start", m.Temperature.Value), secs("since", m.Since.Value))
		}
		tell("quenched", share("martensite", z.Constituents.Martensite), share("kept", z.Constituents.RetainedAustenite+z.Constituents.Austenite),
			share("soft", z.Constituents.Pearlite+z.Constituents.Bainite), hardness("hard", z))
		who.signsOfCracks(s, t, tell)
	case sim.Cooling, sim.Burying:
		if s.Verb == "temper" || s.Verb == "relieve" {
			return
		}
		t.ids = []string{"medium.air", "micro.pearlite", "micro.soft"}
		tell("cooled", share("pearlite", z.Constituents.Pearlite), share("hard-share", z.Constituents.Martensite+z.Constituents.Bainite), hardness("hard", z))
	case sim.Tempering, sim.Holding:
		t.ids = []string{"micro.tempering", "skin.film", "medium.oven"}
		if s.Turn > 1 {
			before = zoneOf(h.Steps[firstTurn(h, i)].Zones, z.Name)
			tell("tempered-again", hardness("first", before), hardness("hard", z))
		} else if before != nil {
			tell("tempered", secs("through", s.Reached-s.Start), hardness("from", before), hardness("hard", z))
		}
		if lastTemper(h, i) {
			who.toughAndGrown(z, t, tell)
		}
	case sim.Acting:
		switch s.Verb {
		case string(route.Grind):
			t.ids = []string{"skin.decarb"}
			tell("ground", who.thin("skin", z.Decarb.Value))
		case string(route.Forge):
			t.ids = []string{"micro.worked", "skin.decarb"}
			if before != nil && z.Grain.Value < 0.97*before.Grain.Value {
				tell("worked", kelvin("hot", z.Temperature.Value), micron("was", before.Grain.Value), micron("grain", z.Grain.Value))
			}
		}
	}
}

func bathModel(kind string) string {
	if strings.Contains(kind, "water") || strings.Contains(kind, "brine") {
		return "medium.water"
	}
	return "medium.oil"
}

var beforeUnit = regexp.MustCompile(`(\d[½]?|½) (°C|°F|%|(?:mm|in|µm|s|min|h|HRC|HV)\b)`)

// tied keeps a number and its unit on one line.
func tied(s string) string { return beforeUnit.ReplaceAllString(s, "$1\u00a0$2") }

func firstTurn(h *sim.History, i int) int {
	for k := i; k >= 0; k-- {
		if s := &h.Steps[k]; s.JobStep == h.Steps[i].JobStep && s.Role == h.Steps[i].Role && s.Turn == 1 {
			return k
		}
	}
	return i
}

// signIn returns the first sign of a name in a step.
func signIn(h *sim.History, step int, name sim.SignName) (sim.Sign, bool) {
	for _, s := range h.Signs {
		if s.Name == name && s.Step == step {
			return s, true
		}
	}
	return sim.Sign{}, false
}

func kelvin(name string, celsius float64) cite.Quantity { return cite.Num(name, celsius+273.15, "K") }
func secs(name string, s float64) cite.Quantity         { return cite.Num(name, math.Max(0, s), "s") }
func micron(name string, um float64) cite.Quantity {
	return cite.Txt(name, fmt.Sprintf("%.0f µm", um))
}

// thin says a thin layer [mm] to the hundredth of a mm or the thousandth of an inch.
func (who reader) thin(name string, mm float64) cite.Quantity {
	if who.Units == unit.Imperial {
		if mm < 0.0127 {
			return cite.Txt(name, "under 0.001 in")
		}
		return cite.Txt(name, fmt.Sprintf("%.3f in", mm/25.4))
	}
	if mm < 0.005 {
		return cite.Txt(name, "under 0.01 mm")
	}
	return cite.Txt(name, fmt.Sprintf("%.2f mm", mm))
}

// share says a fraction in words where its digits would say too much.
func share(name string, x float64) cite.Quantity {
	switch {
	case x < 0.01:
		return cite.Txt(name, "no")
	case x > 0.985:
		return cite.Txt(name, "99 %")
	}
	return cite.Txt(name, fmt.Sprintf("%.0f %%", 100*x))
}

// hardness says the hardness of a zone with its band.
func hardness(name string, z *sim.Zone) cite.Quantity {
	switch {
	case z == nil || z.HardnessHRC == nil:
		return cite.Txt(name, "under 20 HRC")
	case z.HardnessHRC.High-z.HardnessHRC.Low >= 1:
		return cite.Txt(name, fmt.Sprintf("%.0f HRC (%.0f–%.0f)", z.HardnessHRC.Value, z.HardnessHRC.Low, z.HardnessHRC.High))
	}
	return cite.Num(name, z.HardnessHRC.Value, "HRC")
}
