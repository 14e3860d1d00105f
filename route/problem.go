package route

import (
	"fmt"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/cite"
)

// Problem is one thing in a job file that has to be put right. Its sentence,
// with limits and remedy, is made at the doors from Code and Args.
type Problem struct {
	File   string // empty: the job file itself; else the shop's file
	Line   int    // from 1; 0 where the whole file is meant
	Column int    // from 1, in characters
	Key    string // "step 3, until"
	Value  string // as typed
	Code   string // "route.edge-thicker-than-spine"
	Args   []cite.Quantity
}

// Problems are all the problems of a file, in the order of its lines.
type Problems []Problem

// Error lists the problems by place and code.
func (p Problems) Error() string {
	lines := make([]string, 0, len(p)+1)
	lines = append(lines, fmt.Sprintf("route: %d problems", len(p)))
	for _, x := range p {
		lines = append(lines, x.String())
	}
	return strings.Join(lines, "\n")
}

// String names the place, the value and the code of a problem.
func (p Problem) String() string {
	return fmt.Sprintf("%s%d:%d: %s = %q: %s", p.File, p.Line, p.Column, p.Key, p.Value, p.Code)
}

// Arg returns the argument of a problem with this name.
func (p Problem) Arg(name string) (cite.Quantity, bool) {
	for _, a := range p.Args {
		if a.Name == name {
			return a, true
		}
	}
	return cite.Quantity{}, false
}

func (p Problems) sorted() Problems {
	sort.SliceStable(p, func(i, j int) bool {
		if p[i].File != p[j].File {
			return p[i].File < p[j].File
		}
		if p[i].Line != p[j].Line {
			return p[i].Line < p[j].Line
		}
		return p[i].Column < p[j].Column
	})
	return p
}
