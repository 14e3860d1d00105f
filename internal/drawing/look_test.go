package drawing

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/sim"
)

// The demo knife at the end of each step: the picture covers the blade from the
// side and its section, glows at the end of the heat, is dark once cold, and shows
// a film only where there is one.
func TestLookIsThePiece(t *testing.T) {
	folder := filepath.Join("..", "..", "examples")
	text, err := os.ReadFile(filepath.Join(folder, "knife.toml"))
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(folder, name)) })
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	var fields []*sim.Field
	h, err := sim.Run(context.Background(), job, sim.Options{Along: 20, Across: 6, Through: 4, Quick: true, Fields: func(f *sim.Field) { fields = append(fields, f) }}, nil)
	if err != nil {
		t.Fatal(err)
	}
	body, err := job.Body(0)
	if err != nil {
		t.Fatal(err)
	}
	side, cut := areaOf(sideOf(fields[0])), areaOf(cutOf(fields[0]))
	if want := sideArea(body); math.Abs(side-want) > 0.02*want {
		t.Errorf("from the side the picture covers %.2f cm², the blade is %.2f", side*1e4, want*1e4)
	}
	u := body.U(fields[0].X[fields[0].Cut*(fields[0].NJ+1)*(fields[0].NK+1)])
	if k := body.Section(u); math.Abs(cut-k.Area()) > 0.02*k.Area() {
		t.Errorf("cut across it covers %.1f mm², the section has %.1f", cut*1e6, k.Area()*1e6)
	}
	eye := color.NewEye(color.Dark, color.NoGlasses)
	dir := os.Getenv("HEATWRIGHT_PICTURES")
	for _, f := range fields {
		st := h.Steps[f.Step]
		hot := 0.0
		for i, c := range sideOf(f) {
			hot = max(hot, c.T)
			if !(c.Film >= 0) {
				t.Fatalf("%s: cell %d of the front has a film of %v nm", st.Name, i, c.Film)
			}
		}
		if glows := eye.HeatOf(hot) > color.NoGlow; glows != (hot > eye.Threshold()) {
			t.Errorf("%s: at %.0f K it glows: %v", st.Name, hot, glows)
		}
		d := Look(f, eye, color.Celsius, "from the side", "cut across", st.Name)
		if d.Height < 60 || d.Height > 900 {
			t.Errorf("%s: a picture %v high", st.Name, d.Height)
		}
		if dir != "" {
			if err := os.WriteFile(filepath.Join(dir, st.Name+string(rune('a'+f.Step))+".png"), d.PNG(1), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	first, last := fields[0], fields[len(fields)-1]
	if a, b := first.Temperature[0], last.Temperature[0]; a < 600 || b > 100 {
		t.Errorf("%.0f °C at first, %.0f at last", a, b)
	}
}

func areaOf(cells []color.Cell) (sum float64) {
	for _, c := range cells {
		a := 0.0
		for i, p := range c.Corner {
			q := c.Corner[(i+1)%len(c.Corner)]
			a += p.X*q.Y - q.X*p.Y
		}
		sum += math.Abs(a) / 2
	}
	return sum
}

func sideArea(s *shape.Solid) (sum float64) {
	const n = 2000
	for i := range n {
		u := s.U((float64(i) + 0.5) / n * s.Length())
		sum += math.Abs(s.Across(u, 1, 1).Y-s.Across(u, 0, 1).Y) * s.Length() / n
	}
	return sum
}
