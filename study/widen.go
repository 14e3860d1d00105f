package study

import (
	"math"
	"strings"

	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// aspect is one number of a history with its band.
type aspect struct {
	key  string
	band *unit.Band
}

// aspects lists every band of a history that a run moves.
func aspects(h *sim.History) []aspect {
	var list []aspect
	zones := func(at string, z []sim.Zone) {
		for i := range z {
			x := &z[i]
			k := at + "/" + x.Name + "/"
			list = append(list,
				aspect{k + "T", &x.Temperature}, aspect{k + "hv", &x.HardnessHV}, aspect{k + "c", &x.DissolvedC}, aspect{k + "grain", &x.Grain},
				aspect{k + "decarb", &x.Decarb}, aspect{k + "soft", &x.SoftSkin}, aspect{k + "scale", &x.Scale}, aspect{k + "film", &x.Film}, aspect{k + "loss", &x.MetalLoss})
		}
	}
	zones("end", h.Zones)
	for i := range h.Steps {
		zones(stepKey(i), h.Steps[i].Zones)
		list = append(list, aspect{stepKey(i) + "/s", &h.Steps[i].Seconds})
	}
	for i := range h.Signs {
		s := &h.Signs[i]
		k := signKey(s)
		list = append(list, aspect{k + "/since", &s.Since}, aspect{k + "/T", &s.Temperature})
	}
	return list
}

func stepKey(i int) string { return "step" + string(rune('A'+i%26)) + string(rune('a'+i/26)) }

func signKey(s *sim.Sign) string { return stepKey(s.Step) + "/" + string(s.Name) + "/" + s.Zone }

// deviations is how far the runs with changes lie from the base, down and up,
// as root sums of squares over the moves.
type deviations struct{ down, up map[string]float64 }

func (s *Spread) deviations(read func(h *sim.History, tell func(key string, v float64))) deviations {
	base := map[string]float64{}
	read(s.Base, func(k string, v float64) { base[k] = v })
	d := deviations{map[string]float64{}, map[string]float64{}}
	for _, m := range s.Moves {
		down, up := map[string]float64{}, map[string]float64{}
		for _, run := range m.Runs {
			read(run, func(k string, v float64) {
				b, ok := base[k]
				if !ok || math.IsNaN(v) || m.early && strings.HasPrefix(k, "end/") {
					return
				}
				down[k] = math.Max(down[k], b-v)
				up[k] = math.Max(up[k], v-b)
			})
		}
		for k, v := range down {
			d.down[k] += v * v
		}
		for k, v := range up {
			d.up[k] += v * v
		}
	}
	for _, side := range []map[string]float64{d.down, d.up} {
		for k, v := range side {
			side[k] = math.Sqrt(v)
		}
	}
	return d
}

// around returns the band of a value with these deviations and an independent
// half width of the model's own.
func (d *deviations) around(key string, v, model float64) unit.Band {
	return unit.Band{Value: v, Low: v - math.Hypot(d.down[key], model), High: v + math.Hypot(d.up[key], model)}
}

// Widen gives every band of a history, of the same job, the width that the
// spread found, with the models' own accuracy added as a root sum of squares. Zones
// that the cross-section does not have borrow the band of the nearest kind.
func (s *Spread) Widen(h *sim.History) {
	d := s.deviations(func(h *sim.History, tell func(string, float64)) {
		for _, a := range aspects(h) {
			tell(a.key, a.band.Value)
		}
		eachZone(h, func(_ int, at string, z *sim.Zone) {
			for k := steel.Constituent(0); k < steel.NumConstituents; k++ {
				tell(at+k.String(), z.Constituents.Of(k))
			}
		})
	})
	have := map[string]bool{}
	for _, z := range s.Base.Zones {
		have[z.Name] = true
	}
	for _, a := range aspects(h) {
		*a.band = d.around(lend(a.key, have), a.band.Value, 0)
	}
	for i := range h.Signs {
		x := &h.Signs[i]
		x.Since = positive(x.Since)
		shift := x.Time.Value - x.Since.Value
		x.Time = unit.Band{Value: x.Time.Value, Low: shift + x.Since.Low, High: shift + x.Since.High}
	}
	tempered := temperedBy(h)
	eachZone(h, func(step int, at string, z *sim.Zone) {
		z.HardnessHV = z.HardnessHV.Widen(modelHV(z, tempered[step]))
		z.DissolvedC = positive(z.DissolvedC)
		z.Grain, z.Decarb = positive(scaled(z.Grain, claim("micro.grain"))), positive(scaled(z.Decarb, claim("skin.decarb")))
		z.SoftSkin = positive(scaled(z.SoftSkin, claim("skin.decarb")))
		scale := claim("skin.scale")
		z.Scale, z.Film, z.MetalLoss = positive(scaled(z.Scale, scale)), positive(z.Film), positive(scaled(z.MetalLoss, scale))
		if z.Growth != nil {
			b := scaled(*z.Growth, claim("micro.length"))
			z.Growth = &b
		}
		z.HardnessHRC = sim.Rockwell(z.HardnessHV)
		sp := &sim.ConstituentSpread{}
		for k := steel.Constituent(0); k < steel.NumConstituents; k++ {
			b := d.around(lend(at+k.String(), have), z.Constituents.Of(k), 0)
			sp.Low.Set(k, math.Max(0, b.Low))
			sp.High.Set(k, math.Min(1, b.High))
		}
		z.Spread = sp
	})
}

// scaled adds a model's factor as a half width: a value known to ×/÷ f.
func scaled(b unit.Band, f float64) unit.Band {
	v := b.Value
	return unit.Band{Value: v, Low: v - math.Hypot(v-b.Low, v*(1-1/f)), High: v + math.Hypot(b.High-v, v*(f-1))}
}

func positive(b unit.Band) unit.Band {
	b.Low = math.Max(0, b.Low)
	return b
}

// eachZone visits the zones at the end of the route, as step len(h.Steps), and at
// the end of each step.
func eachZone(h *sim.History, visit func(step int, at string, z *sim.Zone)) {
	for i := range h.Zones {
		visit(len(h.Steps), "end/"+h.Zones[i].Name+"/", &h.Zones[i])
	}
	for i := range h.Steps {
		for k := range h.Steps[i].Zones {
			visit(i, stepKey(i)+"/"+h.Steps[i].Zones[k].Name+"/", &h.Steps[i].Zones[k])
		}
	}
}
