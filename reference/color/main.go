// Command color prints what package color computes where general-purpose
// libraries can compute the same: black bodies, the white of daylight, screen
// colors, CIELAB, and the reflectance of oxide films on iron.
package main

import (
	"fmt"

	"github.com/heatwright/heatwright/color"
)

func main() {
	fmt.Println("quantity,case,wavelength_nm,n1,k1,n2,k2,n3,k3,ours")
	row := func(quantity, name string, value float64) { fmt.Printf("%s,%s,,,,,,,,%.12g\n", quantity, name, value) }
	for T := 800.0; T <= 1800; T += 100 {
		x, y := color.Glow(T, 1).Chromaticity()
		row("planck_x", fmt.Sprint(T), x)
		row("planck_y", fmt.Sprint(T), y)
	}
	for _, T := range []float64{2000, 2856, 6500} {
		x, y := color.Glow(T, 1).Chromaticity()
		row("planck_x", fmt.Sprint(T), x)
		row("planck_y", fmt.Sprint(T), y)
	}
	for i, p := range color.DaylightPower() {
		row("d65", fmt.Sprint(380+5*i), p)
	}
	for _, v := range []color.XYZ{{0.2, 0.2, 0.2}, {0.3, 0.2, 0.05}, {0.05, 0.1, 0.3}, {0.9, 0.95, 1}} {
		l := v.Lab()
		name := fmt.Sprintf("%g %g %g", v[0], v[1], v[2])
		row("lab_L", name, l.L)
		row("lab_a", name, l.A)
		row("lab_b", name, l.B)
		s := v.Signal()
		row("srgb_r", name, s[0])
		row("srgb_g", name, s[1])
		row("srgb_b", name, s[2])
	}
	iron, magnetite, hematite := color.Material("iron"), color.Material("magnetite"), color.Material("hematite")
	for _, nm := range []float64{0, 5, 12, 20, 28, 34, 42, 60, 90, 150} {
		var R color.Spectrum
		color.Film(&R, nm)
		for i := 0; i < len(R); i += 4 {
			h, m, f := hematite[i], magnetite[i], iron[i]
			fmt.Printf("film,%g,%d,%.9g,%.9g,%.9g,%.9g,%.9g,%.9g,%.12g\n", nm, 380+5*i, real(h), imag(h), real(m), imag(m), real(f), imag(f), R[i])
		}
	}
}
