package main

import (
	"fmt"
	"math"
	"os"
	"sort"
)

// The hardness of tempered martensite:
//
//	HV = HVq(C) − Σ_j (1 − φ_j)·D_j, φ_j = 1/(1 + θ_j^n), θ_j = k_j·t
//
// with k_j reaching one per hour at T_j and Q_j = ln10·R·T_j·K, so that each
// process follows a time–temperature parameter of constant K. D_j is linear in
// features of the composition, hence the fit is linear.

type temperRow struct {
	set, alloy    string
	comp          [8]float64 // C Si Mn Cr Ni Mo V W
	austenitize   float64
	T, t, hrc, hv float64 // K, s
	below         bool
}

var aq = [13]float64{250, 370, 450, 530, 620, 705, 790, 850, 890, 915, 935, 950, 960}

func quenched(c float64) float64 {
	p := math.Max(0, math.Min(c*10, 11.999))
	i := int(p)
	return aq[i] + (p-float64(i))*(aq[i+1]-aq[i])
}

var hvTable = []float64{226, 229.5, 233, 238, 243, 248, 254, 260, 266, 272, 279, 286, 294, 302, 310, 318, 327, 336, 345, 354, 363, 372, 382, 392, 402, 412, 423, 434, 446, 458, 471, 484, 498, 513, 528, 544, 560, 577, 595, 613, 633, 653, 674, 697, 720, 746, 772, 800, 832, 865, 900, 940}

// hvOf returns HV for HRC; table of 20–68 from hardness tables, straight below.
func hvOf(hrc float64) float64 {
	t := hvTable[3:] // 20 → 238
	p := hrc - 20
	if p < 0 {
		return 238 + 4.7*p
	}
	if p >= float64(len(t)-1) {
		return t[len(t)-1]
	}
	i := int(p)
	return t[i] + (p-float64(i))*(t[i+1]-t[i])
}

func hrcOf(hv float64) float64 {
	lo, hi := -30.0, 68.0
	for range 50 {
		m := (lo + hi) / 2
		if hvOf(m) < hv {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

func temperRows(dir string) []temperRow {
	var out []temperRow
	for _, r := range load(dir, "tempering.csv") {
		x := temperRow{set: r["source"], alloy: r["alloy_id"], T: r.num("temper_c") + 273.15, t: r.num("time_s"), hrc: r.num("hardness_hrc"), below: r["below_20_hrc"] == "1"}
		x.comp = [8]float64{r.num("c_wt"), r.num("si_wt"), r.num("mn_wt"), r.num("cr_wt"), r.num("ni_wt"), r.num("mo_wt"), r.num("v_wt"), 0}
		x.hv = hvOf(x.hrc)
		if x.set == "penha_2010" && r["steel"] == "6150" {
			x.comp[6] = 0.18
		}
		out = append(out, x)
	}
	for _, r := range load(dir, "temper_high_nims.csv") {
		x := temperRow{set: "nims", alloy: r["alloy_id"], T: r.num("temper_c") + 273.15, t: 3600, hv: r.num("hardness_hv")}
		x.comp = [8]float64{r.num("c_wt"), r.num("si_wt"), r.num("mn_wt"), r.num("cr_wt"), r.num("ni_wt"), r.num("mo_wt")}
		x.hrc = hrcOf(x.hv)
		x.below = x.hrc < 20
		out = append(out, x)
	}
	for _, r := range load(dir, "tool_tempering.csv") {
		if r["temper_c"] == "" {
			continue
		}
		x := temperRow{set: "tool", alloy: r["curve_id"], T: r.num("temper_c") + 273.15, t: r.num("time_s") * r.num("tempers"), hrc: r.num("hardness_hrc"), austenitize: r.num("austenitise_c")}
		x.comp = [8]float64{r.num("c_wt"), r.num("si_wt"), r.num("mn_wt"), r.num("cr_wt"), r.num("ni_wt"), r.num("mo_wt"), r.num("v_wt"), r.num("w_wt")}
		x.hv = hvOf(x.hrc)
		out = append(out, x)
	}
	return out
}

// nickel hardens tempered martensite alike at all temperatures [HV per wt %], after Grange et al.
const nickel = 6.0

type temperForm struct {
	K, n        float64
	at          []float64 // °C
	cap         float64
	penha, nims float64
	slope       float64
	alloy       func(c *[8]float64) []float64
}

// dissolved returns the carbon in solution taken for a row.
func (f *temperForm) dissolved(c *[8]float64) float64 {
	limit := f.cap - f.slope*math.Min(c[3], 2)
	return math.Min(c[0], limit)
}

func (f *temperForm) parts(r *temperRow) (phi []float64, ret, carb, cd float64) {
	cd = f.dissolved(&r.comp)
	carb = math.Max(0, (r.comp[0]-cd)/(6.67-cd))
	ms := 565 - (31*r.comp[2] + 13*r.comp[1] + 10*r.comp[3] + 18*r.comp[4] + 12*r.comp[5]) - 600*(1-math.Exp(-0.96*cd))
	alpha := 1e-3 * (27.2 - (0.14*r.comp[2] + 0.21*r.comp[1] + 0.11*r.comp[3] + 0.08*r.comp[4] + 0.05*r.comp[5]) - 19.8*(1-math.Exp(-1.56*cd)))
	ret = math.Exp(-alpha * math.Max(20, ms-25))
	k := 2.1e9 * math.Exp(-120e3/(8.314*r.T)) / (1 + 3*math.Max(0, r.comp[1]-0.4) + 6*math.Max(0, r.comp[3]-2))
	ret *= math.Exp(-k * r.t)
	for _, c := range f.at {
		T := c + 273.15
		q := math.Ln10 * 8.314 * T * f.K
		th := math.Exp(-q/8.314*(1/r.T-1/T)) * r.t / 3600
		phi = append(phi, 1/(1+math.Pow(th, f.n)))
	}
	return
}

// inMatrix is what a carbide counts for in a matrix of hardness hv: 1050 HV in a hard
// one, no more than the matrix in a soft one, which it strengthens as a particle.
func inMatrix(hv float64) float64 {
	return hv + (1050-hv)*math.Max(0, math.Min(1, (hv-300)/400))
}

// features and target for the linear fit: HVq − HV_M = Σ (1−φ_j)·D_j.
func (f *temperForm) features(r *temperRow) (x []float64, y float64) {
	phi, ret, carb, cd := f.parts(r)
	mix := r.hv
	for range 30 {
		mix = (r.hv - carb*inMatrix(mix)) / (1 - carb)
	}
	hvM := (mix - ret*250) / (1 - ret)
	y = quenched(cd) - hvM + nickel*r.comp[4]
	al := f.alloy(&r.comp)
	for _, p := range phi {
		s := 1 - p
		x = append(x, s, s*cd, s*cd*cd)
	}
	for _, a := range al {
		for j := 1; j < len(phi); j++ {
			x = append(x, (1-phi[j])*a)
		}
	}
	return
}

func (f *temperForm) predict(r *temperRow, b []float64) float64 {
	_, ret, carb, cd := f.parts(r)
	x, _ := f.features(r)
	hvM := quenched(cd) - dot(x, b) + nickel*r.comp[4]
	mix := (1-ret)*hvM + ret*250
	return (1-carb)*mix + carb*inMatrix(mix)
}

func fitTemper(dir string) {
	rows := temperRows(dir)
	sat := func(x, s float64) float64 { return x / (1 + x/s) }
	f := &temperForm{
		K: 18, n: 0.5, at: []float64{130, 220, 310, 400, 500, 620}, cap: 0.75, slope: 0.1, penha: 0.3, nims: 0.15,
		alloy: func(c *[8]float64) []float64 {
			return []float64{sat(c[1], 2), sat(c[2], 2), sat(c[3], 2), sat(c[5], 0.5), sat(c[6], 0.2)}
		},
	}
	if len(os.Args) > 3 && os.Args[3] == "cv" {
		f.crossValidate(rows, 1e-4)
		return
	}
	f.write(rows)
}

// write fits all rows and prints the constants as Go.
func (f *temperForm) write(rows []temperRow) {
	X, y, w := f.system(rows)
	b := robustN(X, y, w, 8, 1e-4, 60)
	errs := map[string][]float64{}
	for i := range rows {
		q := &rows[i]
		if q.below {
			continue
		}
		e := hrcOf(f.predict(q, b)) - q.hrc
		errs[q.set] = append(errs[q.set], e)
		if q.set == "tool" {
			errs[q.alloy] = append(errs[q.alloy], e)
		}
	}
	for s, e := range errs {
		fmt.Fprintln(os.Stderr, s, stats(e))
	}
	fmt.Println("// Code generated by go run ./micro/fit DATA temper; DO NOT EDIT.")
	fmt.Println()
	fmt.Println("package micro")
	fmt.Println()
	fmt.Println("// temperDrop is D of each process [HV]: constant, C, C², then Si, Mn, Cr, Mo, V, each as x/(1 + x/s).")
	fmt.Println("var temperDrop = [numRates][8]float64{")
	p := len(f.at)
	for j := range p {
		fmt.Print("\t{")
		for k := range 8 {
			v := 0.0
			if k < 3 {
				v = b[3*j+k]
			} else if j > 0 {
				v = b[3*p+(k-3)*(p-1)+j-1]
			}
			if k > 0 {
				fmt.Print(", ")
			}
			fmt.Printf("%.1f", v)
		}
		fmt.Println("},")
	}
	fmt.Println("}")
}

func (f *temperForm) crossValidate(rows []temperRow, ridge float64) {
	X, y, w := f.system(rows)
	errs := map[string][]float64{}
	fold := map[string]int{}
	k := 0
	for _, r := range rows {
		if _, ok := fold[r.alloy]; !ok {
			if r.set == "nims" {
				fold[r.alloy] = 1000 + len(fold)%8
			} else {
				fold[r.alloy] = k
				k++
			}
		}
	}
	done := map[int]bool{}
	for _, r := range rows {
		fo := fold[r.alloy]
		if done[fo] {
			continue
		}
		done[fo] = true
		var Xs [][]float64
		var ys, ws []float64
		for i := range X {
			if i >= len(rows) || fold[rows[i].alloy] != fo { // what is known stays
				Xs, ys, ws = append(Xs, X[i]), append(ys, y[i]), append(ws, w[i])
			}
		}
		b := robustN(Xs, ys, ws, 8, ridge, 15)
		for i := range rows {
			q := &rows[i]
			if fold[q.alloy] != fo || q.below {
				continue
			}
			e := hrcOf(f.predict(q, b)) - q.hrc
			switch q.set {
			case "nims":
				errs["nims"] = append(errs["nims"], e)
			case "tool":
				errs["tool"] = append(errs["tool"], e)
			default:
				errs["all"] = append(errs["all"], e)
				if q.comp[0] >= 0.5 {
					errs["C>=.5"] = append(errs["C>=.5"], e)
				}
				if q.set != "penha_2010" {
					errs["GB+HJ"] = append(errs["GB+HJ"], e)
				}
				errs[q.alloy] = append(errs[q.alloy], e)
			}
		}
	}
	for _, s := range []string{"all", "C>=.5", "GB+HJ", "nims", "tool"} {
		fmt.Printf("   %-6s %s\n", s, stats(errs[s]))
	}
	{
		var list []string
		for a := range errs {
			list = append(list, a)
		}
		sort.Strings(list)
		for _, a := range list {
			fmt.Printf("      %-8s %s\n", a, stats(errs[a]))
		}
	}
}

// system returns the linear system with weights that make errors count in HRC.
func (f *temperForm) system(rows []temperRow) (X [][]float64, y, w []float64) {
	X = make([][]float64, len(rows))
	y = make([]float64, len(rows))
	w = make([]float64, len(rows))
	for i := range rows {
		r := &rows[i]
		X[i], y[i] = f.features(r)
		if math.IsNaN(dot(X[i], X[i])+y[i]) || math.IsInf(y[i], 0) {
			panic(fmt.Sprint("fit: not a number in ", *r))
		}
		slope := math.Max(4, hvOf(math.Min(67, r.hrc)+0.5)-hvOf(math.Min(67, r.hrc)-0.5)) // HV per HRC
		w[i] = 1 / slope
		switch {
		case r.set == "nims":
			w[i] *= f.nims
		case r.set == "tool":
			w[i] *= 1.5
		case r.set == "penha_2010":
			w[i] *= f.penha
		case r.below:
			w[i] *= 0.3
		}
	}
	for _, T := range []float64{205, 260, 315, 370, 425} {
		x, _ := f.features(&temperRow{T: T + 273.15, t: 3600, comp: [8]float64{0: 0.5, 6: 0.2}, hv: 500})
		for k := range len(x) - len(f.at) + 1 {
			x[k] = 0
		}
		X, y, w = append(X, x), append(y, 0), append(w, vanadiumHeld)
	}
	return X, y, w
}

// vanadiumHeld is the weight of what is known of vanadium: it does next to nothing
// to tempering below 425 °C (grange-1977, abstract). The few bars with vanadium among
// the rows would leave it to soften there, if their makers' curves lie low.
const vanadiumHeld = 0.25
