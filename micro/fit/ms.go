package main

import (
	"fmt"
	"math"
)

var msNames = []string{"1", "expC", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Co", "Al", "Cu", "N", "C2", "C·Mn", "C·Si", "C·Cr", "C·Ni", "C·Mo", "C·V", "Mn·Ni", "Cr·Ni", "Mn·Cr", "Cr2", "hot", "hotCr"}

func msFeatures(r row, k float64) []float64 {
	c, mn, si, cr, ni, mo := r.num("c_wt"), r.num("mn_wt"), r.num("si_wt"), r.num("cr_wt"), r.num("ni_wt"), r.num("mo_wt")
	v, w, co, al, cu, n := r.num("v_wt"), r.num("w_wt"), r.num("co_wt"), r.num("al_wt"), r.num("cu_wt"), r.num("n_wt")
	hot := math.Max(0, c-0.9)
	return []float64{1, 1 - math.Exp(-k*c), mn, si, cr, ni, mo, v, w, co, al, cu, n, c * c, c * mn, c * si, c * cr, c * ni, c * mo, c * v, mn * ni, cr * ni, mn * cr, cr * cr, hot, hot * cr}
}

func bohemenMs(r row) float64 {
	return 565 - (31*r.num("mn_wt") + 13*r.num("si_wt") + 10*r.num("cr_wt") + 18*r.num("ni_wt") + 12*r.num("mo_wt")) - 600*(1-math.Exp(-0.96*r.num("c_wt")))
}
func barbierMs(r row) float64 {
	return 545 - 601.2*(1-math.Exp(-0.868*r.num("c_wt"))) - 34.4*r.num("mn_wt") - 13.7*r.num("si_wt") - 9.2*r.num("cr_wt") - 17.3*r.num("ni_wt") - 15.4*r.num("mo_wt") + 10.8*r.num("v_wt") + 4.7*r.num("co_wt") - 1.4*r.num("al_wt") - 16.3*r.num("cu_wt")
}
func capdevilaMs(r row) float64 {
	return 764.2 - 302.6*r.num("c_wt") - 30.6*r.num("mn_wt") - 16.6*r.num("ni_wt") - 8.9*r.num("cr_wt") + 2.4*r.num("mo_wt") - 11.3*r.num("cu_wt") + 8.58*r.num("co_wt") + 7.4*r.num("w_wt") - 14.5*r.num("si_wt") - 273.15
}
func andrewsMs(r row) float64 {
	return 539 - 423*r.num("c_wt") - 30.4*r.num("mn_wt") - 17.7*r.num("ni_wt") - 12.1*r.num("cr_wt") - 7.5*r.num("mo_wt")
}
func savageMs(r row) float64 {
	return 499 - 317*r.num("c_wt") - 33*r.num("mn_wt") - 28*r.num("cr_wt") - 17*r.num("ni_wt") - 11*(r.num("si_wt")+r.num("mo_wt")+r.num("w_wt"))
}

func fitMs(dir string) {
	var rows []row
	for _, r := range load(dir, "ms.csv") {
		if r["scope"] != "other" {
			rows = append(rows, r)
		}
	}
	inLow := func(r row) bool { return r["scope"] == "low_alloy" && r.num("c_wt") < 0.6 }
	inHigh := func(r row) bool { return r.num("c_wt") >= 0.5 && r.num("c_wt") <= 1.1 }
	show := func(name string, f func(i int) float64) {
		var lo, hi []float64
		for i, r := range rows {
			e := f(i) - r.num("ms_c")
			if inLow(r) {
				lo = append(lo, e)
			}
			if inHigh(r) {
				hi = append(hi, e)
			}
		}
		fmt.Printf("%-14s low  %s\n%-14s high %s\n", name, stats(lo), "", stats(hi))
	}
	for name, f := range map[string]func(row) float64{"van Bohemen": bohemenMs, "Barbier": barbierMs, "Capdevila": capdevilaMs, "Andrews": andrewsMs, "Payson-Savage": savageMs} {
		show(name, func(i int) float64 { return f(rows[i]) })
	}
	groups := make([]string, len(rows))
	y := make([]float64, len(rows))
	weight := make([]float64, len(rows))
	for i, r := range rows {
		groups[i], y[i], weight[i] = r["alloy_id"], r.num("ms_c"), 1
		if inHigh(r) {
			weight[i] = 1.5
		}
		if r.num("c_wt") > 1.5 || r.num("cr_wt") > 6 {
			weight[i] = 0.3
		}
	}
	for _, k := range []float64{0.6, 0.96, 1.3} {
		for _, ridge := range []float64{0.001, 0.01, 0.1} {
			X := make([][]float64, len(rows))
			for i, r := range rows {
				X[i] = msFeatures(r, k)
			}
			fold := folds(groups, 10)
			pred := make([]float64, len(rows))
			for f := range 10 {
				var Xs [][]float64
				var ys, ws []float64
				for i := range rows {
					if fold[i] != f {
						Xs, ys, ws = append(Xs, X[i]), append(ys, y[i]), append(ws, weight[i])
					}
				}
				b := robust(Xs, ys, ws, 6, ridge)
				for i := range rows {
					if fold[i] == f {
						pred[i] = dot(X[i], b)
					}
				}
			}
			show(fmt.Sprintf("k %.2f r %.3f", k, ridge), func(i int) float64 { return pred[i] })
			if ridge == 0.01 {
				b := robust(X, y, weight, 6, ridge)
				for j, n := range msNames {
					fmt.Printf(" %s %.2f", n, b[j])
				}
				fmt.Println()
			}
		}
	}
}
