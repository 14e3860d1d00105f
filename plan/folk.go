package plan

import (
	"context"
	"math"
	"slices"

	"github.com/heatwright/heatwright/forging"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Rules of the trade that ask for a run of their own: what a freezer does, what
// forging first changes, what a test piece of an unknown steel would show, and how
// long an edge can be packed.

// Cold is what a home freezer makes of a piece fresh from the bath.
type Cold struct {
	Kept, After float64 // retained austenite at room temperature, and in the freezer straight from the bath
	HV, AfterHV float64
	Restart     float64 // where it goes on after an hour in the room [K]; 0: colder than the freezer
}

// Temperatures and times of the freezer [K, s]; common practice.
const (
	room        = 20 + 273.15
	freezer     = -18 + 273.15
	inTheRoom   = 3600
	quenchRate  = 60 // [K/s]
	startsAgain = 0.002
)

// Freeze marches a cell of this metal through a hold at hardening heat [K, s], an
// even quench, and a freezer at −18 °C: at once, and after an hour in the room.
func Freeze(m *micro.Metal, from micro.StartState, hot, hold float64) Cold {
	c := micro.NewCells(1)
	m.StartFrom(c, from)
	T := []float64{hot}
	for t := 0.0; t < math.Max(1, hold); {
		dt := math.Min(5, math.Max(0.2, t/10))
		m.Step(c, c, T, dt)
		t += dt
	}
	lead := func(to, rate float64, watch func() bool) {
		for T[0] > to {
			d := math.Min(2, T[0]-to)
			T[0] -= d
			m.Step(c, c, T, d/rate)
			if watch != nil && watch() {
				return
			}
		}
	}
	lead(room, quenchRate, nil)
	left := func() float64 { return c.Fraction[steel.RetainedAustenite][0] + c.Fraction[steel.Austenite][0] }
	x := Cold{Kept: left(), HV: m.HV(c, 0)}
	rested := c.Clone()
	lead(freezer, 0.5, nil)
	x.After, x.AfterHV = left(), m.HV(c, 0)
	c, T[0] = rested, room
	for range int(inTheRoom / 60) {
		m.Step(c, c, T, 60)
	}
	still := left()
	lead(freezer, 0.05, func() bool {
		if still-left() > startsAgain {
			x.Restart = T[0]
			return true
		}
		return false
	})
	return x
}

// Forged compares a job as it is with the same after four forging heats, or
// without the forging that it has, both to the same ending: the state of the
// working zone at the end.
type Forged struct{ With, Without sim.Zone }

// ForgedOrNot marches both; ok is false where the shop has no fire that forges.
func ForgedOrNot(ctx context.Context, job route.Job, zone string) (f Forged, ok bool, err error) {
	with, without := job, job
	without.Steps = slices.DeleteFunc(slices.Clone(job.Steps), func(s route.Step) bool { return s.Do == route.Forge })
	if len(without.Steps) == len(job.Steps) {
		if len(job.Shop.Forges) == 0 || len(job.Steel) == 0 {
			return f, false, nil
		}
		heat := route.Step{
			Do: route.Forge, In: job.Shop.Forges[0].Name, At: temp(1100+273.15, unit.Metric),
			Until: until("1050 C at "+zone, route.ByTemp, route.Ending{Temp: unit.Celsius(1050), Zone: zone}), Work: given("30 s", unit.ParseDuration), Times: 4,
		}
		with.Steps = append([]route.Step{heat}, job.Steps...)
	}
	for _, x := range []struct {
		job route.Job
		to  *sim.Zone
	}{{with, &f.With}, {without, &f.Without}} {
		h, err := sim.Run(ctx, x.job, coarse, nil)
		if err != nil {
			return f, false, err
		}
		for _, z := range h.Zones {
			if z.Name == zone {
				*x.to, ok = z, true
			}
		}
	}
	return f, ok, nil
}

// Coupon is what a test piece of a steel shows fresh from the bath, before temper [HRC].
type Coupon struct {
	Steel      string
	Oil, Water float64 // NaN: it stays under 20
}

// springSteels are what old springs are made of, as far as the list has them;
// common practice.
var springSteels = []string{"5160", "6150", "9260", "1075", "1095"}

// Coupons hardens a flat test piece 5 mm thick of each steel that old springs are
// made of, in oil and in water.
func Coupons(ctx context.Context) ([]Coupon, error) {
	var all []Coupon
	for _, name := range springSteels {
		if _, err := steel.Find(name); err != nil {
			continue // not in the list
		}
		x := Coupon{Steel: name}
		for _, bath := range []struct {
			kind string
			to   *float64
		}{{"medium oil", &x.Oil}, {"water", &x.Water}} {
			s := route.Shop{Baths: []route.Bath{{Name: bath.kind, Kind: bath.kind}}}
			h, err := sim.Run(ctx, hardenedBar(s, bath.kind, name, route.Flat, 5e-3), coarse, nil)
			if err != nil {
				return nil, err
			}
			*bath.to = math.NaN()
			for _, z := range h.Zones {
				if z.Name == "core" && z.HardnessHRC != nil {
					*bath.to = z.HardnessHRC.Value
				}
			}
		}
		all = append(all, x)
	}
	return all, nil
}

// Heats between which an edge can be packed [K]: above, blows still move it
// freely; below, it cracks. Common practice.
const (
	PackFrom = 850 + 273.15
	PackTo   = 750 + 273.15
)

// Packing returns how long an edge this thick, of a strip this wide [m], gives for
// light blows before it is too cold [s].
func Packing(c steel.Composition, edge, wide float64) (unit.Band, error) {
	return forging.Heat{From: PackFrom, To: PackTo, Blows: 2}.Seconds(c, forging.Section{Width: wide, Height: edge})
}
