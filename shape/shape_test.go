package shape

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
)

type body interface{ Solid() (*Solid, error) }

// bodies holds one sound piece of every form.
var bodies = map[string]body{
	"flat":    Bar{Form: Flat, Width: 0.04, Thickness: 0.006, Length: 0.2},
	"round":   Bar{Form: Round, Width: 0.012, Length: 0.1},
	"square":  Bar{Form: Square, Width: 0.02, Length: 0.1},
	"hex":     Bar{Form: Hex, Width: 0.02, Length: 0.1},
	"octagon": Bar{Form: Octagon, Width: 0.02, Length: 0.1},
	"knife, hidden tang": Blade{
		Stations: []Station{{0, 0.032, 3.5e-3, 0.5e-3}, {0.15, 0.03, 3e-3, 0.5e-3}, {0.2, 0.006, 2e-3, 0.5e-3}},
		Tang:     Tang{Length: 0.09, Width: 0.016, EndWidth: 0.01},
	},
	"knife, full tang, convex":           Blade{Stations: []Station{{0, 0.03, 4e-3, 0.4e-3}, {0.1, 0.03, 4e-3, 0.4e-3}}, Grind: ConvexGrind, Curve: 0.3e-3, Height: 0.7, Tang: Tang{Length: 0.1}},
	"knife, hollow":                      Blade{Stations: []Station{{0, 0.025, 4e-3, 0.4e-3}, {0.1, 0.02, 3e-3, 0.4e-3}}, Grind: HollowGrind, Curve: 0.2e-3, Height: 0.8},
	"knife, one-sided":                   Blade{Stations: []Station{{0, 0.05, 5e-3, 0.5e-3}, {0.1, 0.05, 5e-3, 0.5e-3}}, OneSided: true, Height: 0.5},
	"knife, 0.3 mm edge on a 6 mm spine": Blade{Stations: []Station{{0, 0.03, 6e-3, 0.3e-3}, {0.1, 0.03, 6e-3, 0.3e-3}}},
	"cold chisel":                        Chisel{Stock: Bar{Form: Hex, Width: 0.02, Length: 0.18}, Taper: 0.07, EdgeWidth: 0.022, EdgeThick: 2e-3},
	"wood chisel":                        Chisel{Stock: Bar{Form: Flat, Width: 0.025, Thickness: 6e-3, Length: 0.15}, Taper: 0.1, EdgeWidth: 0.025, EdgeThick: 1e-3},
	"round punch":                        Punch{Stock: Bar{Form: Round, Width: 0.012, Length: 0.12}, Taper: 0.04, Point: 3e-3},
	"octagon punch":                      Punch{Stock: Bar{Form: Octagon, Width: 0.016, Length: 0.15}, Taper: 0.05, Point: 4e-3},
	"drawknife":                          Drawknife{Length: 0.25, Width: 0.035, Spine: 5e-3, Edge: 0.6e-3, TangLength: 0.1, TangWidth: 0.012},
	"leaf spring":                        Spring{Length: 0.4, Width: 0.05, Middle: 6e-3, End: 3e-3},
	"coil spring":                        Spring{Length: 0.5, Wire: 6e-3},
	"froe":                               Froe{Length: 0.25, Width: 0.05, Spine: 8e-3, Edge: 2e-3, Eye: 0.035, Wall: 6e-3},
	"hatchet": Hatchet{
		Length: 0.15, Poll: 0.05, PollThick: 0.025, Eye: Eye{At: 0.035, Long: 0.04, Wide: 0.018}, Cheek: 0.03, EdgeHeight: 0.09, EdgeThick: 1.5e-3,
	},
	"cross-peen hammer": Hammer{
		Length: 0.1, Face: Bar{Form: Octagon, Width: 0.03}, Body: 0.03, Eye: Eye{At: 0.05, Long: 0.025, Wide: 0.016}, PeenWidth: 0.03, PeenThick: 6e-3,
	},
}

func TestEveryFormIsSound(t *testing.T) {
	for name, b := range bodies {
		s, err := b.Solid()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if !(s.Volume() > 0) || !(s.Surface() > 0) || !(s.Length() > 0) {
			t.Errorf("%s: volume %g, surface %g, length %g", name, s.Volume(), s.Surface(), s.Length())
		}
		if !(s.Cut > 0 && s.Cut < 1) || s.Sections[0].U != 0 || math.Abs(s.Sections[len(s.Sections)-1].U-1) > 1e-12 {
			t.Errorf("%s: runs from %g to %g, cut at %g", name, s.Sections[0].U, s.Sections[len(s.Sections)-1].U, s.Cut)
		}
		for _, z := range s.Zones {
			for _, x := range z.Boxes {
				if !(x.U0 < x.U1 && x.V0 < x.V1 && x.W0 < x.W1) {
					t.Errorf("%s: zone %s has the box %+v", name, z.Name, x)
				}
			}
		}
		for i := range s.Sections {
			k := &s.Sections[i]
			corners := [4][2]Point{{k.Bottom[0], k.Back[0]}, {k.Bottom[len(k.Bottom)-1], k.Front[0]}, {k.Top[0], k.Back[len(k.Back)-1]}, {k.Top[len(k.Top)-1], k.Front[len(k.Front)-1]}}
			for _, c := range corners {
				if math.Hypot(c[0].Y-c[1].Y, c[0].Z-c[1].Z) > 1e-12 {
					t.Errorf("%s, section %d: the outline is open at %v", name, i, c)
				}
			}
		}
	}
}

// Volumes by the formulas of solid geometry (derived): prisms, frusta L/3 (A₁ + A₂ + √A₁A₂),
// wedges by the prismoid rule L/6 (A₁ + 4A₂ + A₃).
func TestVolumes(t *testing.T) {
	hexArea := 0.02 * 0.02 * math.Sqrt(3) / 2
	a, b := math.Pi/4*0.012*0.012, math.Pi/4*9e-6
	for name, want := range map[string]float64{
		"flat":                               0.04 * 0.006 * 0.2,
		"round":                              a * 0.1,
		"hex":                                hexArea * 0.1,
		"octagon":                            0.02 * 0.02 * 2 * (math.Sqrt2 - 1) * 0.1,
		"knife, one-sided":                   (0.05*5e-3 - 0.025*4.5e-3/2) * 0.1,
		"knife, 0.3 mm edge on a 6 mm spine": 0.03 * 3.15e-3 * 0.1,
		"round punch":                        a*0.08 + 0.04/3*(a+b+math.Sqrt(a*b)),
		"leaf spring":                        0.4 * 0.05 * 4.5e-3,
	} {
		s, err := bodies[name].Solid()
		if err != nil {
			t.Fatal(err)
		}
		if v := s.Volume(); math.Abs(v/want-1) > 1e-3 {
			t.Errorf("%s: %.6g m³, geometry gives %.6g", name, v, want)
		}
	}
	h, _ := bodies["hatchet"].Solid()
	solid := h.Clone()
	solid.Voids = nil
	if eye, want := solid.Volume()-h.Volume(), math.Pi/4*0.04*0.018*0.05; math.Abs(eye/want-1) > 0.01 {
		t.Errorf("eye of the hatchet: %.4g m³, an elliptic cylinder has %.4g", eye, want)
	}
}

func TestWrongMeasuresAreTold(t *testing.T) {
	two := func(a, b Station) []Station { return []Station{a, b} }
	for name, c := range map[string]struct {
		b    body
		keys string
	}{
		"zero thickness":        {Bar{Form: Flat, Width: 0.03, Length: 0.1}, "thickness"},
		"negative width":        {Bar{Form: Round, Width: -0.01, Length: 0.1}, "width"},
		"not a number":          {Bar{Form: Square, Width: math.NaN(), Length: 0.1}, "width"},
		"no form":               {Bar{Form: "star", Width: 0.01, Length: 0.1}, "form"},
		"both wrong":            {Bar{Form: Flat, Width: -1, Length: 0, Thickness: 0.01}, "width length"},
		"one station":           {Blade{Stations: []Station{{0, 0.03, 4e-3, 1e-3}}}, "count"},
		"edge thicker":          {Blade{Stations: two(Station{0, 0.03, 4e-3, 1e-3}, Station{0.1, 0.03, 1e-3, 4e-3})}, "stations[1].edge"},
		"stations out of order": {Blade{Stations: two(Station{0.1, 0.03, 4e-3, 1e-3}, Station{0, 0.03, 4e-3, 1e-3})}, "stations[1].x"},
		"bevels cross":          {Blade{Stations: two(Station{0, 0.03, 4e-3, 0.4e-3}, Station{0.1, 0.03, 4e-3, 0.4e-3}), Grind: HollowGrind, Curve: 1.5e-3}, "stations[0].curve stations[1].curve"},
		"belly over spine":      {Blade{Stations: two(Station{0, 0.03, 4e-3, 0.4e-3}, Station{0.1, 0.03, 4e-3, 0.4e-3}), Grind: ConvexGrind, Curve: 3e-3}, "stations[0].curve stations[1].curve"},
		"eye too wide":          {Hammer{Length: 0.1, Face: Bar{Form: Square, Width: 0.03}, Body: 0.03, Eye: Eye{0.05, 0.025, 0.029}, PeenWidth: 0.03, PeenThick: 6e-3}, "eye.wide"},
		"eye outside":           {Hatchet{Length: 0.15, Poll: 0.05, PollThick: 0.025, Eye: Eye{0.01, 0.04, 0.018}, Cheek: 0.03, EdgeHeight: 0.09, EdgeThick: 1.5e-3}, "eye.at"},
		"taper longer than all": {Punch{Stock: Bar{Form: Round, Width: 0.012, Length: 0.1}, Taper: 0.2, Point: 3e-3}, "taper"},
	} {
		_, err := c.b.Solid()
		if err == nil {
			t.Errorf("%s: no error", name)
			continue
		}
		var got []string
		for _, e := range flatten(err) {
			var p *Problem
			if !errors.As(e, &p) || p.Limits == "" || p.Remedy == "" {
				t.Errorf("%s: %v is no problem with limits and remedy", name, e)
				continue
			}
			got = append(got, p.Key)
		}
		if k := strings.Join(got, " "); k != c.keys {
			t.Errorf("%s: told of %q, want %q (%v)", name, k, c.keys, err)
		}
	}
}

func flatten(err error) []error {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var all []error
		for _, e := range many.Unwrap() {
			all = append(all, flatten(e)...)
		}
		return all
	}
	return []error{err}
}

// Drawing keeps the volume (derived: the length follows from it); bending keeps
// the length of the middle; both keep the zones.
func TestActsKeepVolume(t *testing.T) {
	s, err := bodies["flat"].Solid()
	if err != nil {
		t.Fatal(err)
	}
	for name, make := range map[string]func() (*Change, error){
		"draw":      func() (*Change, error) { return Draw(s, Pass{0.05, 0.1, 0.7, 1.15}) },
		"draw end":  func() (*Change, error) { return Draw(s, Pass{0.15, 0.2, 0.5, 1}) },
		"bend":      func() (*Change, error) { return Bend(s, Turn{0.05, 0.15, 1.2, false}) },
		"bend hard": func() (*Change, error) { return Bend(s, Turn{0.05, 0.15, 0.5, true}) },
	} {
		c, err := make()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if v := c.To.Volume() / s.Volume(); math.Abs(v-1) > 0.002 {
			t.Errorf("%s: volume × %.5f", name, v)
		}
		if len(c.To.Zones) != len(s.Zones) {
			t.Errorf("%s: lost a zone", name)
		}
	}
	long, err := Draw(s, Pass{0.05, 0.15, 0.5, 1})
	if err != nil {
		t.Fatal(err)
	}
	// Half the thickness over 100 mm of 200 mm: twice as long there, so 300 mm in all.
	if l := long.To.Length(); math.Abs(l-0.3) > 0.003 {
		t.Errorf("drawn to %.4g m, volume constancy gives 0.3", l)
	}
}

func TestImpossibleActsAreTold(t *testing.T) {
	s, err := bodies["knife, hollow"].Solid()
	if err != nil {
		t.Fatal(err)
	}
	for name, make := range map[string]func() error{
		"grind through the edge":  func() error { _, err := s.Ground(0.25e-3); return err },
		"grind nothing":           func() error { _, err := s.Ground(0); return err },
		"bend to a fold":          func() error { _, err := Bend(s, Turn{0.05, 0.051, 2, true}); return err },
		"hole outside":            func() error { _, err := Drill(s, Hole{0.5, 0.5, 5e-3}); return err },
		"hole before the start":   func() error { _, err := Drill(s, Hole{0.001, 0.5, 5e-3}); return err },
		"hole wider than it":      func() error { _, err := Drill(s, Hole{0.05, 0.5, 50e-3}); return err },
		"hole without a size":     func() error { _, err := Drill(s, Hole{0.05, 0.5, math.NaN()}); return err },
		"more than half a turn":   func() error { _, err := Bend(s, Turn{0.02, 0.1, 4, false}); return err },
		"no angle at all":         func() error { _, err := Bend(s, Turn{0.02, 0.1, math.NaN(), false}); return err },
		"bend past the end":       func() error { _, err := Bend(s, Turn{0.05, 9, 0.5, false}); return err },
		"drawn to nothing":        func() error { _, err := Draw(s, Pass{0, 0.05, 0.01, 1}); return err },
		"drawn to less than that": func() error { _, err := Draw(s, Pass{0, 0.05, -1, 1}); return err },
		"edge drawn to a foil": func() error {
			thin, err := s.Edged(0.1e-3, 0)
			if err == nil {
				_, err = Draw(thin, Pass{0, 0.05, 0.4, 1})
			}
			return err
		},
		"hole at the edge": func() error { _, err := Drill(s, Hole{0.05, 0.95, 5e-3}); return err },
		"forge to twice as much": func() error {
			big, _ := bodies["flat"].Solid()
			_, err := Forge(s, big)
			return err
		},
	} {
		if err := make(); err == nil {
			t.Errorf("%s: no error", name)
		} else if !strings.HasPrefix(err.Error(), "shape: ") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestSourcesAreListed(t *testing.T) {
	if _, ok := cite.Find("ramanujan-1914"); !ok {
		t.Error("ramanujan-1914 is not in the bibliography")
	}
}
