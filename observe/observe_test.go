package observe

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/unit"
)

func celsius(b unit.Band) unit.Band {
	return unit.Band{Value: b.Value - kelvin, Low: b.Low - kelvin, High: b.High - kelvin}
}

// A medium red in the shade and a magnet that has let go leave a narrow band around
// magnet-off and above: 750 to 810 °C.
func TestColorAndMagnetTogether(t *testing.T) {
	shade := color.Shade
	word, ok := color.ReadHeat("medium red")
	if !ok {
		t.Fatal("nobody knows a medium red")
	}
	red := Glow{Word: word, Light: &shade}
	alone := celsius(TemperatureOf(red).Band())
	both := celsius(TemperatureOf(red, Magnet{}).Band())
	t.Logf("color %.0f–%.0f, with the magnet %.0f–%.0f °C", alone.Low, alone.High, both.Low, both.High)
	if math.Abs(both.Low-750) > 12 || math.Abs(both.High-810) > 12 {
		t.Errorf("band %.0f–%.0f, want about 750–810", both.Low, both.High)
	}
	if both.High-both.Low >= alone.High-alone.Low {
		t.Error("two observations tell less than one")
	}
}

// "Don't know" changes nothing, and an unknown light widens the band.
func TestNotKnowingIsLegal(t *testing.T) {
	shade := color.Shade
	g := Glow{Word: color.Cherry, Light: &shade}
	a, b := TemperatureOf(g).Band(), TemperatureOf(g, DontKnow{}, DontKnow{}).Band()
	if math.Abs(a.Low-b.Low)+math.Abs(a.Value-b.Value)+math.Abs(a.High-b.High) > 1e-6 {
		t.Errorf("%+v became %+v", a, b)
	}
	c := TemperatureOf(Glow{Word: color.Cherry}).Band()
	if c.High-c.Low <= a.High-a.Low {
		t.Errorf("unknown light: %+v, known: %+v", c, a)
	}
	all := TemperatureOf(DontKnow{}).Band()
	if math.Abs(celsius(all).Low-140) > 2 || math.Abs(celsius(all).High-1260) > 2 {
		t.Errorf("knowing nothing: %+v", celsius(all))
	}
	if h := HardnessOf(DontKnow{}).Band(); h.High-h.Low < 50 {
		t.Errorf("knowing nothing of hardness: %+v", h)
	}
	if d := DecarbOf(DontKnow{}).Band(); d.High-d.Low < 0.7e-3 {
		t.Errorf("knowing nothing of skin: %+v", d)
	}
}

// Two things that cannot both be right are reported, and the answer stays inside the world.
func TestContradiction(t *testing.T) {
	dim := color.Dim
	b := TemperatureOf(Magnet{Holds: true}, Glow{Word: color.Yellow, Light: &dim})
	if !b.Contradiction() {
		t.Error("a magnet that holds yellow steel is no contradiction")
	}
	if TemperatureOf(Magnet{}, Glow{Word: color.Cherry, Light: &dim}).Contradiction() {
		t.Error("a magnet off cherry steel is a contradiction")
	}
}

// Glasses and light shift the reading as they shift the eye.
func TestLightAndGlassesCount(t *testing.T) {
	at := func(l color.Light, g color.Glasses) float64 {
		return TemperatureOf(Glow{Word: color.Cherry, Light: &l, Glasses: &g}).Band().Value
	}
	if d := at(color.Sun, color.NoGlasses) - at(color.Dim, color.NoGlasses); d < 150 {
		t.Errorf("cherry in the sun is only %.0f K hotter", d)
	}
	if d := math.Abs(at(color.Dim, color.Sunglasses) - at(color.Dim, color.NoGlasses)); d > 5 {
		t.Errorf("grey glasses move an adapted eye by %.0f K", d)
	}
	if d := at(color.Dim, color.Didymium) - at(color.Dim, color.NoGlasses); math.Abs(d) > 60 || d == 0 {
		t.Errorf("didymium moves cherry by %.0f K", d)
	}
}

// A file that skates means hard; that bites, soft; that skates after ten strokes,
// hard under a skin of some 30 µm.
func TestFile(t *testing.T) {
	hard, soft := HardnessOf(File{First: Skates, After: Skates}).Band(), HardnessOf(File{First: Bites, After: Bites, Strokes: 3}).Band()
	if hard.Low < 57 || soft.High > 52 {
		t.Errorf("skates %+v, bites %+v", hard, soft)
	}
	f := File{First: Bites, After: Skates, Strokes: 10}
	if b := HardnessOf(f).Band(); b != hard {
		t.Errorf("bites, then skates: %+v, want as skates", b)
	}
	if d := DecarbOf(f).Band(); d.Value < 20e-6 || d.Value > 45e-6 {
		t.Errorf("skin after ten strokes %+v", d)
	}
	if b := HardnessOf(HardnessFiles{Skated: 55, Bit: 60}).Band(); b.Low < 53 || b.High > 62 {
		t.Errorf("between 55 and 60: %+v", b)
	}
	if b := HardnessOf(Tester{HRC: 60}).Band(); math.Abs(b.Low-59) > 0.3 || math.Abs(b.High-61) > 0.3 {
		t.Errorf("bench tester %+v", b)
	}
	if d := DecarbOf(Flaking, f).Band(); d.Low < DecarbOf(f).Band().Low {
		t.Errorf("flaking scale makes the skin thinner: %+v", d)
	}
}

func TestHandAndThermometer(t *testing.T) {
	if b := celsius(TemperatureOf(HandWarm{}).Band()); b.Low < 35 || b.High > 75 {
		t.Errorf("hand-warm %+v", b)
	}
	b := celsius(TemperatureOf(Thermometer{Reading: 500 + kelvin, Half: 10}).Band())
	if math.Abs(b.Value-500) > 2 || b.Low > 491 || b.High < 509 {
		t.Errorf("thermometer %+v", b)
	}
}

// The shadow alone places the steel where it changes inside; passed, above it.
func TestShadow(t *testing.T) {
	if b := celsius(TemperatureOf(Shadow{}).Band()); b.Low < 715 || b.High > 765 {
		t.Errorf("in the shadow: %+v", b)
	}
	if b := celsius(TemperatureOf(Shadow{Passed: true}).Band()); b.Low < 735 {
		t.Errorf("past the shadow: %+v", b)
	}
}

// Every likelihood stays between nothing and one, and never rules out the truth.
func TestLikelihoodsAreLegal(t *testing.T) {
	dim := color.Dim
	seen := []Temperature{DontKnow{}, Magnet{}, Magnet{Holds: true}, Shadow{}, Shadow{Passed: true}, HandWarm{}, Thermometer{Reading: 700}}
	for h := color.NoGlow; h < color.NumHeats; h++ {
		seen = append(seen, Glow{Word: h}, Glow{Word: h, Light: &dim})
	}
	for w := color.Bright; w < color.NumTempers; w++ {
		seen = append(seen, TemperColor{Word: w, Steel: carbonSteel(), Seconds: 300}.Read(), TemperColor{Word: w, Steel: carbonSteel(), Seconds: 7200, Greasy: true}.Read())
	}
	for _, s := range seen {
		for T := 200.0; T < 1900; T += 50 {
			if p := s.AtTemperature(T); !(p >= misjudged && p <= 1) {
				t.Errorf("%+v at %v K: %v", s, T, p)
			}
		}
	}
	for f := Bites; f <= Skates; f++ {
		for g := Bites; g <= Skates; g++ {
			for h := 0.0; h <= 70; h += 5 {
				if p := (File{First: f, After: g, Strokes: 5}).AtHardness(h); !(p >= misjudged && p <= 1) {
					t.Errorf("file %v %v at %v: %v", f, g, h, p)
				}
			}
		}
	}
}

// Grease doubles what a temper color leaves open.
func TestGreaseWidens(t *testing.T) {
	clean := TemperatureOf(TemperColor{Word: color.Brown, Steel: carbonSteel(), Seconds: 300}).Band()
	greasy := TemperatureOf(TemperColor{Word: color.Brown, Steel: carbonSteel(), Seconds: 300, Greasy: true}).Band()
	if greasy.High-greasy.Low < 1.4*(clean.High-clean.Low) {
		t.Errorf("clean %+v, greasy %+v", celsius(clean), celsius(greasy))
	}
}

// What a file would do, read back, tells the hardness and the skin it was made from.
func TestFileThereAndBack(t *testing.T) {
	for _, row := range []struct{ hrc, skin float64 }{{64, 0}, {64, 60e-6}, {55, 30e-6}, {30, 0}, {math.NaN(), 0}} {
		f, strokes := FileWould(row.hrc, row.skin)
		if strokes.Low > strokes.Value || strokes.Value > strokes.High || strokes.Low < 1 {
			t.Errorf("%+v: strokes %+v", row, strokes)
		}
		if b := HardnessOf(f).Band(); !math.IsNaN(row.hrc) && (row.hrc < b.Low-2 || row.hrc > b.High+2) {
			t.Errorf("%+v reads back as %+v", row, b)
		}
		if row.skin > 0 && row.hrc > bitesBelow {
			if d := DecarbOf(f).Band(); row.skin < d.Low || row.skin > d.High {
				t.Errorf("%+v: skin reads back as %+v", row, d)
			}
		}
	}
}
