package color

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// Point is a place on a drawing, x to the right and y down.
type Point struct{ X, Y float64 }

// Drawing is a picture as a list of shapes, in units of one screen pixel. It is
// written as SVG for pages and paper, or as PNG.
type Drawing struct {
	Width, Height float64
	Title         string // what the picture says, for those who do not see it
	shapes        []shape
}

type shape struct {
	kind   byte // 'p' polygon, 'l' line, 't' text, 'i' image
	points []Point
	ink    RGB
	size   float64 // line width, or height of the letters
	text   string
	anchor byte // 's' start, 'm' middle, 'e' end
	turn   bool // text runs upward
	image  *image.RGBA
}

// Black is the one ink of a drawing that must survive a photocopier.
var Black = RGB{0, 0, 0}

// Polygon fills an area.
func (d *Drawing) Polygon(ink RGB, p ...Point) {
	d.shapes = append(d.shapes, shape{kind: 'p', ink: ink, points: append([]Point(nil), p...)})
}

// Line draws a line through points.
func (d *Drawing) Line(ink RGB, width float64, p ...Point) {
	d.shapes = append(d.shapes, shape{kind: 'l', ink: ink, size: width, points: append([]Point(nil), p...)})
}

// Text writes at a point on the base line; anchor is 's', 'm' or 'e'.
func (d *Drawing) Text(ink RGB, size float64, at Point, anchor byte, text string) {
	d.shapes = append(d.shapes, shape{kind: 't', ink: ink, size: size, points: []Point{at}, anchor: anchor, text: text})
}

// TextUp writes upward, for the name of an axis.
func (d *Drawing) TextUp(ink RGB, size float64, at Point, anchor byte, text string) {
	d.shapes = append(d.shapes, shape{kind: 't', ink: ink, size: size, points: []Point{at}, anchor: anchor, text: text, turn: true})
}

// Label writes text on a patch of paper, so that it is read on any color.
func (d *Drawing) Label(size float64, at Point, anchor byte, text string) {
	w := textWidth(size, text)
	x := at.X
	switch anchor {
	case 'm':
		x -= w / 2
	case 'e':
		x -= w
	}
	paper := RGB{255, 255, 255}
	d.Polygon(paper, Point{x - 2, at.Y - size*0.82}, Point{x + w + 2, at.Y - size*0.82}, Point{x + w + 2, at.Y + size*0.26}, Point{x - 2, at.Y + size*0.26})
	d.Text(Black, size, at, anchor, text)
}

// Image places pixels with their left upper corner at a point, stretched to w × h.
func (d *Drawing) Image(at Point, w, h float64, m *image.RGBA) {
	d.shapes = append(d.shapes, shape{kind: 'i', points: []Point{at, {w, h}}, image: m})
}

// SVG returns the drawing as a self-contained document.
func (d *Drawing) SVG() string {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%s" height="%s" role="img">`+"\n", num(d.Width), num(d.Height), num(d.Width), num(d.Height))
	fmt.Fprintf(&b, "<title>%s</title>\n", escape(d.Title))
	for _, s := range d.shapes {
		switch s.kind {
		case 'p':
			fmt.Fprintf(&b, `<polygon points="%s" fill="%s"/>`+"\n", path(s.points), s.ink)
		case 'l':
			fmt.Fprintf(&b, `<polyline points="%s" fill="none" stroke="%s" stroke-width="%s"/>`+"\n", path(s.points), s.ink, num(s.size))
		case 't':
			anchor := map[byte]string{'s': "start", 'm': "middle", 'e': "end"}[s.anchor]
			turn := ""
			if s.turn {
				turn = fmt.Sprintf(` transform="rotate(-90 %s %s)"`, num(s.points[0].X), num(s.points[0].Y))
			}
			fmt.Fprintf(&b, `<text x="%s" y="%s" font-family="'Liberation Sans',Arial,sans-serif" font-size="%s" text-anchor="%s" fill="%s"%s>%s</text>`+"\n",
				num(s.points[0].X), num(s.points[0].Y), num(s.size), anchor, s.ink, turn, escape(s.text))
		case 'i':
			fmt.Fprintf(&b, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" href="data:image/png;base64,%s"/>`+"\n",
				num(s.points[0].X), num(s.points[0].Y), num(s.points[1].X), num(s.points[1].Y), base64.StdEncoding.EncodeToString(EncodePNG(s.image)))
		}
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func path(p []Point) string {
	var b strings.Builder
	for i, q := range p {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(num(q.X) + "," + num(q.Y))
	}
	return b.String()
}

func num(x float64) string {
	s := fmt.Sprintf("%.2f", x)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(s)
}

// EncodePNG returns an image as a PNG file.
func EncodePNG(m image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic(err) // only a writer fails, and a buffer does not
	}
	return b.Bytes()
}

// PNG returns the drawing as a PNG file, scale pixels to the unit, on white.
func (d *Drawing) PNG(scale float64) []byte { return EncodePNG(d.Raster(scale)) }

// Raster returns the drawing as pixels, scale to the unit, on white.
func (d *Drawing) Raster(scale float64) *image.RGBA {
	w, h := int(math.Ceil(d.Width*scale)), int(math.Ceil(d.Height*scale))
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(m, m.Bounds(), image.White, image.Point{}, draw.Src)
	for _, s := range d.shapes {
		switch s.kind {
		case 'p':
			fill(m, s.ink, scale, s.points)
		case 'l':
			stroke(m, s.ink, scale, s.size, s.points)
		case 't':
			write(m, s, scale)
		case 'i':
			place(m, s, scale)
		}
	}
	return m
}

func fill(m *image.RGBA, ink RGB, scale float64, p []Point) {
	// The rasterizer works on what the picture shows of the box around the shape alone.
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, q := range p {
		x0, y0, x1, y1 = min(x0, q.X*scale), min(y0, q.Y*scale), max(x1, q.X*scale), max(y1, q.Y*scale)
	}
	box := image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1))+1, int(math.Ceil(y1))+1).Intersect(m.Bounds())
	if box.Empty() {
		return
	}
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, q := range p {
		x, y := float32(q.X*scale-float64(box.Min.X)), float32(q.Y*scale-float64(box.Min.Y))
		if i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
	r.Draw(m, box, image.NewUniform(color.RGBA{ink.R, ink.G, ink.B, 255}), image.Point{})
}

func stroke(m *image.RGBA, ink RGB, scale, width float64, p []Point) {
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l == 0 {
			continue
		}
		nx, ny := -(b.Y-a.Y)/l*width/2, (b.X-a.X)/l*width/2
		fill(m, ink, scale, []Point{{a.X + nx, a.Y + ny}, {b.X + nx, b.Y + ny}, {b.X - nx, b.Y - ny}, {a.X - nx, a.Y - ny}})
	}
}

var typeface = sync.OnceValue(func() *opentype.Font {
	f, err := opentype.Parse(liberationsansregular.TTF)
	if err != nil {
		panic(err)
	}
	return f
})

func letters(size float64) font.Face {
	f, err := opentype.NewFace(typeface(), &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic(err)
	}
	return f
}

func textWidth(size float64, text string) float64 {
	return float64(font.MeasureString(letters(size), text)) / 64
}

func write(m *image.RGBA, s shape, scale float64) {
	face := letters(s.size * scale)
	width := float64(font.MeasureString(face, s.text)) / 64
	back := 0.0
	switch s.anchor {
	case 'm':
		back = width / 2
	case 'e':
		back = width
	}
	ink := image.NewUniform(color.RGBA{s.ink.R, s.ink.G, s.ink.B, 255})
	at := s.points[0]
	if !s.turn {
		d := font.Drawer{Dst: m, Src: ink, Face: face, Dot: fixed.P(0, 0)}
		d.Dot.X, d.Dot.Y = fixed.Int26_6((at.X*scale-back)*64), fixed.Int26_6(at.Y*scale*64)
		d.DrawString(s.text)
		return
	}
	// Written flat beside the picture, then turned a quarter to the left.
	h := int(s.size*scale*1.5) + 2
	flat := image.NewRGBA(image.Rect(0, 0, int(width)+2, h))
	d := font.Drawer{Dst: flat, Src: ink, Face: face, Dot: fixed.P(0, int(s.size*scale))}
	d.DrawString(s.text)
	x0, y0 := int(at.X*scale)-int(s.size*scale), int(at.Y*scale+back)
	for y := range h {
		for x := range int(width) + 2 {
			if c := flat.RGBAAt(x, y); c.A > 0 {
				p := image.Pt(x0+y, y0-x)
				draw.Draw(m, image.Rectangle{p, p.Add(image.Pt(1, 1))}, image.NewUniform(c), image.Point{}, draw.Over)
			}
		}
	}
}

func place(m *image.RGBA, s shape, scale float64) {
	x0, y0 := int(math.Round(s.points[0].X*scale)), int(math.Round(s.points[0].Y*scale))
	w, h := int(math.Round(s.points[1].X*scale)), int(math.Round(s.points[1].Y*scale))
	b := s.image.Bounds()
	for y := range h {
		for x := range w {
			if p := image.Pt(x0+x, y0+y); p.In(m.Bounds()) {
				m.SetRGBA(p.X, p.Y, s.image.RGBAAt(b.Min.X+x*b.Dx()/w, b.Min.Y+y*b.Dy()/h))
			}
		}
	}
}

// Append draws another drawing into this one, moved by dx and dy.
func (d *Drawing) Append(other *Drawing, dx, dy float64) {
	for _, s := range other.shapes {
		p := make([]Point, len(s.points))
		for i, q := range s.points {
			p[i] = Point{q.X + dx, q.Y + dy}
			if s.kind == 'i' && i == 1 {
				p[i] = q // the size of an image
			}
		}
		s.points = p
		d.shapes = append(d.shapes, s)
	}
}
