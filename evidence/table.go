package evidence

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/steel"
)

// table is one data set as read: columns by name, every cell still text.
type table struct {
	name    string
	columns map[string]int
	rows    []record
}

// record is one row; line counts from 1 in the file.
type record struct {
	t     *table
	cells []string
	line  int
}

// The largest file that is read [bytes]; the open sets have a tenth of a megabyte.
const largestFile = 64 << 20

// readTable reads a file of the folder. A missing file is fs.ErrNotExist.
func readTable(dir fs.FS, name string) (*table, error) {
	f, err := dir.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // only read from
	text, err := io.ReadAll(io.LimitReader(f, largestFile))
	if err != nil {
		return nil, fmt.Errorf("evidence: %s: %w", name, err)
	}
	return parseTable(name, string(text))
}

func parseTable(name, text string) (*table, error) {
	var kept []string
	var numbers []int
	for i, l := range strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n") {
		l = strings.TrimRight(l, "\r")
		if l == "" || strings.HasPrefix(l, "#") {
			continue
		}
		kept = append(kept, l)
		numbers = append(numbers, i+1)
	}
	if len(kept) == 0 {
		return nil, fmt.Errorf("evidence: %s: no line names the columns", name)
	}
	t := &table{name: name, columns: map[string]int{}}
	for i, l := range kept {
		r := csv.NewReader(strings.NewReader(l))
		cells, err := r.Read()
		if err != nil && !errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("evidence: %s, line %d: %w", name, numbers[i], err)
		}
		if i == 0 {
			for c, head := range cells {
				t.columns[strings.TrimSpace(head)] = c
			}
			continue
		}
		if len(cells) != len(t.columns) {
			return nil, fmt.Errorf("evidence: %s, line %d: %d cells under %d columns", name, numbers[i], len(cells), len(t.columns))
		}
		t.rows = append(t.rows, record{t, cells, numbers[i]})
	}
	return t, nil
}

// needs refuses a table that lacks a column.
func (t *table) needs(columns ...string) error {
	for _, c := range columns {
		if _, ok := t.columns[c]; !ok {
			return fmt.Errorf("evidence: %s: the column %s is missing", t.name, c)
		}
	}
	return nil
}

// text returns a cell, "" where the column is missing.
func (r record) text(column string) string {
	i, ok := r.t.columns[column]
	if !ok {
		return ""
	}
	return strings.TrimSpace(r.cells[i])
}

// num returns a number; ok is false when the cell is blank, missing or no number.
func (r record) num(column string) (x float64, ok bool) {
	x, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, false
	}
	return x, true
}

// or returns a number, and other where there is none.
func (r record) or(column string, other float64) float64 {
	if x, ok := r.num(column); ok {
		return x
	}
	return other
}

// fromMemory tells whether the row says that it was recalled, not read.
func (r record) fromMemory() bool { return strings.Contains(r.text("checked"), "memory") }

// composition returns the columns c_wt, mn_wt … [wt %]. A blank is zero, as
// these sets mean it: what the laws were fitted on.
func (r record) composition() steel.Composition {
	var c steel.Composition
	for e := range steel.NumElements {
		c[e] = r.or(strings.ToLower(e.String())+"_wt", 0)
	}
	return c
}
