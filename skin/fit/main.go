// Command fit finds the constants of the temper film from the printed tables of
// temper colors: the thickness after 300 s at 230 °C and the activation energy of
// the fourth-power law, so that the middle of each word comes, at five minutes,
// nearest to the median of the authors. Each author counts once per word; words
// weigh by their authors.
//
//	go run ./skin/fit
//
// The exponent is not fitted: tables for one time cannot hold it.
package main

import (
	"fmt"
	"math"
	"sort"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
)

const (
	gas    = 8.314
	kelvin = 273.15
	time   = 300.0
)

// film integrates dx/dt = k4/(4x³) + kp/(2x) for time [s] at T [K], x in nm, by
// Runge and Kutta in u = x⁴ over even steps of the logarithm of time.
func film(T, nm, energy float64) float64 {
	k4 := nm * nm * nm * nm / time * math.Exp(-energy/gas*(1/T-1/503.15))
	kp := 8 * math.Exp(-170000/gas*(1/T-1/673.15))
	rate := func(u float64) float64 { return k4 + 2*kp*math.Sqrt(u) }
	u, done := math.Pow(2.5, 4), 0.0
	const parts = 60
	for i := 1; i <= parts; i++ {
		until := time * math.Pow(10, 6*(float64(i)/parts-1))
		h := until - done
		a := rate(u)
		b := rate(u + h/2*a)
		c := rate(u + h/2*b)
		d := rate(u + h*c)
		u += h / 6 * (a + 2*b + 2*c + d)
		done = until
	}
	return math.Sqrt(math.Sqrt(u))
}

// at returns where the film is x thick [°C].
func at(x, nm, energy float64) float64 {
	lo, hi := 350.0, 750.0
	for range 40 {
		if mid := (lo + hi) / 2; film(mid, nm, energy) < x {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo+hi)/2 - kelvin
}

type word struct {
	w       color.Temper
	median  float64
	authors float64
}

func words() []word {
	by := map[string]map[cite.Key][]float64{}
	for _, p := range color.PublishedTempers() {
		if by[p.Word] == nil {
			by[p.Word] = map[cite.Key][]float64{}
		}
		by[p.Word][p.Source] = append(by[p.Word][p.Source], p.At)
	}
	var all []word
	for w := color.FaintStraw; w < color.NumTempers; w++ {
		var mid []float64
		for _, ts := range by[w.String()] {
			sort.Float64s(ts)
			mid = append(mid, (ts[0]+ts[len(ts)-1])/2)
		}
		if len(mid) < 3 {
			continue // one or two authors hold nothing
		}
		sort.Float64s(mid)
		all = append(all, word{w, (mid[(len(mid)-1)/2] + mid[len(mid)/2]) / 2, float64(len(mid))})
	}
	return all
}

func main() {
	all := words()
	cost := func(nm, energy float64) (sum float64) {
		for _, w := range all {
			d := at(w.w.Film().Value, nm, energy) - w.median
			sum += w.authors * d * d
		}
		return sum
	}
	best, bestNm, bestE := math.Inf(1), 0.0, 0.0
	for nm := 15.5; nm <= 17.5; nm += 0.25 {
		for energy := 120000.0; energy <= 160000; energy += 2500 {
			if c := cost(nm, energy); c < best {
				best, bestNm, bestE = c, nm, energy
			}
		}
	}
	fmt.Printf("%.2f nm after 300 s at 230 °C, %.0f J/mol; sum of squares %.0f\n", bestNm, bestE, best)
	for _, w := range all {
		T := at(w.w.Film().Value, bestNm, bestE)
		fmt.Printf("%-13s %.0f °C, median of %.0f authors %.0f, %+.0f\n", w.w, T, w.authors, w.median, T-w.median)
	}
}
