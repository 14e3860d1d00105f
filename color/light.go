package color

import (
	"fmt"
	"math"
	"strings"
)

// Light is the light a piece is looked at in.
type Light struct {
	Name  string
	Where string  // "in dim light": as a sentence goes on
	Lux   float64 // on the work [lx]
	White float64 // luminance that the eye takes for white [cd/m²]
}

// The lights of a shop. White is tuned so that the colors on the screen carry the
// names of a published chart at "dim" (chapman-1972): a calibration, not a
// measurement of eyes.
var (
	Dark     = Light{"dark", "in a dark shop", 20, 30}      // doors shut, lamps off, the fire alone
	Dim      = Light{"dim", "in dim light", 200, 350}       // a workshop under its lamps, away from the window
	Shade    = Light{"shade", "in the shade", 1000, 600}    // by the window or the open door, out of the sun
	Daylight = Light{"daylight", "in daylight", 5000, 2500} // out of doors under a roof or a cloudy sky
	Sun      = Light{"sun", "in the sun", 60000, 20000}     // full sun
)

// night is a shop without a lamp, lit by the coals.
var night = Light{"night", "by night", 1, 10}

// Lights returns all lights from dark to bright.
func Lights() []Light { return []Light{Dark, Dim, Shade, Daylight, Sun} }

// ParseLight returns the light with this name.
func ParseLight(name string) (Light, error) {
	var names []string
	for _, l := range Lights() {
		if strings.EqualFold(l.Name, strings.TrimSpace(name)) {
			return l, nil
		}
		names = append(names, l.Name)
	}
	return Light{}, fmt.Errorf("color: light %q is none of %s", name, strings.Join(names, ", "))
}

// Glasses are what stands between the eye and the fire.
type Glasses struct {
	Name     string
	transmit func(nm float64) float64 // share of the light let through
}

// The glasses. Curves are shapes from memory, good enough to say how words shift
// and no protection data; what protects the eyes is written on the glasses.
var (
	NoGlasses  = Glasses{"none", func(float64) float64 { return 1 }}
	ClearSpecs = Glasses{"clear", func(float64) float64 { return 0.92 }}
	Sunglasses = Glasses{"sunglasses", func(float64) float64 { return 0.15 }}
	Didymium   = Glasses{"didymium", func(nm float64) float64 { // a deep notch in the yellow, smaller ones in the green
		return 0.88 - 0.83*bell(nm, 585, 14) - 0.35*bell(nm, 527, 8)
	}}
	Green = Glasses{"green", func(nm float64) float64 { // a green filter of about shade 3
		return 0.02 + 0.2*bell(nm, 540, 55)
	}}
)

func bell(x, at, width float64) float64 { return math.Exp(-(x - at) * (x - at) / (2 * width * width)) }

// AllGlasses returns every kind.
func AllGlasses() []Glasses { return []Glasses{NoGlasses, ClearSpecs, Sunglasses, Didymium, Green} }

// ParseGlasses returns the glasses with this name; "" is none.
func ParseGlasses(name string) (Glasses, error) {
	if strings.TrimSpace(name) == "" {
		return NoGlasses, nil
	}
	var names []string
	for _, g := range AllGlasses() {
		if strings.EqualFold(g.Name, strings.TrimSpace(name)) {
			return g, nil
		}
		names = append(names, g.Name)
	}
	return Glasses{}, fmt.Errorf("color: glasses %q are none of %s", name, strings.Join(names, ", "))
}
