package forging

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/steel"
)

// A square bar drawn to a smaller square takes the same work and blows by either
// reckoning (derived: the equivalent strain of it is ln A₀/A₁).
func TestPassOfASquareIsADraw(t *testing.T) {
	bar, err := shape.Bar{Form: shape.Square, Width: 0.016, Length: 0.1}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	c, err := shape.Draw(bar, shape.Pass{From: 0, To: 0.1, Thickness: 0.75, Width: 0.75})
	if err != nil {
		t.Fatal(err)
	}
	comp := steel.Composition{steel.C: 0.84, steel.Mn: 0.75, steel.Si: 0.2}
	heat := Heat{From: 1373, To: 1123}
	pass, err := Pass{comp, c, heat, HandHammer}.Effort()
	if err != nil {
		t.Fatal(err)
	}
	draw, err := Draw{Steel: comp, From: Section{0.016, 0.016}, To: Section{0.012, 0.012}, Length: 0.1, Heat: heat, Hammer: HandHammer}.Effort()
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][2]float64{{pass.Longer, draw.Longer}, {pass.Joules, draw.Joules}, {pass.Blows.Value, draw.Blows.Value}, {pass.Seconds.Value, draw.Seconds.Value}} {
		if math.Abs(x[0]/x[1]-1) > 0.02 {
			t.Errorf("%.4g, and drawing says %.4g", x[0], x[1])
		}
	}
	// Only flattened, a bar takes work too, though its section may stay as large.
	flat, err := shape.Draw(bar, shape.Pass{From: 0, To: 0.1, Thickness: 0.7, Width: 1 / 0.7})
	if err != nil {
		t.Fatal(err)
	}
	wide, err := Pass{comp, flat, heat, HandHammer}.Effort()
	if err != nil || wide.Joules < 0.5*pass.Joules {
		t.Errorf("flattening takes %.0f J: %v", wide.Joules, err)
	}
}
