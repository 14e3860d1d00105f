package shop

import "github.com/heatwright/heatwright/cite"

// Accuracy returns what the equipment of this package claims for itself.
func Accuracy() []cite.Accuracy {
	return []cite.Accuracy{
		{
			Model: "shop.fire", Quantity: "fuel and time of a gas forge", Half: 1.3, Factor: true,
			Covers: "chambers of 1 to 30 L, 700 to 1300 °C",
			HeldTo: "available heat within 0.01 of values computed elsewhere; loss of four linings within 15 % of hand figures; linings from memory",
			Source: "lining-sheets",
		},
		{
			Model: "shop.bath", Quantity: "warming of a bath by a piece", Half: 1.08, Factor: true,
			Covers: "oils 20 to 150 °C, water, brine",
			HeldTo: "one gallon to the pound: 38 K published", Source: "derby-1921",
		},
		{
			Model: "shop.fumes", Quantity: "carbon monoxide in a room", Half: 2.0, Factor: true,
			Covers: "mixed room; what burns at the door is not counted, so it errs high",
			HeldTo: "atom balance; the share of CO of an unmeasured flame is its band", Source: "own-derivation",
		},
		{
			Model: "shop.oven", Quantity: "oven set by its dial alone, never checked", Unit: "K", Half: 15,
			Covers: "kitchen ovens 120 to 280 °C", HeldTo: "common practice", Source: "common-practice",
		},
	}
}
