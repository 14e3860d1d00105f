package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/micro"
)

// Inside a piece stands how tough it came out, how much it has grown and which signs of
// a crack its quench raised, each with the way to who says so.
func TestInsideTellsToughnessAndGrowth(t *testing.T) {
	server := opened(t)
	r, err := http.Get(server.URL + address("/inside", exampleJobs(t)["o1_blade"]))
	if err != nil {
		t.Fatal(err)
	}
	defer closed(t, r)
	page := strings.ReplaceAll(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(readAll(t, r), ""), "\u00a0", " ")
	for _, want := range []string{"For toughness the edge ranks ", "longer than it was soft", "Signs of a quench crack here: ", "Rank of toughness", "Length change on hardening"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// Every reason that a rank of toughness can have is said in words.
func TestReasonsHaveWords(t *testing.T) {
	for _, r := range micro.Reasons() {
		if !words.Has("bench.tough-" + r) {
			t.Errorf("no words for %s", r)
		}
	}
}

// Steel that wants half an hour at a dial's heat is told so where the fire has no dial,
// on the first screen, and not in a kiln; neither is 1084 told it.
func TestFirstScreenAsksForAKiln(t *testing.T) {
	server := opened(t)
	for _, x := range []struct {
		steel, fire string
		told        bool
	}{{"A2", "gas forge", true}, {"A2", "kiln", false}, {"1084", "gas forge", false}} {
		r, err := http.Get(server.URL + "/?make=belt+knife&bath=air&steel=" + x.steel + "&fire=" + strings.ReplaceAll(x.fire, " ", "+"))
		if err != nil {
			t.Fatal(err)
		}
		page := readAll(t, r)
		closed(t, r)
		if strings.Contains(page, "neither a magnet nor an eye judges that heat") != x.told {
			t.Errorf("%s in a %s: told %v", x.steel, x.fire, !x.told)
		}
	}
}
