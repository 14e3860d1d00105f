// Command fit finds the constants of the regressions in package micro from open
// data sets, which it reads from a folder and never copies. Run by hand:
//
//	go run ./micro/fit DATA ms|bs|temper
//
// It prints the constants and the errors in cross-validation that leaves out
// whole alloys, which is how features were chosen.
package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"
)

func main() {
	if len(os.Args) < 3 {
		fmt.Fprintln(os.Stderr, "usage: fit DATA ms|bs|temper")
		os.Exit(2)
	}
	dir := os.Args[1]
	switch os.Args[2] {
	case "ms":
		fitMs(dir)
	case "bs":
		fitBs(dir)
	case "temper":
		fitTemper(dir)
	}
}

// row is one line of a data set.
type row map[string]string

func (r row) num(name string) float64 {
	x, err := strconv.ParseFloat(r[name], 64)
	if err != nil {
		return 0
	}
	return x
}

func load(dir, name string) []row {
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	var lines []string
	for _, l := range strings.Split(string(text), "\n") {
		if l != "" && !strings.HasPrefix(l, "#") {
			lines = append(lines, l)
		}
	}
	all, err := csv.NewReader(strings.NewReader(strings.Join(lines, "\n"))).ReadAll()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(3)
	}
	var rows []row
	for _, rec := range all[1:] {
		r := row{}
		for i, h := range all[0] {
			r[h] = rec[i]
		}
		rows = append(rows, r)
	}
	return rows
}

// robust solves min Σ w·|y − Xb| (smoothed at scale s) + ridge·Σ (b_j·scale_j)² by reweighting.
func robust(X [][]float64, y, weight []float64, s, ridge float64) []float64 {
	return robustN(X, y, weight, s, ridge, 60)
}

func robustN(X [][]float64, y, weight []float64, s, ridge float64, rounds int) []float64 {
	n, p := len(X), len(X[0])
	scale := make([]float64, p)
	for j := range scale {
		for i := range X {
			scale[j] += X[i][j] * X[i][j]
		}
		scale[j] = math.Sqrt(scale[j]/float64(n)) + 1e-12
	}
	b := make([]float64, p)
	w := make([]float64, n)
	for i := range w {
		w[i] = weight[i]
	}
	for range rounds {
		A := mat.NewSymDense(p, nil)
		v := mat.NewVecDense(p, nil)
		for i := range X {
			for j := range p {
				xj := X[i][j] / scale[j]
				v.SetVec(j, v.AtVec(j)+w[i]*xj*y[i])
				for k := j; k < p; k++ {
					A.SetSym(j, k, A.At(j, k)+w[i]*xj*X[i][k]/scale[k])
				}
			}
		}
		for j := range p {
			r := ridge
			if j == 0 {
				r = 1e-9
			}
			A.SetSym(j, j, A.At(j, j)+r)
		}
		var chol mat.Cholesky
		if !chol.Factorize(A) {
			panic(fmt.Sprint("fit: singular ", A.At(0, 0), A.At(1, 1), scale, w[:5]))
		}
		var x mat.VecDense
		if err := chol.SolveVecTo(&x, v); err != nil {
			panic(err)
		}
		for j := range b {
			b[j] = x.AtVec(j) / scale[j]
		}
		for i := range X {
			e := y[i] - dot(X[i], b)
			w[i] = weight[i] / math.Sqrt(e*e+s*s)
		}
	}
	return b
}

func dot(x, b []float64) float64 {
	s := 0.0
	for i := range x {
		s += x[i] * b[i]
	}
	return s
}

// stats are of absolute errors.
func stats(e []float64) string {
	a := make([]float64, len(e))
	mean, sum, sq := 0.0, 0.0, 0.0
	for i, x := range e {
		a[i] = math.Abs(x)
		mean += x
		sum += a[i]
		sq += x * x
	}
	sort.Float64s(a)
	n := float64(len(e))
	return fmt.Sprintf("n %d mean %+.2f MAE %.2f RMS %.2f median %.2f p80 %.2f p90 %.2f", len(e), mean/n, sum/n, math.Sqrt(sq/n), a[len(a)/2], a[len(a)*8/10], a[len(a)*9/10])
}

// folds gives every group one of k folds, by its rank; every turn deals them anew.
func folds(groups []string, k, turn int) []int {
	rank := map[string]int{}
	out := make([]int, len(groups))
	for i, g := range groups {
		if _, ok := rank[g]; !ok {
			rank[g] = (len(rank)*7 + len(rank)/k*turn) % k
		}
		out[i] = rank[g]
	}
	return out
}
