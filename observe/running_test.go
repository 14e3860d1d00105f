package observe

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

func nominal(t testing.TB, name string) steel.Composition {
	t.Helper()
	g, err := steel.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g.Nominal()
}

// knife is an invented blade, 4 mm at the spine, 0.8 at the edge, 30 mm wide.
func knife(t testing.TB) *shape.Solid {
	t.Helper()
	s, err := shape.Blade{Stations: []shape.Station{{X: 0, Width: 0.03, Spine: 0.004, Edge: 0.0008}, {X: 0.15, Width: 0.03, Spine: 0.004, Edge: 0.0008}}}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// chisel is an invented 12 mm round, 150 mm long.
func chisel(t testing.TB) *shape.Solid {
	t.Helper()
	s, err := shape.Bar{Form: shape.Round, Width: 0.012, Length: 0.15}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func ran(t testing.TB, r Running) *Ran {
	t.Helper()
	got, err := r.Run()
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// With HEATWRIGHT_PICTURES set to a folder, the frames are written there to be looked at.
func show(t *testing.T, r *Ran, name string) {
	t.Helper()
	dir := os.Getenv("HEATWRIGHT_PICTURES")
	if dir == "" {
		return
	}
	m, titles := r.Stop.Frames(r.History, 6)
	eye := color.NewEye(color.Daylight, color.NoGlasses)
	lines := []float64{100 + kelvin, 200 + kelvin, 300 + kelvin, 400 + kelvin, 600 + kelvin}
	for file, png := range map[string][]byte{
		name: eye.DrawFrames(r.History, m, titles, color.Celsius).PNG(1.5), name + "-strip": eye.DrawStrip(r.History, 600, 120, color.Celsius, lines).PNG(1.5),
	} {
		if err := os.WriteFile(dir+"/"+file+".png", png, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func block(t testing.TB) Running {
	return Running{Solid: knife(t), Steel: nominal(t, "1084"), From: HotBlock, Hot: 700 + kelvin, Mass: 1.5, Watch: 1, Want: color.Straw}
}

// From a hot block the colors march from spine to edge: at every moment the spine
// is ahead, and each color moves down. Where the stop is called, the edge keeps
// the most hardness, the spine the least.
func TestColorsMarchFromTheSpine(t *testing.T) {
	r := ran(t, block(t))
	show(t, r, "block")
	t.Log(r.Stop)
	h, n := r.History, len(r.History.Place)
	for i := range h.Time {
		for k := 1; k < n; k++ {
			if h.Film[i*n+k] > h.Film[i*n+k-1]*1.001 {
				t.Fatalf("at %.1f s place %d is ahead of the one above", h.Time[i], k)
			}
		}
	}
	down := -1.0
	for i := range h.Time { // how far down the first straw has come
		at := -1.0
		for k := range n {
			if color.TemperOf(h.Film[i*n+k]) >= color.Straw {
				at = h.Place[k]
			}
		}
		if at < down {
			t.Fatalf("straw moves up at %.1f s", h.Time[i])
		}
		down = at
	}
	if down < 0.9 {
		t.Errorf("straw comes down to %.2f only", down)
	}
	for k := 1; k < n; k++ {
		if r.HRC[k] < r.HRC[k-1]-0.05 {
			t.Errorf("place %.2f is softer than the one above it", h.Place[k])
		}
	}
	if s := r.Stop; !s.Reached || s.Call >= s.At || s.At < s.Early || s.At > s.Late {
		t.Errorf("stop %+v", s)
	}
}

// The heat that the block gave is in the blade or in the air: what came in by the
// surface is the change of its enthalpy.
func TestRunningKeepsItsHeat(t *testing.T) {
	r := block(t)
	if err := r.check(); err != nil {
		t.Fatal(err)
	}
	w, err := r.start()
	if err != nil {
		t.Fatal(err)
	}
	before, dt := w.field.Energy(), 0.02
	for w.time < 20 {
		dt = w.step(dt)
	}
	if got := w.field.Energy() - before; math.Abs(got-w.joules) > 1e-9*math.Abs(got) || got < 1000 {
		t.Errorf("%.6f J came in, the blade holds %.6f more", w.joules, got)
	}
	if w.block.T >= r.Hot-10 {
		t.Errorf("the block is still at %.0f °C", w.block.T-kelvin)
	}
}

// A hotter source is quicker and leaves less time to act; a looser joint is slower.
func TestHotterIsQuicker(t *testing.T) {
	mild, hot, loose := block(t), block(t), block(t)
	hot.Hot, loose.Joint = 850+kelvin, 500
	a, b, c := ran(t, mild).Stop, ran(t, hot).Stop, ran(t, loose).Stop
	if !(b.At < a.At && a.At < c.At) || !(b.Window() < a.Window()) {
		t.Errorf("700 °C: %v; 850 °C: %v; loose: %v", a, b, c)
	}
}

// The edge in water keeps its hardness while a torch draws the spine; without
// water the whole blade grows soft.
func TestWaterKeepsTheEdge(t *testing.T) {
	r := Running{Solid: knife(t), Steel: nominal(t, "1084"), From: TorchRun, Watts: 500, Wet: 0.3, Watch: 0.05, Want: color.Blue}
	wet := ran(t, r)
	show(t, wet, "torch")
	n := len(wet.HRC) - 1
	if wet.Before[n]-wet.HRC[n] > 0.5 {
		t.Errorf("the edge in water fell from %.1f to %.1f HRC", wet.Before[n], wet.HRC[n])
	}
	if wet.HRC[0] > wet.HRC[n]-4 {
		t.Errorf("the spine keeps %.1f HRC, the edge %.1f", wet.HRC[0], wet.HRC[n])
	}
	h := wet.History
	for i := range h.Time {
		if T := h.T[i*len(h.Place)+n]; T > 373 {
			t.Fatalf("the wet edge is at %.0f °C", T-kelvin)
		}
	}
	r.Watch, r.Want, r.Wet = 1, color.Straw, 0
	dry := ran(t, r)
	if dry.HRC[n] > wet.HRC[n]-1 {
		t.Errorf("dry edge %.1f, wet %.1f HRC", dry.HRC[n], wet.HRC[n])
	}
}

// A chisel quenched at the end and drawn by the heat of its shank: the colors run
// to the end and stop there of themselves if the shank holds just enough.
func TestShankDrawsTheEnd(t *testing.T) {
	r := Running{Solid: chisel(t), Steel: nominal(t, "W1"), From: Shank, Hot: 780 + kelvin, Line: 0.8, Watch: 0.97, Want: color.Purple}
	got := ran(t, r)
	show(t, got, "shank")
	t.Log(got.Stop)
	if !got.Stop.Reached {
		t.Error("purple does not come to the end")
	}
	n := len(got.HRC) - 1
	for k, x := range got.HRC { // soft where it was hot, and nothing hard between: what was austenite has cooled in air
		if k > 0 && !math.IsNaN(got.HRC[k-1]) && !(x >= got.HRC[k-1]-0.5) {
			t.Errorf("%.1f HRC at %.2f, above it %.1f", x, got.History.Place[k], got.HRC[k-1])
		}
	}
	if got.HRC[0] > 40 || got.HRC[n] < 52 || got.HRC[n] > 62 {
		t.Errorf("shank %.1f, end %.1f HRC; common practice has the end at 54 to 60", got.HRC[0], got.HRC[n])
	}
	r.Hot = 450 + kelvin
	if cold := ran(t, r).Stop; cold.Reached {
		t.Errorf("a shank of 450 °C: %v", cold)
	}
}

// A kept plate: the place where the film of a purely thermal run stands is the one
// that skin would grow on that temperature history.
func TestFilmBelongsToTheHistory(t *testing.T) {
	r := block(t)
	r.From, r.Hot = HotPlate, 350+kelvin
	got := ran(t, r)
	h, n := got.History, len(got.History.Place)
	s := skin.New([]skin.Patch{{Steel: r.Steel, Half: 1e-3, Finish: skin.Polished}})
	st := s.Start()
	for i := 1; i < len(h.Time); i++ {
		s.Step(st, st, []float64{(h.T[i*n] + h.T[(i-1)*n]) / 2}, h.Time[i]-h.Time[i-1], medium.OpenAir)
	}
	if nm, want := st.Oxide[0]*1e9, h.Film[(len(h.Time)-1)*n]; math.Abs(nm-want) > 0.03*want {
		t.Errorf("film %.2f nm, from the recorded temperatures %.2f", want, nm)
	}
}

// On a film that grows evenly the stop can be told by hand: 0.5 nm/s from 2.5 nm.
func TestStopByHand(t *testing.T) {
	h := &color.History{Place: []float64{0, 1}}
	for s := 0.0; s <= 100; s++ {
		h.Time = append(h.Time, s)
		h.T = append(h.T, 550, 550)
		h.Film = append(h.Film, 2.5+0.8*s, 2.5+0.5*s)
	}
	straw := color.Straw.Film()
	s := StopMoment(h, 1, color.Straw, unit.Band{Value: 2, Low: 1, High: 20})
	if want := (straw.Value - 2.5) / 0.5; math.Abs(s.At-want) > 1e-9 || math.Abs(s.Call-want+2) > 1e-9 {
		t.Errorf("stop at %v, call at %v, want %v and two seconds earlier", s.At, s.Call, want)
	}
	if want := (straw.High - straw.Low) / 0.5; math.Abs(s.Window()-want) > 1e-9 || math.Abs(s.Speed-0.5) > 1e-9 {
		t.Errorf("the color stands for %v s, want %v; speed %v", s.Window(), want, s.Speed)
	}
	if s.IfSlow <= color.Straw || s.TooFast(unit.Band{Low: 1, High: 20}) != (s.Window() < 19) {
		t.Errorf("twenty seconds late it is %v", s.IfSlow)
	}
	if s := StopMoment(h, 1, color.PaleBlue, unit.Band{}); s.Reached {
		t.Errorf("pale blue at 52 nm: %+v", s)
	}
}

func TestRunningRefusesNonsense(t *testing.T) {
	for _, change := range []func(*Running){
		func(r *Running) { r.Solid = nil }, func(r *Running) { r.Mass = 0 }, func(r *Running) { r.Hot = 3000 },
		func(r *Running) { r.Want = color.GreyFilm }, func(r *Running) { r.Watch = 2 }, func(r *Running) { r.Wet = 1 },
		func(r *Running) { r.From, r.Watts = TorchRun, 0 },
	} {
		r := block(t)
		change(&r)
		if _, err := r.Run(); err == nil || !strings.HasPrefix(err.Error(), "observe: ") {
			t.Errorf("%+v: %v", r, err)
		}
	}
}

// BenchmarkRunning is what a page waits for: a blade drawn from a hot block.
func BenchmarkRunning(b *testing.B) {
	r := block(b)
	for b.Loop() {
		if _, err := r.Run(); err != nil {
			b.Fatal(err)
		}
	}
}
