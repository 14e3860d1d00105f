package forging

import (
	"testing"

	"github.com/heatwright/heatwright/shape"
)

// A small kitchen knife from 25 × 5 mm: 45–90 min and 8–20 heats for a blade of
// 150 mm are common practice; this one starts from a bar near its shape, so half of
// that is the least. The invented order has 136 mm of bar for 15.7 cm³ with 8 % loss.
func TestSessionOfAKnife(t *testing.T) {
	solid, err := shape.Blade{
		Stations: []shape.Station{{X: 0, Width: 0.030, Spine: 3.6e-3, Edge: 1.8e-3}, {X: 0.12, Width: 0.028, Spine: 2.8e-3, Edge: 1.8e-3}, {X: 0.15, Width: 0.010, Spine: 2.4e-3, Edge: 1.8e-3}},
		Tang:     shape.Tang{Length: 0.09, Width: 0.012, EndWidth: 0.008},
	}.Solid()
	if err != nil {
		t.Fatal(err)
	}
	s := Session{Steel: carbon(0.84), Forged: solid, Bar: Section{0.025, 0.005}, Heat: Heat{From: 1100 + kelvin, To: 820 + kelvin}, Hammer: HandHammer}
	p, err := s.Plan()
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%.1f cm³, loss %.1f %%, cut %.0f mm, %.0f (%.0f–%.0f) heats of %.0f s, %.0f blows, %.0f min", 1e6*p.Volume, 100*p.Loss, 1e3*p.Cut, p.Heats.Value, p.Heats.Low, p.Heats.High, p.Seconds.Value, p.Blows.Value, p.Minutes.Value)
	if p.Heats.Value < 4 || p.Heats.Value > 20 || p.Minutes.Value < 20 || p.Minutes.Value > 120 {
		t.Errorf("%+v", p)
	}
	within(t, "metal", p.Cut*s.Bar.Area(), p.Volume*(1+p.Loss), 1e-9)
	if p.Loss < 0.02 || p.Loss > 0.25 {
		t.Errorf("loss %.3f", p.Loss)
	}
	// A rich fire saves bar, a power hammer saves heats, a thicker bar costs them.
	rich := s
	rich.Fire = 0.4
	if r, err := rich.Plan(); err != nil || r.Cut >= p.Cut {
		t.Errorf("rich fire: cut %.4f, before %.4f (%v)", r.Cut, p.Cut, err)
	}
	power := s
	power.Hammer = PowerHammer
	if r, err := power.Plan(); err != nil || r.Heats.Value >= p.Heats.Value {
		t.Errorf("power hammer: %.0f heats, by hand %.0f (%v)", r.Heats.Value, p.Heats.Value, err)
	}
	thick := s
	thick.Bar = Section{0.016, 0.016}
	if r, err := thick.Plan(); err != nil || r.Blows.Value <= p.Blows.Value {
		t.Errorf("from 16 mm square: %.0f blows, from flat %.0f (%v)", r.Blows.Value, p.Blows.Value, err)
	}
	thin := s
	thin.Bar = Section{0.015, 0.004}
	if _, err := thin.Plan(); err == nil {
		t.Error("a bar thinner than the piece is enough")
	} else {
		t.Log(err)
	}
}
