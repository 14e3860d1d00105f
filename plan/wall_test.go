package plan

import (
	"context"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// The chart of a small shop keeps to the order that the trade knows: a steel with
// more manganese and chromium hardens thicker, and a faster bath too; an oven
// takes longer over a thicker piece.
func TestWallChartOfASmallShop(t *testing.T) {
	shop := route.Shop{
		Baths: []route.Bath{
			{Name: "fast", Kind: "fast oil", Volume: given("12 L", unit.ParseVolume), Warm: given("50 C", unit.ParseTemp), Limit: given("70 C", unit.ParseTemp)},
			{Name: "slow", Kind: "slow oil", Volume: given("12 L", unit.ParseVolume)},
		},
		Ovens: []route.Oven{{Name: "kiln", Kind: "kiln"}},
	}
	shares := 0
	w, err := WallOf(context.Background(), shop, []string{"1084", "O1"}, func(float64) { shares++ })
	if err != nil {
		t.Fatal(err)
	}
	flat := map[string]float64{}
	for _, d := range w.Steel {
		flat[d.Steel+" "+d.Bath] = d.Flat.Value
		if d.Flat.Low > d.Flat.Value || d.Flat.High < d.Flat.Value {
			t.Errorf("%s in %s: band %v is not in order", d.Steel, d.Bath, d.Flat)
		}
	}
	for _, order := range [][2]string{{"1084 fast", "O1 fast"}, {"1084 slow", "1084 fast"}, {"1084 slow", "O1 slow"}} {
		if flat[order[0]] >= flat[order[1]] {
			t.Errorf("%s hardens %.1f mm, %s %.1f mm", order[0], 1000*flat[order[0]], order[1], 1000*flat[order[1]])
		}
	}
	// One 0.25 kg blade warms 12 L of oil by 7 °C: 0.25 kg · 600 kJ/kg over 12 L · 0.88 kg/L · 2.0 kJ/kgK (common practice figures).
	for _, b := range w.Baths {
		if b.Bath == "fast" && (b.Rise/b.Mass < 20 || b.Rise/b.Mass > 36 || b.Pieces < 1) {
			t.Errorf("a %.2f kg piece warms the bath by %.1f K, %d pieces", b.Mass, b.Rise, b.Pieces)
		}
	}
	for _, d := range w.Dials {
		if d.Thin >= d.Thick || d.Thin <= 0 {
			t.Errorf("dial %.0f °C: 3 mm takes %.0f s, 6 mm %.0f s", d.Set-273.15, d.Thin, d.Thick)
		}
	}
	if shares == 0 {
		t.Error("nobody was told how far it is")
	}
}
