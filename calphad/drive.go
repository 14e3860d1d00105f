package calphad

import (
	"context"
	"fmt"
	"math"
	"sync"

	"github.com/heatwright/heatwright/steel"
)

// Driving holds how strongly austenite of its own composition is driven to
// transform [J per mole of atoms of what forms]; positive acts. Divide by
// 7.1e-6 m³/mol, the molar volume of iron, for J/m³.
//
// Alloy carbides are suspended: they need metal to diffuse, and with them the
// numbers would describe another reaction. Below 550 °C the metals stay in place
// (carbon-only equilibrium), above 600 °C they share themselves out at the
// interface, between lies a linear mixture, which is a heuristic.
type Driving struct {
	Ferrite   float64 // first ferrite
	Cementite float64 // first cementite
	Pearlite  float64 // ferrite and cementite together from all of the austenite
	Bainite   float64 // ferrite of the austenite's own carbon: positive below T0
}

// Below holds the temperatures [K] under which austenite of a composition is
// driven to form something; zero when that lies below 200 °C.
type Below struct {
	Ferrite, Cementite, Pearlite float64
	T0                           float64 // ferrite of the same composition
}

// The grid of the planes: temperature in even steps, carbon in even steps of its
// square root, so that it is fine where forces bend. Force of cementite runs with ln C,
// which is taken out before and put back after interpolation. Between nodes the
// table is within 10 J/mol of the solution.
const (
	driveCold   = 473.15 // [K]
	driveStep   = 20.0
	driveRows   = 46  // to 1373 K
	driveCols   = 24  //
	driveCarbon = 2.2 // [wt %] at the last column
	paraBelow   = 823.15
	fullAbove   = 873.15
)

// plane holds the driving forces of one metal composition over temperature and
// carbon.
type plane struct {
	cold, hot sync.Once
	knots     knots
	force     [driveRows][driveCols]Driving
	below     [driveCols]Below
}

func columnCarbon(k int) float64 { return carbonAt(float64(k + 1)) }

// carbonAt returns the carbon [wt %] at a place counted in columns.
func carbonAt(place float64) float64 {
	r := place / driveCols
	return driveCarbon * r * r
}

// Dissolved returns the composition [wt %] of the metal when a share of the
// alloy that the carbides bind at Ae1 is in solution: 1 is the steel's own, 0
// what remains beside all carbides at the end of the three-phase field. Carbon is that
// of the steel.
func (t *Table) Dissolved(share float64) steel.Composition {
	if share == 1 {
		return t.composition
	}
	bound := t.bound()
	c := t.composition
	for e := range c {
		if steel.Element(e) != steel.C {
			c[e] += (1 - share) * bound[e]
		}
	}
	return c
}

// bound returns matrix minus steel [wt %] at the end of the three-phase field.
func (t *Table) bound() steel.Composition {
	t.boundOnce.Do(func() {
		T := t.transitions.Ae1End
		if T == 0 {
			return
		}
		var matrix steel.Composition
		total := 0.0
		for _, p := range t.phases(T - 0.05) {
			if p.Name == Austenite || p.Name == Ferrite {
				total += p.MassFraction
				for e, x := range p.Composition {
					matrix[e] += p.MassFraction * x
				}
			}
		}
		for e := range matrix {
			if total > 0 {
				t.boundAlloy[e] = matrix[e]/total - t.composition[e]
			}
		}
	})
	return t.boundAlloy
}

// Drive returns the driving forces at temperature T [K] on austenite with
// carbon [wt %] in solution and a share of the alloy (see Dissolved). It reads a
// table; the first question for a share takes some 20 ms. Outside the
// table, 200 to 1100 °C and 0.004 to 2.2 % C, the edge holds.
func (t *Table) Drive(T, carbon, share float64) Driving {
	low, high, f := t.shares(share, T > driveCold+driveStep*(coldRows-1))
	d := low.at(T, carbon)
	if f > 0 {
		e := high.at(T, carbon)
		d.Ferrite += f * (e.Ferrite - d.Ferrite)
		d.Cementite += f * (e.Cementite - d.Cementite)
		d.Pearlite += f * (e.Pearlite - d.Pearlite)
		d.Bainite += f * (e.Bainite - d.Bainite)
	}
	return d
}

// Below returns the temperatures under which austenite with carbon [wt %] and a
// share of the alloy is driven to form ferrite, cementite, pearlite, and ferrite of
// its own carbon (T0).
func (t *Table) Below(carbon, share float64) Below {
	low, high, f := t.shares(share, true)
	k, g := columnOf(carbon)
	mix := func(of func(b *Below) float64) float64 {
		x := blend(of(&low.below[k]), of(&low.below[k+1]), g)
		if f > 0 {
			x = blend(x, blend(of(&high.below[k]), of(&high.below[k+1]), g), f)
		}
		return x
	}
	return Below{
		Ferrite:   mix(func(b *Below) float64 { return b.Ferrite }),
		Cementite: mix(func(b *Below) float64 { return b.Cementite }),
		Pearlite:  mix(func(b *Below) float64 { return b.Pearlite }),
		T0:        mix(func(b *Below) float64 { return b.T0 }),
	}
}

// CarbonLimits returns the carbon [wt %] of austenite that ferrite and that
// cementite can stand beside at temperature T [K], for a share of the alloy: with
// less carbon than ferrite austenite is driven to ferrite, with more than
// cementite to cementite. Above Ae1 they are A3 and Acm, below they are those
// lines carried on (Hultgren's extrapolation), with ferrite larger than
// cementite. A limit outside of the table is its edge, 0 or 2.2 %.
func (t *Table) CarbonLimits(T, share float64) (ferrite, cementite float64) {
	force := func(k int) Driving { return t.Drive(T, columnCarbon(k), share) }
	ferrite, cementite = driveCarbon, driveCarbon
	last := force(0)
	if last.Ferrite < 0 {
		ferrite = 0
	}
	if last.Cementite > 0 {
		cementite = 0
	}
	for k := 1; k < driveCols; k++ {
		d := force(k)
		a, b := columnCarbon(k-1), columnCarbon(k)
		if last.Ferrite >= 0 && d.Ferrite < 0 {
			ferrite = a + (b-a)*last.Ferrite/(last.Ferrite-d.Ferrite)
		}
		if last.Cementite <= 0 && d.Cementite > 0 { // its force runs with the logarithm of carbon
			cementite = a * math.Pow(b/a, last.Cementite/(last.Cementite-d.Cementite))
		}
		last = d
	}
	return ferrite, cementite
}

// blend interpolates between temperatures of which either may not exist.
func blend(a, b, f float64) float64 {
	switch {
	case a == 0 || b == 0:
		if f < 0.5 {
			return a
		}
		return b
	}
	return a + f*(b-a)
}

// shares returns the two planes around a share and the weight of the second; whole or
// only their cold rows.
func (t *Table) shares(share float64, whole bool) (low, high *plane, f float64) {
	n := float64(len(t.planes) - 1)
	x := min(max(share, 0), 1) * n
	i := min(int(x), len(t.planes)-2)
	f = x - float64(i)
	if f < 1e-9 {
		return t.plane(i, whole), nil, 0
	}
	if f > 1-1e-9 {
		return t.plane(i+1, whole), nil, 0
	}
	return t.plane(i, whole), t.plane(i+1, whole), f
}

func columnOf(carbon float64) (int, float64) {
	x := driveCols*math.Sqrt(max(carbon, 0)/driveCarbon) - 1
	k := min(max(int(x), 0), driveCols-2)
	return k, min(max(x-float64(k), 0), 1)
}

func (p *plane) at(T, carbon float64) Driving {
	y := min(max((T-driveCold)/driveStep, 0), driveRows-1)
	i := min(int(y), driveRows-2)
	k, g := columnOf(carbon)
	f := y - float64(i)
	a, b, c, d := &p.force[i][k], &p.force[i][k+1], &p.force[i+1][k], &p.force[i+1][k+1]
	wa, wb, wc, wd := (1-f)*(1-g), (1-f)*g, f*(1-g), f*g
	return Driving{
		Ferrite:   wa*a.Ferrite + wb*b.Ferrite + wc*c.Ferrite + wd*d.Ferrite,
		Cementite: wa*a.Cementite + wb*b.Cementite + wc*c.Cementite + wd*d.Cementite + cementiteLog(T, carbon),
		Pearlite:  wa*a.Pearlite + wb*b.Pearlite + wc*c.Pearlite + wd*d.Pearlite,
		Bainite:   wa*a.Bainite + wb*b.Bainite + wc*c.Bainite + wd*d.Bainite,
	}
}

// cementiteLog is the part of cementite's force that runs with the logarithm of
// carbon: a quarter of its atoms is carbon [J per mole of atoms].
func cementiteLog(T, carbon float64) float64 {
	return R / 4 * T * math.Log(min(max(carbon, columnCarbon(0)), driveCarbon))
}

// plane returns plane i, filling it when nobody has: its cold rows, or all of it.
func (t *Table) plane(i int, whole bool) *plane {
	p := &t.planes[i]
	p.cold.Do(func() {
		if t.parent != nil && t.parent.shift(t, i, p) {
			p.hot.Do(func() {})
			return
		}
		t.fillPlane(i, 0, coldKnots)
		p.spread(0, coldRows)
	})
	if whole {
		p.hot.Do(func() {
			t.fillPlane(i, coldKnots, fullKnots)
			p.spread(coldRows, driveRows)
			p.crossings()
		})
	}
	return p
}

// fillPlane solves for some knots of plane i.
func (t *Table) fillPlane(i, from, to int) {
	c := t.Dissolved(float64(i) / float64(len(t.planes)-1))
	if err := t.db.fillKnots(&t.planes[i].knots, c, from, to, 1); err != nil {
		// the composition has passed every check when the table was made
		panic(fmt.Sprintf("calphad: driving forces of %v: %v", c, err))
	}
}

// FillDrive fills the driving forces of all shares. It stops between shares when ctx
// ends.
func (t *Table) FillDrive(ctx context.Context, progress func(done, total int)) error {
	for i := range t.planes {
		if err := ctx.Err(); err != nil {
			return fmt.Errorf("calphad: fill driving forces: %w", err)
		}
		t.plane(i, true)
		if progress != nil {
			progress(i+1, len(t.planes))
		}
	}
	return nil
}
