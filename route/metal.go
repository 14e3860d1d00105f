package route

import (
	"github.com/heatwright/heatwright/cite"
)

// checkMetal tells of a steel that is said in no way or in two ways.
func (d *decoder) checkMetal(m *Metal, path string, several bool) {
	ways := 0
	for _, given := range []bool{m.Grade != "", m.Certificate != "", m.Composition != "", m.Unknown} {
		if given {
			ways++
		}
	}
	switch {
	case ways == 0:
		d.at(path, "route.steel-not-said")
	case ways > 1 && !(ways == 2 && m.Grade != "" && m.Certificate != ""):
		d.at(path, "route.steel-said-twice")
	}
	if several && m.Region == "" {
		d.at(path, "route.no-region")
	}
	_ = cite.Txt
}
