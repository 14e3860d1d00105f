package color

import "github.com/heatwright/heatwright/cite"

// Accuracy returns what this package claims of itself.
func Accuracy() []cite.Accuracy {
	return []cite.Accuracy{
		{
			Model: "color.planck", Quantity: "chromaticity of a black body", Unit: "", Half: 5e-4,
			Covers: "600 to 3000 K, CIE 1931 observer in steps of 5 nm",
			HeldTo: "a color-science library within 4e-6; illuminant A within 1e-4", Source: "cie-018-2019",
		},
		{
			Model: "color.heat", Quantity: "temperature that a word for glow stands for, in a light that is told", Unit: "K", Half: People,
			Covers: "scaled steel, 500 to 1350 °C, dark shop to full sun",
			HeldTo: "35 rows of four published charts that were read, on which the words' corners were set and none of which tells its light: bands of unknown light hold 30, and 31 with each chart left out in turn", Source: "chapman-1972",
		},
		{
			Model: "color.film", Quantity: "reflectance of an oxide film", Unit: "", Half: 0.03,
			Covers: "even films to 100 nm on polished iron, a quarter hematite over magnetite",
			HeldTo: "a thin-film library within 1e-9 on the same constants; the constants themselves move a color by 3 nm of film", Source: "querry-1985",
		},
	}
}
