package main

import (
	"fmt"
	"math"
)

func bsFeatures(r row, k float64) []float64 {
	c, mn, si, cr, ni, mo := r.num("c_wt"), r.num("mn_wt"), r.num("si_wt"), r.num("cr_wt"), r.num("ni_wt"), r.num("mo_wt")
	return []float64{1, 1 - math.Exp(-k*c), mn, si, cr, ni, mo, r.num("v_wt"), r.num("co_wt"), r.num("al_wt")}
}

func fitBs(dir string) {
	rows := load(dir, "bs.csv")
	y := make([]float64, len(rows))
	w := make([]float64, len(rows))
	groups := make([]string, len(rows))
	var vb []float64
	for i, r := range rows {
		y[i], w[i], groups[i] = r.num("bs_c"), 1, r["alloy_id"]
		vb = append(vb, 839-(86*r.num("mn_wt")+23*r.num("si_wt")+67*r.num("cr_wt")+33*r.num("ni_wt")+75*r.num("mo_wt"))-270*(1-math.Exp(-1.33*r.num("c_wt")))-y[i])
	}
	fmt.Println("van Bohemen", stats(vb))
	for _, k := range []float64{0.5, 1, 1.33, 2, 3} {
		for _, ridge := range []float64{0.001, 0.01, 0.1} {
			e := make([]float64, len(rows))
			for i := range rows {
				var X [][]float64
				var ys, ws []float64
				for j, r := range rows {
					if groups[j] != groups[i] {
						X, ys, ws = append(X, bsFeatures(r, k)), append(ys, y[j]), append(ws, w[j])
					}
				}
				e[i] = dot(bsFeatures(rows[i], k), robust(X, ys, ws, 8, ridge)) - y[i]
			}
			fmt.Println(k, ridge, stats(e))
		}
		var X [][]float64
		for _, r := range rows {
			X = append(X, bsFeatures(r, k))
		}
		fmt.Println(robust(X, y, w, 8, 0.01))
	}
}
