package steel

import "github.com/heatwright/heatwright/cite"

// Accuracy returns what the thermal set claims for itself.
func Accuracy() []cite.Accuracy {
	return []cite.Accuracy{
		{
			Model: "steel.enthalpy", Quantity: "heat from 20 °C to hardening heat", Unit: "%", Half: 5,
			Covers: "0.1 to 1.2 wt % C, low alloy, 20 to 1100 °C", HeldTo: "EN 1993-1-2 in total within 2 %; the eutectoid heat by calorimetry ±5 %", Source: "en-1993-1-2",
		},
		{
			Model: "steel.latent", Quantity: "heat of a change of structure", Unit: "%", Half: 10,
			Covers: "pearlite, bainite, martensite from austenite, 100 to 727 °C", HeldTo: "82 kJ/kg at 727 °C; 82 to 90 for martensite at 250 °C (from memory)", Source: "hagel-1956",
		},
		{
			Model: "steel.conductivity", Quantity: "thermal conductivity", Unit: "%", Half: 15,
			Covers: "at 20 °C by alloy; austenite ±6 %", HeldTo: "typical values of five steels, from memory", Source: "peet-2011",
		},
		{
			Model: "steel.strain", Quantity: "linear strain of a change of structure, in points of 0.01 %", Unit: "", Half: 5,
			Covers: "0.7 to 1.2 wt % C; ±25 points below", HeldTo: "lattices at 1000 K, handbook lines at 20 °C", Source: "seki-nagata-2005",
		},
	}
}
