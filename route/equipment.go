package route

import "strconv"

// Kind of equipment, by what a smith does with it.
type gear int

const (
	isForge gear = iota
	isOven
	isBath
	isBox
	isFan
	isAir
	isPlate
	isTongs
	isTorch
)

// thing is one piece of equipment of a shop.
type thing struct {
	name string
	gear gear
	i    int    // index among its kind
	path string // "bath 2"
}

// equipment lists all that the shop has, by name.
func (s *Shop) equipment() []thing {
	var all []thing
	for i, x := range s.Forges {
		all = append(all, thing{x.Name, isForge, i, numbered("forge", i)})
	}
	for i, x := range s.Ovens {
		all = append(all, thing{x.Name, isOven, i, numbered("oven", i)})
	}
	for i, x := range s.Baths {
		all = append(all, thing{x.Name, isBath, i, numbered("bath", i)})
	}
	for i, x := range s.Boxes {
		all = append(all, thing{x.Name, isBox, i, numbered("box", i)})
	}
	for i, x := range s.Fans {
		all = append(all, thing{x.Name, isFan, i, numbered("fan", i)})
	}
	for i, x := range s.Plates {
		all = append(all, thing{x.Name, isPlate, i, numbered("plate", i)})
	}
	for i, x := range s.Tongs {
		all = append(all, thing{x.Name, isTongs, i, numbered("tongs", i)})
	}
	for i, x := range s.Torches {
		all = append(all, thing{x.Name, isTorch, i, numbered("torch", i)})
	}
	return all
}

// find returns the equipment of this name.
func (s *Shop) find(name string) (thing, bool) {
	if folded(name) == Air {
		return thing{Air, isAir, 0, Air}, true
	}
	for _, e := range s.equipment() {
		if folded(e.name) == folded(name) {
			return e, true
		}
	}
	return thing{}, false
}

// Bath returns the bath of this name.
func (s *Shop) Bath(name string) (Bath, bool) {
	e, ok := s.find(name)
	if !ok || e.gear != isBath {
		return Bath{}, false
	}
	return s.Baths[e.i], true
}

// Oven returns the oven of this name.
func (s *Shop) Oven(name string) (Oven, bool) {
	e, ok := s.find(name)
	if !ok || e.gear != isOven {
		return Oven{}, false
	}
	return s.Ovens[e.i], true
}

// Forge returns the fire of this name.
func (s *Shop) Forge(name string) (Fire, bool) {
	e, ok := s.find(name)
	if !ok || e.gear != isForge {
		return Fire{}, false
	}
	return s.Forges[e.i], true
}

// Box returns the burial box of this name.
func (s *Shop) Box(name string) (Box, bool) {
	e, ok := s.find(name)
	if !ok || e.gear != isBox {
		return Box{}, false
	}
	return s.Boxes[e.i], true
}

// Plate returns the plate, block, anvil or dies of this name.
func (s *Shop) Plate(name string) (Plate, bool) {
	e, ok := s.find(name)
	if !ok || e.gear != isPlate {
		return Plate{}, false
	}
	return s.Plates[e.i], true
}

// Torch returns the torch of this name.
func (s *Shop) Torch(name string) (Torch, bool) {
	e, ok := s.find(name)
	if !ok || e.gear != isTorch {
		return Torch{}, false
	}
	return s.Torches[e.i], true
}

func numbered(name string, i int) string { return name + " " + strconv.Itoa(i+1) }
