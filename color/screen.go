package color

import (
	"fmt"
	"math"
)

// RGB is a color of the screen: sRGB, 8 bits a channel.
type RGB struct{ R, G, B uint8 }

// String returns the color as "#rrggbb".
func (c RGB) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// RGBA implements the interface of image/color.
func (c RGB) RGBA() (r, g, b, a uint32) {
	return uint32(c.R) * 0x101, uint32(c.G) * 0x101, uint32(c.B) * 0x101, 0xffff
}

// Grey returns the lightness of the color on paper, 0 black to 255 white, for
// pictures that must be read without color.
func (c RGB) Grey() uint8 {
	y := 0.2126*expand(c.R) + 0.7152*expand(c.G) + 0.0722*expand(c.B)
	return encode(y)
}

// linear returns the light of the three screen primaries for tristimulus values
// whose white has Y = 1, with the four digits of the standard (iec-61966-2-1). Values below 0 or above 1 are off the screen.
func (a XYZ) linear() [3]float64 {
	return [3]float64{
		3.2406*a[0] - 1.5372*a[1] - 0.4986*a[2],
		-0.9689*a[0] + 1.8758*a[1] + 0.0415*a[2],
		0.0557*a[0] - 0.2040*a[1] + 1.0570*a[2],
	}
}

// Screen returns the color on the screen of tristimulus values whose white has Y = 1.
func (a XYZ) Screen() RGB {
	l := a.linear()
	return RGB{encode(l[0]), encode(l[1]), encode(l[2])}
}

// transfer is the curve of sRGB, linear light to signal, both 0 to 1.
func transfer(l float64) float64 {
	if l <= 0.0031308 {
		return 12.92 * l
	}
	return 1.055*math.Pow(l, 1/2.4) - 0.055
}

func encode(l float64) uint8 {
	return uint8(math.Round(255 * transfer(min(1, max(0, l)))))
}

func expand(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// Lab are the coordinates of CIELAB for a D65 white: lightness 0 to 100, red
// against green, yellow against blue.
type Lab struct{ L, A, B float64 }

var white = XYZ{0.95047, 1, 1.08883}

// Lab returns the CIELAB coordinates of tristimulus values whose white has Y = 1.
func (a XYZ) Lab() Lab {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x, y, z := f(a[0]/white[0]), f(a[1]/white[1]), f(a[2]/white[2])
	return Lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// Chroma returns how colorful, Hue which color [degrees, 0 red, 90 yellow, 270 blue].
func (l Lab) Chroma() float64 { return math.Hypot(l.A, l.B) }

// Hue returns the hue angle [degrees].
func (l Lab) Hue() float64 {
	h := math.Atan2(l.B, l.A) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

// Lab returns the CIELAB coordinates of a screen color.
func (c RGB) Lab() Lab {
	r, g, b := expand(c.R), expand(c.G), expand(c.B)
	return XYZ{
		0.4124564*r + 0.3575761*g + 0.1804375*b,
		0.2126729*r + 0.7151522*g + 0.0721750*b,
		0.0193339*r + 0.1191920*g + 0.9503041*b,
	}.Lab()
}

// Difference returns the distance of two colors in CIELAB (ΔE 1976): 1 is about
// the least that can be told side by side, 10 is plain at a glance.
func Difference(a, b Lab) float64 {
	return math.Sqrt((a.L-b.L)*(a.L-b.L) + (a.A-b.A)*(a.A-b.A) + (a.B-b.B)*(a.B-b.B))
}

// Signal returns the sRGB signal of tristimulus values whose white has Y = 1, not
// rounded: 0 to 1 on the screen, beyond where the screen cannot follow.
func (a XYZ) Signal() [3]float64 {
	l := a.linear()
	for i, x := range l {
		l[i] = transfer(x)
	}
	return l
}
