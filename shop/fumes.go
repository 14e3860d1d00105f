package shop

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/unit"
)

// Limits of carbon monoxide in breathing air, as volume fractions.
//
// Source: niosh-co (recommended 35 ppm over 8 h, 200 ppm ceiling), osha-co (50 ppm over 8 h).
const (
	RecommendedCO = 35e-6
	CeilingCO     = 200e-6
	LegalCO       = 50e-6
)

// Fumes is the carbon monoxide in the room over an evening, as volume fractions.
// Low is a measured lean flame, Value a neutral one, High a rich one; a flame
// that is known is banded by itself. A forecast is never a statement that the
// room may be used: an alarm is needed in any case.
type Fumes struct {
	Peak       unit.Band // at the end of the burning
	Average    unit.Band // over 8 h
	Given      unit.Band // into the room [m³/s]
	AirNeeded  unit.Band // to hold 35 ppm in the long run [m³/s]
	HoodOrOpen bool      // the upper end passes 35 ppm: a hood, open air, or do not light
	Notes      []cite.Note
}

// flames returns the CO share of the wet flue as a band: rich 3–8 %, neutral
// 0.3–2 %, lean 0.01–0.1 % (rich by the atom balance at 12 to 29 % too little air,
// the others from memory). A fire of coke or charcoal counts as rich.
func (f *Forge) flames() unit.Band {
	switch f.Flame {
	case LeanFlame:
		return unit.Band{Value: 0.0003, Low: 0.0001, High: 0.001}
	case NeutralFlame:
		return unit.Band{Value: 0.008, Low: 0.003, High: 0.02}
	case RichFlame:
		return unit.Band{Value: 0.05, Low: 0.03, High: 0.08}
	}
	// Nobody hears the difference between neutral and a little rich: the rich row leads.
	return unit.Band{Value: 0.03, Low: 0.003, High: 0.08}
}

// CarbonMonoxide forecasts the CO in the room while the named forges burn for
// some time [s] at their working rate. Indoors without a known exchange of air a
// closed workshop counts, half to two changes an hour.
//
//	V dC/dt = G (1 − caught) − Q C
//
// Room air is mixed; what burns at the door is not counted on.
//
// Source: own derivation from the balance of the room.
func (s *Shop) CarbonMonoxide(names []string, burning float64) Fumes {
	var f Fumes
	if s.Room.Outdoors {
		return f
	}
	volume := s.Room.Volume.Or(120, 60)
	exchange := s.Room.Exchange.Band
	if !s.Room.Exchange.Known {
		exchange = unit.Band{Value: volume.Value / 3600, Low: 0.5 * volume.Low / 3600, High: 2 * volume.High / 3600}
	}
	caught := s.Room.Caught.Or(0, 0)
	given := func(pick func(unit.Band) float64, caught float64) float64 {
		sum := 0.0
		for i := range s.Forges {
			g := &s.Forges[i]
			if !contains(names, g.Name) {
				continue
			}
			fuel := g.Fuel
			if fuel == "" {
				fuel = Propane
			}
			share := pick(g.flames())
			b := BurnWithCO(fuel, share)
			if g.Flame == LeanFlame { // its CO is what was badly mixed, in a flue with air to spare
				b = NewBurn(fuel, 1.12)
			}
			sum += pick(g.Gas.Or(1.0/3600, 0.4/3600)) * b.Volume() * share
		}
		return sum * (1 - caught)
	}
	value := func(b unit.Band) float64 { return b.Value }
	low := func(b unit.Band) float64 { return b.Low }
	high := func(b unit.Band) float64 { return b.High }
	f.Given = unit.Band{Value: given(value, caught.Value), Low: given(low, caught.High), High: given(high, caught.Low)}
	f.AirNeeded = unit.Band{Value: f.Given.Value / RecommendedCO, Low: f.Given.Low / RecommendedCO, High: f.Given.High / RecommendedCO}
	at := func(g, q, v float64) (peak, average float64) {
		k := max(q/v, 1e-9) // air changes [1/s]
		end := g / q
		peak = end * (1 - math.Exp(-k*burning))
		dose := end*(burning-(1-math.Exp(-k*burning))/k) + peak*(1-math.Exp(-k*max(8*3600-burning, 0)))/k
		return peak, dose / max(8*3600, burning)
	}
	const still = 1e-6
	f.Peak.Value, f.Average.Value = at(f.Given.Value, max(exchange.Value, still), volume.Value)
	f.Peak.Low, f.Average.Low = at(f.Given.Low, max(exchange.High, still), volume.High)
	f.Peak.High, f.Average.High = at(f.Given.High, max(exchange.Low, still), volume.Low)
	f.HoodOrOpen = f.Peak.High > RecommendedCO
	if f.HoodOrOpen {
		f.Notes = append(f.Notes, cite.Note{Code: "shop.hood-or-open-air", Source: "niosh-co", Args: []cite.Quantity{
			cite.Num("low", Rough(1e6*f.Peak.Low), "ppm"), cite.Num("likely", Rough(1e6*f.Peak.Value), "ppm"), cite.Num("high", Rough(1e6*f.Peak.High), "ppm"),
			cite.Num("limit", 1e6*RecommendedCO, "ppm"), cite.Num("air needed", f.AirNeeded.High, "m³/s"),
		}})
	}
	return f
}

// Rough rounds a forecast of fumes to the two digits that it is good for at most.
func Rough(x float64) float64 {
	if !(x > 10) {
		return math.Round(x)
	}
	unit := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Round(x/unit) * unit
}

func contains(names []string, name string) bool {
	for _, n := range names {
		if n == name {
			return true
		}
	}
	return len(names) == 0
}
