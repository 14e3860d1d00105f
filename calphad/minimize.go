package calphad

import (
	"fmt"
	"math"
	"slices"
)

// driveTolerance is the driving force [RT per mole of atoms] below which a phase
// counts as not forming.
const driveTolerance = 1e-7

// equilibrate finds the equilibrium of composition w.b at temperature T [K]. It
// leaves the stable sets in w.set, the potentials in w.mu and the nearest
// points of all other phases in w.test.
//
// It starts from the sets that w holds if warm, from the convex hull otherwise.
// Either way it ends only after a test of every phase from several starts
// against the final plane: a local minimum is never returned silently.
func (w *work) equilibrate(T float64, warm bool) error {
	w.at(T)
	w.fix = -1
	if warm && len(w.set) > 0 {
		if w.refine() == nil {
			return nil
		}
	}
	w.set = w.drop(w.set)
	var err error
	for _, thorough := range []bool{false, true} {
		if err = w.hull(thorough); err == nil {
			err = w.refine()
		}
		if err == nil {
			return nil
		}
	}
	for _, from := range []float64{1173, 1423, 923} {
		if err = w.approach(from, T); err == nil {
			return nil
		}
	}
	return err
}

// approach solves at a temperature where solves are easy and walks from there to
// T [K] in steps that shorten where the phases change quickly.
func (w *work) approach(from, T float64) error {
	w.at(from)
	w.set = w.drop(w.set)
	if err := w.hull(true); err != nil {
		return err
	}
	if err := w.refine(); err != nil {
		return err
	}
	here := &snapshot{}
	w.save(here)
	for step := 60.0; w.T != T; {
		w.at(w.T + max(-step, min(step, T-w.T)))
		if err := w.refine(); err != nil {
			if step /= 4; step < 0.2 {
				return err
			}
			w.restore(here)
			continue
		}
		w.save(here)
	}
	return nil
}

// refine settles the sets and changes them until no phase would form and none
// is used up. A phase that is used up at once after it was let in is barred for
// the rest: another has to come first.
func (w *work) refine() error {
	w.barred = w.drop(w.barred)
	var newest, as *spot // the set let in last, and how it was then
	for round := 0; round < 30; round++ {
		err := w.settle()
		if err != nil {
			if i := slices.Index(w.set, newest); i >= 0 {
				w.barred = append(w.barred, as)
				w.remove(i)
				newest, as = nil, nil
			} else if newest = nil; !w.shed() {
				return err
			}
			continue
		}
		if i := w.spent(); i >= 0 {
			if w.set[i] == newest {
				w.barred = append(w.barred, as)
				newest, as = nil, nil
			}
			w.remove(i)
			continue
		}
		if w.merge() {
			newest = nil
			continue
		}
		s, passed := w.strongest()
		if s == nil && passed {
			return errSlow
		}
		if s == nil {
			return nil
		}
		if as != nil {
			w.give(as)
		}
		as = w.newSpot(s.at, s.y)
		if newest, err = w.admit(s); err != nil {
			return err
		}
	}
	return fmt.Errorf("the phase set still changes after 30 rounds: %w", errSlow)
}

// shed removes a set that spoils the solve: one of two that have become the
// same, or else the smallest.
func (w *work) shed() bool {
	if len(w.set) < 2 {
		return false
	}
	if w.merge() {
		return true
	}
	least := 0
	for i, s := range w.set {
		if s.m*s.atoms < w.set[least].m*w.set[least].atoms || math.IsNaN(s.m) {
			least = i
		}
	}
	w.remove(least)
	return true
}

func (w *work) remove(i int) {
	w.give(w.set[i])
	w.set = append(w.set[:i], w.set[i+1:]...)
}

// merge joins two composition sets that have become one.
func (w *work) merge() bool {
	for i, s := range w.set {
		for j := i + 1; j < len(w.set); j++ {
			if same(s, w.set[j]) {
				s.m += w.set[j].m
				w.remove(j)
				return true
			}
		}
	}
	return false
}

// spent returns the set with the most negative amount, −1 when there is none.
func (w *work) spent() int {
	least := 0
	for i, s := range w.set {
		if s.m*s.atoms < w.set[least].m*w.set[least].atoms {
			least = i
		}
	}
	if len(w.set) > 1 && w.set[least].m*w.set[least].atoms < 1e-13 {
		return least
	}
	return -1
}

// strongest tests every phase against the plane and returns the spot with the
// largest driving force above the tolerance that is not in the set yet, and
// whether it passed over a barred one. It fills w.test.
func (w *work) strongest() (best *spot, passed bool) {
	old := w.test
	fresh := w.testNext[:0]
	for at := range w.sys.phases {
		for _, s := range w.nearest(at, true) {
			known := false
			for _, t := range w.set {
				known = known || same(s, t)
			}
			if known {
				w.give(s)
				continue
			}
			fresh = append(fresh, s)
			switch {
			case s.drive <= driveTolerance*R*w.T:
			case arrived(s, w.barred):
				passed = true
			case best == nil || s.drive > best.drive:
				best = s
			}
		}
	}
	w.testNext = w.drop(old)
	w.test = fresh
	return best, passed
}

// admit brings a phase into the set with a small amount. When there are as many
// sets as elements already, the one that it would use up first makes room.
func (w *work) admit(s *spot) (*spot, error) {
	if len(w.set) >= maxSets {
		return nil, errSlow
	}
	t := w.newSpot(s.at, s.y)
	n := len(w.mu)
	if len(w.set) >= n {
		if err := w.exchange(t); err != nil {
			w.give(t)
			return nil, err
		}
	} else {
		t.m = 1e-4 / t.atoms
	}
	w.set = append(w.set, t)
	return t, nil
}

func (w *work) exchange(t *spot) error {
	n := len(w.mu)
	a, r := w.matrix[:n*n], w.rhs[:n]
	for e := 0; e < n; e++ {
		for i, s := range w.set {
			a[e*n+i] = s.x[e]
		}
		r[e] = t.x[e]
	}
	if len(w.set) != n || !solve(a, r, n) {
		return errSingular
	}
	out, most := -1, math.Inf(1)
	for i, s := range w.set {
		if r[i] > 1e-12 && s.m/r[i] < most {
			out, most = i, s.m/r[i]
		}
	}
	if out < 0 {
		return errSingular
	}
	for i, s := range w.set {
		s.m -= most * r[i]
	}
	t.m = most
	w.remove(out)
	return nil
}
