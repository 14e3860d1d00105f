package evidence

import (
	"context"
	"io/fs"
	"math"
	"strings"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// isothermalSet holds times of change at constant temperature, recalled from textbooks.
func isothermalSet(ctx context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("steel", "kind", "temperature_c", "event", "value", "factor_tolerance"); err != nil {
		return nil, err
	}
	s := newSample("transformation_points", "isothermal", "factor", "micro: hardened whole, held").claims(micro.Accuracy(), "micro.pearlite")
	s.score.Factor, s.score.Memory = true, true
	s.score.Remark = "textbook diagrams, almost all recalled; errors are logarithms of ratios"
	cc := newSample("transformation_points", "continuous cooling", "factor", "micro: austenitized whole, cooled evenly")
	cc.score.Factor, cc.score.Memory = true, true
	cc.score.Remark = "critical cooling rates of textbook diagrams, recalled; errors are logarithms of ratios"
	for _, r := range t.rows {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		one := s
		if r.text("kind") == "CCT" {
			one = cc
		}
		value, ok := r.num("value")
		c, named := textbookSteel(r.text("steel"))
		if !ok || !named {
			one.leave("the steel or the figure is not known here")
			continue
		}
		x, why := newSpecimen(c, micro.Normalized)
		if why != "" {
			one.leave(why)
			continue
		}
		x.to(max(900+zero, x.metal.Limits().Upper()+20), 20)
		x.hold(1800)
		got, known := 0.0, false
		if one == cc {
			got, known = x.criticalRate(r.text("event"))
		} else if T, ok := r.num("temperature_c"); ok {
			var what steel.Constituent
			var share float64
			if what, share, known = eventOf(r.text("event")); known {
				x.to(T+zero, 2000)
				got = x.timeTo(what, share, 1e6)
			}
		}
		if !known {
			one.leave("an event that is not read here")
			continue
		}
		one.add(got, value)
		one.hit(math.Abs(math.Log(got/value)) <= math.Log(r.or("factor_tolerance", 2)))
	}
	return finish(s, cc), ctx.Err()
}

// criticalRate returns the even cooling rate [K/s] at which an event of a
// continuous-cooling diagram sets in, by halving.
func (s *specimen) criticalRate(event string) (rate float64, known bool) {
	f := &s.cells.Fraction
	var slow func() bool // whether a cooled specimen says that the rate was below the critical one
	switch {
	case strings.HasPrefix(event, "fully martensitic above"):
		slow = func() bool {
			return f[steel.Pearlite][0]+f[steel.Bainite][0]+f[steel.Ferrite][0] > 0.01
		}
	case strings.HasPrefix(event, "first pearlite below"):
		slow = func() bool { return f[steel.Pearlite][0] > 0.01 }
	case strings.HasPrefix(event, "no martensite below"):
		slow = func() bool { return f[steel.Martensite][0] < 0.01 }
	default:
		return 0, false
	}
	hot, from := s.cells.Clone(), s.T[0]
	lo, hi := 1e-4, 1e4
	for hi/lo > 1.02 {
		mid := math.Sqrt(lo * hi)
		s.cells.Copy(hot)
		s.T[0] = from
		s.to(298.15, mid)
		if slow() {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Sqrt(lo * hi), true
}

// timeTo holds until a constituent has grown to a share of what was austenite
// [s]; +Inf when it does not within most.
func (s *specimen) timeTo(what steel.Constituent, share, most float64) float64 {
	dt := 1e-3
	for t := 0.0; t < most; {
		s.metal.Step(s.cells, s.cells, s.T, dt)
		t += dt
		if s.cells.Fraction[what][0] >= share {
			return t
		}
		dt = max(1e-3, t/200)
	}
	return math.Inf(1)
}

func eventOf(text string) (what steel.Constituent, share float64, ok bool) {
	name, at, found := strings.Cut(text, " ")
	what, known := map[string]steel.Constituent{"pearlite": steel.Pearlite, "bainite": steel.Bainite, "ferrite": steel.Ferrite}[name]
	share, timed := map[string]float64{"start": 0.01, "50%": 0.5, "finish": 0.98}[at]
	return what, share, found && known && timed
}

func textbookSteel(name string) (steel.Composition, bool) {
	if strings.HasPrefix(name, "eutectoid") {
		return steel.Composition{steel.C: 0.76, steel.Mn: 0.7, steel.Si: 0.2}, true
	}
	if name == "1080" {
		return steel.Composition{steel.C: 0.79, steel.Mn: 0.76, steel.Si: 0.2}, true
	}
	g, err := steel.Find(name)
	return g.Nominal(), err == nil
}
