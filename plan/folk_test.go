package plan

import (
	"context"
	"testing"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// A freezer takes part of what has stayed, only part, and hardens a little; after
// an hour in the room it needs more cold to go on: the austenite has settled.
func TestFreezerTakesPart(t *testing.T) {
	for _, grade := range []string{"1084", "O1"} {
		g, err := steel.Find(grade)
		if err != nil {
			t.Fatal(err)
		}
		m, err := micro.New(g.Nominal(), nil)
		if err != nil {
			t.Fatal(err)
		}
		x := Freeze(m, micro.StartState{Condition: micro.Spheroidized}, 800+273.15, 900)
		t.Logf("%s: %.1f → %.1f %%, %.0f → %.0f HV, goes on at %.0f °C", grade, 100*x.Kept, 100*x.After, x.HV, x.AfterHV, x.Restart-273.15)
		if x.Kept < 0.02 || x.After >= x.Kept || x.After < 0.3*x.Kept || x.AfterHV <= x.HV || x.AfterHV > 1.1*x.HV {
			t.Errorf("%s: %+v", grade, x)
		}
		if x.Restart >= room-2 {
			t.Errorf("%s: after an hour it goes on at %.0f °C, as if nothing had settled", grade, x.Restart-273.15)
		}
	}
}

// Of the steels of old springs, oil leaves the plain ones softer than water does,
// and the alloyed ones nearly as hard: that is what a test piece tells.
func TestCouponsTellSteelsApart(t *testing.T) {
	all, err := Coupons(context.Background())
	if err != nil || len(all) < 4 {
		t.Fatal(all, err)
	}
	for _, c := range all {
		t.Logf("%s: oil %.0f, water %.0f", c.Steel, c.Oil, c.Water)
		if c.Oil > c.Water+0.5 {
			t.Errorf("%s: oil %.1f is harder than water %.1f", c.Steel, c.Oil, c.Water)
		}
		if c.Steel == "1095" && c.Water-c.Oil < 3 {
			t.Errorf("1095 is as hard from oil (%.1f) as from water (%.1f)", c.Oil, c.Water)
		}
	}
}
