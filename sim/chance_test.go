package sim

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/route"
	"pgregory.net/rapid"
)

// chanceJob draws a job that a job file can say.
func chanceJob(t *rapid.T) string {
	pick := func(label string, words ...string) string { return rapid.SampledFrom(words).Draw(t, label) }
	between := func(label string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, label) }
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("format = 1\nname = \"chance\"\n[piece]")
	form := pick("form", "blade", "flat", "round", "square", "hex", "octagon", "chisel", "punch", "spring")
	say("form = %q\nlength = \"%.0f mm\"", form, between("length", 60, 400))
	thick := between("thick", 0.5, 30)
	switch form {
	case "blade":
		spine := between("spine", 1, 8)
		say("width = \"%.1f mm\"\nspine = \"%.2f mm\"\nedge = \"%.2f mm\"", between("width", 15, 60), spine, between("edge", 0.1, 0.9)*spine)
	case "flat":
		say("width = \"%.1f mm\"\nthickness = \"%.2f mm\"", thick*between("aspect", 1.2, 10)+1, thick)
	case "round":
		say("diameter = \"%.2f mm\"", thick)
	case "chisel":
		say("stock = %q\nacross = \"%.2f mm\"\ntaper = \"30 mm\"\nedge_width = \"%.2f mm\"\nedge = \"1 mm\"", pick("stock", "octagon", "hex", "square", "round"), thick+5, thick+5)
	case "punch":
		say("stock = %q\nacross = \"%.2f mm\"\ntaper = \"30 mm\"\npoint = \"%.2f mm\"", pick("stock", "octagon", "hex", "square", "round"), thick+5, between("point", 1, 4))
	case "spring":
		say("width = \"%.1f mm\"\nmiddle = \"%.2f mm\"", thick*2+5, thick)
	default:
		say("across = \"%.2f mm\"", thick)
	}
	say("[steel]\ngrade = %q\ncondition = %q", pick("grade", "1045", "1075", "1084", "1095", "W1", "W2", "O1", "5160", "52100", "D2"), pick("condition", "spheroidized", "annealed", "hot-rolled", "normalized", "hardened", "as forged", "unknown"))
	b.WriteString(companyShop)
	say("[[shop.box]]\nname = \"box\"\nfill = %q\nvolume = \"20 L\"\ndamp = %v\ncompanion = \"1 kg\"", pick("fill", "vermiculite", "sand", "wood ash", "lime"), rapid.Bool().Draw(t, "damp"))
	blade := form == "blade"
	chanceSteps(t, say, pick, between, blade)
	return b.String()
}

func chanceSteps(t *rapid.T, say func(string, ...any), pick func(string, ...string) string, between func(string, float64, float64) float64, blade bool) {
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	if yes("coat") {
		say("[[step]]\ndo = \"coat\"\nwith = %q", pick("with", "clay", "clay wash", "anti-scale paint"))
		if blade {
			say("bare = \"%.1f mm\"", between("bare", 1, 12))
		}
	}
	if yes("normalize") {
		say("[[step]]\ndo = \"normalize\"\nin = \"kiln\"\nat = \"%.0f C\"\nthen = %q\nto = \"black\"", between("heat", 780, 1000), pick("then", "air", "box"))
	}
	if yes("forge") {
		say("[[step]]\ndo = \"forge\"\nin = \"forge\"\nat = \"%.0f C\"\nuntil = \"%.0f s\"\nwork = \"%.0f s\"", between("hot", 900, 1250), between("for", 20, 400), between("work", 2, 40))
		if yes("tongs") {
			say("tongs = \"tongs\"\non = \"anvil\"")
		}
	}
	say("[[step]]\ndo = \"heat\"\nin = %q\nat = \"%.0f C\"\nuntil = %q", pick("fire", "forge", "kiln", "side fire", "cold fire", "short fire"), between("harden", 700, 1080), pick("until", "30 s", "5 min", "20 min"))
	if yes("part") {
		say("inside = \"%.0f mm\"", between("inside", 20, 59))
	}
	say("[[step]]\ndo = \"carry\"\nuntil = \"%.1f s\"", between("carry", 0.5, 8))
	switch pick("cooling", "bath", "part", "plates", "air", "box") {
	case "bath":
		say("[[step]]\ndo = \"quench\"\nin = %q\nmotion = %q\nuntil = %q", pick("bath", "oil", "brine"), pick("motion", "still", "moved", "stirred"), pick("bath end", "1 s", "60 s", "10 min"))
	case "part":
		say("[[step]]\ndo = \"quench\"\nin = %q\nunder = \"%.1f mm\"\nuntil = \"6 s\"", pick("bath", "oil", "brine"), between("under", 2, 50))
		if yes("then") {
			say("under_for = \"%.1f s\"", between("under_for", 0.5, 5))
		}
	case "plates":
		say("[[step]]\ndo = \"quench\"\nin = \"plates\"\nuntil = \"2 min\"")
	case "air":
		say("[[step]]\ndo = \"cool\"\nuntil = %q", pick("air end", "1 min", "1 h"))
	case "box":
		say("[[step]]\ndo = \"bury\"\nin = \"box\"\nuntil = %q", pick("box end", "1 min", "5 h"))
	}
	switch pick("temper", "oven", "block", "torch", "none") {
	case "oven":
		say("[[step]]\ndo = \"temper\"\nin = \"kiln\"\nat = \"%.0f C\"\nhold = \"%.0f min\"\ntimes = 2", between("temper", 120, 600), between("hold", 1, 200))
	case "block":
		say("[[step]]\ndo = \"temper\"\nin = \"hot block\"\nuntil = \"%.0f s\"", between("on block", 2, 60))
	case "torch":
		say("[[step]]\ndo = \"temper\"\nin = \"torch\"\nuntil = \"%.0f s\"", between("torch", 1, 30))
	}
}

// Whatever a job file says, its results hold no number that is none (JSON has no
// word for it), its books close, and what cannot be worked is told to the smith. The
// same jobs are drawn each time; make long draws others.
func TestJobsOfChanceHoldNumbers(t *testing.T) {
	jobs := rapid.Custom(chanceJob)
	for seed := range 30 {
		holdsNumbers(t, jobs.Example(seed))
	}
}

func TestMoreJobsOfChanceHoldNumbers(t *testing.T) {
	if os.Getenv("HEATWRIGHT_LONG") == "" {
		t.Skip("HEATWRIGHT_LONG is not set")
	}
	rapid.Check(t, func(t *rapid.T) { holdsNumbers(t, chanceJob(t)) })
}

func holdsNumbers(t interface{ Fatalf(string, ...any) }, text string) {
	job, problems := route.Parse([]byte(text), nil)
	if len(problems) > 0 {
		return // no such piece
	}
	h, err := Run(context.Background(), job, Options{Section: true, Across: 6, Through: 4, Quick: true}, nil)
	var bad *Error
	switch {
	case errors.As(err, &bad):
		return
	case err != nil:
		t.Fatalf("%v\n%s", err, text)
	}
	if _, err := json.Marshal(h); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
}
