package skin

import "github.com/heatwright/heatwright/cite"

// Accuracy returns what this package claims of itself.
func Accuracy() []cite.Accuracy {
	return []cite.Accuracy{
		{
			Model: "skin.scale", Quantity: "metal lost to scale in air or lean gas", Half: 1.35, Factor: true,
			Covers: "plain and low-alloy steel, 700 to 1250 °C, 1 min to some hours; steel factor 0.5 to 0.8 on the rate of iron",
			HeldTo: "two determinations of iron differ by 15 % at 1000 °C; open forges with too much gas: a factor of 2", Source: "paidassi-1958",
		},
		{
			Model: "skin.decarb", Quantity: "depth to 90 % of the bar's carbon", Half: 1.3, Factor: true,
			Covers: "0.4 to 1.2 % C, 750 to 1250 °C, under scale",
			HeldTo: "exact solutions within 1 %; diffusivity formulas differ by 15 %; below 912 °C single-phase depth as upper bound", Source: "birks-1970",
		},
		{
			Model: "skin.film", Quantity: "temperature that a temper color stands for", Unit: "K", Half: 17,
			Covers: "clean carbon and low-alloy steel in air, 170 to 370 °C, 1 min to 4 h",
			HeldTo: "words of five published tables for a few minutes, on which it was fitted; of 28 rows that were read the bands of the words hold 23, and 23 with each table left out in turn; times beyond are an extrapolation of the fourth-power law", Source: "common-practice",
		},
		{
			Model: "skin.emissivity", Quantity: "total emissivity", Unit: "", Half: 0.08,
			Covers: "20 to 1100 °C, polished, ground, scaled", HeldTo: "published tables", Source: "bramson-1968",
		},
	}
}
