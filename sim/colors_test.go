package sim

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/route"
)

// A temper by the colors ends where a bright spot of the zone is in the middle of
// the word, whatever is hot: a block or a torch at the spine, the shank of a chisel
// that was quenched at its end. What was nearer to the heat has gone farther and is
// softer.
func TestColorsEndATemper(t *testing.T) {
	quench := hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\n"
	end := hardened + "[[step]]\ndo = \"quench\"\nin = \"brine\"\nunder = \"35 mm\"\nuntil = \"12 s\"\n"
	for _, row := range []struct {
		name, piece, steps string
		whole              bool
		word               color.Temper
		near, far          string
	}{
		{"block", kitchenKnife, quench + "[[step]]\ndo = \"temper\"\nin = \"hot block\"\ntouches = \"spine\"\nuntil = \"straw at edge\"\n", true, color.Straw, "spine", "edge"},
		{"torch", kitchenKnife, quench + "[[step]]\ndo = \"temper\"\nin = \"torch\"\ntouches = \"spine\"\nuntil = \"blue at the spine\"\nedge_in = \"brine\"\nunder = \"8 mm\"\n", true, color.Blue, "spine", "spine"},
		{"shank", coldChisel, end + "[[step]]\ndo = \"cool\"\nuntil = \"purple at edge\"\n[[step]]\ndo = \"quench\"\nin = \"brine\"\nunder = \"35 mm\"\nuntil = \"30 s\"\n", true, color.Purple, "struck end", "edge"},
		{"oven", o1Flat, quench + "[[step]]\ndo = \"temper\"\nin = \"kitchen oven\"\nat = \"210 C\"\nuntil = \"dark straw at surface\"\nhold = \"1 min\"\n", false, color.DarkStraw, "core", "surface"},
	} {
		h := worked(t, row.whole, row.piece, row.steps)
		at := slices.IndexFunc(h.Steps, func(s Step) bool { return s.Ending == row.word.String() })
		if at < 0 {
			t.Fatalf("%s: nothing ends with %s", row.name, row.word)
		}
		s := h.Steps[at]
		far := zoneOf(t, s.Zones, row.far)
		t.Logf("%s: %s after %.0f s, %s %.1f nm at %.0f °C, %s %.0f HV, %s %.0f HV at last", row.name, row.word, s.Seconds.Value, row.far, far.Film.Value, far.Temperature.Value, row.near, hv(t, h, row.near), row.far, hv(t, h, row.far))
		over := far.Film.Value - row.word.Film().Value
		if row.name == "oven" { // the minute of its hold
			over -= 0.5
		}
		if math.Abs(over) > 0.6 || color.TemperOf(far.Film.Value) != row.word {
			t.Errorf("%s: the %s has a film of %.2f nm, %s is %.2f", row.name, row.far, far.Film.Value, row.word, row.word.Film().Value)
		}
		if near := zoneOf(t, s.Zones, row.near); row.near != row.far && near.Film.Value < far.Film.Value-0.2 {
			t.Errorf("%s: %.1f nm at the %s, %.1f at the %s", row.name, near.Film.Value, row.near, far.Film.Value, row.far)
		}
	}
}

// The words of the job are those of the eye.
func TestWordsThatEndATemper(t *testing.T) {
	var all []string
	for w := color.FaintStraw; w <= color.PaleBlue; w++ {
		all = append(all, w.String())
	}
	if !slices.Equal(all, route.TemperColors) {
		t.Errorf("%v, %v", all, route.TemperColors)
	}
}

// A color that does not come is told, and what nobody can wait for is refused.
func TestColorsThatDoNotCome(t *testing.T) {
	quench := hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\n"
	if _, err := worksOut(t, true, kitchenKnife, quench+"[[step]]\ndo = \"temper\"\nin = \"kitchen oven\"\nat = \"100 C\"\nuntil = \"blue at edge\"\nhold = \"1 min\"\n"); err == nil || !strings.Contains(err.Error(), "never met") {
		t.Errorf("blue at 100 °C: %v", err)
	}
	for _, until := range []string{"straw", "straw at nowhere", "mauve at edge"} {
		if _, problems := route.Parse([]byte(kitchenKnife+companyShop+quench+"[[step]]\ndo = \"temper\"\nin = \"hot block\"\ntouches = \"spine\"\nuntil = \""+until+"\"\n"), nil); len(problems) == 0 {
			t.Errorf("%q is taken", until)
		}
	}
	if _, problems := route.Parse([]byte(kitchenKnife+companyShop+strings.Replace(hardened, "at heat", "straw at edge", 1)), nil); len(problems) == 0 {
		t.Error("a hardening heat ends with a temper color")
	}
}
