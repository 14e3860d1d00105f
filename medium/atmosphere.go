package medium

// Atmosphere is the gas that touches the steel, as parts by volume of the wet
// gas, and how freely oxygen reaches it. It is what scale and decarburization
// are computed from.
type Atmosphere struct {
	Kind                 string  // "air", "lean", "neutral", "rich", "liquid", "bed", "foil"
	O2, CO, CO2, H2O, H2 float64 // volume fractions
	Free                 float64 // 0 sealed … 1 open: how freely gas is renewed at the surface
}

// The atmospheres of a shop. The three flames are the wet flue of propane with
// 1.12, 1.00 and 0.82 of the air that it needs, parts of the flame being 6 % off
// the mean either way; own derivation from the atom balance and the water-gas
// shift at 1500 K. What burns at the door and stray air are not counted.
var (
	OpenAir    = Atmosphere{Kind: "air", O2: 0.209, H2O: 0.01, Free: 1}
	Lean       = Atmosphere{Kind: "lean", O2: 0.0206, CO2: 0.1046, H2O: 0.1395, Free: 1}
	Neutral    = Atmosphere{Kind: "neutral", O2: 0.0037, CO: 0.0052, CO2: 0.1105, H2O: 0.1514, H2: 0.0029, Free: 1}
	Rich       = Atmosphere{Kind: "rich", CO: 0.0484, CO2: 0.0853, H2O: 0.1456, H2: 0.0328, Free: 1}
	UnderBath  = Atmosphere{Kind: "liquid"}
	InBed      = Atmosphere{Kind: "bed", O2: 0.10, H2O: 0.01, Free: 0.1}
	InFoil     = Atmosphere{Kind: "foil", Free: 0}
	MuffleAir  = Atmosphere{Kind: "air", O2: 0.18, CO2: 0.01, H2O: 0.02, Free: 0.5}
	ClosedOven = Atmosphere{Kind: "air", O2: 0.205, H2O: 0.015, Free: 1}
)
