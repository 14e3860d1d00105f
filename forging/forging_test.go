package forging

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/steel"
)

func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.4g, expected %.4g ± %.1f %%", what, got, want, 100*tol)
	}
}

func carbon(c float64) (x steel.Composition) {
	x[steel.C], x[steel.Mn], x[steel.Si] = c, 0.5, 0.25
	return x
}

// Flow stress at strain 0.2 by both relations [MPa], evaluated independently from
// their published forms (shida-1969, misaka-1967).
func TestFlowStress(t *testing.T) {
	for _, x := range []struct{ C, c, r, shida, misaka float64 }{
		{0.8, 800, 10, 286, 258}, {0.8, 800, 100, 385, 348}, {0.8, 900, 10, 193, 180}, {0.8, 900, 100, 266, 243},
		{0.8, 1000, 10, 138, 133}, {0.8, 1000, 100, 195, 180}, {0.8, 1100, 10, 104, 103}, {0.8, 1100, 100, 150, 139},
		{0.8, 1200, 10, 81, 82}, {0.8, 1200, 100, 120, 111},
		{1.0, 1100, 10, 104, 103}, {1.0, 1000, 10, 138, 135}, {1.0, 900, 10, 193, 185}, {1.0, 800, 10, 287, 269},
		{0.2, 1000, 10, 134, 112}, {0.8, 850, 10, 233, 214},
	} {
		within(t, "Shida", Shida(x.C, x.c+kelvin, 0.2, x.r)/1e6, x.shida, 0.01)
		within(t, "Misaka", Misaka(x.C, x.c+kelvin, 0.2, x.r)/1e6, x.misaka, 0.01)
		if x.C >= 0.8 {
			within(t, "the two relations", Shida(x.C, x.c+kelvin, 0.2, x.r), Misaka(x.C, x.c+kelvin, 0.2, x.r), 0.12)
		}
	}
}

// Hotter is softer, faster is harder, more strain is not softer, wherever the
// relation holds; and the two branches of Shida's relation join.
func TestFlowStressLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		C := rapid.Float64Range(0.07, 1.2).Draw(t, "C")
		T := rapid.Float64Range(720, 1180).Draw(t, "T") + kelvin
		eps := rapid.Float64Range(0.01, 0.5).Draw(t, "eps")
		r := rapid.Float64Range(0.1, 90).Draw(t, "r")
		s := Shida(C, T, eps, r)
		if !(s > 10e6 && s < 900e6) {
			t.Fatalf("C %g %g K ε %g r %g: %g Pa", C, T, eps, r, s)
		}
		// Beyond a strain of about 0.3 the relation itself softens.
		if Shida(C, T, eps, r*1.1) < s || eps < 0.25 && Shida(C, T, eps*1.1, r) < s {
			t.Errorf("C %g %g K ε %g r %g: faster or further is softer", C, T, eps, r)
		}
	})
	for C := 0.1; C <= 1.2; C += 0.1 {
		td := 950 * (C + 0.41) / (C + 0.32)
		a, b := Shida(C, td-1e-6, 0.2, 10), Shida(C, td+1e-6, 0.2, 10)
		within(t, "join", a, b, 0.03)
	}
}

// Multipliers of the trade for alloy: 1.0 for plain steel, 1.15 for 5160, 1.4 for 5 %
// chromium (from memory: a band of plausibility).
func TestStiffness(t *testing.T) {
	var a2, spring steel.Composition
	a2[steel.C], a2[steel.Cr], a2[steel.Mo], a2[steel.V] = 1, 5.2, 1.1, 0.25
	spring[steel.C], spring[steel.Cr], spring[steel.Mn] = 0.6, 0.8, 0.88
	if s := Stiffness(carbon(0.8)); s != 1 {
		t.Errorf("plain %g", s)
	}
	if s := Stiffness(a2); s < 1.3 || s > 1.5 {
		t.Errorf("5 %% chromium %g", s)
	}
	if s := Stiffness(spring); s < 1.03 || s > 1.2 {
		t.Errorf("spring %g", s)
	}
}

// Efficiency of a 1 kg hammer with rebound 0.2 on 25, 50, 100, 200 kg: 0.92, 0.94,
// 0.95, 0.955; with rebound 0.5: 0.72–0.75 (evaluated from momentum and energy).
func TestEfficiency(t *testing.T) {
	for _, x := range [][3]float64{{25, 0.2, 0.92}, {50, 0.2, 0.94}, {100, 0.2, 0.95}, {200, 0.2, 0.955}, {25, 0.5, 0.72}, {200, 0.5, 0.746}} {
		within(t, "efficiency", Hammer{Mass: 1, Anvil: x[0]}.Efficiency(x[1]), x[2], 0.005)
	}
}

// A blow of 35 J, 0.93 of it useful, on 20 × 20 mm over 25 mm with 110 MPa and Q 1.1
// gives a strain of 0.027, half a millimeter (worked out by hand). Here the stress
// comes from the relation at that small strain.
func TestOneBlow(t *testing.T) {
	h := Hammer{Name: "hand", Mass: 1.09, Speed: 8, Face: 0.025, Anvil: 90, Rate: 1}
	b := Bite{Length: 0.025, Width: 0.02, Height: 0.02}
	x, err := h.Strike(carbon(0.8), 1050+kelvin, b)
	if err != nil {
		t.Fatal(err)
	}
	sigma := meanOver(carbon(0.8), 1050+kelvin, x.Strain, x.Rate)
	byHand := h.Efficiency(Rebound(1050+kelvin)) * h.Energy() / (Constraint(0.025, 0.02*math.Exp(-x.Strain/2)) * sigma * 1e-5)
	within(t, "balance of work", x.Strain, byHand, 1e-6)
	t.Logf("strain %.3f, %.2f mm lower, σ %.0f MPa, +%.1f K", x.Strain, 1e3*(0.02-x.Height), sigma/1e6, x.Warms)
	if x.Strain < 0.018 || x.Strain > 0.045 {
		t.Errorf("strain %.3f, by hand 0.027 with 110 MPa", x.Strain)
	}
	// Volume is kept.
	within(t, "volume", x.Height*x.Width*x.Longer, 0.02*0.02, 1e-12)
	// 110 MPa over a strain of 0.5 warms by 10 K (worked out by hand).
	within(t, "warming", Warming(110e6, 0.5), 10, 0.03)
	if _, err := h.Strike(carbon(0.8), 1300, Bite{}); err == nil {
		t.Error("a bite without volume is struck")
	}
}

// Ruler readings on a bar of 1 in square mild steel, 2 in under the die, temperature
// not told: 0.906 in after 5 and 0.781 in after 11 blows of a 2 lb 12 oz hand hammer
// (shop observation, order of magnitude only: the kinetic energy of a usual swing is too
// little for the readings, so within a factor of 2.5).
func TestBlowsOnMildSteel(t *testing.T) {
	h := Hammer{Name: "hand", Mass: 1.25, Speed: 9, Face: 0.0508, Anvil: 100, Rate: 1}
	w, height := 0.0254, 0.0254
	for range 11 {
		x, err := h.Strike(carbon(0.2), 1150+kelvin, Bite{Length: 0.0508, Width: w, Height: height})
		if err != nil {
			t.Fatal(err)
		}
		w, height = x.Width, x.Height
	}
	got, read := math.Log(0.0254/height), math.Log(1/0.781)
	t.Logf("11 blows: %.3f in (read 0.781)", height/0.0254)
	if got < read/2.5 || got > read*2.5 {
		t.Errorf("strain %.3f, read %.3f", got, read)
	}
}

// Spread exponents for b/w 0.3, 0.5, 1, 1.5: 0.24, 0.31, 0.45, 0.56 (tomlinson-stringer-1959, evaluated).
func TestSpread(t *testing.T) {
	for _, x := range [][2]float64{{0.3, 0.24}, {0.5, 0.31}, {1, 0.45}, {1.5, 0.56}} {
		within(t, "spread", Spread(x[0], 1), x[1], 0.02)
	}
	w, l := Drawn(0.025, 0.02, 0.02, 0.1, 0.014)
	within(t, "volume", w*l*0.014, 0.02*0.02*0.1, 1e-12)
}

func TestUpset(t *testing.T) {
	u, err := UpsetTo(0.012, 0.024, 0.012)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "volume", u.Diameter*u.Diameter*0.012, 0.012*0.012*0.024, 1e-12)
	if _, err := UpsetTo(0.012, 0.040, 0.020); err == nil {
		t.Error("3.3 diameters are upset without buckling")
	} else {
		t.Log(err)
	}
	if _, err := UpsetTo(0.012, 0.02, 0.03); err == nil {
		t.Error("upset to a longer bar")
	}
}

// A square or round point takes a third of its length in stock, a flat wedge half
// (exact). Invented pieces with their volumes: lengths of bar worked out by hand.
func TestStock(t *testing.T) {
	within(t, "square point", Taper(0.06, 0.01, 0.01, 0, 0), 0.01*0.01*0.02, 1e-12)
	within(t, "round point", RoundTaper(0.06, 0.01, 0), math.Pi/4*1e-4*0.02, 1e-12)
	within(t, "wedge", Taper(0.06, 0.01, 0.01, 0.01, 0), 0.01*0.01*0.03, 1e-12)
	within(t, "prismoid", Prismoid(0.06, 1e-4, 0.25e-4, 0), 0.01*0.01*0.02, 1e-12)
	punch := 0.085*math.Pi/4*0.012*0.012 + RoundTaper(0.040, 0.012, 0.003)
	within(t, "punch", punch, 11.6e-6, 0.01)
	for _, x := range []struct{ volume, loss, section, length float64 }{
		{15.7e-6, 0.08, 25e-3 * 5e-3, 0.136}, {54.9e-6, 0.08, 40e-3 * 6e-3, 0.247}, {142.9e-6, 0.05, 50e-3 * 8e-3, 0.375},
		{11.6e-6, 0.03, math.Pi / 4 * 144e-6, 0.106}, {52.2e-6, 0.03, math.Sqrt(3) / 2 * 400e-6, 0.155},
	} {
		l, err := Stock(x.volume, x.loss, x.section)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "stock", l, x.length, 0.005)
	}
	for _, bad := range [][3]float64{{0, 0, 1}, {1, 0.9, 1}, {1, 0, 0}, {math.NaN(), 0, 1}} {
		if _, err := Stock(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("stock for %v", bad)
		}
	}
}

// Metal lost per face in 5, 10, 30 min [mm], and by a heat of 5 min at 1100 °C on 25,
// 12, 6 mm bars: 1.4, 2.9, 5.9 % (evaluated from the parabolic law of paidassi-1958).
func TestScaleLoss(t *testing.T) {
	for c, mm := range map[float64][3]float64{800: {0.011, 0.016, 0.027}, 900: {0.025, 0.035, 0.061}, 1000: {0.049, 0.069, 0.120}, 1100: {0.088, 0.124, 0.215}, 1200: {0.145, 0.206, 0.356}} {
		for i, min := range []float64{5, 10, 30} {
			within(t, "scale", 1e3*ScaleLoss(c+kelvin, 60*min), mm[i], 0.05)
		}
	}
	d := ScaleLoss(1100+kelvin, 300)
	for mm, pct := range map[float64]float64{25: 1.4, 12: 2.9, 6: 5.9} {
		within(t, "heat loss", 100*HeatLoss(mm/1e3, d), pct, 0.03)
	}
}

// 16 punches of 106 mm with 2 mm saw cuts take 1.73 m of a 2 m bar; 24 run out after
// 18 (invented rack, worked out by hand).
func TestNest(t *testing.T) {
	list, err := Nest([]Bar{{"blue", 2.0}}, []Piece{{"punch", 0.106, 16}}, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	if used := 2.0 - list.Cuts[0].Left; math.Abs(used-1.728) > 1e-9 || len(list.Missing) != 0 {
		t.Errorf("used %g m, missing %v", used, list.Missing)
	}
	list, err = Nest([]Bar{{"red", 2.0}}, []Piece{{"punch", 0.106, 24}}, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	if len(list.Cuts[0].Pieces) != 18 || len(list.Missing) != 1 || list.Missing[0].Count != 6 {
		t.Errorf("%d cut, missing %v", len(list.Cuts[0].Pieces), list.Missing)
	}
	for _, bad := range []Piece{{"x", 0, 1}, {"x", -1, 1}, {"x", 1, -1}, {"x", math.NaN(), 1}} {
		if _, err := Nest(nil, []Piece{bad}, 0.002); err == nil {
			t.Errorf("%+v is cut", bad)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		var bars []Bar
		for range rapid.IntRange(0, 5).Draw(t, "bars") {
			bars = append(bars, Bar{"b", rapid.Float64Range(0.1, 3).Draw(t, "bar")})
		}
		var pieces []Piece
		asked := 0
		for i := range rapid.IntRange(0, 4).Draw(t, "kinds") {
			n := rapid.IntRange(0, 9).Draw(t, "count")
			asked += n
			pieces = append(pieces, Piece{string(rune('a' + i)), rapid.Float64Range(0.02, 1).Draw(t, "length"), n})
		}
		list, err := Nest(bars, pieces, 0.0015)
		if err != nil {
			t.Fatal(err)
		}
		length := map[string]float64{}
		for _, p := range pieces {
			length[p.Name] = p.Length
		}
		total, given := list.Waste, 0
		for _, c := range list.Cuts {
			total += c.Left
			for _, p := range c.Pieces {
				total += length[p]
				given++
			}
		}
		for _, m := range list.Missing {
			given += m.Count
		}
		bar := 0.0
		for _, b := range bars {
			bar += b.Length
		}
		if math.Abs(total-bar) > 1e-9 || given != asked {
			t.Fatalf("%g m of %g accounted for, %d of %d pieces", total, bar, given, asked)
		}
	})
}

// Working seconds from air cooling alone, ε 0.8, as one lump: rounds of 6 to 50 mm
// from 1150 to 850 and 1050 to 800 °C, plates 35 mm wide from 1050 to 800 °C (computed
// independently with 7850 kg/m³, plates without their edges; the ratio of the two
// windows shows that 650 J/kgK was used). Ours has the density and heat capacity of
// austenite and counts the edges, so the figures are scaled by both; then ±4 %.
func TestWorkingSeconds(t *testing.T) {
	c := carbon(0.8)
	props := steel.Properties(c)
	ours := func(T float64) float64 {
		return props.Density(steel.Austenite, T) * props.HeatCapacity(steel.Austenite, T, 0.8)
	}
	const theirs = 7850 * 650.
	scale := func(from, to float64) float64 { // weighted by 1/T⁴, as the time is
		a, b := 0.0, 0.0
		for T := to; T < from; T++ {
			w := math.Pow(T, -4)
			a, b = a+w*ours(T), b+w*theirs
		}
		return a / b
	}
	d := []float64{6, 8, 10, 12, 16, 20, 25, 32, 40, 50}
	first := []float64{17, 23, 29, 35, 48, 60, 76, 97, 122, 153}
	second := []float64{18, 24, 31, 37, 50, 64, 80, 103, 129, 162}
	for i, mm := range d {
		s := Section{Width: mm / 1e3}
		for j, h := range []Heat{{From: 1150 + kelvin, To: 850 + kelvin}, {From: 1050 + kelvin, To: 800 + kelvin}} {
			got, err := h.Seconds(c, s)
			if err != nil {
				t.Fatal(err)
			}
			within(t, "round", got.Value, [][]float64{first, second}[j][i]*scale(h.From, h.To), 0.04)
		}
	}
	for mm, want := range map[float64]float64{2: 13, 3: 19, 4: 25, 5: 31, 6: 38, 8: 50} {
		got, err := Heat{From: 1050 + kelvin, To: 800 + kelvin}.Seconds(c, Section{0.035, mm / 1e3})
		if err != nil {
			t.Fatal(err)
		}
		within(t, "plate", got.Value, want*35/(35+mm)*scale(1050+kelvin, 800+kelvin), 0.05)
	}
	// On the anvil 0.6 to 0.75 of that (common practice).
	air, _ := Heat{From: 1150 + kelvin, To: 850 + kelvin}.Seconds(c, Section{0.016, 0.016})
	anvil, _ := Heat{From: 1150 + kelvin, To: 850 + kelvin, Blows: 1.1}.Seconds(c, Section{0.016, 0.016})
	warm, _ := Heat{From: 1150 + kelvin, To: 850 + kelvin, Blows: 1.1, Anvil: 200 + kelvin}.Seconds(c, Section{0.016, 0.016})
	t.Logf("16 mm square: %.0f s in air, %.0f s on the anvil, %.0f s on a warm one", air.Value, anvil.Value, warm.Value)
	if r := anvil.Value / air.Value; r < 0.55 || r > 0.8 || warm.Value <= anvil.Value {
		t.Errorf("anvil leaves %.2f of the seconds", r)
	}
	for _, bad := range []Heat{{From: 1000, To: 1100}, {From: 3000, To: 1000}, {From: 1300, To: 300}} {
		if _, err := bad.Seconds(c, Section{Width: 0.01}); err == nil {
			t.Errorf("%+v gives seconds", bad)
		}
	}
	if _, err := (Heat{From: 1400, To: 1100}).Seconds(c, Section{}); err == nil {
		t.Error("no section gives seconds")
	}
}

// Drawing 20 mm square to 12 mm by hand takes a few heats; a power hammer takes
// fewer; stiffer steel takes more.
func TestEffort(t *testing.T) {
	d := Draw{Steel: carbon(0.8), From: Section{0.02, 0.02}, To: Section{0.012, 0.012}, Length: 0.1, Heat: Heat{From: 1150 + kelvin, To: 850 + kelvin}, Hammer: HandHammer}
	hand, err := d.Effort()
	if err != nil {
		t.Fatal(err)
	}
	within(t, "longer", hand.Longer, 400./144, 1e-12)
	d.Hammer = PowerHammer
	power, err := d.Effort()
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("by hand %.0f blows, %.0f heats (%.0f–%.0f) of %.0f s; power hammer %.0f blows, %.0f heats", hand.Blows.Value, hand.Heats.Value, hand.Heats.Low, hand.Heats.High, hand.Seconds.Value, power.Blows.Value, power.Heats.Value)
	if hand.Heats.Value < 2 || hand.Heats.Value > 12 || power.Heats.Value > hand.Heats.Value || power.Blows.Value >= hand.Blows.Value {
		t.Errorf("hand %+v power %+v", hand, power)
	}
	d.Steel[steel.Cr] = 5
	if stiff, err := d.Effort(); err != nil || stiff.Blows.Value <= power.Blows.Value {
		t.Errorf("5 %% chromium takes %g blows, plain %g (%v)", stiff.Blows.Value, power.Blows.Value, err)
	}
	d.To = d.From
	if _, err := d.Effort(); err == nil {
		t.Error("drawing to the same section")
	}
}

func TestSources(t *testing.T) {
	for _, a := range Accuracy() {
		if _, ok := cite.Find(a.Source); !ok {
			t.Errorf("%s: no source %q", a.Model, a.Source)
		}
	}
}
