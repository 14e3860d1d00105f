package plan

import (
	"context"
	"math"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// Wall is what a shop hangs on its wall: what its own oven, baths and steels do.
// All of it is computed by marching pieces; nothing in it was measured.
type Wall struct {
	Dials []Dial
	Baths []BathLimit
	Steel []Depth
}

// Dial says what an oven makes of a setting.
type Dial struct {
	Oven  string
	Set   float64   // on the dial [K]
	Piece unit.Band // at the piece [K]
	Thin  float64   // until a bright 3 mm piece is there [s]
	Thick float64   // until a bright 6 mm piece is there [s]
}

// BathLimit says how many pieces a bath takes.
type BathLimit struct {
	Bath   string
	Mass   float64 // of a piece [kg]
	Rise   float64 // of the bath for one piece [K]
	From   float64 // [K]
	To     float64 // where the smith stops [K]
	Pieces int     // whole pieces from From to To; 0: To is not known
}

// Depth is the thickest section of a steel that hardens through in a bath [m].
type Depth struct {
	Steel, Bath string
	Flat, Round unit.Band // value: typical bar; low and high: the leanest and richest of the standard
	Beyond      bool      // more than the thickest that was tried
}

// Limits of the search for the thickest section [m].
const (
	thinnestTried = 1e-3
	thickestTried = 40e-3
	throughShare  = 0.9 // martensite and retained austenite in the middle
)

// dialsShown are the settings that the chart gives [°C]; common practice.
var dialsShown = []float64{175, 205, 230, 260}

// WallOf computes the chart of a shop for these steels. watch hears how far it is.
func WallOf(ctx context.Context, s route.Shop, grades []string, watch func(share float64)) (*Wall, error) {
	if watch == nil {
		watch = func(float64) {}
	}
	w := &Wall{}
	total := float64(len(s.Ovens) + len(s.Baths)*(1+len(grades)))
	done := 0.0
	tick := func() { done++; watch(done / total) }
	for _, o := range s.Ovens {
		if err := w.dials(ctx, s, o); err != nil {
			return nil, err
		}
		tick()
	}
	for _, b := range s.Baths {
		if err := w.bath(ctx, s, b); err != nil {
			return nil, err
		}
		tick()
		for _, g := range grades {
			if err := w.depth(ctx, s, b, g); err != nil {
				return nil, err
			}
			tick()
		}
	}
	return w, nil
}

func (w *Wall) dials(ctx context.Context, s route.Shop, o route.Oven) error {
	for _, c := range dialsShown {
		d := Dial{Oven: o.Name, Set: c + 273.15}
		for _, k := range s.Kit().Ovens {
			if k.Name == o.Name {
				v, lo, hi := k.OffsetBand()
				d.Piece = unit.Band{Value: d.Set + v, Low: d.Set + lo, High: d.Set + hi}
			}
		}
		for _, thick := range []struct {
			mm float64
			at *float64
		}{{3, &d.Thin}, {6, &d.Thick}} {
			job := route.Job{
				Format: route.Format, Name: "bar", Shop: s, Steel: []route.Metal{{Grade: "1084", Condition: route.Annealed}},
				Piece: route.Piece{Form: route.Flat, Length: length(unit.MM(150), unit.Metric), Width: length(unit.MM(25), unit.Metric), Thickness: length(unit.MM(thick.mm), unit.Metric)},
				Steps: []route.Step{{Do: route.Temper, In: o.Name, At: given(unit.Celsius(c).Exact(unit.Metric), unit.ParseTemp), Hold: minutes(1)}},
			}
			h, err := sim.Run(ctx, job, coarse, nil)
			if err != nil {
				return err
			}
			*thick.at = h.Steps[0].Reached - h.Steps[0].Start
		}
		w.Dials = append(w.Dials, d)
	}
	return nil
}

// coarse is how the chart's pieces are marched: sections of few cells.
var coarse = sim.Options{Section: true, Across: 8, Through: 6, Quick: true, NoSeries: true}

func (w *Wall) bath(ctx context.Context, s route.Shop, b route.Bath) error {
	const mm = 4.0
	job := hardenedBar(s, b.Name, "1084", route.Flat, mm/1000)
	// The last seconds of a piece take minutes, in which a bath would lose to the
	// room what it has taken: the shop is as warm as the bath for this one march.
	job.Steps[len(job.Steps)-1].Until = until("5 min", route.ByTime, route.Ending{Time: 300})
	job.Piece.Width, job.Piece.Length = length(unit.MM(32), unit.Metric), length(unit.MM(250), unit.Metric)
	setup, err := sim.Prepare(job)
	if err != nil {
		return err
	}
	for i := range setup.Shop.Baths {
		if k := &setup.Shop.Baths[i]; k.Name == b.Name {
			setup.Shop.Room.Air = shop.Exactly(k.StartTemperature(setup.Shop.Room.Air.Value))
		}
	}
	h, err := setup.Run(ctx, coarse, nil)
	if err != nil {
		return err
	}
	l := BathLimit{Bath: b.Name, Mass: h.Mesh.Mass}
	for _, st := range h.Steps {
		if st.Role == sim.Quenching {
			l.From, l.Rise = st.Where.Start+273.15, st.Where.End-st.Where.Start
		}
	}
	if b.Limit.Is() && l.Rise > 0 {
		l.To = b.Limit.Value.K()
		l.Pieces = int(math.Max(0, (l.To-l.From)/l.Rise))
	}
	w.Baths = append(w.Baths, l)
	return nil
}

func (w *Wall) depth(ctx context.Context, s route.Shop, b route.Bath, grade string) error {
	g, err := steel.Find(grade)
	if err != nil {
		return err
	}
	low, high := g.Spread()
	d := Depth{Steel: grade, Bath: b.Name}
	for _, form := range []struct {
		form route.Form
		to   *unit.Band
	}{{route.Flat, &d.Flat}, {route.Round, &d.Round}} {
		for i, c := range []steel.Composition{g.Nominal(), low, high} {
			t, err := thickest(ctx, s, b.Name, grade, form.form, c)
			if err != nil {
				return err
			}
			*[]*float64{&form.to.Value, &form.to.Low, &form.to.High}[i] = t
		}
	}
	d.Beyond = d.Round.Value >= thickestTried
	w.Steel = append(w.Steel, d)
	return nil
}

// thickest finds the thickest bar of this composition whose middle hardens, to 5 %.
func thickest(ctx context.Context, s route.Shop, bath, grade string, form route.Form, c steel.Composition) (float64, error) {
	limits, err := micro.Equilibrium(c)
	if err != nil {
		return 0, err
	}
	through := func(t float64) (bool, error) {
		setup, err := sim.Prepare(hardenedBar(s, bath, grade, form, t))
		if err != nil {
			return false, err
		}
		setup.Steel, setup.Limits = c, limits
		h, err := setup.Run(ctx, coarse, nil)
		if err != nil {
			return false, err
		}
		for _, z := range h.Zones {
			if z.Name == "core" {
				return z.Constituents.Hardened() >= throughShare, nil
			}
		}
		return false, nil
	}
	lo, hi := thinnestTried, thickestTried
	if ok, err := through(lo); err != nil || !ok {
		return 0, err
	}
	if ok, err := through(hi); err != nil || ok {
		return hi, err
	}
	for hi/lo > 1.05 {
		mid := math.Sqrt(lo * hi)
		ok, err := through(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, nil
}

// hardenedBar is a job that hardens a plain bar of this thickness [m] as its
// maker's sheet says.
func hardenedBar(s route.Shop, bath, grade string, form route.Form, t float64) route.Job {
	fire := "chart kiln"
	s.Ovens = append([]route.Oven{{Name: fire, Kind: "kiln"}}, s.Ovens...)
	mm := func(x float64) route.Length { return given(unit.MM(x).Exact(unit.Metric), unit.ParseLength) }
	p := route.Piece{Form: form, Length: mm(150)}
	if form == route.Round {
		p.Diameter = mm(1000 * t)
	} else {
		p.Width, p.Thickness = mm(math.Max(25, 1500*t)), mm(1000*t)
	}
	h := heats{harden: 815 + 273.15, soak: 8}
	if g, err := steel.Find(grade); err == nil && g.Practice != nil && g.Practice.Harden[1] > 0 {
		h.harden = (g.Practice.Harden[0]+g.Practice.Harden[1])/2 + 273.15
		h.soak = (g.Practice.SoakMinutes[0] + g.Practice.SoakMinutes[1]) / 2
	}
	return route.Job{
		Format: route.Format, Name: "bar", Piece: p, Steel: []route.Metal{{Grade: grade}}, Shop: s,
		Steps: []route.Step{
			{Do: route.Heat, In: fire, At: temp(h.harden, unit.Metric), Until: until("at heat", route.AtHeat, route.Ending{}), Hold: minutes(h.soak)},
			{Do: route.Carry, Until: until("2 s", route.ByTime, route.Ending{Time: 2})},
			{Do: route.Quench, In: bath, Until: untilSign(route.HandWarm)},
		},
	}
}
