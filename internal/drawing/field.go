package drawing

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"github.com/heatwright/heatwright/sim"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// Size of a picture of a field [pixels].
const (
	fieldWide   = 1200
	fieldMargin = 30
	fieldBar    = 14
	fieldMost   = 500 // height of one panel at most
)

// WriteField draws the cross-section of a field that stands for the whole: its
// temperature and its hardness, each with a bar from the least to the most.
func WriteField(w io.Writer, f *sim.Field) error {
	ylo, yhi, zlo, zhi := extent(f)
	scale := math.Min(float64(fieldWide-2*fieldMargin)/(yhi-ylo), fieldMost/(zhi-zlo))
	high := int((zhi-zlo)*scale) + 1
	panel := high + 3*fieldMargin + fieldBar
	img := image.NewRGBA(image.Rect(0, 0, fieldWide, 2*panel+fieldMargin))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	write(img, fieldMargin, fieldMargin-8, fmt.Sprintf("%s, %.1f s; %.1f x %.1f mm", f.Name, f.Time, 1e3*(yhi-ylo), 1e3*(zhi-zlo)))
	for n, what := range []struct {
		name   string
		values []float64
		ink    func(x float64) color.RGBA
		format string
	}{{"temperature", f.Temperature, glow, "%.0f C"}, {"hardness", f.Hardness, ink, "%.0f HV"}} {
		top := fieldMargin + n*panel
		lo, hi := span(f, what.values)
		at := func(v float64) color.RGBA { return what.ink((v - lo) / math.Max(hi-lo, 1e-9)) }
		place := func(y, z float64) (float64, float64) {
			return fieldMargin + (y-ylo)*scale, float64(top) + (zhi-z)*scale
		}
		f.Quads(func(c int, y, z [4]float64) {
			var px, py [4]float64
			for i := range y {
				px[i], py[i] = place(y[i], z[i])
			}
			quad(img, px, py, at(what.values[c]))
		})
		bar := top + high + fieldMargin/2
		for x := fieldMargin; x < fieldWide-fieldMargin; x++ {
			c := what.ink(float64(x-fieldMargin) / float64(fieldWide-2*fieldMargin))
			for y := range fieldBar {
				img.SetRGBA(x, bar+y, c)
			}
		}
		write(img, fieldMargin, bar+fieldBar+14, what.name+": "+fmt.Sprintf(what.format, lo))
		write(img, fieldWide-fieldMargin-90, bar+fieldBar+14, fmt.Sprintf(what.format, hi))
	}
	return png.Encode(w, img)
}

// extent returns the box of the cross-section [m].
func extent(f *sim.Field) (ylo, yhi, zlo, zhi float64) {
	ylo, zlo = math.Inf(1), math.Inf(1)
	yhi, zhi = math.Inf(-1), math.Inf(-1)
	f.Quads(func(_ int, y, z [4]float64) {
		for i := range y {
			ylo, yhi = math.Min(ylo, y[i]), math.Max(yhi, y[i])
			zlo, zhi = math.Min(zlo, z[i]), math.Max(zhi, z[i])
		}
	})
	return ylo, yhi, zlo, zhi
}

// span returns the least and the most of a quantity in the cross-section.
func span(f *sim.Field, values []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	f.Quads(func(c int, _, _ [4]float64) {
		lo, hi = math.Min(lo, values[c]), math.Max(hi, values[c])
	})
	return lo, hi
}

// glow runs from black through red and yellow to white; it reads in gray too.
func glow(x float64) color.RGBA {
	x = 0.06 + 0.84*x // neither lost on black nor on white
	part := func(from float64) uint8 { return uint8(255 * math.Max(0, math.Min(1, (x-from)*3))) }
	return color.RGBA{part(0), part(1. / 3), part(2. / 3), 255}
}

// ink runs from pale to dark in one color.
func ink(x float64) color.RGBA {
	part := func(pale, dark float64) uint8 { return uint8(pale + (dark-pale)*math.Max(0, math.Min(1, x))) }
	return color.RGBA{part(235, 10), part(240, 40), part(245, 80), 255}
}

func write(img *image.RGBA, x, y int, text string) {
	d := font.Drawer{Dst: img, Src: image.Black, Face: basicfont.Face7x13, Dot: fixed.P(x, y)}
	d.DrawString(text)
}

// quad fills a quadrilateral, by the side of each edge that a pixel lies on.
func quad(img *image.RGBA, x, y [4]float64, c color.RGBA) {
	lox, hix, loy, hiy := x[0], x[0], y[0], y[0]
	area := 0.0
	for i := range x {
		j := (i + 1) % 4
		lox, hix, loy, hiy = math.Min(lox, x[i]), math.Max(hix, x[i]), math.Min(loy, y[i]), math.Max(hiy, y[i])
		area += x[i]*y[j] - x[j]*y[i]
	}
	sign := math.Copysign(1, area)
	for py := int(loy); py <= int(hiy); py++ {
		for px := int(lox); px <= int(hix); px++ {
			in := true
			for i := range x {
				j := (i + 1) % 4
				in = in && sign*((x[j]-x[i])*(float64(py)+0.5-y[i])-(y[j]-y[i])*(float64(px)+0.5-x[i])) >= -0.6
			}
			if in {
				img.SetRGBA(px, py, c)
			}
		}
	}
}
