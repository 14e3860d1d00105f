package study

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
)

// The band on a bath that the answers carry: 25 % either way for oils, 40 % for
// water and brine, and 40 % on edges under a millimeter in any of them.
func TestBandsOfTheBaths(t *testing.T) {
	setup, err := sim.Prepare(load(t, "knife.toml"))
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, v := range variations(setup) {
		if v.name != "bath_vigor" {
			continue
		}
		for side, s := range v.setups {
			for _, b := range s.Shop.Baths {
				half := 1.25
				if b.Liquid.Aqueous() {
					half = 1.40
				}
				want, edge := half, 1.40
				if side == 0 {
					want, edge = 1/half, 1/1.40
				}
				if got := b.Vigor.Value; math.Abs(got-want) > 1e-9 {
					t.Errorf("%s: %g, want %g", b.Name, got, want)
				}
				if got := b.Vigor.Value * b.VigorThin.Value; math.Abs(got-edge) > 1e-9 {
					t.Errorf("%s on a thin edge: %g, want %g", b.Name, got, edge)
				}
				seen++
			}
		}
	}
	if seen == 0 {
		t.Error("no bath is varied")
	}
}

// What touches the piece is varied from the stage on in which it first does.
func TestJointsAreVaried(t *testing.T) {
	job := load(t, "knife.toml")
	job.Shop.Tongs = append(job.Shop.Tongs, route.Tongs{Name: "flat tongs"})
	for i := range job.Steps {
		if job.Steps[i].Do == route.Carry {
			job.Steps[i].Tongs = "flat tongs"
		}
	}
	setup, err := sim.Prepare(job)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range variations(setup) {
		if v.name != "joint" {
			continue
		}
		last := len(setup.Shop.Plates) - 1
		low, high := v.setups[0].Shop.Plates[last].Joint, v.setups[1].Shop.Plates[last].Joint
		jaws := shop.Plate{Kind: shop.Jaws}
		if b := jaws.JointBand(); low.Value != b.Low || high.Value != b.High {
			t.Errorf("%g and %g, want %g and %g", low.Value, high.Value, b.Low, b.High)
		}
		if setup.Stages[v.from].Tongs != "flat tongs" {
			t.Errorf("varied from stage %d on, which has no tongs", v.from)
		}
		return
	}
	t.Error("joints are not varied")
}
