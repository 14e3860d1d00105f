package color

import (
	"testing"

	"github.com/heatwright/heatwright/cite"
)

func TestClaimsNameTheirSources(t *testing.T) {
	for _, a := range Accuracy() {
		if _, ok := cite.Find(a.Source); !ok || a.Half <= 0 || a.Covers == "" || a.HeldTo == "" {
			t.Errorf("claim %+v is incomplete", a)
		}
	}
}
