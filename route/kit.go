package route

import (
	"github.com/heatwright/heatwright/shop"
)

// Kit returns the shop as the science works with it. What the smith did not
// say stays not known there, with the wide band of its kind.
func (s *Shop) Kit() shop.Shop {
	k := shop.Shop{Name: s.Name, Room: s.Room.kit(s.Air)}
	for _, x := range s.Forges {
		k.Forges = append(k.Forges, x.kit())
	}
	for _, x := range s.Ovens {
		k.Ovens = append(k.Ovens, x.kit())
	}
	for _, x := range s.Baths {
		k.Baths = append(k.Baths, x.kit())
	}
	for _, x := range s.Boxes {
		k.Boxes = append(k.Boxes, x.kit())
	}
	for _, x := range s.Fans {
		k.Fans = append(k.Fans, shop.Fan{Name: x.Name, Speed: told(x.Speed, 0.3*float64(x.Speed.Value))})
	}
	for _, x := range s.Plates {
		k.Plates = append(k.Plates, x.kit())
	}
	for _, x := range s.Tongs {
		k.Plates = append(k.Plates, shop.Plate{Name: x.Name, Kind: shop.Jaws, Metal: "steel", Mass: told(x.Mass, 0.2*float64(x.Mass.Value)), Temperature: told(x.Warm, fireReading)})
	}
	for _, x := range s.Torches {
		k.Torches = append(k.Torches, shop.Torch{Name: x.Name, Power: told(x.Power, 0.15*float64(x.Power.Value)), Spot: told(x.Spot, 0.3*float64(x.Spot.Value))})
	}
	return k
}

// told turns a quantity into an estimate with the half width of its band; what
// was not given stays not known.
func told[T ~float64](g Given[T], half float64) shop.Estimate {
	if !g.Is() {
		return shop.Estimate{}
	}
	return shop.About(float64(g.Value), half)
}

var (
	forgeKinds = map[string]shop.ForgeKind{"gas": shop.GasForge, "coke": shop.CokeHearth, "charcoal": shop.CharcoalFire, "pipe": shop.Muffle}
	flames     = map[string]shop.Flame{"rich": shop.RichFlame, "neutral": shop.NeutralFlame, "lean": shop.LeanFlame}
	ovenKinds  = map[string]shop.OvenKind{"kiln": shop.Kiln, "kitchen": shop.Kitchen, "toaster": shop.Toaster}
	bathKinds  = map[string]shop.Bath{
		"fast oil": {Liquid: "fast oil"}, "medium oil": {Liquid: "medium oil"}, "slow oil": {Liquid: "slow oil"},
		"vegetable oil": {Liquid: "vegetable oil"}, "canola": {Liquid: "vegetable oil"},
		"hot quench oil": {Liquid: "hot quench oil"}, "water": {Liquid: "water"}, "brine": {Liquid: "brine"},
	}
)

// A thermometer of the shop is trusted to so much [K], from common practice:
// a probe in a fire, one in a bath.
const (
	fireReading = 15
	bathReading = 3
)

func (x Fire) kit() shop.Forge {
	f := shop.Forge{
		Name: x.Name, Kind: forgeKinds[x.Kind], Flame: flames[x.Flame], Fuel: shop.Fuel(x.Fuel),
		Holds: told(x.Holds, max(fireReading, float64(x.Swing.Value))), Swing: told(x.Swing, 0.3*float64(x.Swing.Value)),
		Gas: told(x.Gas, 0.1*float64(x.Gas.Value)), GasLow: told(x.Low, 0.1*float64(x.Low.Value)),
		Length: told(x.Length, 0), Width: told(x.Width, 0), Height: told(x.Height, 0),
		Through: x.Open, Lit: told(x.Lit, 0),
	}
	if x.Door.Is() && x.DoorHigh.Is() {
		f.Opening = shop.Exactly(float64(x.Door.Value) * float64(x.DoorHigh.Value))
	}
	if x.Burner == "side" {
		f.OneSide = fromTheSide
	}
	for _, l := range x.Lining {
		f.Lining = append(f.Lining, shop.Layer{Material: l.Of, Thickness: float64(l.Thick.Value)})
	}
	return f
}

// fromTheSide is how much more convection the flat toward a burner in the side wall
// gets: a flame that strikes gives 100–200 W/m²K where a chamber gives 40–80, half
// of it lost on the way; from memory.
const fromTheSide = 0.7

var pressed = map[string]shop.Pressing{"clamped": shop.Clamped, "by hand": shop.ByHand, "laid on": shop.LaidOn}

func (x Plate) kit() shop.Plate {
	p := shop.Plate{
		Name: x.Name, Kind: shop.PlateKind(x.Kind), Metal: x.Metal, Pressed: pressed[x.Press],
		Mass: told(x.Mass, 0.1*float64(x.Mass.Value)), Temperature: told(x.Warm, fireReading),
	}
	if p.Metal == "" {
		p.Metal = "steel"
		if p.Kind == shop.Pair {
			p.Metal = "aluminum"
		}
	}
	return p
}

func (x Oven) kit() shop.Oven {
	return shop.Oven{
		Name: x.Name, Kind: ovenKinds[x.Kind], Fan: x.Fan,
		Offset: told(x.Offset, 3), Swing: told(x.Swing, 0.3*float64(x.Swing.Value)),
		Most: told(x.Most, 0), Plate: told(x.Plate, 0.1*float64(x.Plate.Value)), Length: told(x.Length, 0),
		Power: told(x.Power, 0.1*float64(x.Power.Value)),
	}
}

func (x Bath) kit() shop.Bath {
	b := bathKinds[x.Kind]
	b.Name, b.Lid, b.Stir = x.Name, x.Lid, 1 // moved by hand, unless the step says otherwise
	b.Volume, b.Depth = told(x.Volume, 0.05*float64(x.Volume.Value)), told(x.Depth, 0)
	b.Temperature, b.Limit, b.Flash = told(x.Warm, bathReading), told(x.Limit, 0), told(x.Flash, 0)
	if x.Salt.Is() {
		b.Salt = shop.About(100*float64(x.Salt.Value), 0.5)
	}
	b.Wets = told(x.Wets, 0.5*float64(x.Wets.Value))
	b.Vigor = told(x.Vigor, 0.1*float64(x.Vigor.Value))
	return b
}

func (x Box) kit() shop.Box {
	b := shop.Box{Name: x.Name, Filling: x.Fill, Volume: told(x.Volume, 0.1*float64(x.Volume.Value)), Companion: told(x.Companion, 0.1*float64(x.Companion.Value)), CompanionT: told(x.CompanionAt, fireReading), Temperature: told(x.Warm, bathReading)}
	if x.Damp {
		b.Moisture = shop.About(0.1, 0.05) // wetted by hand: squeezes without dripping; from memory
	}
	return b
}

func (x Room) kit(air Temp) shop.Room {
	r := shop.Room{Air: told(air, bathReading), Exchange: told(x.Air, 0.2*float64(x.Air.Value)), Outdoors: x.Outside}
	if x.Length.Is() && x.Width.Is() && x.Height.Is() {
		v := float64(x.Length.Value) * float64(x.Width.Value) * float64(x.Height.Value)
		r.Volume = shop.About(v, 0.05*v)
	}
	if x.Hood {
		r.Caught = shop.About(0.9, 0.05) // a hood with 0.5 m/s at its face; from memory
	}
	return r
}
