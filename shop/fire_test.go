package shop

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/medium"
)

// Steady loss and shell temperature of four linings at 1200 °C inside, 0.2 m²,
// room 20 °C (series resistances with h 10 and radiation outside, worked out by
// hand with one mean conductivity each: accept ±25 % of the loss, ±50 K).
func TestLiningLoss(t *testing.T) {
	for _, x := range []struct {
		layers      []Layer
		loss, shell float64
	}{
		{[]Layer{{"dense castable", 0.025}, {"fiber", 0.050}}, 750, 190},
		{[]Layer{{"insulating castable", 0.075}}, 1560, 300},
		{[]Layer{{"dense castable", 0.075}}, 2950, 410},
		{[]Layer{{"fiber", 0.050}}, 870, 210},
	} {
		w := newWall(x.layers, 293.15)
		loss, shell := w.settle(1200 + zero)
		t.Logf("%v: %.2f kW, shell %.0f °C (%.2f, %.0f)", x.layers, 0.2*loss/1000, shell-zero, x.loss/1000, x.shell)
		if math.Abs(0.2*loss/x.loss-1) > 0.25 || math.Abs(shell-zero-x.shell) > 50 {
			t.Errorf("%v: %.0f W, shell %.0f °C; by hand %.0f W, %.0f °C", x.layers, 0.2*loss, shell-zero, x.loss, x.shell)
		}
	}
}

// What went into the lining is in it or left through its shell.
func TestLiningKeepsItsHeat(t *testing.T) {
	w := newWall([]Layer{{"hard face", 0.008}, {"fiber", 0.05}}, 293.15)
	for range 500 {
		slope, base := w.respond(7)
		w.step(7, slope*1473-base)
	}
	if d := w.heat(293.15) + w.lost - w.stored; math.Abs(d) > 1e-7*w.stored {
		t.Errorf("balance off by %g of %g J/m²", d, w.stored)
	}
	// After a long time it is the settled state.
	v := newWall([]Layer{{"hard face", 0.008}, {"fiber", 0.05}}, 293.15)
	loss, _ := v.settle(1473)
	for range 3000 {
		slope, base := w.respond(60)
		w.step(60, slope*1473-base)
	}
	slope, base := w.respond(60)
	if got := slope*1473 - base; math.Abs(got/loss-1) > 1e-3 {
		t.Errorf("flux after two days %g, settled %g W/m²", got, loss)
	}
}

func demoFire(t *testing.T) *Fire {
	t.Helper()
	s := Demonstration()
	b, err := s.Start()
	if err != nil {
		t.Fatal(err)
	}
	e, err := b.Find("A")
	if err != nil {
		t.Fatal(err)
	}
	return e.(*Fire)
}

// The energy of the fuel is in the lining, out of the door and shell, in the
// steel or in the flue, step by step.
func TestFireBalances(t *testing.T) {
	f := demoFire(t)
	f.Light()
	if err := f.Hold(1150 + zero); err != nil {
		t.Fatal(err)
	}
	for i := range 400 {
		before := f.lining.heat(f.room)
		lostBefore := f.lining.lost
		steel := 0.0
		if i > 200 {
			steel = 3000
		}
		f.Advance(5, -5*steel)
		into := (f.lining.heat(f.room) - before + f.lining.lost - lostBefore) / 5 * f.area
		released := f.rate * fuels[f.Fuel].lower * f.available(f.gasT)
		if sum := into + f.throughDoor(f.wallT) + steel; math.Abs(sum-released) > 1e-4*released {
			t.Fatalf("step %d: fuel gives %g W, found %g W", i, released, sum)
		}
	}
	t.Logf("at work: place %.0f °C, wall %.0f, gas %.0f, %.2f kg/h", f.Temperature()-zero, f.Wall()-zero, f.GasTemperature()-zero, 3600*f.Rate())
}

// From lighting to forging heat the invented forge with a hard face on fiber
// takes a quarter to a whole hour at full gas: common practice for small forges
// is 10 to 40 min. More gas is faster; a dense lining is slower.
func TestFromCold(t *testing.T) {
	f := demoFire(t)
	sec, kg, ok := f.FromCold(1100 + zero)
	t.Logf("to 1100 °C in %.0f min with %.2f kg", sec/60, kg)
	if !ok || sec < 5*60 || sec > 40*60 {
		t.Errorf("%.0f min, ok %v", sec/60, ok)
	}
	more := f.Clone().(*Fire)
	more.most *= 1.5
	if s, _, _ := more.FromCold(1100 + zero); s >= sec {
		t.Errorf("half as much gas again takes %.0f s, before %.0f s", s, sec)
	}
	dense := f.Forge
	dense.Lining = []Layer{{"dense castable", 0.075}}
	d := newFire(dense, 293.15)
	d.most = f.most
	if s, _, ok := d.FromCold(1100 + zero); ok && s < 1.5*sec {
		t.Errorf("a dense lining takes %.0f s, hard face on fiber %.0f s", s, sec)
	} else {
		t.Logf("dense lining: %.0f min, reached %v", s/60, ok)
	}
}

// The held place is where a small piece settles; a load that full gas cannot
// carry makes the walls sag, and they come back.
func TestHoldSagAndReturn(t *testing.T) {
	f := demoFire(t)
	if err := f.Set(1150 + zero); err != nil {
		t.Fatal(err)
	}
	if got := f.Temperature(); math.Abs(got-1150-zero) > 0.1 {
		t.Errorf("held at 1150 °C, place at %.1f", got-zero)
	}
	q, dq := []float64{0}, []float64{0}
	f.Law(&Piece{Length: 0.05, Width: 0.005, Thickness: 0.005}, 1).Fill(q, dq, &medium.Faces{T: []float64{1150 + zero}})
	if math.Abs(q[0]) > 300 {
		t.Errorf("a small piece at the held temperature has %.0f W/m²", q[0])
	}
	for range 60 {
		f.Advance(1, -12000)
	}
	low := f.Temperature()
	if low > 1130+zero {
		t.Errorf("12 kW of cold steel leave the place at %.0f °C", low-zero)
	}
	for range 300 {
		f.Advance(5, 0)
	}
	t.Logf("sagged to %.0f °C, back at %.1f", low-zero, f.Temperature()-zero)
	if math.Abs(f.Temperature()-1150-zero) > 3 {
		t.Errorf("back at %.1f °C", f.Temperature()-zero)
	}
}

// Fork of a fire goes the same way to the last bit.
func TestFireSavesAndForks(t *testing.T) {
	f := demoFire(t)
	f.Light()
	for range 50 {
		f.Advance(10, -2000)
	}
	saved := f.Save(nil)
	twin := f.Clone()
	f.Advance(10, -500)
	after := f.Temperature()
	if rest := f.Restore(saved); len(rest) != 0 {
		t.Fatal("numbers left")
	}
	f.Advance(10, -500)
	twin.Advance(10, -500)
	if f.Temperature() != after || twin.Temperature() != after {
		t.Errorf("%v, restored %v, twin %v", after, f.Temperature(), twin.Temperature())
	}
}

// Steel heated in a chamber that it loads takes longer than with walls that do not
// care: common practice is 20 to 60 % longer for a loaded forge, more when it is
// crammed. The steel never takes more than the flue leaves in the chamber plus what
// the lining had stored; over an evening with 8 MJ of bars heated it is 5 to 15 % of
// the gas (common practice).
func TestLoadedForgeIsSlower(t *testing.T) {
	heat := func(bars float64, rigid bool) (seconds, share float64) {
		f := demoFire(t)
		if err := f.Set(1200 + zero); err != nil {
			t.Fatal(err)
		}
		p := Piece{Length: 0.3, Width: 0.025, Thickness: 0.025, Perimeter: math.Pi * 0.025, Area: bars * math.Pi * 0.025 * 0.3}
		mass := bars * 7850 * math.Pi / 4 * 0.025 * 0.025 * 0.3
		faces := &medium.Faces{T: []float64{293.15}}
		q, dq := []float64{0}, []float64{0}
		const dt = 1.0
		gave := 0.0
		for faces.T[0] < 1100+zero {
			f.Law(&p, dt).Fill(q, dq, faces)
			c := mass * 690 / (p.Area * dt)
			step := -q[0] / (c + dq[0])
			joules := -c * step * p.Area * dt // given off by the steel
			faces.T[0] += step
			gave -= joules
			if rigid {
				joules = 0
			}
			f.Advance(dt, joules)
			if seconds += dt; seconds > 7200 {
				t.Fatal("it is not hot after two hours")
			}
		}
		return seconds, gave / (f.Burnt() * fuels[Propane].lower)
	}
	free, _ := heat(1, true)
	one, little := heat(1, false)
	four, much := heat(4, false)
	t.Logf("25 mm bars to 1100 °C: walls that do not care %.0f s, one bar %.0f s (%.0f %% of the gas), four bars %.0f s (%.0f %%)", free, one, 100*little, four, 100*much)
	if one < free || four < 1.2*free || four > 2.5*free {
		t.Errorf("free %.0f, one %.0f, four %.0f s", free, one, four)
	}
	if little > much || much > 0.5 {
		t.Errorf("steel takes %.2f of the gas with one bar, %.2f with four", little, much)
	}
	evening := demoFire(t).Session(1150+zero, 3*3600, 8e6)
	if share := 8e6 / (evening.Value * fuels[Propane].lower); share < 0.05 || share > 0.15 {
		t.Errorf("over an evening the steel takes %.3f of the gas", share)
	}
}

func BenchmarkFire(b *testing.B) {
	s := Demonstration()
	bench, _ := s.Start()
	e, _ := bench.Find("A")
	f := e.(*Fire)
	f.Light()
	b.ReportAllocs()
	for b.Loop() {
		f.Advance(5, -20000)
	}
}
