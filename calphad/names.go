package calphad

import "strings"

// Names of phases as the trade knows them.
const (
	Austenite = "austenite"
	Ferrite   = "ferrite"
	Cementite = "cementite"
	Liquid    = "liquid"
	MC        = "MC"     // cubic carbide of V, W, Mo: fcc with its interstitial sites full
	M2C       = "M2C"    // hexagonal, the same way
	M7C3      = "M7C3"   //
	M23C6     = "M23C6"  //
	M6C       = "M6C"    //
	WC        = "WC"     // hexagonal MC
	EtaMC     = "eta-MC" // hexagonal (Mo,V)C
	Ksi       = "ksi carbide"
	Copper    = "copper"
	Hexagonal = "hexagonal iron"
)

var tradeNames = map[string]string{
	"LIQUID": Liquid, "BCC_A2": Ferrite, "CEMENTITE": Cementite, "M7C3": M7C3, "M23C6": M23C6, "M6C": M6C,
	"MC_SHP": WC, "MC_ETA": EtaMC, "KSI_CARBIDE": Ksi, "GRAPHITE": "graphite",
}

// Carbides that take part in pearlite: they grow beside ferrite from austenite.
func pearlitic(name string) bool { return name == Cementite || name == M7C3 || name == M23C6 }

// name returns the trade's name of a composition set. Austenite and MC are one
// phase to the database, and so are hexagonal iron and M2C: the carbon and nitrogen
// per metal tells them apart.
func (j *joined) name(s *spot) string {
	switch s.p.name {
	case "FCC_A1", "HCP_A3":
		c, cu, metal := 0.0, 0.0, 0.0
		sites := 1.0
		if s.p.name == "HCP_A3" {
			sites = 0.5
		}
		for i, sym := range j.sys.symbols {
			switch sym {
			case "C", "N":
				c += s.x[i]
			case "CU":
				cu = s.x[i]
				fallthrough
			default:
				metal += s.x[i]
			}
		}
		filled := c/(metal*sites) > 0.45
		switch {
		case s.p.name == "HCP_A3" && filled:
			return M2C
		case s.p.name == "HCP_A3":
			return Hexagonal
		case filled:
			return MC
		case cu > 0.5*metal:
			return Copper
		}
		return Austenite
	}
	if n, ok := tradeNames[s.p.name]; ok {
		return n
	}
	return strings.ToLower(s.p.name)
}
