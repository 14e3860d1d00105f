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
	var blows, heats float64 // of the pass so far
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
		if st.Turn == 0 {
			blows, heats = 0, 0
		}
		seconds := effort.Blows.Value / forging.HandHammer.Rate
		blows += effort.Blows.Value
		if effort.Seconds.Value > 0 {
			heats += seconds / effort.Seconds.Value
			seconds = math.Min(seconds, effort.Seconds.Value)
		}
		for _, k := range []int{i - 1, i + 1} {
			s.Stages[k].Until = route.Ending{Kind: route.ByTime, Time: math.Max(seconds, leastWork) / 2}
		}
		if said := float64(st.Turns); st.Turn == st.Turns-1 && heats > said+0.1 {
			s.Notes = append(s.Notes, cite.Note{Code: "sim.more-heats", Where: st.Name, Source: "own-derivation", Args: []cite.Quantity{
				cite.Num("blows", math.Round(blows), "1"), cite.Num("heats", math.Ceil(heats), "1"), cite.Num("said", said, "1"),
			}})
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
