package drawing

import (
	"context"
	"os"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// The demo knife from its job file: every step that lasts has its place on the
// strip, in its order, and the strip is read without color.
func TestHeatsOfTheDemoKnife(t *testing.T) {
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
	solid, err := job.Piece.Solid()
	if err != nil {
		t.Fatal(err)
	}
	d := Heats(h, solid, color.NewEye(color.Dark, color.NoGlasses), color.Celsius, 900, 130)
	if d == nil {
		t.Fatal("no strip")
	}
	svg := d.SVG()
	for _, want := range []string{">spine<", ">edge<", ">800 °C<", "in a dark shop"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the strip lacks %q", want)
		}
	}
	at := 0
	for _, s := range h.Steps {
		if s.End-s.Start > 0.05 {
			next := strings.Index(svg[at:], ">"+s.Name+"<")
			if next < 0 {
				t.Errorf("step %q is not where it belongs", s.Name)
				continue
			}
			at += next + 1
		}
	}
	if dir := os.Getenv("HEATWRIGHT_PICTURES"); dir != "" {
		if err := os.WriteFile(dir+"/job.png", d.PNG(1.5), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
