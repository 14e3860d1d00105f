package evidence

import (
	"context"
	"io/fs"
	"math"
	"strings"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// martensiteSet holds as-quenched hardness against carbon.
func martensiteSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("c_wt", "martensite_pct", "hardness_hrc", "checked"); err != nil {
		return nil, err
	}
	rivals := []rival{{"ASTM A255", "astm-a255"}, {"Just", "just-1976"}}
	read := newSample("martensite_hardness", "full martensite, read", "HRC", "micro quenched in cells", rivals[1])
	memory := newSample("martensite_hardness", "full martensite, recalled", "HRC", "micro quenched in cells", rivals...)
	memory.score.Memory = true
	read.score.Remark = "the equation of the hardenability standard, evaluated; A255 itself is the measure here and no competitor"
	if a, ok := claim(micro.Accuracy(), "micro.hardness"); ok {
		read.score.Claim, memory.score.Claim = a.Model, a.Model
		read.score.Band, memory.score.Band = "±"+digits(a.Half)+" "+a.Unit, "±"+digits(a.Half)+" "+a.Unit
	}
	for _, r := range t.rows {
		s := read
		if r.fromMemory() {
			s = memory
		}
		c, ok := r.num("c_wt")
		h, ok2 := r.num("hardness_hrc")
		if !ok || !ok2 || r.or("martensite_pct", 0) < 99 {
			s.leave("the rest of the structure is not named")
			continue
		}
		x, why := newSpecimen(steel.Composition{steel.C: c, steel.Mn: 0.7, steel.Si: 0.25}, micro.Normalized)
		if why != "" {
			s.leave(why)
			continue
		}
		x.hardenWhole()
		hv := x.hv()
		half := 0.0
		if a, ok := claim(micro.Accuracy(), "micro.hardness"); ok && a.Unit == "HV" {
			half = a.Half
		}
		p := hrcOf(hv)
		others := []float64{initialHardness(c), justHardness(c)}
		if s == read {
			others = others[1:]
		}
		if half > 0 {
			s.addBand(p, hrcOf(hv-half), hrcOf(hv+half), h, others...)
		} else {
			s.add(p, h, others...)
		}
	}
	return finish(read, memory), nil
}

// retainedSet holds retained austenite after quenching to 25 °C.
func retainedSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("steel", "c_wt", "retained_austenite_vol_pct"); err != nil {
		return nil, err
	}
	rivals := []rival{{"van Bohemen, all carbon dissolved", "vanbohemen-2012"}, {"Koistinen and Marburger, all carbon dissolved", "koistinen-marburger-1959"}}
	bearing := newSample("retained_austenite", "52100 by hardening temperature", "factor", "micro: soaked and quenched in cells", rivals...)
	plain := newSample("retained_austenite", "plain carbon, all dissolved", "factor", "micro: soaked and quenched in cells", rivals...)
	bearing.score.Factor, plain.score.Factor = true, true
	plain.score.Memory = true
	bearing.score.Remark = "second-hand source: calibration, not evidence; errors are logarithms of ratios"
	plain.score.Remark = "all rows but one recalled; errors are logarithms of ratios"
	last, rising := 0.0, true
	for _, r := range t.rows {
		measured, ok := r.num("retained_austenite_vol_pct")
		carbon, ok2 := r.num("c_wt")
		if !ok || !ok2 {
			plain.leave("no figure")
			continue
		}
		T, soaked := r.num("austenitise_c")
		if soaked {
			g, err := findPrinted(r.text("steel"))
			if err != nil {
				bearing.leave("the grade is not known here")
				continue
			}
			c := g.Nominal()
			c[steel.C] = carbon
			s, why := newSpecimen(c, micro.Spheroidized)
			if why != "" {
				bearing.leave(why)
				continue
			}
			s.to(T+zero, 5)
			s.hold(r.or("hold_s", 1200))
			s.quench()
			got := 100 * s.retained()
			rising = rising && got > last
			last = got
			bearing.add(got, measured, bohemenRetained(c), kmRetained(c))
			bearing.hit(math.Abs(math.Log(got/measured)) <= math.Log(1.8))
			continue
		}
		c := steel.Composition{steel.C: carbon, steel.Mn: 0.3, steel.Si: 0.2}
		s, why := newSpecimen(c, micro.Normalized)
		if why != "" {
			plain.leave(why)
			continue
		}
		s.to(s.metal.Limits().Upper()+40, 20)
		s.hold(3600)
		s.quench()
		plain.add(100*s.retained(), measured, bohemenRetained(c), kmRetained(c))
		plain.hit(math.Abs(100*s.retained()-measured) <= r.or("plus_minus", 0))
	}
	list := finish(bearing, plain)
	for i := range list {
		if s := &list[i]; strings.HasPrefix(s.Subset, "52100") && s.Within != nil {
			s.aim("all within 1.8×, rising with temperature", *s.Within == 1 && rising)
		}
	}
	return list, nil
}

// retained is the share of austenite at room temperature.
func (s *specimen) retained() float64 {
	return s.cells.Fraction[steel.RetainedAustenite][0] + s.cells.Fraction[steel.Austenite][0]
}

func bohemenRetained(c steel.Composition) float64 {
	ms := msFormulas[0].at(c, extra{})
	α := 1e-3 * (27.2 - (0.14*c[steel.Mn] + 0.21*c[steel.Si] + 0.11*c[steel.Cr] + 0.08*c[steel.Ni] + 0.05*c[steel.Mo]) - 19.8*(1-math.Exp(-1.56*c[steel.C])))
	return 100 * math.Exp(-α*(ms-25))
}

func kmRetained(c steel.Composition) float64 {
	return 100 * math.Exp(-0.011*(msFormulas[0].at(c, extra{})-25))
}
