package evidence

import (
	"context"
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

func TestParseTable(t *testing.T) {
	tab, err := parseTable("x.csv", "# about\r\nname,c_wt,note\r\n\"a, b\",0.95,\r\n# in between\nc,,read\n")
	if err != nil {
		t.Fatal(err)
	}
	if len(tab.rows) != 2 || tab.rows[0].text("name") != "a, b" || tab.rows[0].line != 3 {
		t.Errorf("rows: %+v", tab.rows)
	}
	if x, ok := tab.rows[0].num("c_wt"); !ok || x != 0.95 {
		t.Errorf("c_wt: %g, %v", x, ok)
	}
	if _, ok := tab.rows[1].num("c_wt"); ok {
		t.Error("a blank is a number")
	}
	if x := tab.rows[1].or("missing", 7); x != 7 {
		t.Errorf("a missing column gives %g", x)
	}
	for _, text := range []string{"", "# only\n", "a,b\n1\n", "a,b\n1,2,3\n", "a,b\n\"1,2\n"} {
		if _, err := parseTable("x.csv", text); err == nil {
			t.Errorf("%q was read", text)
		}
	}
}

func FuzzParseTable(f *testing.F) {
	f.Add("a,b\n1,2\n")
	f.Add("\"a\",b\n\"x\"\"y\",NaN\n")
	f.Fuzz(func(t *testing.T, text string) {
		tab, err := parseTable("x.csv", text)
		if err != nil {
			return
		}
		for _, r := range tab.rows {
			for name := range tab.columns {
				r.num(name)
			}
		}
	})
}

// A folder with other data of the same layout is scored; what is wrong in one
// file is told and does not stop the others.
func TestRunOnAnyFolder(t *testing.T) {
	dir := fstest.MapFS{
		"ms.csv":              {Data: []byte("alloy_id,scope,c_wt,mn_wt,ms_c\nX,low_alloy,0.4,0.7,330\nY,tool,0.9,,220\nZ,low_alloy,,1,300\n")},
		"bs.csv":              {Data: []byte("c_wt,bs_c\nnot a csv\n")},
		"quench_probe.csv":    {Data: []byte("quantity,low\nx,1\n")},
		"tempering.csv":       {Data: []byte("source,c_wt,mn_wt,temper_c,time_s,hardness_hrc\ngrange,0.5,0.7,400,3600,45\nx,9,0,400,3600,45\nx,0.5,0,1200,3600,45\n")},
		"martensite_hardness": {Data: []byte("c_wt\n")},
	}
	r, err := Run(context.Background(), dir, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Faults) != 2 || !strings.Contains(strings.Join(r.Faults, " "), "bs.csv, line 2") || !strings.Contains(strings.Join(r.Faults, " "), "column high is missing") {
		t.Errorf("faults: %q", r.Faults)
	}
	used := map[string]int{}
	left := map[string]int{}
	for _, s := range r.Sets {
		used[s.Name+"/"+s.Subset], left[s.Name+"/"+s.Subset] = s.RowsUsed, s.RowsLeftOut
	}
	if used["ms/low_alloy and tool"] != 2 || left["ms/low_alloy and tool"] != 1 || used["tempering/20 HRC and over"] != 1 || left["tempering/20 HRC and over"] != 2 {
		t.Errorf("used %v, left out %v", used, left)
	}
	if len(r.Absent) != len(sets)-4 {
		t.Errorf("absent: %q", r.Absent)
	}
	if _, err := Run(context.Background(), fstest.MapFS{}, nil); err == nil {
		t.Error("an empty folder was scored")
	}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Run(stopped, dir, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped run: %v", err)
	}
	if _, err := readTable(dir, "none.csv"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing file: %v", err)
	}
}
