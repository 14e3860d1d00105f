package calphad

import (
	"fmt"
	"math"
	"slices"

	"github.com/heatwright/heatwright/steel"
)

// driver computes driving forces for one metal composition.
type driver struct {
	para  *inherited
	whole *joined // austenite, ferrite, cementite with metals free to move
	w     *work
	mix   *joined // ferrite and cementite alone
	wm    *work
	warm  bool
	c     steel.Composition
}

func (db *Database) newDriver(c steel.Composition) (*driver, error) {
	c[steel.N] = 0
	c[steel.C] = max(c[steel.C], 0.1)
	h, err := db.inherit(c)
	if err != nil {
		return nil, err
	}
	d := &driver{para: h, c: c}
	keep := func(names ...string) func(string) bool {
		return func(n string) bool { return slices.Contains(names, n) }
	}
	if d.whole, err = db.system(c, "γαθ ", keep("FCC_A1", "BCC_A2", "CEMENTITE")); err != nil {
		return nil, err
	}
	if d.mix, err = db.system(c, "αθ ", keep("BCC_A2", "CEMENTITE")); err != nil {
		return nil, err
	}
	d.w, d.wm = newWork(d.whole.sys), newWork(d.mix.sys)
	return d, nil
}

// fillKnots computes the forces of austenite with the metals of c at the knots of full
// equilibrium in a range, and with the first of them those of carbon-only equilibrium;
// every stride-th, counted from the last.
func (db *Database) fillKnots(n *knots, c steel.Composition, from, to, stride int) error {
	d, err := db.newDriver(c)
	if err != nil {
		return err
	}
	defer d.para.done()
	for k := knotCols - 1; k >= 0; k -= stride {
		carbon := carbonAt(knotCol[k])
		d.carbon(carbon)
		d.warm = false
		for i := to - 1; i >= from; i -= stride {
			T := fullAt(i)
			f, err := d.full(T)
			if err != nil {
				return fmt.Errorf("%.0f °C, %.3f %% C: %w", T-273.15, carbon, err)
			}
			d.para.at(T)
			f.Bainite = d.noPartition(carbon)
			f.Cementite -= cementiteLog(T, carbon)
			n.full[i][k] = f
		}
		for i := paraKnots - 1; i >= 0 && from == 0; i -= stride {
			T := paraAt(i)
			d.para.at(T)
			f := d.inPlace(carbon)
			f.Cementite -= cementiteLog(T, carbon)
			n.para[i][k] = f
		}
	}
	return nil
}

// crossings finds where the forces vanish.
func (p *plane) crossings() {
	for k := range p.below {
		carbon := columnCarbon(k)
		zero := func(of func(d *Driving) float64, log bool) float64 {
			last := 0.0
			for i := driveRows - 1; i >= 0; i-- {
				T := driveCold + driveStep*float64(i)
				x := of(&p.force[i][k])
				if log {
					x += cementiteLog(T, carbon)
				}
				if x > 0 {
					if i == driveRows-1 {
						return T
					}
					return T + driveStep*x/(x-last)
				}
				last = x
			}
			return 0
		}
		p.below[k] = Below{
			Ferrite:   zero(func(d *Driving) float64 { return d.Ferrite }, false),
			Cementite: zero(func(d *Driving) float64 { return d.Cementite }, true),
			Pearlite:  zero(func(d *Driving) float64 { return d.Pearlite }, false),
			T0:        zero(func(d *Driving) float64 { return d.Bainite }, false),
		}
	}
}

// carbon sets the carbon of the austenite [wt %] beside the same metals.
func (d *driver) carbon(carbon float64) {
	c := d.c
	metal := (100 - carbon) / (100 - c[steel.C])
	for e := range c {
		c[e] *= metal
	}
	c[steel.C] = carbon
	d.whole.amounts(d.w, c)
	d.mix.amounts(d.wm, c)
}

// inPlace returns the driving forces at the temperature that was set when the metals stay
// where they are.
func (d *driver) inPlace(carbon float64) Driving {
	z := d.para.z(carbon)
	p := d.para.para(&d.para.fcc, z)
	return Driving{Ferrite: p.Ferrite, Cementite: p.Cementite / 4, Pearlite: p.Pearlite / (1 + z), Bainite: p.NoPartition / (1 + z)}
}

// noPartition returns the driving force to ferrite of the same composition.
func (d *driver) noPartition(carbon float64) float64 {
	z := d.para.z(carbon)
	G, _, _ := d.para.energy(&d.para.fcc, z)
	Gb, _, _ := d.para.energy(&d.para.bcc, z)
	return (G - Gb) / (1 + z)
}

// force returns the driving forces at T [K] for the carbon that was set.
func (d *driver) force(T, carbon float64) (Driving, error) {
	d.para.at(T)
	f := d.inPlace(carbon)
	share := fullShare(T)
	if share == 0 {
		return f, nil
	}
	full, err := d.full(T)
	if err != nil {
		return f, err
	}
	f.Ferrite += share * (full.Ferrite - f.Ferrite)
	f.Cementite += share * (full.Cementite - f.Cementite)
	f.Pearlite += share * (full.Pearlite - f.Pearlite)
	return f, nil
}

// full returns the driving forces when metals move at the interface.
func (d *driver) full(T float64) (Driving, error) {
	w := d.w
	w.at(T)
	w.fix = -1
	w.set = w.drop(w.set)
	at := d.whole.sys.phase("FCC_A1")
	p := d.whole.sys.phases[at]
	metal := 0.0
	for i, e := range d.whole.elems {
		if e != steel.C {
			metal += w.b[i]
		}
	}
	y := w.yStart[:p.n]
	used := 0.0
	for i, e := range p.elem {
		switch {
		case e < 0:
		case d.whole.elems[e] == steel.C:
			y[i] = w.b[e] / metal
			used = y[i]
		default:
			y[i] = w.b[e] / metal
		}
	}
	for i, e := range p.elem {
		if e < 0 {
			y[i] = 1 - used
		}
	}
	s := w.newSpot(at, y)
	s.m = metal
	w.set = append(w.set, s)
	if err := w.settle(); err != nil {
		return Driving{}, err
	}
	f := Driving{Ferrite: math.Inf(-1), Cementite: math.Inf(-1)}
	for at, p := range w.sys.phases {
		if p.name == "FCC_A1" {
			continue
		}
		for _, t := range w.nearest(at, false) {
			w.descend(t, w.mu, false)
			if p.name == "BCC_A2" {
				f.Ferrite = max(f.Ferrite, t.drive)
			} else {
				f.Cementite = max(f.Cementite, t.drive)
			}
			w.give(t)
		}
	}
	if err := d.wm.equilibrate(T, d.warm); err != nil {
		return Driving{}, err
	}
	d.warm = true
	for e, b := range w.b {
		f.Pearlite += b * (w.mu[e] - d.wm.mu[e])
	}
	return f, nil
}
