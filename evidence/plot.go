package evidence

import (
	"fmt"
	"image/color"
	"math"
	"os"
	"path/filepath"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Plot draws computed against measured for every subset with three rows or
// more, one SVG file each, into an existing or new folder. It returns the names
// of the files.
func (r *Report) Plot(dir string) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("evidence: %w", err)
	}
	var files []string
	for i := range r.Sets {
		s := &r.Sets[i]
		if len(s.Points) < 3 {
			continue
		}
		name := filepath.Join(dir, s.id()+".svg")
		if err := s.plot(name); err != nil {
			return files, fmt.Errorf("evidence: %s: %w", name, err)
		}
		files = append(files, name)
	}
	return files, nil
}

func (c *Score) plot(name string) error {
	p := plot.New()
	p.Title.Text = c.Name + ", " + c.Subset
	unit := c.Unit
	if c.Factor {
		unit = "logarithmic"
		p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
		p.X.Tick.Marker, p.Y.Tick.Marker = plot.LogTicks{Prec: -1}, plot.LogTicks{Prec: -1}
	}
	p.X.Label.Text = "measured, " + unit
	p.Y.Label.Text = "computed, " + unit
	low, high := math.Inf(1), math.Inf(-1)
	var points plotter.XYs
	for _, q := range c.Points {
		if c.Factor && (q.Measured <= 0 || q.Predicted <= 0) {
			continue
		}
		points = append(points, plotter.XY{X: q.Measured, Y: q.Predicted})
		low, high = min(low, q.Measured, q.Predicted), max(high, q.Measured, q.Predicted)
	}
	if len(points) == 0 {
		return nil
	}
	if low == high {
		low, high = low*0.9-1e-9, high*1.1+1e-9
	}
	p.Add(plotter.NewGrid())
	lines := []float64{0}
	if half := c.half(); half > 0 {
		lines = append(lines, half, -half)
	}
	for n, off := range lines {
		ends := plotter.XYs{{X: low, Y: low + off}, {X: high, Y: high + off}}
		if c.Factor {
			ends[0].Y, ends[1].Y = low*math.Exp(off), high*math.Exp(off)
		}
		l, err := plotter.NewLine(ends)
		if err != nil {
			return err
		}
		l.Color = color.Gray{Y: 60}
		if n > 0 {
			l.Color, l.Dashes = color.Gray{Y: 120}, []vg.Length{vg.Points(4), vg.Points(3)}
		}
		p.Add(l)
	}
	dots, err := plotter.NewScatter(points)
	if err != nil {
		return err
	}
	dots.GlyphStyle = draw.GlyphStyle{Color: color.Gray{Y: 0}, Radius: vg.Points(1.6), Shape: draw.RingGlyph{}}
	p.Add(dots)
	return p.Save(12*vg.Centimeter, 12*vg.Centimeter, name)
}

// half returns the half width of the stated band where it is one number for all rows.
func (c *Score) half() float64 { return c.bandHalf }
