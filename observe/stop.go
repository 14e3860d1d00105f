package observe

import (
	"fmt"
	"math"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/unit"
)

// HumanLag is the time from seeing a color to having stopped the heat [s]: 1.0,
// from 0.5 (ready beside the water) to 2.0 (common practice).
var HumanLag = unit.Band{Value: 1, Low: 0.5, High: 2}

// Stop tells when to stop a run of colors.
type Stop struct {
	Reached bool         // the wanted color comes at all
	At      float64      // the moment at which the watched place is in the middle of the wanted color [s]
	Call    float64      // when to begin to move, one lag earlier [s]
	Seen    color.Temper // what the watched place looks like at the call
	Early   float64      // the wanted color begins [s]
	Late    float64      // and ends [s]; +Inf if it stays
	IfSlow  color.Temper // what comes of it with the slowest lag
	IfQuick color.Temper // and with the quickest
	Speed   float64      // how fast the color goes by at the watched place [nm/s]
}

// Window returns how long the wanted color stands at the watched place [s].
func (s Stop) Window() float64 { return s.Late - s.Early }

// TooFast says whether the color goes by quicker than a person can act: cooler
// block, less flame, or the edge in water.
func (s Stop) TooFast(lag unit.Band) bool { return s.Reached && s.Window() < lag.High-lag.Low }

// StopMoment finds, in a history of film thickness, when to stop so that the
// watched place keeps the wanted color. The film only grows, so each thickness is
// met once.
func StopMoment(h *color.History, watch float64, want color.Temper, lag unit.Band) Stop {
	if lag == (unit.Band{}) {
		lag = HumanLag
	}
	b := want.Film()
	meets := func(nm float64) float64 {
		for i := 1; i < len(h.Time); i++ {
			_, after := h.At(h.Time[i], watch)
			if after < nm {
				continue
			}
			_, before := h.At(h.Time[i-1], watch)
			if after == before {
				return h.Time[i]
			}
			f := max(0, (nm-before)/(after-before))
			return h.Time[i-1] + f*(h.Time[i]-h.Time[i-1])
		}
		return math.Inf(1)
	}
	s := Stop{At: meets(b.Value), Early: meets(b.Low), Late: meets(b.High)}
	s.Reached = !math.IsInf(s.At, 1)
	if !s.Reached {
		s.At = h.Time[len(h.Time)-1]
	}
	s.Call = max(h.Time[0], s.At-lag.Value)
	look := func(t float64) color.Temper {
		_, nm := h.At(min(t, h.Time[len(h.Time)-1]), watch)
		return color.TemperOf(nm)
	}
	s.Seen, s.IfSlow, s.IfQuick = look(s.Call), look(s.Call+lag.High), look(s.Call+lag.Low)
	_, before := h.At(s.At-0.5, watch)
	_, after := h.At(s.At+0.5, watch)
	s.Speed = max(0, after-before)
	return s
}

// Frames picks moments for a comic of the run: from the first color to the stop,
// and once after it, with what is written over each.
func (s Stop) Frames(h *color.History, count int) (moments []float64, titles []string) {
	first := h.Time[0]
	straw := color.FaintStraw.Film().Low
	for _, t := range h.Time {
		if _, film := h.At(t, h.Place[0]); film >= straw {
			first = t
			break
		}
	}
	for k := range count - 1 {
		moments = append(moments, first+(s.At-first)*float64(k)/float64(max(1, count-2)))
		titles = append(titles, "")
	}
	last := h.Time[len(h.Time)-1]
	if s.Reached {
		titles[len(titles)-1] = "stop"
		moments = append(moments, min(last, s.At+max(2, s.Window())))
		titles = append(titles, "too late")
	} else {
		moments, titles = append(moments, last), append(titles, "not yet")
	}
	return moments, titles
}

// String tells the stop for a log.
func (s Stop) String() string {
	if !s.Reached {
		return "the color does not come"
	}
	return fmt.Sprintf("stop at %.1f s, move at %.1f s when it looks %s; the color stands for %.1f s", s.At, s.Call, s.Seen, s.Window())
}

// Doubt runs the colors with half and with twice the heat that the joint or the
// flame passes on, which is how well either is known, and returns the moment to
// move as a band [s]. High is the limit where the color then does not come.
func (r Running) Doubt(middle *Ran) (unit.Band, error) {
	b := unit.Band{Value: middle.Stop.Call, Low: middle.Stop.Call, High: middle.Stop.Call}
	if r.From == Shank {
		return b.Widen(0.15 * b.Value), nil // the shank's temperature is guessed by eye
	}
	if r.Joint == 0 {
		r.Joint = defaultJoint
	}
	for _, f := range []float64{0.5, 2} {
		s := r
		s.Joint *= f
		s.Watts *= (1 + f) / 2
		got, err := s.march()
		if err != nil {
			return b, err
		}
		b.Low, b.High = min(b.Low, got.Stop.Call), max(b.High, got.Stop.Call)
	}
	return b, nil
}
