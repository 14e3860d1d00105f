package drawing

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

var labelBox = regexp.MustCompile(`<rect x="([-0-9.]+)" y="([-0-9.]+)" width="([0-9.]+)"`)

// Every form is drawn with a label for each zone, none over another and none over
// the rim; the section of a bar is filled up to its outline, and measured.
func TestPieceOfEachForm(t *testing.T) {
	for _, form := range route.Forms() {
		p := plan.UsualPiece(form, unit.Metric)
		solid, err := p.Solid()
		if err != nil {
			t.Fatal(form, err)
		}
		var marks []Mark
		for _, z := range p.Zones() {
			marks = append(marks, Mark{Zone: z, Text: "59 ±3", Ink: 0.8, Href: "#says-hard"})
		}
		svg := Piece(solid, marks, Caliper{Text: func(m float64) string { return fmt.Sprintf("%.1f mm", 1000*m) }, Href: "#says-plan"}, "hardness")
		d := xml.NewDecoder(strings.NewReader(svg))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", form, err)
			}
		}
		var boxes []box
		for _, m := range labelBox.FindAllStringSubmatch(svg, -1) {
			var v [3]float64
			for i := range v {
				v[i], _ = strconv.ParseFloat(m[i+1], 64)
			}
			b := box{v[0] + v[2]/2, v[1] + labelHigh/2, v[2]}
			if v[0] < 0 || v[0]+v[2] > 460 {
				t.Errorf("%s: a label runs over the rim: %v", form, v)
			}
			for _, o := range boxes {
				if b.hits(o) {
					t.Errorf("%s: labels at %v and %v lie over each other", form, b, o)
				}
			}
			boxes = append(boxes, b)
		}
		if len(boxes) == 0 {
			t.Errorf("%s has no label", form)
		}
		if above := FromAbove(solid); above == strings.Contains(svg, " mm</text>") {
			t.Errorf("%s: seen from above %v, measured %v", form, above, !above)
		}
		if strings.Contains(svg, `role="img"`) {
			t.Errorf("%s: a picture that can be pressed calls itself an image", form)
		}
	}
}

// The end of a round section is no straight line: its last patch follows the rim.
func TestRoundSectionIsFilled(t *testing.T) {
	solid, err := plan.UsualPiece(route.Round, unit.Metric).Solid()
	if err != nil {
		t.Fatal(err)
	}
	most := 0
	for _, path := range regexp.MustCompile(`d="(M[^"]*z)" fill-opacity`).FindAllStringSubmatch(Piece(solid, []Mark{{Zone: "core", Text: "60", Ink: 1}}, Caliper{}, ""), -1) {
		most = max(most, strings.Count(path[1], "L"))
	}
	if most < 8 {
		t.Errorf("no patch of the round has more than %d corners", most+1)
	}
}
