package calphad

import (
	"testing"

	"github.com/heatwright/heatwright/steel"
)

// mnCrW is an oil-hardening tool steel with manganese, chromium, tungsten and
// vanadium: seven elements, up to five phases.
var mnCrW = steel.Composition{steel.C: 0.95, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.5, steel.W: 0.5, steel.V: 0.15}

// One equilibrium from nothing.
func BenchmarkEquilibriumCold(b *testing.B) {
	db, err := Open()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := db.Equilibrium(mnCrW, 1073.15); err != nil {
			b.Fatal(err)
		}
	}
}

// One equilibrium from that of a temperature 10 K away, final test included.
func BenchmarkEquilibriumWarm(b *testing.B) {
	db, err := Open()
	if err != nil {
		b.Fatal(err)
	}
	w, err := db.Walk(mnCrW)
	if err != nil {
		b.Fatal(err)
	}
	T, step := 900.0, 10.0
	for b.Loop() {
		if T += step; T < 900 || T > 1500 {
			step = -step
			T += 2 * step
		}
		if _, err := w.At(T); err != nil {
			b.Fatal(err)
		}
	}
}

// All transition temperatures of a composition.
func BenchmarkTransitions(b *testing.B) {
	db, err := Open()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := db.Transitions(mnCrW); err != nil {
			b.Fatal(err)
		}
	}
}
