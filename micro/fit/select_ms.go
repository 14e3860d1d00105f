package main

import (
	"fmt"
	"math"
)

// candidate is a named feature of a row.
type candidate struct {
	name string
	f    func(r row) float64
}

func msCandidates() []candidate {
	e := []string{"c_wt", "mn_wt", "si_wt", "cr_wt", "ni_wt", "mo_wt", "v_wt", "w_wt", "co_wt", "al_wt", "cu_wt", "n_wt"}
	var list []candidate
	for i, a := range e {
		if i > 0 {
			list = append(list, candidate{a, func(r row) float64 { return r.num(a) }})
		}
	}
	for i, a := range e[:8] {
		for _, b := range e[i:8] {
			list = append(list, candidate{a + "·" + b, func(r row) float64 { return r.num(a) * r.num(b) }})
		}
	}
	for _, k := range []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1} {
		list = append(list, candidate{fmt.Sprintf("hinge C %.1f", k), func(r row) float64 { return math.Max(0, r.num("c_wt")-k) }})
	}
	for _, a := range []string{"mn_wt", "si_wt", "cr_wt", "ni_wt", "mo_wt"} {
		for _, k := range []float64{0.5, 1, 1.5, 2, 3} {
			list = append(list, candidate{fmt.Sprintf("hinge %s %.1f", a, k), func(r row) float64 { return math.Max(0, r.num(a)-k) }})
		}
	}
	for _, a := range []string{"mn_wt", "cr_wt", "ni_wt", "mo_wt", "v_wt", "w_wt"} {
		for _, k := range []float64{0.4, 0.7, 0.9} {
			list = append(list, candidate{fmt.Sprintf("hinge C %.1f·%s", k, a), func(r row) float64 { return math.Max(0, r.num("c_wt")-k) * r.num(a) }})
		}
		list = append(list, candidate{"√" + a, func(r row) float64 { return math.Sqrt(r.num(a)) }})
	}
	list = append(list, candidate{"V/C", func(r row) float64 { return r.num("v_wt") / (0.1 + r.num("c_wt")) }})
	return list
}

// selectMs adds features one by one, whichever lowers the grouped cross-validated
// mean of the two scored subsets most.
func selectMs(dir string) {
	var rows []row
	for _, r := range load(dir, "ms.csv") {
		if r["scope"] != "other" {
			rows = append(rows, r)
		}
	}
	groups := make([]string, len(rows))
	y := make([]float64, len(rows))
	weight := make([]float64, len(rows))
	low := make([]bool, len(rows))
	high := make([]bool, len(rows))
	for i, r := range rows {
		groups[i], y[i], weight[i] = r["alloy_id"], r.num("ms_c"), 1
		low[i] = r["scope"] == "low_alloy" && r.num("c_wt") < 0.6
		high[i] = r.num("c_wt") >= 0.5 && r.num("c_wt") <= 1.1
		if high[i] {
			weight[i] = 1.5
		}
		if !low[i] && !high[i] {
			weight[i] = 0.3
		}
	}
	cands := msCandidates()
	col := make([][]float64, len(cands))
	for j, c := range cands {
		col[j] = make([]float64, len(rows))
		for i, r := range rows {
			col[j][i] = c.f(r)
		}
	}
	X := make([][]float64, len(rows))
	for i, r := range rows {
		X[i] = []float64{1, 1 - math.Exp(-0.96*r.num("c_wt")), r.num("mn_wt"), r.num("si_wt"), r.num("cr_wt"), r.num("ni_wt"), r.num("mo_wt")}
	}
	fold := folds(groups, 6)
	score := func(X [][]float64) (lo, hi float64) {
		var nl, nh float64
		for f := range 6 {
			var Xs [][]float64
			var ys, ws []float64
			for i := range rows {
				if fold[i] != f {
					Xs, ys, ws = append(Xs, X[i]), append(ys, y[i]), append(ws, weight[i])
				}
			}
			b := robustN(Xs, ys, ws, 5, 0.003, 12)
			for i := range rows {
				if fold[i] == f {
					e := math.Abs(dot(X[i], b) - y[i])
					if low[i] {
						lo += e
						nl++
					}
					if high[i] {
						hi += e
						nh++
					}
				}
			}
		}
		return lo / nl, hi / nh
	}
	used := map[int]bool{}
	for step := range 16 {
		best, bj := math.Inf(1), -1
		var bl, bh float64
		for j := range cands {
			if used[j] {
				continue
			}
			Y := make([][]float64, len(rows))
			for i := range X {
				Y[i] = append(append([]float64{}, X[i]...), col[j][i])
			}
			l, h := score(Y)
			if s := l/14.26 + h/23.15; s < best {
				best, bj, bl, bh = s, j, l, h
			}
		}
		used[bj] = true
		for i := range X {
			X[i] = append(X[i], col[bj][i])
		}
		fmt.Printf("%d %-22s low %.2f high %.2f\n", step, cands[bj].name, bl, bh)
	}
}
