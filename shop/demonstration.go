package shop

import "github.com/heatwright/heatwright/medium"

// Demonstration returns an invented shop, marked as demo data: the Quillbeck
// Community Forge. No such shop exists.
func Demonstration() Shop {
	c := func(v float64) float64 { return v + medium.CelsiusZero }
	return Shop{
		Name: "Quillbeck Community Forge (demo)",
		Demo: true,
		Room: Room{Air: About(c(8), 3), Volume: Exactly(9.0 * 6.5 * 3.2), Exchange: Exactly(1800. / 3600), Caught: About(0.925, 0.025)},
		Forges: []Forge{
			{
				Name: "A", Kind: GasForge, Fuel: Propane, Holds: About(c(1150), 40), Swing: About(20, 10),
				Gas: About(1.4/3600, 0.1/3600), GasLow: About(0.6/3600, 0.1/3600),
				Length: Exactly(0.430), Width: Exactly(0.200), Height: Exactly(0.170),
				Lining: []Layer{{"hard face", 0.008}, {"fiber", 0.050}},
			},
			{
				Name: "pipe", Kind: Muffle, Fuel: Propane, Holds: About(c(815), 12), Swing: About(12, 4),
				Gas: About(0.5/3600, 0.05/3600), Length: Exactly(0.400), Width: Exactly(0.075), Height: Exactly(0.075), Through: true,
			},
		},
		Ovens: []Oven{
			{Name: "kiln", Kind: Kiln, Offset: About(11, 3), Swing: About(4, 1), Power: Exactly(3600), Length: Exactly(0.380)},
			{Name: "kitchen oven", Kind: Kitchen, Offset: About(12, 6), Swing: About(14, 4), Plate: Exactly(6)},
		},
		Baths: []Bath{
			{Name: "oil 1", Liquid: medium.MediumOil, Volume: About(0.038, 0.001), Depth: Exactly(0.620), Temperature: About(c(50), 3), Limit: Exactly(c(75)), Lid: true},
			{Name: "oil 2", Liquid: medium.VegetableOil, Volume: About(0.024, 0.001), Depth: Exactly(0.190), Temperature: About(c(45), 3), Limit: Exactly(c(70)), Lid: true},
			{Name: "tub", Liquid: medium.Water, Volume: About(0.060, 0.005), Temperature: About(c(20), 3)},
			{Name: "brine", Liquid: medium.Brine, Volume: About(0.060, 0.005), Temperature: About(c(20), 3), Salt: About(8, 1)},
		},
		Boxes:  []Box{{Name: "drum", Filling: "vermiculite", Volume: Exactly(0.060), Moisture: About(0.01, 0.01)}},
		Plates: []Plate{{Name: "plates", Kind: Pair, Metal: "aluminum", Mass: About(4, 0.5)}},
	}
}
