package shop

// Leave notes that equipment is left alone from now [s].
func (b *Bench) Leave(name string, now float64) {
	for i, e := range b.list {
		if e.Name() == name {
			b.idle[i] = now
		}
	}
}

// unused marks equipment that stands as the shop says, ready for its first piece.
const unused = -1

// Rejoin lets the time since it was left pass for the equipment of this name: a
// bath cools, a fire goes on burning and soaks its lining, a block cools in the
// air. An oven is kept at heat, a box was emptied.
func (b *Bench) Rejoin(name string, now float64) {
	for i, e := range b.list {
		if e.Name() != name {
			continue
		}
		if was := b.idle[i]; was != unused && now > was {
			b.pass(e, now-was)
		}
		b.idle[i] = now
		return
	}
}

// Since takes over from another bench of the same shop when each thing was left alone.
func (b *Bench) Since(other *Bench) { copy(b.idle, other.idle) }

func (b *Bench) pass(e Equipment, seconds float64) {
	switch x := e.(type) {
	case *Pool, *Clamp:
		e.Advance(seconds, 0)
	case *Fire:
		if x.Lit.Known {
			x.burnFor(seconds)
		}
	}
}

// Kept is the state of one piece of equipment between two pieces.
type Kept struct {
	Name        string    `json:"name"`
	Temperature float64   `json:"temperature_k"` // for whoever reads it
	State       []float64 `json:"state"`         // as Equipment.Save writes it
}

// Keep returns the state of the equipment that was in use, by name.
func (b *Bench) Keep() []Kept {
	var all []Kept
	for i, e := range b.list {
		if s := e.Save(nil); len(s) > 0 && b.idle[i] != unused {
			all = append(all, Kept{e.Name(), e.Temperature(), s})
		}
	}
	return all
}

// Resume puts the shop in the state in which another bench of the same shop was
// kept, after a pause [s]. Equipment that this shop has not, is a problem.
func (b *Bench) Resume(kept []Kept, pause float64) error {
	for _, k := range kept {
		e, err := b.Find(k.Name)
		if err != nil {
			return err
		}
		if have := e.Save(nil); len(have) != len(k.State) || !finite(k.State) {
			if _, box := e.(*Burial); !box || len(k.State) == 0 {
				return Problem{Where: e.Name(), What: "kept state", Word: k.Name, Allowed: []string{"one of the same shop"}, Remedy: "run the piece before again with this shop"}
			}
			continue // a box is emptied between pieces
		}
		if try := e.Clone(); len(try.Restore(k.State)) != 0 || !(try.Temperature() > 150 && try.Temperature() < 2200) {
			return Problem{Where: e.Name(), What: "kept temperature", Value: try.Temperature(), Unit: "K", Low: 150, High: 2200, Remedy: "run the piece before again with this shop"}
		}
		e.Restore(k.State)
		if pause > 0 {
			b.pass(e, pause)
		}
	}
	return nil
}

func finite(s []float64) bool {
	for _, x := range s {
		if x-x != 0 {
			return false
		}
	}
	return true
}
