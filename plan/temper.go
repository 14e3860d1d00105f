package plan

import (
	"context"
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/study"
	"github.com/heatwright/heatwright/unit"
)

const (
	nearEnough = 4.0  // of a hardness that is sought [HV]: less than a third of 1 HRC
	mostTries  = 5    // marches through the temper
	slopeStep  = 10.0 // over which the softening by a hotter temper is taken [K]
)

// temper sets the temper that brings the zone of the first wish to the middle of
// its band. The piece is marched once, in section, up to the first temper; from
// there it is tempered as often as it takes, each time at a better guess. The
// first guess is what the softening of fully hardened steel would ask for.
func (f *Found) temper(ctx context.Context, w Wish) error {
	wish := w.Aim.Hardness[0]
	want := middle(wish.Band.Value)
	glancing := study.Coarse(f.Setup)
	m, err := f.Setup.March(glancing)
	if err != nil {
		return err
	}
	stages := f.Setup.Stages
	err = m.Until(ctx, func(m *sim.March) bool { return stages[m.Stage()].Role == route.Tempering })
	if err != nil {
		return err
	}
	now, err := m.History()
	if err != nil {
		return err
	}
	hard := hardnessAt(now, wish.Zone)
	cool, hot := coolestTemper, hottestOf(w)
	s := softening{f.Setup.Steel, holdsOf(stages)}
	try := func(at route.Temp) (*sim.History, error) {
		next := f.Setup.Clone()
		for i := range next.Stages {
			if next.Stages[i].Role == route.Tempering {
				next.Stages[i].At = at
			}
		}
		v, err := m.Vary(next, glancing)
		if err != nil {
			return nil, err
		}
		if err := v.Finish(ctx, nil); err != nil {
			return nil, err
		}
		f.Setup = next
		return v.History()
	}
	code := "plan.temper-found"
	at := s.find(want, cool, hot)
	for n := 0; ; n++ {
		set := temp(at, w.Units)
		if f.Glance, err = try(set); err != nil {
			return err
		}
		f.set(set)
		over := hardnessAt(f.Glance, wish.Zone) - want
		next := math.Max(cool, math.Min(hot, at+over/s.slope(at)))
		switch {
		case over > nearEnough && at >= hot-1:
			code = "plan.harder-than-wished"
		case over < -nearEnough && at <= cool+1:
			code = "plan.softer-than-wished"
		case math.Abs(over) > nearEnough && n < mostTries && temp(next, w.Units).Text != set.Text:
			at = next
			continue
		}
		break
	}
	f.Notes = append(f.Notes, cite.Note{Code: code, Where: wish.Zone, Args: []cite.Quantity{
		cite.Num("temperature", at, "K"), cite.Num("untempered", hard, "HV"), cite.Num("wished", want, "HV")}})
	return nil
}

func (f *Found) set(at route.Temp) {
	for i := range f.Job.Steps {
		if f.Job.Steps[i].Do == route.Temper {
			f.Job.Steps[i].At = at
		}
	}
}

// middle of a band of hardness [HV].
func middle(b unit.HardnessBand) float64 {
	band := b.HV()
	low, high := 200.0, 1000.0
	if !math.IsInf(band.Low, 0) {
		low = band.Low
	}
	if !math.IsInf(band.High, 0) {
		high = band.High
	}
	return (low + high) / 2
}

// softening is what tempers of these lengths do to a fully hardened steel.
type softening struct {
	steel steel.Composition
	holds []float64 // s
}

func holdsOf(stages []sim.Stage) []float64 {
	var holds []float64
	for _, s := range stages {
		if s.Role == route.Tempering {
			holds = append(holds, s.Hold)
		}
	}
	return holds
}

func (s softening) at(kelvin float64) float64 {
	holds := make([]micro.Hold, len(s.holds))
	for i, t := range s.holds {
		holds[i] = micro.Hold{T: kelvin, Time: t}
	}
	return micro.TemperedHardness(s.steel, holds)
}

// slope is how much softer a kelvin more makes it [HV/K], at least a little.
func (s softening) slope(kelvin float64) float64 {
	return math.Max(0.1, (s.at(kelvin-slopeStep)-s.at(kelvin+slopeStep))/(2*slopeStep))
}

// find returns the temperature between lo and hi for a hardness [K].
func (s softening) find(want, lo, hi float64) float64 {
	for hi-lo > 0.5 {
		if mid := (lo + hi) / 2; s.at(mid) > want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// hardnessAt returns the hardness of a zone at the end of a run [HV]; of the
// first zone when the piece has none of that name.
func hardnessAt(h *sim.History, zone string) float64 {
	for _, z := range h.Zones {
		if z.Name == zone {
			return z.HardnessHV.Value
		}
	}
	return h.Zones[0].HardnessHV.Value
}
