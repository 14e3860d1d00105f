package steel

// Constituent is a part of the structure that has an enthalpy and a hardness of its own.
type Constituent int

// The constituents. Retained austenite is austenite that is left below the
// temperature at which it was last changed into martensite; it shares
// austenite's properties.
const (
	Austenite Constituent = iota
	RetainedAustenite
	Martensite
	Pearlite
	Bainite
	Ferrite
	Carbide
	NumConstituents
)

var constituentNames = [NumConstituents]string{
	"austenite", "retained_austenite", "martensite", "pearlite", "bainite", "ferrite", "carbide",
}

// String returns the stable name that results use.
func (c Constituent) String() string { return constituentNames[c] }
