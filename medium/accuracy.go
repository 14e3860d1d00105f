package medium

import "github.com/heatwright/heatwright/cite"

// ThinEdge is the thickness below which any quench law is held to the wider band [m].
const ThinEdge = 0.001

// Accuracy returns what the laws of this package claim for themselves.
func Accuracy() []cite.Accuracy {
	return []cite.Accuracy{
		{
			Model: "medium.oil", Quantity: "heat transfer coefficient", Half: 1.25, Factor: true,
			Covers: "oils by class, bath 20 to 120 °C, surface under 850 °C, sections from 1 mm",
			HeldTo: "alloy 600 probe: fast oil inside all between-laboratory limits; the other classes against figures from memory",
			Source: "mackenzie-2017",
		},
		{
			Model: "medium.water", Quantity: "heat transfer coefficient", Half: 1.40, Factor: true,
			Covers: "water and brine, bath 0 to 90 °C",
			HeldTo: "handbook ranges for the alloy 600 probe, from memory", Source: "totten-1993",
		},
		{
			Model: "medium.edge", Quantity: "heat transfer coefficient on edges under 1 mm", Half: 1.40, Factor: true,
			Covers: "any liquid", HeldTo: "no probe resolves a thin edge: own estimate", Source: "own-derivation",
		},
		{
			Model: "medium.air", Quantity: "heat loss in air", Half: 1.10, Factor: true,
			Covers: "20 to 1250 °C, given the emissivity", HeldTo: "correlations of natural convection, ±10 %; radiation is the larger part above 400 °C", Source: "churchill-chu-1975",
		},
		{
			Model: "medium.fire", Quantity: "heat flux in a fire", Half: 1.25, Factor: true,
			Covers: "walls 800 to 1300 °C", HeldTo: "common practice: a minute for 3 to 4 mm of diameter", Source: "common-practice",
		},
		{
			Model: "medium.oven", Quantity: "heat flux in an oven", Half: 1.15, Factor: true,
			Covers: "150 to 1100 °C, given the emissivity", HeldTo: "own estimate", Source: "own-derivation",
		},
		{
			Model: "medium.bed", Quantity: "effusivity of a loose bed", Half: 1.20, Factor: true,
			Covers: "dry fillings, 20 to 700 °C", HeldTo: "conductivities: cold values read, hot values from memory", Source: "low-1984",
		},
		{
			Model: "medium.contact", Quantity: "conductance of a joint", Half: 1.50, Factor: true,
			Covers: "plates, blocks, anvil", HeldTo: "ranges from memory", Source: "common-practice",
		},
	}
}

// QuenchBand returns the factor up or down on h that holds for a liquid where the
// piece has this thickness [m]: 1.25 for oils, 1.40 for water and brine and for any
// edge under 1 mm.
func QuenchBand(k Quenchant, thickness float64) float64 {
	if k.Aqueous() || thickness < ThinEdge {
		return 1.40
	}
	return 1.25
}
