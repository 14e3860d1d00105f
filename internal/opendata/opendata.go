// Package opendata finds the measured data that the tests of several packages
// compare with. It is no part of this project: HEATWRIGHT_DATA names its folder, or
// it lies in data/check of a folder beside the checkout.
package opendata

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"
)

// File returns the path of a data set. Without any data it skips the test; where
// HEATWRIGHT_DATA names a folder, a set that is missing there is a failure.
func File(t testing.TB, name string) string {
	t.Helper()
	dir := os.Getenv("HEATWRIGHT_DATA")
	said := dir != ""
	if beside, _ := filepath.Glob(filepath.Join("..", "..", "*", "data", "check")); !said && len(beside) > 0 {
		dir = beside[0]
	}
	path := filepath.Join(dir, name)
	if _, err := os.Stat(path); err != nil {
		if said {
			t.Fatal(err)
		}
		t.Skipf("open data set %s is not here; set HEATWRIGHT_DATA to a folder that holds it", name)
	}
	return path
}

// Rows returns the lines of a data set, each by the names of its columns.
func Rows(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(File(t, name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, rec := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = rec[i]
		}
		rows = append(rows, row)
	}
	return rows
}
