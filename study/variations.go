package study

import (
	"math"

	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// variation is one thing changed, low and high.
type variation struct {
	name   string
	setups []*sim.Setup
	from   int  // the first stage that it changes: the runs fork off the base there
	ahead  bool // it moves the latest moment for the oil
	early  bool // its runs end before the hardening
}

const (
	holdShare    = 0.15 // a soak is kept to this share of itself; common practice
	carryShare   = 0.4  // of the seconds to the bath; common practice
	fireBand     = 15   // how well a heat is judged that ends at a temperature [K]: a probe or a trained eye; common practice
	ovenBand     = 8    // likewise in an oven whose error is not known [K]
	carbideBand  = 1.4  // factor on the radius of carbide: twice the time to dissolve it
	pearliteBand = 2.5  // factor of the time of pearlite, as its model claims
	lossBand     = 0.10 // of emissivity, for the heat lost in air [–]
)

// variations lists what may be other than taken, each at its 10th and 90th percentile.
func variations(s *sim.Setup) []variation {
	var list []variation
	from, ahead := 0, false
	heat, carry, temper := hardening(s)
	add := func(name string, change func(c *sim.Setup, side float64) bool) {
		v := variation{name: name, from: from, ahead: ahead}
		for _, side := range []float64{-1, 1} {
			c := s.Clone()
			if change(c, side) {
				if c.Limits == nil && c.Steel != s.Steel {
					c.Like = s.Steel
				}
				v.setups = append(v.setups, c)
			}
		}
		if len(v.setups) > 0 {
			list = append(list, v)
		}
	}
	element := func(e ...steel.Element) func(c *sim.Setup, side float64) bool {
		return func(c *sim.Setup, side float64) bool {
			to := &s.High
			if side < 0 {
				to = &s.Low
			}
			changed := false
			for _, x := range e {
				if math.Abs(to[x]-c.Steel[x]) > 1e-6 && to[x] > 0 {
					c.Steel[x], changed = to[x], true
				}
			}
			return changed
		}
	}
	add("carbon", element(steel.C))
	add("carbide_size", func(c *sim.Setup, side float64) bool {
		if c.Start.Condition != micro.Spheroidized || heat > 0 {
			return false // the first heat has dissolved it
		}
		c.Start.Radius = usualRadius(c) * math.Pow(carbideBand, side)
		return true
	})

	if heat > 0 { // the heats before the hardening, for the bands of their own signs
		add("early_heats", func(c *sim.Setup, side float64) bool {
			c.Stages = c.Stages[:heat]
			return shiftFires(c, side)
		})
		list[len(list)-1].early = true
	}

	// Alloy moves what happens from the hardening heat on; that it also moves the
	// structure which the heats before have left is left out.
	from = heat
	add("manganese", element(steel.Mn))
	add("chromium", element(steel.Cr))
	add("residuals", element(steel.Ni, steel.Mo, steel.Cu, steel.Si))
	ahead = quenches(s)
	add("pearlite_rate", func(c *sim.Setup, side float64) bool {
		c.Steel[steel.Mn] = micro.ManganeseFor(c.Steel, math.Pow(pearliteBand, side))
		return quenches(s)
	})
	add("fire_temperature", shiftFires)
	ahead = false
	add("soak", func(c *sim.Setup, side float64) bool {
		return eachStage(c, func(st *sim.Stage) bool {
			if st.Hold <= 0 || st.Role == route.Tempering {
				return false
			}
			st.Hold *= 1 + side*holdShare
			return true
		})
	})
	add("room", func(c *sim.Setup, side float64) bool {
		air := c.Shop.Room.Air.Or(20+medium.CelsiusZero, 8)
		c.Shop.Room.Air = shop.Exactly(pick(air, side))
		return true
	})
	add("box", packBoxes)

	from = carry
	add("carry", func(c *sim.Setup, side float64) bool {
		return eachStage(c, func(st *sim.Stage) bool {
			if st.Role != route.Carrying || st.Until.Kind != route.ByTime {
				return false
			}
			st.Until.Time *= 1 + side*carryShare
			return true
		})
	})
	ahead = true
	add("bath_vigor", func(c *sim.Setup, side float64) bool { return quenches(s) && stirBaths(c, side) })
	ahead = false
	if first, used := touched(s); used {
		at := from
		from = first
		add("joint", pressPlates)
		from = at
	}
	add("bath_temperature", func(c *sim.Setup, side float64) bool { return quenches(s) && warmBaths(c, side) })

	from = temper
	add("oven_temperature", shiftOvens)
	return list
}

// hardening returns the stages of the last heat before the last quench (or of the
// last heat where nothing is quenched), of the way from it to the bath, and of
// the first temper after it.
func hardening(s *sim.Setup) (heat, carry, temper int) {
	quench := -1
	for i := range s.Stages {
		if s.Stages[i].Role == route.Quenching {
			quench = i
		}
	}
	for i := range s.Stages {
		if s.Stages[i].Role == route.Heating && (quench < 0 || i < quench) {
			heat = i
		}
	}
	carry = heat
	if quench >= 0 {
		carry = quench
		for carry > 0 && s.Stages[carry-1].Role == route.Carrying {
			carry--
		}
	}
	temper = carry
	for i := len(s.Stages) - 1; i > quench; i-- {
		if r := s.Stages[i].Role; r == route.Tempering || r == route.Holding {
			temper = i
		}
	}
	return heat, carry, temper
}

func pick(b unit.Band, side float64) float64 {
	if side < 0 {
		return b.Low
	}
	return b.High
}

func quenches(s *sim.Setup) bool {
	for i := range s.Stages {
		if s.Stages[i].Role == route.Quenching {
			return true
		}
	}
	return false
}

func eachStage(c *sim.Setup, change func(*sim.Stage) bool) bool {
	changed := false
	for i := range c.Stages {
		changed = change(&c.Stages[i]) || changed
	}
	return changed
}

// usualRadius returns the carbide radius that spheroidized stock of this steel
// starts with when nothing is said [m]; the same as micro takes.
func usualRadius(c *sim.Setup) float64 {
	if c.Start.Radius > 0 {
		return c.Start.Radius
	}
	return micro.AnnealedRadius(c.Steel)
}

// shiftFires moves what the piece sees in fires, and the temperature at which a
// heat is judged to be there, by what both may be off.
func shiftFires(c *sim.Setup, side float64) bool {
	return eachStage(c, func(st *sim.Stage) bool {
		if st.Role != route.Heating {
			return false
		}
		off := side * fireBand
		for i := range c.Shop.Ovens {
			if o := &c.Shop.Ovens[i]; o.Name == st.In {
				v, lo, hi := o.OffsetBand()
				off = pick(unit.Band{Value: v, Low: lo, High: hi}, side) - v
			}
		}
		shiftStage(c, st, off)
		return true
	})
}

func shiftStage(c *sim.Setup, st *sim.Stage, off float64) {
	if st.At.Is() {
		st.At.Value += unit.Temp(off)
	} else {
		for i := range c.Shop.Forges {
			if f := &c.Shop.Forges[i]; f.Name == st.In && !sameBand(f.Holds, off) {
				v, _, _ := f.HoldsBand()
				f.Holds = shop.Exactly(v + off)
			}
		}
	}
	if st.Until.Kind == route.ByTemp {
		st.Until.Temp += unit.Temp(off)
	}
}

// sameBand tells whether an estimate was already moved by off in this setup.
func sameBand(e shop.Estimate, off float64) bool { return e.Known && e.Low == e.High && off != 0 }

func shiftOvens(c *sim.Setup, side float64) bool {
	return eachStage(c, func(st *sim.Stage) bool {
		if st.Role != route.Tempering && st.Role != route.Holding {
			return false
		}
		off := side * ovenBand
		for i := range c.Shop.Ovens {
			if o := &c.Shop.Ovens[i]; o.Name == st.In {
				v, lo, hi := o.OffsetBand()
				off = pick(unit.Band{Value: v, Low: lo, High: hi}, side) - v
			}
		}
		if st.At.Is() {
			st.At.Value += unit.Temp(off)
			raise(c, st.In, float64(st.At.Value), off)
		}
		if st.Until.Kind == route.ByTemp {
			st.Until.Temp += unit.Temp(off)
		}
		return true
	})
}

// raise lets an oven that runs hotter than its dial go as hot as it then is.
func raise(c *sim.Setup, name string, to, off float64) {
	for i := range c.Shop.Ovens {
		if o := &c.Shop.Ovens[i]; o.Name == name && off > 0 && o.Most.Or(to, 0).Value <= to {
			o.Most = shop.Exactly(to + 1)
		}
	}
}

func stirBaths(c *sim.Setup, side float64) bool {
	for i := range c.Shop.Baths {
		b := &c.Shop.Baths[i]
		half := medium.QuenchBand(b.Liquid, 1)
		thin := medium.QuenchBand(b.Liquid, 0) / half
		b.VigorThin = shop.Exactly(pick(unit.Band{Value: 1, Low: 1 / thin, High: thin}, side))
		v := b.Vigor.Or(1, 0)
		if !b.Vigor.Known {
			v = unit.Band{Value: 1, Low: 1 / half, High: half}
		}
		b.Vigor = shop.Exactly(pick(v, side))
	}
	return len(c.Shop.Baths) > 0
}

// touched returns the first stage in which something solid touches the piece.
func touched(s *sim.Setup) (stage int, used bool) {
	for k := range s.Stages {
		st := &s.Stages[k]
		for i := range s.Shop.Plates {
			if p := s.Shop.Plates[i].Name; p == st.In || p == st.On || p == st.Tongs {
				return k, true
			}
		}
	}
	return 0, false
}

// pressPlates moves how well plates, blocks, anvil and tongs touch.
func pressPlates(c *sim.Setup, side float64) bool {
	for i := range c.Shop.Plates {
		p := &c.Shop.Plates[i]
		p.Joint = shop.Exactly(pick(p.JointBand(), side))
	}
	return true
}

func warmBaths(c *sim.Setup, side float64) bool {
	for i := range c.Shop.Baths {
		b := &c.Shop.Baths[i]
		t := b.StartTemperature(20 + medium.CelsiusZero)
		b.Temperature = shop.Exactly(pick(b.Temperature.Or(t, 15), side))
	}
	return len(c.Shop.Baths) > 0
}

// packBoxes moves how damp the filling is and how much of it there is.
func packBoxes(c *sim.Setup, side float64) bool {
	used := false
	for i := range c.Shop.Boxes {
		b := &c.Shop.Boxes[i]
		for k := range c.Stages {
			if c.Stages[k].In == b.Name {
				used = true
			}
		}
		b.Moisture = shop.Exactly(math.Max(0, pick(b.Moisture.Or(0.01, 0.01), side)))
	}
	return used
}
