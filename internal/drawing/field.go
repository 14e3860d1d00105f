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
	fieldMost   = 400 // height of one panel at most
)

// view visits the cells of a cut and their corners in its plane [m].
type view func(visit func(cell int, y, z [4]float64))

// WriteField draws a field: the cut that stands for the whole, and where the piece
// was marched whole the layer halfway through it from the side; temperature and
// hardness of each, with a bar from the least to the most in the picture.
func WriteField(w io.Writer, f *sim.Field) error {
	views := []view{f.Quads}
	if side := view(f.Side); !side.empty() && !f.EndOn {
		views = append(views, side)
	}
	type panel struct {
		view
		box         frame
		scale       float64
		top, high   int
		name, words string
		values      []float64
		ink         func(x float64) color.RGBA
		format      string
	}
	var panels []panel
	top := fieldMargin
	for _, v := range views {
		b := v.extent()
		scale := math.Min(float64(fieldWide-2*fieldMargin)/(b.yhi-b.ylo), fieldMost/math.Max(b.zhi-b.zlo, 1e-9))
		high := int((b.zhi-b.zlo)*scale) + 1
		size := fmt.Sprintf("%.1f x %.1f mm", 1e3*(b.yhi-b.ylo), 1e3*(b.zhi-b.zlo))
		for _, p := range []panel{
			{name: "temperature", values: f.Temperature, ink: glow, format: "%.0f C"},
			{name: "hardness", values: f.Hardness, ink: ink, format: "%.0f HV"},
		} {
			p.view, p.box, p.scale, p.top, p.high, p.words = v, b, scale, top, high, size
			panels = append(panels, p)
			top += high + 3*fieldMargin + fieldBar
		}
	}
	img := image.NewRGBA(image.Rect(0, 0, fieldWide, top))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for _, p := range panels {
		write(img, fieldMargin, p.top-8, fmt.Sprintf("%s, %.1f s; %s", f.Name, f.Time, p.words))
		lo, hi := p.span(p.values)
		at := func(v float64) color.RGBA { return p.ink((v - lo) / math.Max(hi-lo, 1e-9)) }
		p.view(func(c int, y, z [4]float64) {
			var px, py [4]float64
			for i := range y {
				px[i], py[i] = fieldMargin+(y[i]-p.box.ylo)*p.scale, float64(p.top)+(p.box.zhi-z[i])*p.scale
			}
			quad(img, px, py, at(p.values[c]))
		})
		bar := p.top + p.high + fieldMargin/2
		for x := fieldMargin; x < fieldWide-fieldMargin; x++ {
			c := p.ink(float64(x-fieldMargin) / float64(fieldWide-2*fieldMargin))
			for y := range fieldBar {
				img.SetRGBA(x, bar+y, c)
			}
		}
		write(img, fieldMargin, bar+fieldBar+14, p.name+": "+fmt.Sprintf(p.format, lo))
		write(img, fieldWide-fieldMargin-90, bar+fieldBar+14, fmt.Sprintf(p.format, hi))
	}
	return png.Encode(w, img)
}

// frame is the extent of a cut [m].
type frame struct{ ylo, yhi, zlo, zhi float64 }

func (v view) empty() bool {
	none := true
	v(func(int, [4]float64, [4]float64) { none = false })
	return none
}

func (v view) extent() frame {
	b := frame{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	v(func(_ int, y, z [4]float64) {
		for i := range y {
			b.ylo, b.yhi = math.Min(b.ylo, y[i]), math.Max(b.yhi, y[i])
			b.zlo, b.zhi = math.Min(b.zlo, z[i]), math.Max(b.zhi, z[i])
		}
	})
	return b
}

// span returns the least and the most of a quantity in the cut.
func (v view) span(values []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	v(func(c int, _, _ [4]float64) {
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
