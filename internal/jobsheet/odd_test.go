package jobsheet

import (
	"context"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/safety"
	"github.com/heatwright/heatwright/sim"
)

const oddHead = `format = 1
name = "odd"
[steel]
grade = "5160"
condition = "hot-rolled"
[[shop.forge]]
name = "fire"
kind = "charcoal"
holds = "1150 C"
[[shop.oven]]
name = "kiln"
kind = "kiln"
[[shop.bath]]
name = "tub"
kind = "water"
[[shop.bath]]
name = "oil"
kind = "canola"
[[shop.box]]
name = "ash box"
fill = "wood ash"
[[shop.fan]]
name = "fan"
speed = "3 m/s"
`

var oddPieces = []string{
	"[piece]\nform = \"hex\"\nacross = \"20 mm\"\nlength = \"100 mm\"\n",
	"[piece]\nform = \"blade\"\nlength = \"10 in\"\nwidth = \"2 in\"\nspine = \"1/4 in\"\nedge = \"1/16 in\"\nsides = 1\nbevel = \"1 in\"\n",
	"[piece]\nform = \"punch\"\nstock = \"round\"\nacross = \"12 mm\"\ntaper = \"40 mm\"\npoint = \"3 mm\"\nlength = \"120 mm\"\n",
}

// Routes that no example takes: only soft work, forging in many heats, an oven
// that dies down, two quenches, a fan, no quench at all.
var oddSteps = map[string]string{
	"normalize only": "[[step]]\ndo = \"normalize\"\nin = \"fire\"\nuntil = \"870 C at core\"\ntimes = 2\n",
	"forged":         "[[step]]\ndo = \"forge\"\nin = \"fire\"\nuntil = \"1000 C at core\"\nwork = \"20 s\"\ntimes = 4\n[[step]]\ndo = \"cool\"\n",
	"annealed":       "[[step]]\ndo = \"anneal\"\nin = \"kiln\"\nat = \"760 C\"\nhold = \"30 min\"\nthen = \"oven off\"\nto = \"black\"\n[[step]]\ndo = \"relieve\"\nin = \"kiln\"\nat = \"650 C\"\nhold = \"30 min\"\n",
	"fan":            "[[step]]\ndo = \"heat\"\nin = \"kiln\"\nat = \"840 C\"\nuntil = \"at heat\"\n[[step]]\ndo = \"cool\"\nin = \"fan\"\n",
	"two quenches":   "[[step]]\ndo = \"heat\"\nin = \"kiln\"\nat = \"840 C\"\nuntil = \"at heat\"\n[[step]]\ndo = \"quench\"\nin = \"tub\"\n[[step]]\ndo = \"heat\"\nin = \"fire\"\nuntil = \"magnet off\"\n[[step]]\ndo = \"quench\"\nin = \"oil\"\nuntil = \"8 s\"\n[[step]]\ndo = \"cool\"\n[[step]]\ndo = \"temper\"\nin = \"kiln\"\nat = \"200 C\"\nhold = \"1 h\"\nthen = \"ash box\"\n",
	"buried":         "[[step]]\ndo = \"heat\"\nin = \"fire\"\nuntil = \"800 C at core\"\n[[step]]\ndo = \"bury\"\nin = \"ash box\"\nuntil = \"4 h\"\n",
	"ten steps to the fire": strings.Repeat("[[step]]\ndo = \"normalize\"\nin = \"fire\"\nuntil = \"840 C at core\"\nto = \"black\"\n[[step]]\ndo = \"grind\"\noff = \"0.02 mm\"\n", 5) +
		"[[step]]\ndo = \"heat\"\nin = \"fire\"\nuntil = \"magnet off\"\n[[step]]\ndo = \"quench\"\nin = \"oil\"\n[[step]]\ndo = \"temper\"\nin = \"kiln\"\nat = \"200 C\"\nhold = \"1 h\"\n",
}

// Any job that can be worked has a sheet that fits on one side.
func TestOddJobsHaveASheet(t *testing.T) {
	for name, steps := range oddSteps {
		for _, piece := range oddPieces {
			if strings.Contains(piece, "punch") {
				steps = strings.ReplaceAll(steps, "at core", "at shank")
			}
			job, problems := route.Parse([]byte(oddHead+piece+steps), nil)
			if len(problems) > 0 {
				t.Errorf("%s: %v", name, problems)
				continue
			}
			h, err := sim.Run(context.Background(), job, sim.Options{Section: true, Quick: true}, nil)
			if err != nil {
				t.Errorf("%s, %s: %v", name, job.Piece.Form, err)
				continue
			}
			h.Cautions = safety.Review(job, h)
			for _, style := range styles {
				s := Compose(job, h, style)
				if _, err := s.draw(); err != nil || s.CountLines() > MaxLines {
					t.Errorf("%s, %s: %d lines, %v", name, job.Piece.Form, s.CountLines(), err)
				}
				for _, text := range s.texts() {
					if strings.Contains(text, "jobsheet.") || strings.Contains(text, "NaN") || strings.Contains(text, "  ") {
						t.Errorf("%s, %s says %q", name, job.Piece.Form, text)
					}
				}
			}
		}
	}
}
