package medium

// Atmosphere is the gas that touches the steel, as parts by volume of the wet
// gas, and how freely oxygen reaches it. It is what scale and decarburization
// are computed from.
type Atmosphere struct {
	Kind                 string  // "air", "lean", "neutral", "rich", "liquid", "bed", "foil"
	O2, CO, CO2, H2O, H2 float64 // volume fractions
	Free                 float64 // 0 sealed … 1 open: how freely gas is renewed at the surface
}

// The atmospheres of a shop. Flue compositions of propane burnt with 12 % too
// much air, just enough, and 15 % too little; equilibrium of the water-gas shift
// near 1100 °C. Computed from the atom balance (own derivation); the share that
// burns at the door and stray air are not counted.
var (
	OpenAir    = Atmosphere{Kind: "air", O2: 0.209, H2O: 0.01, Free: 1}
	Lean       = Atmosphere{Kind: "lean", O2: 0.021, CO2: 0.104, H2O: 0.139, Free: 1}
	Neutral    = Atmosphere{Kind: "neutral", O2: 0.002, CO: 0.01, CO2: 0.107, H2O: 0.15, H2: 0.005, Free: 1}
	Rich       = Atmosphere{Kind: "rich", CO: 0.056, CO2: 0.070, H2O: 0.137, H2: 0.038, Free: 1}
	UnderBath  = Atmosphere{Kind: "liquid"}
	InBed      = Atmosphere{Kind: "bed", O2: 0.10, H2O: 0.01, Free: 0.1}
	InFoil     = Atmosphere{Kind: "foil", Free: 0}
	MuffleAir  = Atmosphere{Kind: "air", O2: 0.18, CO2: 0.01, H2O: 0.02, Free: 0.5}
	ClosedOven = Atmosphere{Kind: "air", O2: 0.205, H2O: 0.015, Free: 1}
)
