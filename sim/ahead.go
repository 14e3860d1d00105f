package sim

import (
	"context"
	"math"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

const (
	tooMuchPearlite = 0.05 // at the edge; with this much a file begins to tell
	longestCarry    = 60.  // no one is longer on the way to the bath [s]
	carryDigits     = 0.04 // the latest moment is found to this share of itself
)

// leave keeps the piece as it stands when it leaves the fire for a bath, so that
// later other ways to the bath can be tried from there.
func (m *March) leave() {
	if m.opts.Quick || m.opts.Brief || m.index == 0 || m.quenchFrom(m.index) < 0 {
		return
	}
	if was := m.setup.Stages[m.index-1].Role; was != route.Heating && was != route.Working {
		return
	}
	f := *m
	f.log, f.left, f.out = nil, nil, nil
	m.left = &departure{f.Fork(), m.log.stageIndex()}
}

// departure is the piece as it left the fire, and the step of the history that began there.
type departure struct {
	march *March
	step  int
}

// quenchFrom returns the stage in which a piece that leaves the fire at stage i is
// quenched, or −1 where it is not.
func (m *March) quenchFrom(i int) int {
	for ; i < len(m.setup.Stages); i++ {
		switch m.setup.Stages[i].Role {
		case route.Quenching:
			return i
		case route.Carrying:
		default:
			return -1
		}
	}
	return -1
}

// latest finds the latest moment for the oil: how long the piece may be on its
// way through the air and still have less than 5 % pearlite at the edge. ok is
// false where it has more even when it goes straight in.
func (m *March) latest(ctx context.Context) (s Sign, ok bool, err error) {
	from := m.left.march
	q := from.quenchFrom(from.index)
	edge := from.edge()
	before := from.mesh.Parts[edge].Mean(from.now.cells.Fraction[steel.Pearlite])
	air := from.Fork()
	if err := air.carry(); err != nil {
		return s, false, err
	}
	// How far past the limit the edge is when it goes into the bath from a: the
	// logarithm, which runs straight with time.
	past := func(a *March) (float64, error) {
		p, err := a.Fork().pearliteAfter(ctx, q, edge)
		return math.Log(math.Max(p-before, 1e-5) / tooMuchPearlite), err
	}
	good, bad := air.Fork(), (*March)(nil)
	atGood, err := past(good)
	if err != nil || atGood > 0 {
		return s, false, err
	}
	atBad := 0.0
	for t := 2.0; t < 3*longestCarry && bad == nil; t *= 3 {
		next := good.Fork()
		if err := next.UntilTime(ctx, from.clock+math.Min(t, longestCarry)); err != nil {
			return s, false, err
		}
		over, err := past(next)
		switch {
		case err != nil:
			return s, false, err
		case over > 0:
			bad, atBad = next, over
		default:
			good, atGood = next, over
		}
	}
	for bad != nil && bad.clock-good.clock > carryDigits*(good.clock-from.clock)+0.02 {
		w := math.Max(0.1, math.Min(0.9, -atGood/(atBad-atGood)))
		mid := good.Fork()
		if err := mid.UntilTime(ctx, good.clock+w*(bad.clock-good.clock)); err != nil {
			return s, false, err
		}
		over, err := past(mid)
		switch {
		case err != nil:
			return s, false, err
		case math.Abs(over) < 0.05: // 5 % of 5 %
			good, bad = mid, nil
		case over > 0:
			bad, atBad = mid, over
		default:
			good, atGood = mid, over
		}
	}
	p := &from.mesh.Parts[edge]
	return Sign{
		Name: LatestForOil, Zone: p.Name, Step: m.left.step, Time: unit.Exactly(good.clock), Since: unit.Exactly(good.clock - from.clock),
		Temperature: unit.Exactly(p.Mean(good.now.field.T) - kelvin),
	}, true, nil
}

const (
	outBelow    = 300 + kelvin // out of the bath when the hottest zone is here [K]: past the nose, above martensite
	outAbove    = 30.          // or when a zone comes this close to its martensite [K]
	limp        = 500 + kelvin // but not before all zones are below this; above it pearlite would form in the air [K]
	tooMuchMart = 0.10         // of any zone: straighten no longer; common practice
)

// takeOut keeps the piece as it stands in the bath when it could be taken out to
// be straightened: past the pearlite nose everywhere, and still all austenite.
func (m *March) takeOut() {
	if m.opts.Quick || m.opts.Brief || m.out != nil || m.stay.place == nil || m.over || m.stageNow().Role != route.Quenching {
		return
	}
	hottest, near, austenite := 0.0, false, 1.0
	for z := range m.log.is {
		x := &m.log.is[z]
		hottest = math.Max(hottest, x.T)
		austenite = math.Min(austenite, x.aus)
		i := m.mesh.Parts[z].Cell[0]
		near = near || x.T < m.metal.MartensiteTemperature(m.now.cells, i)+outAbove
	}
	if hottest > limp || austenite < austeniteFor || hottest > outBelow && !near {
		return
	}
	f := *m
	f.log, f.left, f.out = nil, nil, nil
	m.out = &departure{f.Fork(), m.log.stageIndex()}
}

// window tells from when and until when a piece that is taken out of the bath into
// still air can be straightened: it closes when a tenth of any zone is martensite.
func (m *March) window(ctx context.Context) (opens, closes Sign, err error) {
	f := m.out.march.Fork()
	start := m.log.steps[m.out.step].Start
	hottest := func() (T, mart float64) {
		for z := range f.mesh.Parts {
			p := &f.mesh.Parts[z]
			T = math.Max(T, p.Mean(f.now.field.T))
			mart = math.Max(mart, p.Mean(f.now.cells.Fraction[steel.Martensite]))
		}
		return T, mart
	}
	T, before := hottest()
	opens = Sign{Name: WindowOpens, Zone: "piece", Step: m.out.step, Time: unit.Exactly(f.clock), Since: unit.Exactly(f.clock - start), Temperature: unit.Exactly(T - kelvin)}
	if err := f.carry(); err != nil {
		return opens, closes, err
	}
	for n := 0; T > handWarm; n++ {
		if n%64 == 0 {
			if err := ctx.Err(); err != nil {
				return opens, closes, err
			}
		}
		if err := f.Step(); err != nil {
			return opens, closes, err
		}
		var mart float64
		if T, mart = hottest(); mart > tooMuchMart {
			at := f.clock - f.took*(mart-tooMuchMart)/math.Max(mart-before, 1e-9)
			closes = Sign{Name: WindowCloses, Zone: "piece", Step: m.out.step, Time: unit.Exactly(at), Since: unit.Exactly(at - start), Temperature: unit.Exactly(T - kelvin)}
			return opens, closes, nil
		} else {
			before = mart
		}
	}
	return opens, closes, nil
}

// edge returns the zone that a cutting tool is judged by.
func (p *piece) edge() int {
	for _, name := range []string{"edge", "surface"} {
		if z := p.zone(name); z >= 0 {
			return z
		}
	}
	return p.core
}

// carry takes the piece into the still air of the shop, with no end.
func (m *March) carry() error {
	air, err := m.bench.Find(shop.AirName)
	if err != nil {
		return err
	}
	if m.stay.place != nil {
		m.settleUp()
	}
	m.stay = stay{place: air, gas: air.Atmosphere(), start: m.clock, best: math.Inf(-1), bestAt: m.clock, end: math.Inf(1), placeWas: air.Temperature(), around: air, size: m.size, pieces: 1}
	m.settleIn()
	return nil
}

// pearliteAfter quenches the piece as stage q says and returns the pearlite that
// the zone then has [–].
func (m *March) pearliteAfter(ctx context.Context, q, zone int) (float64, error) {
	part := &m.mesh.Parts[zone]
	m.index = q - 1
	if err := m.enter(); err != nil {
		return 0, err
	}
	const past = 400 + kelvin // no pearlite forms any more in the time of a quench
	err := m.Until(ctx, func(m *March) bool { return m.index != q || part.Mean(m.now.field.T) < past })
	return part.Mean(m.now.cells.Fraction[steel.Pearlite]), err
}

// hotUntil finds when the hottest zone of a piece that is left in the air can be touched.
func (m *March) hotUntil(ctx context.Context) (s Sign, ok bool, err error) {
	hottest := func(m *March) (z int, T float64) {
		for i := range m.mesh.Parts {
			if t := m.mesh.Parts[i].Mean(m.now.field.T); t > T {
				z, T = i, t
			}
		}
		return z, T
	}
	z, T := hottest(m)
	f := *m
	f.log, f.left, f.out, f.over = nil, nil, nil, false
	f.index = len(m.setup.Stages) - 1
	m = f.Fork()
	if T > burnsBelow {
		if err := m.carry(); err != nil {
			return s, false, err
		}
		m.stay.want, m.stay.target, m.stay.fine, m.stay.waiting = colder, burnsBelow, 0.05, true
		m.stay.last = m.stay.gap(m, m.now.cells)
		// The stage has no successor: stop when its ending is met.
		for m.stay.waiting && !m.over {
			if err := ctx.Err(); err != nil {
				return s, false, err
			}
			if err := m.Step(); err != nil {
				return s, false, err
			}
		}
		z, T = hottest(m)
	}
	return Sign{Name: HotUntil, Zone: m.mesh.Parts[z].Name, Time: unit.Exactly(m.clock), Temperature: unit.Exactly(T - kelvin)}, true, nil
}
