package jobsheet

import (
	"math"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// fire is the part of a job that decides everything: the last heat and what it
// cools in. Indexes are of the job's steps, −1 where there is none.
type fire struct{ heat, carry, cool, temper int }

func findFire(job route.Job) fire {
	f := fire{-1, -1, -1, -1}
	for i, s := range job.Steps {
		switch s.Do {
		case route.Quench, route.Bury, route.Cool:
			if h := lastHeat(job, i); h >= 0 && !goesOn(job, f, i) && (f.cool < 0 || s.Do == route.Quench || job.Steps[f.cool].Do != route.Quench) && !follows(job, f, i) {
				f.cool, f.heat, f.carry = i, h, -1
				for k := h + 1; k < i; k++ {
					if job.Steps[k].Do == route.Carry {
						f.carry = k
					}
				}
			}
		case route.Temper:
			f.temper = i
		}
	}
	return f
}

// lastHeat returns the heat that a cooling at i belongs to.
func lastHeat(job route.Job, i int) int {
	for k := i - 1; k >= 0; k-- {
		switch job.Steps[k].Do {
		case route.Heat:
			return k
		case route.Carry, route.Quench, route.Cool, route.Grind, route.Drill, route.Strip:
			continue
		default:
			return -1
		}
	}
	return -1
}

// goesOn reports whether step i is a second bath of the same quench: out of the brine
// while it is hot, and on in oil.
func goesOn(job route.Job, f fire, i int) bool {
	return f.cool >= 0 && job.Steps[i].Do == route.Quench && job.Steps[f.cool].Do == route.Quench && lastHeat(job, i) == f.heat
}

// follows reports whether step i only goes on cooling what a quench before it began.
func follows(job route.Job, f fire, i int) bool {
	return f.cool >= 0 && job.Steps[f.cool].Do == route.Quench && lastHeat(job, i) == f.heat && job.Steps[i].Do != route.Quench
}

// stage returns the last stage of the history that belongs to a step of the job
// and has this role; nil where there is none.
func (c *composer) stage(jobStep int, role sim.Role) (*sim.Step, int) {
	for i := len(c.h.Steps) - 1; i >= 0; i-- {
		if s := &c.h.Steps[i]; s.JobStep == jobStep && (role == "" || s.Role == role) {
			return s, i
		}
	}
	return nil, -1
}

// firstStage returns the first one.
func (c *composer) firstStage(jobStep int, role sim.Role) (*sim.Step, int) {
	for i := range c.h.Steps {
		if s := &c.h.Steps[i]; s.JobStep == jobStep && (role == "" || s.Role == role) {
			return s, i
		}
	}
	return nil, -1
}

// cooled returns the last stage of the cooling that follows the fire: what comes
// after it is heated again, or is the end. i is the stage in which it began.
func (c *composer) cooled() (last *sim.Step, i int) {
	first, i := c.firstStage(c.fire.cool, "")
	if first == nil {
		return nil, -1
	}
	k := i
	for k+1 < len(c.h.Steps) {
		switch c.h.Steps[k+1].Role {
		case sim.Quenching, sim.Cooling, sim.Burying:
			k++
			continue
		}
		break
	}
	return &c.h.Steps[k], i
}

// hardens reports whether the cooling leaves the working zone mostly hard.
func (c *composer) hardens() bool {
	if c.fire.cool < 0 {
		return false
	}
	last, _ := c.cooled()
	if last == nil {
		return c.job.Steps[c.fire.cool].Do == route.Quench
	}
	z := c.working(last.Zones)
	return z != nil && z.Constituents.Hardened() >= 0.5
}

// sign returns the last sign of this name that was told in any of the stages
// from first to last of the history; nil where there is none.
func (c *composer) sign(name sim.SignName, first, last int) *sim.Sign {
	var found *sim.Sign
	for i := range c.h.Signs {
		s := &c.h.Signs[i]
		if s.Name == name && s.Step >= first && s.Step <= last && (found == nil || s.Time.Value >= found.Time.Value) {
			found = s
		}
	}
	return found
}

// first returns the first sign of this name in one stage of the history.
func (c *composer) first(name sim.SignName, stage int) *sim.Sign {
	var found *sim.Sign
	for i := range c.h.Signs {
		s := &c.h.Signs[i]
		if s.Name == name && s.Step == stage && (found == nil || s.Time.Value < found.Time.Value) {
			found = s
		}
	}
	return found
}

// zone returns the state of a zone, the first of the names that there is.
func zone(zones []sim.Zone, names ...string) *sim.Zone {
	for _, n := range names {
		for i := range zones {
			if zones[i].Name == n {
				return &zones[i]
			}
		}
	}
	return nil
}

// working returns the zone that does the work: the one that the aim names, else
// the first of the piece: the edge of a blade, the point of a punch, the surface of a bar.
func (c *composer) working(zones []sim.Zone) *sim.Zone {
	for _, w := range c.job.Aim.Hardness {
		if z := zone(zones, w.Zone); z != nil {
			return z
		}
	}
	return zone(zones, append(c.job.Zones(), "edge", "surface", "core")...)
}

// hardness of a zone in HRC, NaN where the scale does not reach.
func rockwell(z *sim.Zone) float64 {
	if z == nil || z.HardnessHRC == nil {
		return math.NaN()
	}
	return z.HardnessHRC.Value
}
