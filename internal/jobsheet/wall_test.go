package jobsheet

import (
	"fmt"
	"testing"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// The chart of a shop fits on one side whatever hangs there: five baths whole, more
// without its rounds, and what is left off is said by no row.
func TestWallChartFitsOneSide(t *testing.T) {
	plain, err := steel.Find("1084")
	if err != nil {
		t.Fatal(err)
	}
	for _, baths := range []int{1, 5, 9} {
		w := &plan.Wall{}
		for _, oven := range []string{"kiln", "kitchen oven"} {
			for _, set := range []float64{448, 478, 503, 533} {
				w.Dials = append(w.Dials, plan.Dial{Oven: oven, Set: set, Piece: unit.Band{Value: set, Low: set - 5, High: set + 5}, Thin: 1200, Thick: 2200})
			}
		}
		for i := range baths {
			bath := fmt.Sprintf("slow oil %d", i+1)
			w.Baths = append(w.Baths, plan.BathLimit{Bath: bath, Mass: 0.25, Rise: 3, From: 313, To: 338, Pieces: 8})
			for _, s := range []string{"1084", "1095", "5160", "O1"} {
				d := unit.Band{Value: 0.006, Low: 0.0045, High: 0.0255}
				w.Steel = append(w.Steel, plan.Depth{Steel: s, Bath: bath, Flat: d, Round: d})
			}
		}
		for _, units := range []unit.System{unit.Metric, unit.Imperial} {
			s := WallChart(w, "a shop", true, plain.Nominal(), words.Style{Language: words.American, Units: units})
			if _, err := s.draw(); err != nil {
				t.Errorf("%d baths, %v: %v", baths, units, err)
			}
			rows := 0
			for _, l := range s.Front[2].Lines {
				if len(l.Cells) == 5 {
					rows++
				}
			}
			if want := 2 * (baths + 1); baths <= 5 && rows != want || baths > 5 && rows < baths+1 {
				t.Errorf("%d baths, %v: %d rows of thickness", baths, units, rows)
			}
		}
	}
}
