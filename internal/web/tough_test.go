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
