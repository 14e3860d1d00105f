package shop

// A lining material: density [kg/m³], heat capacity [J/kgK], conductivity [W/mK]
// at 200 and 1000 °C. From memory of makers' sheets, ±20 %.
type liningMaterial struct {
	name        string
	rho, c      float64
	k200, k1000 float64
}

var linings = []liningMaterial{
	{"fiber", 128, 1050, 0.06, 0.29},
	{"hard face", 2000, 1000, 1.3, 1.4},
	{"dense castable", 2200, 1000, 1.3, 1.5},
	{"insulating castable", 1400, 1000, 0.55, 0.7},
	{"insulating brick", 650, 1050, 0.18, 0.32},
	{"vermiculite board", 400, 1000, 0.12, 0.2},
	{"steel pipe", 7850, 620, 45, 28},
}

// LiningNames returns the materials that a [Layer] may be of, from common practice.
func LiningNames() []string {
	names := make([]string, len(linings))
	for i, m := range linings {
		names[i] = m.name
	}
	return names
}
