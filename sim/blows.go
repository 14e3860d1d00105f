package sim

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/forging"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// What a pass is reckoned with where the job does not say more.
const (
	stopForging  = 850 + kelvin // back into the fire [K]: common practice for carbon steel
	usualForging = 1050 + kelvin
	leastWork    = 3. // at the anvil [s]
)

// timeBlows says how long each heat of a pass is worked where the job does not:
// as long as its blows take with a hand hammer, at most as long as the heat
// lasts. A note tells when the heats are too few for that.
func (s *Setup) timeBlows(job route.Job) error {
	told := map[int]bool{}
	for i := range s.Stages {
		st := &s.Stages[i]
		step := job.Steps[st.Step]
		if st.Change == nil || !step.Passes() || step.Work.Is() {
			continue
		}
		effort, err := forging.Pass{Steel: s.Steel, Change: st.Change, Heat: forging.Heat{From: forgingHeat(step), To: stopForging}, Hammer: forging.HandHammer}.Effort()
		if err != nil {
			return &Error{Step: st.Name, Err: err}
		}
		seconds := effort.Blows.Value / forging.HandHammer.Rate
		if most := effort.Seconds.Value; seconds > most {
			if n := len(s.Notes); !told[st.Step] {
				told[st.Step] = true
				s.Notes = append(s.Notes[:n:n], cite.Note{Code: "sim.more-heats", Where: st.Name, Source: "own-derivation", Args: []cite.Quantity{
					cite.Num("blows", math.Round(effort.Blows.Value), "1"), cite.Num("seconds", most, "s"),
					cite.Num("heats", effort.Heats.Value*float64(max(step.Times, 1)), "1"), cite.Num("said", float64(max(step.Times, 1)), "1"),
				}})
			}
			seconds = most
		}
		for _, k := range []int{i - 1, i + 1} {
			s.Stages[k].Until = route.Ending{Kind: route.ByTime, Time: math.Max(seconds, leastWork) / 2}
		}
	}
	return nil
}

// forgingHeat is the temperature at which a piece leaves the fire for a pass [K].
func forgingHeat(s route.Step) float64 {
	t := unit.Temp(usualForging)
	switch {
	case s.Until.Kind == route.ByTemp:
		t = s.Until.Temp
	case s.Until.Kind == route.AtHeat && s.At.Is():
		t = s.At.Value
	}
	return math.Max(stopForging+30, float64(t))
}
