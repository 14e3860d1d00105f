package sim

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/route"
)

// What no piece and no shop can be is told at the line where it stands, with its limits and remedy.
func TestWrongPiecesAndShopsAreTold(t *testing.T) {
	steps := hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\n"
	for _, x := range []struct{ what, from, to, code string }{
		{"zero thickness", `spine = "3 mm"`, `spine = "0 mm"`, "route.outside"},
		{"less than zero", `width = "30 mm"`, `width = "-30 mm"`, "route.no-quantity"},
		{"an edge thicker than the spine", `edge = "0.6 mm"`, `edge = "6 mm"`, "route.edge-thicker-than-spine"},
		{"bevels that cross at the tip", `edge = "0.6 mm"`, "edge = \"0.6 mm\"\nspine_tip = \"0.3 mm\"", "route.edge-thicker-than-spine"},
		{"a bevel higher than the blade", `edge = "0.6 mm"`, "edge = \"0.6 mm\"\nbevel = \"40 mm\"", "route.bevel-higher-than-width"},
		{"stations that run back", `edge = "0.6 mm"`, "edge = \"0.6 mm\"\nstation = [{ at = \"50 mm\", width = \"30 mm\", spine = \"3 mm\", edge = \"0.6 mm\" }, { at = \"40 mm\", width = \"30 mm\", spine = \"3 mm\", edge = \"0.6 mm\" }]", "route.stations-not-in-order"},
		{"oil below freezing", `warm = "40 C"`, `warm = "-5 C"`, "route.shop-limits"},
		{"water below freezing", "kind = \"brine\"\nvolume = \"40 L\"\nwarm = \"20 C\"", "kind = \"water\"\nwarm = \"-2 C\"", "route.shop-limits"},
		{"oil above its flash point", `warm = "40 C"`, "warm = \"150 C\"\nflash = \"150 C\"", "route.shop-limits"},
		{"oil above the flash point of its kind", `warm = "40 C"`, `warm = "140 C"`, "route.shop-limits"},
		{"water that boils", "kind = \"brine\"\nvolume = \"40 L\"\nwarm = \"20 C\"", "kind = \"water\"\nwarm = \"99 C\"", "route.shop-limits"},
		{"an aluminum plate at forging heat", "kind = \"pair\"\nmass = \"4 kg\"", "kind = \"pair\"\nwarm = \"900 C\"", "route.shop-limits"},
		{"a fire that burns more turned down", "name = \"forge\"\nkind = \"gas\"", "name = \"forge\"\nkind = \"gas\"\ngas = \"1 kg/h\"\nlow = \"2 kg/h\"", "route.shop-limits"},
		{"a door larger than the chamber", "name = \"forge\"\nkind = \"gas\"", "name = \"forge\"\nkind = \"gas\"\nwidth = \"150 mm\"\nheight = \"150 mm\"\ndoor = \"900 mm\"\ndoor_height = \"900 mm\"", "route.shop-limits"},
		{"molten salt", `kind = "brine"`, `kind = "molten salt"`, "route.no-molten-salt"},
		{"lead", `kind = "brine"`, `kind = "lead"`, "route.no-molten-lead"},
		{"liquid nitrogen", `kind = "brine"`, `kind = "liquid nitrogen"`, "route.no-sub-zero"},
		{"a temper in oil", "do = \"quench\"\nin = \"oil\"", "do = \"temper\"\nin = \"oil\"\nhold = \"1 h\"", "route.no-hot-oil-temper"},
	} {
		text := kitchenKnife + companyShop + steps
		if !strings.Contains(text, x.from) {
			t.Fatalf("%s: %q does not stand in the job", x.what, x.from)
		}
		_, problems := route.Parse([]byte(strings.Replace(text, x.from, x.to, 1)), nil)
		found := false
		for _, p := range problems {
			found = found || p.Code == x.code && p.Line > 0
		}
		if !found {
			t.Errorf("%s: %v, want %s", x.what, problems, x.code)
		}
	}
}

// A piece longer than the fire, or the bath is deep, is worked and told of.
func TestWhatDoesNotFitIsNoted(t *testing.T) {
	shop := strings.Replace(companyShop, `volume = "12 L"`, "volume = \"12 L\"\ndepth = \"160 mm\"", 1)
	for _, x := range []struct{ what, steps, code string }{
		{"longer than the fire", "[[step]]\ndo = \"heat\"\nin = \"short fire\"\nuntil = \"1 min\"\n", "shop.longer-than-the-fire"},
		{"longer than the bath is deep", hardened + "[[step]]\ndo = \"quench\"\nin = \"oil\"\nuntil = \"5 s\"\n", "shop.longer-than-the-bath-is-deep"},
	} {
		job, problems := route.Parse([]byte(kitchenKnife+shop+x.steps), nil)
		if len(problems) > 0 {
			t.Fatal(x.what, problems)
		}
		h, err := Run(context.Background(), job, Options{Section: true, Quick: true}, nil)
		if err != nil {
			t.Fatal(x.what, err)
		}
		found := false
		for _, n := range h.Notes {
			found = found || n.Code == x.code
		}
		if !found {
			t.Errorf("%s: notes %v", x.what, h.Notes)
		}
	}
	// Laid in edge first, a long piece goes under in a bath that is less deep.
	job, _ := route.Parse([]byte(kitchenKnife+shop+hardened+"[[step]]\ndo = \"quench\"\nin = \"oil\"\nfirst = \"edge\"\nuntil = \"5 s\"\n"), nil)
	h, err := Run(context.Background(), job, Options{Section: true, Quick: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range h.Notes {
		if n.Code == "shop.longer-than-the-bath-is-deep" {
			t.Error("edge first: ", n)
		}
	}
}

// A mesh that would not go into memory is refused before it is made.
func TestTooFineAMeshIsRefused(t *testing.T) {
	job, problems := route.Parse([]byte(kitchenKnife+companyShop+hardened), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, o := range []Options{{Along: 10000, Across: 1000, Through: 1000}, {Section: true, Across: 1 << 20, Through: 1 << 20}} {
		_, err := Start(job, o)
		var bad *Error
		if !errors.As(err, &bad) || !strings.Contains(bad.Error(), "cells") {
			t.Errorf("%+v: %v", o, err)
		}
	}
}
