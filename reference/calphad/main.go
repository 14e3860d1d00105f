// Command calphad prints equilibria of package calphad, with the time that each
// took, for comparison with a general-purpose library on the same parameters.
package main

import (
	"encoding/json"
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	"github.com/heatwright/heatwright/calphad"
	"github.com/heatwright/heatwright/steel"
)

var steels = []steel.Composition{
	{steel.C: 0.8},
	{steel.C: 0.45, steel.Mn: 0.7},
	{steel.C: 0.84, steel.Mn: 0.8, steel.Si: 0.2},
	{steel.C: 0.6, steel.Si: 2, steel.Mn: 0.9},
	{steel.C: 1, steel.Cr: 1.45, steel.Mn: 0.35, steel.Si: 0.25},
	{steel.C: 0.95, steel.Mn: 1.2, steel.Si: 0.3, steel.Cr: 0.5, steel.W: 0.5, steel.V: 0.15},
	{steel.C: 0.75, steel.Mn: 0.7, steel.Si: 0.25, steel.Cr: 0.9, steel.Ni: 1.7, steel.Mo: 0.3},
	{steel.C: 0.4, steel.Mn: 0.85, steel.Si: 0.25, steel.Cr: 0.95, steel.Mo: 0.2, steel.Cu: 0.15, steel.Ni: 0.1},
	{steel.C: 0.8, steel.Mn: 0.4, steel.Si: 0.3, steel.Cr: 0.55, steel.V: 0.2},
	{steel.C: 1.1, steel.Cr: 1.2, steel.W: 1.3, steel.V: 0.2, steel.Mn: 0.3, steel.Si: 0.2},
	{steel.C: 1, steel.Cr: 5.1, steel.Mo: 1.1, steel.V: 0.25, steel.Mn: 0.7, steel.Si: 0.3},
	{steel.C: 1.55, steel.Cr: 11.8, steel.Mo: 0.8, steel.V: 0.8, steel.Mn: 0.3, steel.Si: 0.3},
}

var celsius = []float64{650, 740, 780, 820, 870, 950, 1050, 1150}

// point is one equilibrium as both sides state it.
type point struct {
	Steel     string             `json:"steel"`
	WtPercent map[string]float64 `json:"wt_percent"`
	C         float64            `json:"temperature_c"`
	Gibbs     float64            `json:"gibbs_j_per_kg"`
	Phases    []phase            `json:"phases"`
	Cold      float64            `json:"cold_s"`
	Warm      float64            `json:"warm_s"`
}

type phase struct {
	Model        string             `json:"model"`
	MassFraction float64            `json:"mass_fraction"`
	WtPercent    map[string]float64 `json:"wt_percent"`
}

func main() {
	runtime.GOMAXPROCS(1)
	db, err := calphad.Open()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	var points []point
	for _, c := range steels {
		points = append(points, solve(db, c)...)
	}
	if err := json.NewEncoder(os.Stdout).Encode(points); err != nil {
		os.Exit(1)
	}
}

func solve(db *calphad.Database, c steel.Composition) []point {
	walk, err := db.Walk(c)
	check(err)
	var points []point
	for _, t := range celsius {
		q, err := db.Equilibrium(c, t+273.15)
		check(err)
		p := point{Steel: strings.ReplaceAll(c.String(), ", ", " "), WtPercent: percent(c), C: t, Gibbs: q.Gibbs}
		for _, f := range q.Phases {
			p.Phases = append(p.Phases, phase{f.Model, f.MassFraction, percent(f.Composition)})
		}
		p.Cold = median(func() { _, err = db.Equilibrium(c, t+273.15) })
		at := t
		p.Warm = median(func() { // each from an answer 10 K away
			if at == t {
				at = t + 10
			} else {
				at = t
			}
			_, err = walk.At(at + 273.15)
		})
		check(err)
		points = append(points, p)
	}
	return points
}

// median returns the median time of 31 runs [s].
func median(run func()) float64 {
	debug.FreeOSMemory()
	run()
	times := make([]float64, 0, 31)
	for range 31 {
		start := time.Now()
		run()
		d := time.Since(start).Seconds()
		i := len(times)
		times = append(times, d)
		for ; i > 0 && times[i-1] > d; i-- {
			times[i] = times[i-1]
		}
		times[i] = d
	}
	return times[15]
}

func percent(c steel.Composition) map[string]float64 {
	m := map[string]float64{"FE": c.Fe()}
	for e, x := range c {
		if x > 0 {
			m[strings.ToUpper(steel.Element(e).String())] = x
		}
	}
	return m
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
