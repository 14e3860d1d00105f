package drawing

import (
	"context"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

func inWords(s words.Style) func(string, ...cite.Quantity) (string, string) {
	return func(code string, args ...cite.Quantity) (string, string) {
		t := s.Of(code, args...)
		return t.Say, t.Term
	}
}

func metalOf(t *testing.T, name string) *micro.Metal {
	t.Helper()
	g, err := steel.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	m, err := micro.New(g.Nominal(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func heldAt(m *micro.Metal, celsius, seconds float64) (micro.Diagram, micro.Austenitizing) {
	made := micro.Austenitizing{T: unit.Celsius(celsius).K(), Hold: seconds}
	return m.Isothermal(made, 10, 1e5), made
}

// nose returns the first beginning of pearlite of a diagram.
func nose(d micro.Diagram) micro.Mark {
	best := micro.Mark{Time: math.Inf(1)}
	for _, m := range d.Marks {
		if m.Product == steel.Pearlite && m.Time < best.Time {
			best = m
		}
	}
	return best
}

// The curves of a hold stand in their order: begun, half done, done. The rows are
// taken as they are drawn.
func TestCurvesOfAHoldInOrder(t *testing.T) {
	for _, name := range []string{"1084", "O1", "5160", "52100"} {
		d, _ := heldAt(metalOf(t, name), 840, 900)
		drawn := 0
		for _, row := range rows(d.Marks) {
			var half, done float64
			for _, m := range row {
				if m.Product == micro.Whole && m.Share < 0.9 {
					half = m.Time
				} else if m.Product == micro.Whole {
					done = m.Time
				}
			}
			if half == 0 || row[0].T > d.Ae1-10 {
				continue
			}
			drawn++
			if begun := leading(row)[0].Time; !(begun < half && half < done) {
				t.Errorf("%s at %.0f °C: begins %.3g s, half %.3g s, done %.3g s", name, row[0].T-273.15, begun, half, done)
			}
		}
		if drawn < 30 {
			t.Errorf("%s: %d temperatures drawn, want them from Ms to Ae1", name, drawn)
		}
	}
}

// noseNotYet says why a nose stands where it should not; an entry that has come
// good must go.
var noseNotYet = map[string]string{}

// The nose of steel with 0.79 C and 0.76 Mn, austenitized at 900 °C, begins at
// 0.8 s and 540 °C in an atlas of isothermal diagrams. The figures are from memory,
// good to a factor of 2 and 40 K: they bound how far off the drawing may look and
// prove nothing.
func TestNoseAgainstTheAtlas(t *testing.T) {
	m, err := micro.New(steel.Composition{steel.C: 0.79, steel.Mn: 0.76, steel.Si: 0.2}, nil)
	if err != nil {
		t.Fatal(err)
	}
	d, _ := heldAt(m, 900, 900)
	n := nose(d)
	t.Logf("nose %.2f s at %.0f °C", n.Time, n.T-273.15)
	for name, ok := range map[string]bool{
		"temperature": n.T > 500+273.15 && n.T < 580+273.15,
		"time":        n.Time > 0.8/2 && n.Time < 0.8*2,
	} {
		reason, listed := noseNotYet[name]
		switch {
		case !ok && !listed:
			t.Errorf("nose at %.2f s and %.0f °C: its %s is off", n.Time, n.T-273.15, name)
		case !ok:
			t.Logf("%s not yet: %s", name, reason)
		case listed:
			t.Errorf("the %s of the nose is good: take it off the list", name)
		}
	}
}

// Hotter austenitizing dissolves more carbide and grows the grain: pearlite comes
// later, martensite at a lower temperature.
func TestHotterAustenitizingMovesTheNose(t *testing.T) {
	m := metalOf(t, "O1")
	cool, _ := heldAt(m, 790, 1200)
	hot, _ := heldAt(m, 870, 1200)
	if nose(hot).Time < 1.3*nose(cool).Time {
		t.Errorf("nose of O1 from 790 °C at %.1f s, from 870 °C at %.1f s", nose(cool).Time, nose(hot).Time)
	}
	if hot.Ms >= cool.Ms {
		t.Errorf("Ms of O1 from 790 °C %.0f, from 870 °C %.0f °C", cool.Ms-273.15, hot.Ms-273.15)
	}
}

var level = regexp.MustCompile(`<path d="M74 ([0-9.]+)H774" stroke="currentColor" stroke-width="1.5"/>`)

// The line of martensite is drawn where the scale has Ms, in either unit.
func TestMartensiteLineLiesAtMs(t *testing.T) {
	m := metalOf(t, "1084")
	d, made := heldAt(m, 815, 300)
	if got := m.MartensiteTemperature(austenite(m, made), 0); math.Abs(got-d.Ms) > 1 {
		t.Errorf("Ms of the diagram %.1f K, of a cell made alike %.1f K", d.Ms, got)
	}
	for _, units := range []unit.System{unit.Metric, unit.Imperial} {
		x := Transformation{Steel: "1084", Diagram: d, Made: made, Units: units, Say: inWords(words.Style{Units: units})}
		svg := x.SVG()
		wellFormed(t, svg)
		found := level.FindStringSubmatch(svg)
		if found == nil {
			t.Fatal("no line of martensite")
		}
		// From the labels of the scale, 100 and 700 (or 200 and 1200 °F), to the line.
		low, high := 100.0, 700.0
		ms := d.Ms - 273.15
		if units == unit.Imperial {
			low, high, ms = 200, 1200, ms*1.8+32
		}
		yLow, yHigh := tickAt(t, svg, low), tickAt(t, svg, high)
		got := low + (number(t, found[1])-yLow)/(yHigh-yLow)*(high-low)
		if math.Abs(got-ms) > 1.5 {
			t.Errorf("%v: the line stands at %.1f, Ms is %.1f", units, got, ms)
		}
	}
}

func austenite(m *micro.Metal, made micro.Austenitizing) *micro.Cells {
	c := micro.NewCells(1)
	m.StartFrom(c, made.From)
	for T := 293.15; T < made.T; T += 2 {
		m.Step(c, c, []float64{T}, 1)
	}
	for range int(made.Hold) {
		m.Step(c, c, []float64{made.T}, 1)
	}
	return c
}

func tickAt(t *testing.T, svg string, v float64) float64 {
	t.Helper()
	r := regexp.MustCompile(`<path d="M74 ([0-9.]+)H774"[^>]*/><text [^>]*>` + short(v) + `</text>`)
	found := r.FindStringSubmatch(svg)
	if found == nil {
		t.Fatalf("no tick at %v", v)
	}
	return number(t, found[1])
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	var v float64
	if err := xml.Unmarshal([]byte("<v>"+text+"</v>"), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

func wellFormed(t *testing.T, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatalf("the drawing is no XML: %v", err)
		}
	}
}

// The ways of the demo knife lie on its diagram: each named, with a sign of its
// own, from where it left austenite; what has no such moment is left out.
func TestPathsOnTheDiagram(t *testing.T) {
	text, err := os.ReadFile("../../examples/knife.toml")
	if err != nil {
		t.Fatal(err)
	}
	job, problems := route.Parse(text, func(n string) ([]byte, error) { return os.ReadFile("../../examples/" + n) })
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	h, err := sim.Run(context.Background(), job, sim.Options{Section: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	m := metalOf(t, "1084")
	made := micro.Austenitizing{T: unit.Celsius(815).K(), Hold: 300}
	for file, d := range map[string]micro.Diagram{"it": m.Isothermal(made, 5, 1e5), "cc": m.Continuous(made, []float64{300, 200, 140, 100, 70, 50, 30, 20, 10, 5, 2, 1, .3, .1})} {
		x := Transformation{Steel: "1084", Diagram: d, Made: made, Say: inWords(words.Style{})}
		for _, z := range h.Series.Zones {
			way := Path{Name: z.Name, Time: h.Series.Time}
			for _, c := range z.Temperature {
				way.T = append(way.T, c+273.15)
			}
			x.Paths = append(x.Paths, way)
		}
		x.Paths = append(x.Paths, Path{Name: "never hot", Time: []float64{0, 1}, T: []float64{600, 300}})
		svg := x.SVG()
		wellFormed(t, svg)
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "%!") {
			t.Errorf("%s: a number is missing in the drawing", file)
		}
		for _, z := range h.Series.Zones {
			if !strings.Contains(svg, ">"+z.Name+"<") {
				t.Errorf("%s lacks the way of the %s", file, z.Name)
			}
		}
		if strings.Contains(svg, "never hot") {
			t.Errorf("%s shows a way that was never austenite", file)
		}
		if strings.Contains(svg, "transformation.") {
			t.Errorf("%s says a code without words", file)
		}
		if dir := os.Getenv("HEATWRIGHT_PICTURES"); dir != "" {
			if err := os.WriteFile(dir+"/path-"+file+".svg", []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// What the foot of the drawing says of its times is what the models say.
func TestTimeFactorIsThatOfTheModels(t *testing.T) {
	found := 0
	for _, a := range micro.Accuracy() {
		if strings.HasPrefix(a.Quantity, "time of pearlite") || strings.HasPrefix(a.Quantity, "time of bainite") {
			found++
			if a.Half > timeFactor() {
				t.Errorf("%s claims a factor of %.1f, the drawing says %.1f", a.Model, a.Half, timeFactor())
			}
		}
	}
	if found < 2 {
		t.Errorf("%d claims on times of pearlite and bainite, want both", found)
	}
}
