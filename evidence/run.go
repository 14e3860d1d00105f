package evidence

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"runtime"
	"sort"
	"sync"
)

// set is one data set: the file, and what turns its rows into scores.
type set struct {
	file string
	run  func(context.Context, *table, fs.FS) ([]Score, error)
}

// sets lists all data sets in the order of the report: what a steel is, what
// temperature does to it, how hard it becomes, what the fire and the bath do.
var sets = []set{
	{"grade_compositions.csv", gradeSet},
	{"hardness_conversion.csv", conversionSet},
	{"equilibria.csv", equilibriaSet},
	{"critical_points_read.csv", criticalReadSet},
	{"critical_temperatures.csv", criticalSet},
	{"ms.csv", msSet},
	{"bs.csv", bsSet},
	{"martensite_hardness.csv", martensiteSet},
	{"retained_austenite.csv", retainedSet},
	{"tempering.csv", temperingSet},
	{"tool_tempering.csv", toolSet},
	{"temper_high_nims.csv", highTemperSet},
	{"tempering_handbook.csv", handbookSet},
	{"transformation_points.csv", isothermalSet},
	{"a255_multiplying_factors.csv", factorSet},
	{"a255_distance_factors.csv", distanceSet},
	{"jominy_bands.csv", jominySet},
	{"w_steel_critical_diameter.csv", diameterSet},
	{"quench_probe.csv", probeSet},
	{"quench_htc.csv", transferSet},
	{"quench_media_ranges.csv", mediaSet},
	{"heat_colours.csv", heatSet},
	{"temper_colours.csv", temperColorSet},
	{"temper_film_thickness.csv", filmSet},
}

// Files of the layout that are no set of their own.
var unscored = map[string]string{
	"jominy_band_compositions.csv": "the compositions that jominy_bands is computed with",
	"grossmann_h.csv":              "severities of quench by hand, recalled; no model here rests on one",
}

// Progress is told how many of the sets are done.
type Progress func(done, of int, file string)

// Run scores every set that the folder holds. It returns an error only when the
// folder holds none of them or the run was stopped; a file that cannot be read
// is a fault of the report.
func Run(ctx context.Context, dir fs.FS, watch Progress) (*Report, error) {
	r := &Report{Format: ReportFormat, Sets: []Score{}}
	for i, s := range sets {
		if watch != nil {
			watch(i, len(sets), s.file)
		}
		t, err := readTable(dir, s.file)
		if errors.Is(err, fs.ErrNotExist) {
			r.Absent = append(r.Absent, s.file)
			continue
		}
		var scores []Score
		if err == nil {
			scores, err = s.run(ctx, t, dir)
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			r.Faults = append(r.Faults, err.Error())
			continue
		}
		r.Sets = append(r.Sets, scores...)
	}
	if len(r.Sets) == 0 && len(r.Faults) == 0 {
		return nil, fmt.Errorf("evidence: the folder holds none of the %d data sets; the first is %s", len(sets), sets[0].file)
	}
	return r, nil
}

// spread runs f for 0 … n−1 on all cores. What f does for i must not depend on any other i.
func spread(ctx context.Context, n int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), max(n, 1)) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
}

// finish turns samples into scores, leaving out those without any row.
func finish(samples ...*sample) []Score {
	var list []Score
	for _, s := range samples {
		if len(s.errs) > 0 || s.score.RowsLeftOut > 0 || len(s.within) > 0 {
			done := s.done()
			if done.Subset != "other" { // steels that no law here was shown
				done.Seen = seen[done.Name]
			}
			list = append(list, done)
		}
	}
	return list
}

func sortedKeys(m map[string]int) []string {
	var list []string
	for k := range m {
		list = append(list, k)
	}
	sort.Strings(list)
	return list
}
