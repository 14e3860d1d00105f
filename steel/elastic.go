package steel

import "math"

// Strain returns the linear strain of a constituent at T [K] with carbon [wt %],
// counted from ferrite with carbide of the same carbon at 20 °C [–].
//
// Ferrite, pearlite, bainite and martensite expand like ferrite's lattice,
// austenite like its own [seki-nagata-2005]:
//
//	aα = 0.2860 + 2.059e-6 T + 1.602e-9 T² nm (295–1183 K)   aγ = 0.35519 + 8.1593e-6 T nm
//
// At 20 °C, in volume above ferrite with carbide: martensite 1.68 C %, bainite
// 0.78 C %, austenite −4.64 + 2.21 C % [asm-volume-changes], but not under the
// −3.03 % that the two lattices give without carbon: below 0.73 % C the
// handbook's line and the lattices part by up to 1.6 % volume, and at the
// temperatures where low-carbon steel changes the lattices were measured.
//
// Held to: 1.33 % volume from austenite to ferrite at 1000 K without carbon;
// austenite to martensite at 20 °C 4.64 − 0.53 C % for 0.75 to 1.0 % C.
// Band ±0.05 % strain above 0.7 % C, ±0.25 % below.
func (t *Thermal) Strain(c Constituent, kelvin, carbon float64) float64 {
	alpha := latticeAlpha(kelvin)/latticeAlpha(293.15) - 1
	switch c {
	case Austenite, RetainedAustenite:
		at20 := max(-0.0464+0.0221*carbon, gammaBelowAlpha)
		return math.Cbrt(1+at20)*latticeGamma(kelvin)/latticeGamma(293.15) - 1
	case Martensite:
		return (1+alpha)*math.Cbrt(1+0.0168*carbon) - 1
	case Bainite:
		return (1+alpha)*math.Cbrt(1+0.0078*carbon) - 1
	}
	return alpha
}

func latticeAlpha(kelvin float64) float64 { return 0.2860 + 2.059e-6*kelvin + 1.602e-9*kelvin*kelvin }

func latticeGamma(kelvin float64) float64 { return 0.35519 + 8.1593e-6*kelvin }

// gammaBelowAlpha is the volume of an atom of iron in austenite over that in
// ferrite at 20 °C less one: (aγ³/4)/(aα³/2) − 1, from the two lattices above.
var gammaBelowAlpha = func() float64 {
	g, a := latticeGamma(293.15), latticeAlpha(293.15)
	return g*g*g/(2*a*a*a) - 1
}()

// Modulus returns Young's modulus of a constituent at T [K], Pa: ferrite and
// its kin 210 GPa at 20 °C falling to 150 at 727 °C, austenite 195 GPa at 20 °C
// falling by 0.08 GPa/K. Error ±8 %.
//
// Source: richter-1973 (from memory).
func (t *Thermal) Modulus(c Constituent, kelvin float64) float64 {
	x := min(max(kelvin-273.15, -100), 1300)
	if c == Austenite || c == RetainedAustenite {
		return (195 - 0.08*(x-20)) * 1e9
	}
	return (210 - 0.04*(x-20) - 6.3e-5*(x-20)*(x-20)) * 1e9
}

// Density returns the density of a constituent at T [K], kg/m³. Error ±0.5 %.
//
// Source: richter-1973 (from memory).
func (t *Thermal) Density(c Constituent, kelvin float64) float64 {
	s := thermals()
	table := s.Ferrite
	switch c {
	case Austenite, RetainedAustenite:
		table = s.Gamma
	case Martensite:
		table = s.Mart
	case Bainite:
		table = s.Bainite
	case Carbide:
		return 7690 // cementite, from memory
	}
	return table.at(table.Rho, kelvin)
}

// Density20 is the density that masses are reckoned with [kg/m³]: the mass of
// a cell stays while it heats, so the mesh does not expand.
const Density20 = 7840.0
